package e2e

import (
	"fmt"
	"strings"
	"testing"
)

// The figures are shown through the standard's aperture and through the reader's
// own spot, as the server has them, and say through which.
func TestFiguresThroughEitherAperture(t *testing.T) {
	p := open(t, serve(t, right()), "#readers?code=0&reader=0")
	p.wait(`document.querySelector("#trace")?.ariaLabel.includes("Quay clock")`)
	p.click("#figures summary")
	for _, c := range []struct{ through, says string }{
		{"spot", "through the reader’s own spot, 0.200 mm"}, // the demo states 0.2 mm for its clock
		{"standard", "through the standard’s aperture, "},
	} {
		p.click("#through-" + c.through)
		p.wait(fmt.Sprintf(`document.querySelector("#figures").textContent.includes(%q) && document.querySelector("#figures").open && document.activeElement.id === "through-%s"`, c.says, c.through))
		if mm := eval[string](p, fmt.Sprintf(`fetch("/api/card/0/trace?code=0&reader=0&aperture=%s").then((r) => r.json()).then((t) => t.aperture.toFixed(3) + " mm")`, c.through)); !strings.Contains(p.text("#figures"), mm) {
			t.Errorf("%s: the page does not say %s", c.through, mm)
		}
		got := eval[[]string](p, `["mod", "defects", "decodability"].map((k) => document.querySelector("#figures tr[data-figure=" + k + "] td").textContent)`)
		want := eval[[]string](p, fmt.Sprintf(`fetch("/api/card/0/trace?code=0&reader=0&aperture=%s").then((r) => r.json()).then((t) => ["mod", "defects", "decodability"].map((k) => t[k].toFixed(2)))`, c.through))
		if strings.Join(got, " ") != strings.Join(want, " ") || p.text("#through-"+c.through+"[aria-pressed=true]") == "" {
			t.Errorf("%s: the page has %v, the server %v", c.through, got, want)
		}
	}
}
