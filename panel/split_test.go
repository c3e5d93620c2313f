package panel

import (
	"math/rand/v2"
	"slices"
	"testing"

	"unspool/face"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

var (
	card    = site.Card{W: unit.MM(8), H: unit.MM(5)}
	printer = site.Printer{Head: 300, Feed: 300, Lie: [2]site.Lie{{Leads: site.Left, First: site.Top}, {Leads: site.Left, First: site.Top}}}
)

func ribbonOf(letters string) site.Ribbon {
	kinds := map[byte]site.PanelKind{'Y': site.Yellow, 'M': site.Magenta, 'C': site.Cyan, 'K': site.BlackResin, 'O': site.Overlay, 'F': site.Fluorescent, 'S': site.Metallic}
	var r site.Ribbon
	for i := range len(letters) {
		r.Panels = append(r.Panels, site.Panel{Letter: letters[i], Kind: kinds[letters[i]]})
	}
	return r
}

// dots paints dots of one colour, class and mark.
func dots(a *face.Art, r plane.Rect, rgb [3]uint8, c face.Class, m face.Mark, owner uint16) {
	for y := r.Y0; y < r.Y1; y++ {
		for x := r.X0; x < r.X1; x++ {
			i := a.At(x, y)
			copy(a.Page[3*i:], rgb[:])
			if m&(face.Object|face.Touched) == 0 {
				copy(a.Under[3*i:], rgb[:])
			}
			a.Class[i], a.Mark[i], a.Owner[i] = c, m, owner
		}
	}
}

// scene is a face with one of everything a black rule looks at, a column each.
func scene(g plane.Grid) *face.Art {
	a := face.NewArt(g)
	h := g.H
	dots(a, plane.Rect{X0: 2, Y0: 0, X1: 3, Y1: h}, [3]uint8{0, 0, 0}, face.Photo, 0, 1)                               // clipped hair
	dots(a, plane.Rect{X0: 4, Y0: 0, X1: 5, Y1: h}, [3]uint8{30, 20, 25}, face.Photo, 0, 1)                            // dark hair
	dots(a, plane.Rect{X0: 6, Y0: 0, X1: 7, Y1: h}, [3]uint8{90, 60, 50}, face.Photo, 0, 1)                            // skin
	dots(a, plane.Rect{X0: 8, Y0: 0, X1: 9, Y1: h}, [3]uint8{0, 0, 0}, face.Text, face.Object|face.Touched, 2)         // stem of a letter
	dots(a, plane.Rect{X0: 10, Y0: 0, X1: 11, Y1: h}, [3]uint8{100, 100, 100}, face.Text, face.Object|face.Touched, 2) // its edge, over half
	dots(a, plane.Rect{X0: 12, Y0: 0, X1: 13, Y1: h}, [3]uint8{200, 200, 200}, face.Ground, face.Touched, 0)           // its edge, under half
	dots(a, plane.Rect{X0: 14, Y0: 0, X1: 15, Y1: h}, [3]uint8{0, 0, 0}, face.Code, face.Object|face.Touched, 3)       // bar
	dots(a, plane.Rect{X0: 16, Y0: 0, X1: 17, Y1: h}, [3]uint8{0, 0, 0}, face.Picture, 0, 4)                           // bar of a pasted picture
	dots(a, plane.Rect{X0: 18, Y0: 0, X1: 19, Y1: h}, [3]uint8{0, 0, 0}, face.Text, face.Dye, 5)                       // sent to dye by hand
	dots(a, plane.Rect{X0: 20, Y0: 0, X1: 21, Y1: h}, [3]uint8{255, 255, 255}, face.Text, face.Resin, 6)               // sent to resin by hand
	dots(a, plane.Rect{X0: 22, Y0: 0, X1: 23, Y1: h}, [3]uint8{255, 255, 255}, face.Text, face.Fluor, 7)
	dots(a, plane.Rect{X0: 24, Y0: 0, X1: 25, Y1: h}, [3]uint8{255, 255, 255}, face.Text, face.Special, 8)
	return a
}

// What each rule takes is the definition of the rule in package site; the rules
// are common practice, no source.
func TestEveryRuleTakesWhatItSays(t *testing.T) {
	hand := []int{20}
	for _, c := range []struct {
		black site.Black
		want  []int // columns in resin
	}{
		{site.Black{Rule: site.NoRule}, hand},
		{site.Black{Rule: site.Exact}, []int{2, 8, 14, 16, 20}},
		{site.Black{Rule: site.Dark, Limit: 40}, []int{2, 4, 8, 14, 16, 20}},
		{site.Black{Rule: site.Dark, Limit: 29}, []int{2, 8, 14, 16, 20}},
		{site.Black{Rule: site.Objects}, []int{8, 10, 14, 20}},
		{site.Black{Rule: site.Zones, Limit: 40, Zones: []plane.Box{{X: unit.MM(1), W: unit.MM(7), H: unit.MM(5)}}}, []int{14, 16, 20}},
		{site.Black{Rule: site.Zones, Limit: 40, Outside: true, Zones: []plane.Box{{X: unit.MM(1), W: unit.MM(7), H: unit.MM(5)}}}, []int{2, 4, 8, 20}},
	} {
		u := New(card, printer, ribbonOf("YMCKO"), c.black, site.Front, nil)
		p := u.NewPanels()
		u.Split(p, scene(u.Grid()), p.Rect(), nil)
		var got []int
		for x := range p.W {
			if p.K[p.At(x, 3)] == 1 {
				got = append(got, x)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v: columns %v in resin, want %v", c.black.Rule, got, c.want)
		}
	}
}

// Under the rule objects a letter leaves the dye page whole; under exact its
// grey fringe stays there.
func TestFringeStaysInDyeUnderExact(t *testing.T) {
	for _, c := range []struct {
		rule        site.Rule
		fringe, big uint8 // cyan of the column under half covered, and over half
	}{
		{site.Exact, 55, 155},
		{site.Objects, 0, 0},
	} {
		u := New(card, printer, ribbonOf("YMCKO"), site.Black{Rule: c.rule}, site.Front, nil)
		p := u.NewPanels()
		u.Split(p, scene(u.Grid()), p.Rect(), nil)
		if got := [2]uint8{p.C[p.At(12, 3)], p.C[p.At(10, 3)]}; got != [2]uint8{c.fringe, c.big} {
			t.Errorf("%v: cyan of the fringe %v, want %v", c.rule, got, [2]uint8{c.fringe, c.big})
		}
	}
}

func TestDyesUnderResin(t *testing.T) {
	for _, keep := range []bool{false, true} {
		u := New(card, printer, ribbonOf("YMCKO"), site.Black{Rule: site.Exact, KeepDyes: keep}, site.Front, nil)
		p := u.NewPanels()
		u.Split(p, scene(u.Grid()), p.Rect(), nil)
		want := uint8(0)
		if keep {
			want = 255
		}
		if got := p.Y[p.At(14, 3)]; got != want {
			t.Errorf("keep %v: yellow under a bar %d, want %d", keep, got, want)
		}
	}
}

func TestSentByHand(t *testing.T) {
	u := New(card, printer, ribbonOf("YMCKFSO"), site.Black{}, site.Front, nil)
	p := u.NewPanels()
	u.Split(p, scene(u.Grid()), p.Rect(), nil)
	if p.F[p.At(22, 0)] != 1 || p.S[p.At(24, 0)] != 1 || p.K[p.At(20, 0)] != 1 || p.S[p.At(20, 0)] != 0 {
		t.Error("by hand: a dot is on the wrong panel")
	}
	// A ribbon whose only resin is silver takes what was sent to resin.
	u = New(card, printer, ribbonOf("S"), site.Black{}, site.Front, nil)
	p = u.NewPanels()
	u.Split(p, scene(u.Grid()), p.Rect(), nil)
	if p.S[p.At(20, 0)] != 1 || p.S[p.At(14, 0)] != 1 {
		t.Error("silver alone does not print")
	}
}

func TestOverlayLeavesItsWindows(t *testing.T) {
	c := card
	c.KeepOuts = []site.KeepOut{
		{Kind: site.Stripe, Side: site.Front, Box: plane.Box{Y: unit.MM(1), W: unit.MM(8), H: unit.MM(1)}},
		{Kind: site.Bump, Side: site.Front, Box: plane.Box{Y: unit.MM(3), W: unit.MM(8), H: unit.MM(1)}},
		{Kind: site.Chip, Side: site.Back, Box: plane.Box{Y: unit.MM(4), W: unit.MM(8), H: unit.MM(1)}},
	}
	u := New(c, printer, ribbonOf("YMCKO"), site.Black{}, site.Front, nil)
	p := u.NewPanels()
	u.Split(p, scene(u.Grid()), p.Rect(), nil)
	for y := range p.H {
		mm := p.DY.MM(float64(y) + 0.5)
		want := uint8(1)
		if mm > 1 && mm < 2 {
			want = 0
		}
		if got := p.O[p.At(40, y)]; got != want {
			t.Errorf("at %.2f mm: overlay %d, want %d", mm, got, want)
		}
	}
}

func TestEdgesShortPanelsAndDeadElements(t *testing.T) {
	pr, r := printer, ribbonOf("YMCKO")
	pr.Unprinted, pr.Dead = unit.MM(0.5), []int{30}
	r.ShortTo = unit.MM(4)
	u := New(card, pr, r, site.Black{Rule: site.Dark, Limit: 255}, site.Front, nil)
	a := face.NewArt(u.Grid())
	dots(a, a.Rect(), [3]uint8{0, 0, 0}, face.Photo, 0, 1)
	p := u.NewPanels()
	u.Split(p, a, p.Rect(), nil)
	keep := New(card, pr, r, site.Black{KeepDyes: true}, site.Front, nil)
	q := keep.NewPanels()
	keep.Split(q, a, q.Rect(), nil)
	for _, c := range []struct {
		name string
		got  uint8
		want uint8
	}{
		{"resin in the border", p.K[p.At(5, 20)], 0},
		{"resin inside", p.K[p.At(6, 20)], 1},
		{"resin on the dead element", p.K[p.At(20, 30)], 0},
		{"overlay on the dead element", p.O[p.At(20, 30)], 0},
		{"dye within the short panel", q.C[q.At(40, 20)], 255},
		{"dye beyond it", q.C[q.At(50, 20)], 0},
		{"dye on the dead element", q.C[q.At(40, 30)], 0},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.name, c.got, c.want)
		}
	}
}

