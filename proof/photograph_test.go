package proof

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"unspool/design"
	"unspool/face"
	"unspool/panel"
	"unspool/plane"
	"unspool/site"
)

// photograph is the picture of an astronaut of scikit-image, in the public
// domain, read from the Debian package python3-skimage where it is installed.
func photograph(t testing.TB) []byte {
	t.Helper()
	list, err := exec.Command("dpkg", "-L", "python3-skimage").Output()
	if err != nil {
		t.Fatalf("the Debian package python3-skimage is needed: %v", err)
	}
	for name := range strings.Lines(string(list)) {
		if name = strings.TrimSpace(name); strings.HasSuffix(name, "/astronaut.png") {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			return data
		}
	}
	t.Fatal("python3-skimage holds no astronaut.png")
	return nil
}

// A real photograph through every black rule: the dots in resin are those that
// an independent count over the resampled pixels finds, and the rule objects
// takes none.
func TestPhotographThroughEveryRule(t *testing.T) {
	have := assets()
	have["photos/astronaut.png"] = photograph(t)
	who := somebody()
	who["photo"] = "astronaut.png"
	const limit = 40
	zone := plane.Box{X: 5_000_000, Y: 14_000_000, W: 10_000_000, H: 26_000_000}
	for _, rule := range site.Rules {
		p := edit(t)
		p.Black[site.Front] = site.Black{Rule: rule, Limit: limit, Zones: []plane.Box{zone}}
		plan, err := face.Compile(p, site.Front, have)
		if err != nil {
			t.Fatal(err)
		}
		made, err := plan.Work().Compose(who)
		if err != nil {
			t.Fatal(err)
		}
		u := panel.New(p.Card, p.Printer, p.Ribbon, p.Black[site.Front], site.Front, nil)
		panels, n := u.NewPanels(), make([]panel.Count, len(p.Faces[site.Front].Elements)+1)
		u.Split(panels, made.Art, panels.Rect(), n)
		got := n[1].Resin // the portrait is the first element
		want := countResin(made.Art, p.Faces[site.Front].Elements[0], rule, limit, zone)
		switch {
		case rule == site.All && (got < n[1].Dots/10 || got > n[1].Dots*9/10):
			t.Errorf("all: %d of %d dots in resin is no halftone", got, n[1].Dots)
		case rule != site.All && got != want:
			t.Errorf("%v: %d dots of the photograph in resin, counted %d", rule, got, want)
		}
		t.Logf("%-8v %6d of %d dots", rule, got, n[1].Dots)
	}
}

// countResin counts, in the words of the rules, the dots of a photo that go to
// resin: straight over the pixels of its box.
func countResin(a *face.Art, e design.Element, rule site.Rule, limit uint8, zone plane.Box) (n int) {
	box, in := a.Box(e.Box), a.Box(zone)
	for y := box.Y0; y < box.Y1; y++ {
		for x := box.X0; x < box.X1; x++ {
			p := a.Page[3*(y*a.W+x):]
			r, g, b := p[0], p[1], p[2]
			dark := r <= limit && g <= limit && b <= limit
			inside := x >= in.X0 && x < in.X1 && y >= in.Y0 && y < in.Y1
			switch {
			case rule == site.Exact && r == 0 && g == 0 && b == 0,
				rule == site.Dark && dark,
				rule == site.Zones && dark && inside:
				n++
			}
		}
	}
	return n
}
