package e2e

import (
	"fmt"
	"math"
	"testing"
)

// A finding leads to its place: the outline on the card lies on the element that
// it names, in the light of the reader that it names, beside what to do.
func TestFromFindingToPlace(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#light")
	p.click(`a[data-view=findings]`)
	p.stands("findings")
	p.click(`[data-finding=no-carbon]`)
	p.wait(`document.querySelector("#place .place")`)
	p.wait(`document.querySelector("#place canvas").dataset.lamp === "940"`)
	far := eval[float64](p, `(async () => {
		const c = (await (await fetch("/api/card/0")).json()).codes[0], side = state.bench.sides[0];
		const el = side.elements.find((e) => e.name === "crew code").box;
		const f = document.querySelector("#place .frame").getBoundingClientRect(), b = document.querySelector("#place .place").getBoundingClientRect();
		const mm = f.width / side.mm.w, bars = { x: c.bars.x0 / side.w * side.mm.w, y: c.bars.y0 / side.h * side.mm.h, w: (c.bars.x1 - c.bars.x0) / side.w * side.mm.w };
		// The outline may take in the whole element, and stands off it by 4 points.
		const left = (b.x + 4 - f.x) / mm, top = (b.y + 4 - f.y) / mm, right = (b.right - 4 - f.x) / mm;
		return Math.max(left - bars.x, el.x - left, top - bars.y, el.y - top, bars.x + bars.w - right, right - el.x - el.w);
	})()`)
	if far > 0.3 {
		t.Errorf("the outline is %.2f mm off the code", far)
	}
	for _, fact := range []string{"measure", "source"} {
		if p.text(`#fault [data-fact=`+fact+`] dd`) == "" {
			t.Errorf("the finding has no %s", fact)
		}
	}
	if p.text("#remedy") == "" {
		t.Error("the finding has no remedy")
	}
	p.click("#do-remedy")
	p.stands("rules")
}

// A black rule chosen on the page turns the verdicts, and can be taken back.
func TestBlackRuleTurnsVerdicts(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#rules")
	clock := func(rule string) string {
		return fmt.Sprintf(`document.querySelector("[data-side=front] [data-rule=%s] li[data-code='0'][data-reader='0'] [data-verdict]").dataset.verdict`, rule)
	}
	inUse := func(rule string) string {
		return fmt.Sprintf(`document.querySelector("[data-side=front] [data-rule=%s]").dataset.current !== undefined`, rule)
	}
	if !eval[bool](p, inUse("none")) || eval[bool](p, inUse("objects")) || eval[string](p, clock("none")) != "fails" || eval[string](p, clock("objects")) != "reads" {
		t.Fatal("the rules do not say what each brings")
	}
	p.click(`[data-side=front] [data-use=objects]`)
	p.wait(inUse("objects"))
	p.click(`a[data-view=readers]`)
	p.stands("readers")
	p.wait(`document.querySelector(".cell-button[data-code='0'][data-reader='0']").dataset.verdict === "reads"`)
	p.click(`a[data-view=findings]`)
	p.stands("findings")
	p.wait(`!document.querySelector("[data-finding=no-carbon]")`)
	p.click(`a[data-view=rules]`)
	p.stands("rules")
	p.click("#undo")
	p.wait(inUse("none"))
	p.click("#redo")
	p.wait(inUse("objects"))
}

// The scan lies on its own bars: every element drawn under the picture begins and
// ends where light and dark meet in the picture, within half a dot.
func TestScanLiesOnItsBars(t *testing.T) {
	p := open(t, serve(t, right()), "#readers")
	for _, pick := range []struct{ code, reader, bars int }{{0, 0, 40}, {0, 1, 40}, {1, 2, 30}} {
		p.click(fmt.Sprintf(`#card-cells .cell-button[data-code="%d"][data-reader="%d"]`, pick.code, pick.reader))
		p.wait(fmt.Sprintf(`document.querySelector("#card-cells .cell-button[data-code='%d'][data-reader='%d']").ariaPressed === "true"`, pick.code, pick.reader))
		p.wait(fmt.Sprintf(`document.querySelector("#trace")?.ariaLabel.includes(state.bench.codes[%d].name) && document.querySelector("#trace").ariaLabel.includes(state.bench.readers[%d].name)`, pick.code, pick.reader))
		drawn := eval[struct {
			Step  float64 // screen points a dot
			Edges [][2]float64
			Bars  []bool
			Dark  []bool // the picture's dots along the line
			Chars string
		}](p, `(() => {
			const c = document.querySelector("#trace-bars"), b = c.getBoundingClientRect(), step = b.width / c.width;
			const d = c.getContext("2d").getImageData(0, c.height >> 1, c.width, 1).data, all = [...document.querySelectorAll("#trace .margins [data-element]")];
			return { step, edges: all.map((e) => { const r = e.getBoundingClientRect(); return [(r.left - b.left) / step, (r.right - b.left) / step]; }),
				bars: all.map((e) => e.classList.contains("bar")), dark: Array.from({ length: c.width }, (_, x) => d[4 * x] < 128),
				chars: [...document.querySelectorAll("#trace [data-char]")].map((e) => e.dataset.char).join("") };
		})()`)
		edges := turns(drawn.Dark)
		if len(drawn.Edges) < pick.bars || len(edges) != len(drawn.Edges)+1 {
			t.Fatalf("%+v: %d elements, %d edges in the picture", pick, len(drawn.Edges), len(edges))
		}
		for i, e := range drawn.Edges {
			if d := max(math.Abs(e[0]-edges[i]), math.Abs(e[1]-edges[i+1])); d > 0.5 || drawn.Bars[i] != (i%2 == 0) {
				t.Errorf("%+v: element %d (bar %v) lies at %.2f to %.2f, in the picture %.0f to %.0f", pick, i, drawn.Bars[i], e[0], e[1], edges[i], edges[i+1])
			}
		}
		if drawn.Chars == "" {
			t.Errorf("%+v: no character is shown", pick)
		}
	}
}

// turns lists where dark and light meet along a line.
func turns(dark []bool) (at []float64) {
	for i := 1; i < len(dark); i++ {
		if dark[i] != dark[i-1] {
			at = append(at, float64(i))
		}
	}
	return at
}