// Splitting a face in pieces gives what splitting it whole gives, dots and
// counts alike.
func TestPiecesAgreeWithTheWhole(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	u := New(card, printer, ribbonOf("YMCKO"), site.Black{Rule: site.Dark, Limit: 40}, site.Front, nil)
	a := face.NewArt(u.Grid())
	for i := range a.Class {
		v := [3]uint8{uint8(rnd.IntN(90)), uint8(rnd.IntN(60)), uint8(rnd.IntN(256))}
		copy(a.Page[3*i:], v[:])
		copy(a.Under[3*i:], v[:])
		a.Owner[i] = uint16(rnd.IntN(3))
	}
	whole, parts := u.NewPanels(), u.NewPanels()
	one, many := make([]Count, 3), make([]Count, 3)
	u.Split(whole, a, whole.Rect(), one)
	hole := plane.Rect{X0: 10, Y0: 7, X1: 60, Y1: 33}
	for _, r := range append(whole.Rect().Without([]plane.Rect{hole}), hole) {
		u.Split(parts, a, r, many)
	}
	if !slices.Equal(whole.Area(whole.Rect(), nil), parts.Area(parts.Rect(), nil)) {
		t.Error("dots differ")
	}
	for i := range one {
		if one[i].Resin != many[i].Resin || one[i].Dots != many[i].Dots || one[i].Dye != many[i].Dye || one[i].Where != many[i].Where {
			t.Errorf("owner %d: %+v, want %+v", i, many[i], one[i])
		}
	}
	if one[1].Resin == 0 || one[1].Resin == one[1].Dots {
		t.Error("the test takes all or nothing")
	}
}

