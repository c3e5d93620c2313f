package face

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"unspool/design"
	"unspool/plane"
	"unspool/unit"
)

// Two-dimensional codes on a card, at every turn and on heads with dots that are
// not square, are read by zxing-cpp and hold what Placed says of them.
func TestMatricesReadBack(t *testing.T) {
	dir := t.TempDir()
	names, want := []string{}, []string{}
	for _, c := range []struct{ kind, text string }{
		{"qr", "https://sundhaven.example/c/000042"}, {"datamatrix", "SUNDHAVEN 000042"}, {"aztec", "Sundhaven 000042"}, {"pdf417", "Ida Example, Sundhaven 000042"},
	} {
		for turn := 0; turn < 360; turn += 90 {
			for _, pitch := range [][2]unit.Pitch{{300, 300}, {300, 600}, {600, 300}} {
				b := box(10, 8, 40, 22)
				if turn%180 == 90 {
					b = box(20, 4, 22, 40)
				}
				e := barcode(c.kind, c.text, b)
				e.Code.Turn = turn
				made := compose(t, compile(t, programme(pitch[0], pitch[1], e), files{}).Work(), nil)
				if len(made.Notes) > 0 || len(made.Codes) != 1 {
					t.Fatalf("%s turned %d: %v", c.kind, turn, made.Notes)
				}
				checkModules(t, made, pitch)
				name := filepath.Join(dir, fmt.Sprintf("%s-%d-%dx%d.pgm", c.kind, turn, pitch[0], pitch[1]))
				saveCode(t, name, made)
				names, want = append(names, name), append(want, c.text)
			}
		}
	}
	for i, got := range readByZxing(t, names) {
		if got != want[i] {
			t.Errorf("%s: read %q, not %q", filepath.Base(names[i]), got, want[i])
		}
	}
}

// checkModules holds every dot of a code to its module, and modules to a square
// shape; rows of PDF417 are three times as high as wide at least (ISO/IEC 15438
// 5.8.2).
func checkModules(t *testing.T, c *Composed, pitch [2]unit.Pitch) {
	t.Helper()
	p, a := c.Codes[0], c.Art
	if p.Bars.W() != p.Lies.W*p.Module[0] || p.Bars.H() != p.Lies.H*p.Module[1] || !p.Quiet.In(a.Rect()) {
		t.Fatalf("%s: %v of %d x %d modules of %v", p.Kind.Name, p.Bars, p.Lies.W, p.Lies.H, p.Module)
	}
	for y := p.Quiet.Y0; y < p.Quiet.Y1; y++ {
		for x := p.Quiet.X0; x < p.Quiet.X1; x++ {
			in := x >= p.Bars.X0 && x < p.Bars.X1 && y >= p.Bars.Y0 && y < p.Bars.Y1
			dark := in && p.Lies.At((x-p.Bars.X0)/p.Module[0], (y-p.Bars.Y0)/p.Module[1])
			if got := a.Page[3*a.At(x, y)] == 0; got != dark {
				t.Fatalf("%s: dot (%d, %d) is dark: %v", p.Kind.Name, x, y, got)
			}
		}
	}
	along, across := pitch[0].MM(float64(p.Module[0])), pitch[1].MM(float64(p.Module[1]))
	if !p.AlongX {
		along, across = across, along
	}
	rows := across / along
	if least := float64(p.Kind.RowX); rows < least*0.99 || rows > least*1.01 && least == 1 || rows > 1.01*tall {
		t.Errorf("%s: a module is %.3f by %.3f mm", p.Kind.Name, along, across)
	}
}

// A code that does not fit its box is drawn as small as is sensible, and said to
// be too wide.
func TestMatrixTooLarge(t *testing.T) {
	e := barcode("qr", strings.Repeat("Sundhaven ", 12), box(10, 8, 6, 6))
	made := compose(t, compile(t, programme(300, 300, e), files{}).Work(), nil)
	if len(made.Notes) == 0 || made.Notes[0].Kind != CodeTooWide || made.Codes[0].Size.X != leastAuto {
		t.Errorf("%v", made.Notes)
	}
}

// saveCode writes the part of the page around the code, for readers that look in
// the middle of a picture.
func saveCode(t *testing.T, name string, c *Composed) {
	t.Helper()
	r := c.Codes[0].Quiet.Grow(20).And(c.Art.Rect())
	cut := &Art{Page: make([]uint8, 0, 3*r.W()*r.H())}
	cut.W, cut.H = r.W(), r.H()
	for y := r.Y0; y < r.Y1; y++ {
		cut.Page = append(cut.Page, c.Art.Page[3*c.Art.At(r.X0, y):3*c.Art.At(r.X1, y)]...)
	}
	saveGray(t, name, cut)
}

// A step of a two-dimensional code is the very room that a box must have for it:
// in a box of that size the code comes out at that step, in one a dot smaller
// below it.
func TestStepsOfMatricesFit(t *testing.T) {
	for _, kind := range []string{"qr", "datamatrix", "aztec"} {
		for _, turn := range []int{0, 270} {
			for _, pitch := range [][2]unit.Pitch{{300, 300}, {300, 600}} {
				lay := func(w, h int) Placed {
					e := barcode(kind, "SUNDHAVEN 000042", plane.Box{W: pitch[0].Span(w), H: pitch[1].Span(h)})
					e.Code.Turn = turn
					return compose(t, compile(t, programme(pitch[0], pitch[1], e), files{}).Work(), nil).Codes[0]
				}
				first := lay(300, 300)
				card := compile(t, programme(pitch[0], pitch[1]), files{}).grid
				steps := first.Steps(&design.Code{Turn: turn}, card)
				if len(steps) < 4 || steps[0].X != leastAuto {
					t.Fatalf("%s: %+v", kind, steps)
				}
				for _, s := range steps[1:3] {
					w, h := s.Need, s.Across
					if turn%180 == 90 {
						w, h = h, w
					}
					if got := lay(w, h).Size.X; got != s.X {
						t.Errorf("%s turned %d at %v: %d dots in the room of %d", kind, turn, pitch, got, s.X)
					}
					if got := lay(w-1, h).Size.X; got >= s.X {
						t.Errorf("%s turned %d at %v: %d dots in less than the room of %d", kind, turn, pitch, got, s.X)
					}
				}
			}
		}
	}
}
