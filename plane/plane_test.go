package plane

import (
	"testing"
	"testing/quick"

	"unspool/unit"
)

// What is cut out and what is left cover every dot of the rectangle once.
func TestWithoutCoversTheRestOnce(t *testing.T) {
	f := func(a, b, c, d, e, g uint8) bool {
		r := Rect{2, 3, 30, 24}
		holes := []Rect{
			{int(a % 32), int(b % 32), int(a%32) + int(c%16), int(b%32) + int(d%16)},
			{int(e % 32), int(g % 32), int(e%32) + int(d%16), int(g%32) + int(a%16)},
		}
		seen := map[[2]int]int{}
		for _, p := range append(r.Without(holes), holes[0].And(r), holes[1].And(r).And(r)) {
			for y := p.Y0; y < p.Y1; y++ {
				for x := p.X0; x < p.X1; x++ {
					seen[[2]int{x, y}]++
				}
			}
		}
		both := holes[0].And(holes[1]).And(r)
		for y := r.Y0; y < r.Y1; y++ {
			for x := r.X0; x < r.X1; x++ {
				want := 1
				if x >= both.X0 && x < both.X1 && y >= both.Y0 && y < both.Y1 {
					want = 2 // both holes hold it
				}
				if seen[[2]int{x, y}] != want {
					return false
				}
			}
		}
		return len(seen) == r.W()*r.H()
	}
	if err := quick.Check(f, &quick.Config{MaxCount: 500}); err != nil {
		t.Error(err)
	}
}

func TestRect(t *testing.T) {
	a, b := Rect{0, 0, 4, 4}, Rect{2, 2, 6, 6}
	for _, c := range []struct {
		name      string
		got, want Rect
	}{
		{"and", a.And(b), Rect{2, 2, 4, 4}},
		{"or", a.Or(b), Rect{0, 0, 6, 6}},
		{"apart", a.And(Rect{5, 5, 6, 6}), Rect{}},
		{"or nothing", a.Or(Rect{}), a},
		{"grow", b.Grow(-1), Rect{3, 3, 5, 5}},
	} {
		if c.got != c.want {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	if !a.And(b).In(a) || b.In(a) || !(Rect{}).In(a) {
		t.Error("In")
	}
}

// ID-1 at 300 dpi is 1011 x 638 dots (ISO/IEC 7810 size over 25.4/300 mm).
func TestBox(t *testing.T) {
	g := Grid{W: 1011, H: 638, DX: 300, DY: 300}
	if r := g.Box(Box{W: unit.MM(85.60), H: unit.MM(53.98)}); r != g.Rect() {
		t.Errorf("ID-1: %v", r)
	}
	if b := (Rect{3, 0, 6, 3}).Box(g); b.X != unit.MM(0.254) || b.W != unit.MM(0.254) {
		t.Errorf("three dots: %v", b)
	}
}