// Card after card, Repeat gives what separating each anew gives.
func TestRepeatAgreesWithSplit(t *testing.T) {
	for _, letters := range []string{"YMCKO", "KO"} {
		rnd := rand.New(rand.NewPCG(3, 4))
		u := New(card, printer, ribbonOf(letters), site.Black{Rule: site.Exact}, site.Front, nil)
		panels := u.NewPanels()
		repeat := u.Repeat(panels)
		r := plane.Rect{X0: 3, Y0: 2, X1: 90, Y1: 50}
		a := scene(u.Grid())
		for n := range 20 {
			for range 5 { // a few dots change from card to card
				x, y := 3+rnd.IntN(80), 2+rnd.IntN(40)
				dots(a, plane.Rect{X0: x, Y0: y, X1: x + 3, Y1: y + 1}, [3]uint8{uint8(40 * rnd.IntN(2)), 0, 0}, face.Text, 0, uint16(rnd.IntN(9)))
			}
			got, want, anew := make([]Count, 9), make([]Count, 9), u.NewPanels()
			repeat.Split(a, r, got)
			u.Split(anew, a, r, want)
			if !slices.Equal(panels.Area(r, nil), anew.Area(r, nil)) {
				t.Fatalf("%s, card %d: dots differ", letters, n)
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%s, card %d: counts %v, want %v", letters, n, got, want)
			}
		}
	}
}

// A halftone keeps the mean light of a tone (Floyd and Steinberg 1976), and a
// bar or letter is never halftoned.
func TestHalftoneOnResinAlone(t *testing.T) {
	for _, letters := range []string{"K", "KO"} {
		u := New(card, printer, ribbonOf(letters), site.Black{}, site.Front, nil)
		for _, grey := range []uint8{40, 128, 188, 230} {
			a := face.NewArt(u.Grid())
			dots(a, a.Rect(), [3]uint8{grey, grey, grey}, face.Photo, 0, 1)
			p := u.NewPanels()
			u.Split(p, a, p.Rect(), nil)
			black := 0
			for _, k := range p.K {
				black += int(k)
			}
			want := 1 - float64(linear[grey])
			if got := float64(black) / float64(len(p.K)); got < want-0.02 || got > want+0.02 {
				t.Errorf("%s, grey %d: %.3f of the dots are black, want %.3f", letters, grey, got, want)
			}
			dots(a, a.Rect(), [3]uint8{grey, grey, grey}, face.Text, 0, 1)
			u.Split(p, a, p.Rect(), nil)
			for i, k := range p.K {
				if k != p.K[0] {
					t.Fatalf("%s, grey %d: text is halftoned at dot %d", letters, grey, i)
				}
			}
			if want := grey <= 127; (p.K[0] == 1) != want {
				t.Errorf("%s, grey %d text: resin %v, want %v", letters, grey, p.K[0] == 1, want)
			}
		}
	}
}

// PhotoResin agrees with the separation it stands for.
func TestPhotoResinCountsWhatSplitDoes(t *testing.T) {
	for _, rule := range site.Rules {
		if rule == site.All {
			continue // a halftone: every dot that is not white counts
		}
		u := New(card, printer, ribbonOf("YMCKO"), site.Black{Rule: rule, Limit: 40}, site.Front, nil)
		p, a, n := u.NewPanels(), scene(u.Grid()), make([]Count, 9)
		u.Split(p, a, p.Rect(), n)
		if got := u.PhotoResin(a, p.Rect()); got != n[1].Resin {
			t.Errorf("%v: %d, want %d", rule, got, n[1].Resin)
		}
	}
}

func BenchmarkSplit(b *testing.B) {
	big := site.Card{W: unit.MM(85.6), H: unit.MM(53.98)}
	u := New(big, printer, ribbonOf("YMCKO"), site.Black{Rule: site.Exact}, site.Front, nil)
	a := face.NewArt(u.Grid())
	rnd := rand.New(rand.NewPCG(1, 2))
	photo := plane.Rect{X0: 50, Y0: 100, X1: 310, Y1: 440}
	for y := photo.Y0; y < photo.Y1; y++ {
		for x := photo.X0; x < photo.X1; x++ {
			dots(a, plane.Rect{X0: x, Y0: y, X1: x + 1, Y1: y + 1}, [3]uint8{uint8(rnd.IntN(256)), uint8(rnd.IntN(256)), uint8(rnd.IntN(256))}, face.Photo, 0, 1)
		}
	}
	p, n := u.NewPanels(), make([]Count, 2)
	for b.Loop() {
		u.Split(p, a, photo, n)
	}
	b.ReportMetric(float64(photo.W()*photo.H()), "dots")
}
