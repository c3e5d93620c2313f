package face

import (
	"fmt"
	"math"
	"testing"

	"unspool/design"
	"unspool/plane"
)

// patch is a filled rectangle.
func patch(colour [3]uint8, send design.Send, b plane.Box) design.Element {
	return design.Element{Box: b, Send: send, Shape: &design.Shape{Kind: design.Rectangle, Fill: &colour}}
}

// shifted is b moved right by a part of a dot, so that its left edge covers the
// rest of a dot.
func shifted(b plane.Box, dots float64) plane.Box {
	b.X += mm(dots * 25.4 / 300)
	return b
}

func TestMarks(t *testing.T) {
	black, white, red := [3]uint8{}, [3]uint8{255, 255, 255}, [3]uint8{255, 0, 0}
	b := box(10.16, 10.16, 5.08, 5.08) // dots 120 to 180
	part := func(cover float64) plane.Box { return shifted(b, 1-cover) }
	inner, edge := [2]int{150, 150}, [2]int{120, 150}
	for _, c := range []struct {
		name     string
		elements []design.Element
		at       [2]int
		mark     Mark
		owner    uint16
		page     [3]uint8
		under    [3]uint8
	}{
		{"bare", nil, inner, 0, 0, white, white},
		{"black", []design.Element{patch(black, design.ByRule, b)}, inner, Object | Touched, 1, black, white},
		{"black, edge of 60 %", []design.Element{patch(black, design.ByRule, part(0.6))}, edge, Object | Touched, 1, [3]uint8{102, 102, 102}, white},
		{"black, edge of 40 %", []design.Element{patch(black, design.ByRule, part(0.4))}, edge, Touched, 0, [3]uint8{153, 153, 153}, white},
		{"black sent to dye", []design.Element{patch(black, design.ToDye, b)}, inner, Dye, 1, black, black},
		{"black sent to dye, edge of 40 %", []design.Element{patch(black, design.ToDye, part(0.4))}, edge, 0, 0, [3]uint8{153, 153, 153}, [3]uint8{153, 153, 153}},
		{"red", []design.Element{patch(red, design.ByRule, b)}, inner, 0, 1, red, red},
		{"resin", []design.Element{patch(red, design.ToResin, b)}, inner, Resin, 1, white, white},
		{"resin, edge of 60 %", []design.Element{patch(red, design.ToResin, part(0.6))}, edge, Resin, 1, white, white},
		{"resin, edge of 40 %", []design.Element{patch(red, design.ToResin, part(0.4))}, edge, 0, 0, white, white},
		{"fluorescent", []design.Element{patch(black, design.ToFluor, b)}, inner, Fluor, 1, white, white},
		{"special over resin", []design.Element{patch(red, design.ToResin, b), patch(red, design.ToSpecial, b)}, inner, Special, 2, white, white},
		{"black over red", []design.Element{patch(red, design.ByRule, b), patch(black, design.ByRule, b)}, inner, Object | Touched, 2, black, red},
		{"red over black", []design.Element{patch(black, design.ByRule, b), patch(red, design.ByRule, b)}, inner, 0, 2, red, red},
		{"60 % of red over black", []design.Element{patch(black, design.ByRule, b), patch(red, design.ByRule, part(0.6))}, edge, Touched, 2, [3]uint8{153, 0, 0}, [3]uint8{255, 102, 102}},
		{"40 % of red over black", []design.Element{patch(black, design.ByRule, b), patch(red, design.ByRule, part(0.4))}, edge, Object | Touched, 1, [3]uint8{102, 0, 0}, [3]uint8{255, 153, 153}},
		{"red over resin", []design.Element{patch(black, design.ToResin, b), patch(red, design.ByRule, b)}, inner, 0, 2, red, red},
		{"fluorescent over black", []design.Element{patch(black, design.ByRule, b), patch(red, design.ToFluor, b)}, inner, Object | Touched | Fluor, 2, black, white},
	} {
		a := once(t, files{}, nil, c.elements...).Art
		i := a.At(c.at[0], c.at[1])
		page, under := [3]uint8(a.Page[3*i:]), [3]uint8(a.Under[3*i:])
		if a.Mark[i] != c.mark || a.Owner[i] != c.owner || !near(page, c.page) || !near(under, c.under) {
			t.Errorf("%s: mark %b, owner %d, page %v, under %v; want %b, %d, %v, %v",
				c.name, a.Mark[i], a.Owner[i], page, under, c.mark, c.owner, c.page, c.under)
		}
	}
}

// near allows a level of rounding.
func near(a, b [3]uint8) bool {
	for i := range a {
		if d := int(a[i]) - int(b[i]); d < -1 || d > 1 {
			return false
		}
	}
	return true
}

func TestClasses(t *testing.T) {
	c := once(t, cardFiles(t), crew()[0], card()...)
	want := map[string]Class{"ground": Picture, "band": LineArt, "photo": Photo, "name": Text, "code": Code, "seal": Picture}
	seen := map[string]Class{}
	for i, o := range c.Art.Owner {
		if o > 0 {
			seen[card()[o-1].Name] = c.Art.Class[i]
		}
	}
	for name, class := range want {
		if got, ok := seen[name]; !ok || got != class {
			t.Errorf("%s: %s, not %s", name, got, class)
		}
	}
	for i, m := range c.Art.Mark {
		if m&Object != 0 && m&Touched == 0 {
			t.Fatalf("dot %d is an object that nothing touched", i)
		}
		if m&Touched == 0 && [3]uint8(c.Art.Page[3*i:]) != [3]uint8(c.Art.Under[3*i:]) {
			t.Fatalf("dot %d: page and under differ, but nothing touched it", i)
		}
	}
}

// Areas of shapes against geometry, in dots.
func TestShapeAreas(t *testing.T) {
	black := [3]uint8{}
	const perMM2 = 300 / 25.4 * 300 / 25.4
	for _, c := range []struct {
		name  string
		shape design.Shape
		b     plane.Box
		area  float64 // square millimetres
	}{
		{"rectangle", design.Shape{Kind: design.Rectangle, Fill: &black}, box(10.03, 10.01, 20.07, 12.02), 20.07 * 12.02},
		{"rounded", design.Shape{Kind: design.Rectangle, Fill: &black, Radius: mm(3)}, box(10, 10, 20, 12), 20*12 - (4-math.Pi)*9},
		{"frame", design.Shape{Kind: design.Rectangle, Stroke: &black, Width: mm(1)}, box(10, 10, 20, 12), 20*12 - 18*10},
		{"frame and fill", design.Shape{Kind: design.Rectangle, Fill: &black, Stroke: &black, Width: mm(1)}, box(10, 10, 20, 12), 20 * 12},
		{"thick frame", design.Shape{Kind: design.Rectangle, Stroke: &black, Width: mm(9)}, box(10, 10, 20, 12), 20 * 12},
		{"ellipse", design.Shape{Kind: design.Ellipse, Fill: &black}, box(10, 10, 20, 12), math.Pi * 10 * 6},
		{"ring", design.Shape{Kind: design.Ellipse, Stroke: &black, Width: mm(1)}, box(10, 10, 20, 12), math.Pi * (10*6 - 9*5)},
		{"line", design.Shape{Kind: design.Line, Stroke: &black, Width: mm(0.5)}, box(10, 10, 30, 40), 50 * 0.5},
		{"level line", design.Shape{Kind: design.Line, Stroke: &black, Width: mm(0.5)}, box(10, 10, 30, 0), 30 * 0.5},
		{"off the face", design.Shape{Kind: design.Rectangle, Fill: &black}, box(80.6, -5, 20, 20), 5 * 15},
	} {
		s := c.shape
		a := once(t, files{}, nil, design.Element{Box: c.b, Shape: &s}).Art
		sum := 0.0
		for i := range a.Dots() {
			sum += 255 - float64(a.Page[3*i])
		}
		if got := sum / 255 / perMM2; math.Abs(got-c.area) > 0.004*c.area {
			t.Errorf("%s: %.3f square millimetres, not %.3f", c.name, got, c.area)
		}
	}
}

func TestShow(t *testing.T) {
	for _, c := range []struct {
		show   design.Condition
		fields person
		shown  bool
	}{
		{design.Condition{Field: "role"}, person{"role": "Deck"}, true},
		{design.Condition{Field: "role"}, person{"role": "  "}, false},
		{design.Condition{Field: "role", Not: true}, person{}, true},
		{design.Condition{Field: "role", Equals: "Deck"}, person{"role": "Deck"}, true},
		{design.Condition{Field: "role", Equals: "Deck"}, person{"role": "deck"}, false},
		{design.Condition{Field: "role", Equals: "Deck", Not: true}, person{"role": ""}, true},
	} {
		e := words("Ida", 4, 4, [4]float64{10, 10, 30, 6})
		e.Show = &c.show
		got := once(t, files{}, c.fields, e)
		_, _, x1, _ := ink(got.Art, 1)
		if (x1 > 0) != c.shown || (len(got.Texts) > 0) != c.shown {
			t.Errorf("%v for %v: shown %v", c.show, c.fields, x1 > 0)
		}
	}
}

func TestCompileFaults(t *testing.T) {
	a := files{data: map[string][]byte{"bad.svg": []byte("<svg viewBox='0 0 1 1'>\n<text>x</text></svg>"), "cut.jpg": asJPEG(t, portrait(1, 64, 64))[:700]}}
	pic := func(name string) design.Element {
		return design.Element{Name: "logo", Box: box(1, 1, 5, 5), Picture: &design.Picture{File: name}}
	}
	code := design.Element{Name: "code", Box: box(1, 1, 50, 5), Code: &design.Code{Kind: "code39", X: 3, Ratio: 2.5, Text: literal("A")}}
	for _, c := range []struct {
		e    design.Element
		want string
	}{
		{pic("bad.svg"), `the drawing "bad.svg", line 2: text is not drawn: convert text to paths`},
		{pic("cut.jpg"), `the picture "cut.jpg": the JPEG ends too early: it was cut short when it was copied or saved`},
		{pic("none.png"), `the picture "none.png" open none.png: file does not exist`},
		{code, "a wide:narrow ratio of 2.5 at X 3 dots is not a whole number of dots: use 2.33, 2.67 or 3"},
		{design.Element{Name: "nothing"}, "is empty"},
	} {
		_, err := Compile(programme(300, 300, words("Ida", 4, 4, [4]float64{1, 1, 9, 9}), c.e), 0, a)
		want := fmt.Sprintf("programme.yaml:11:5: faces.front[2] (%s): %s", c.e.Name, c.want)
		if err == nil || err.Error() != want {
			t.Errorf("%v\n want %s", err, want)
		}
	}
	if _, err := Compile(programme(300, 300), 1, a); err == nil {
		t.Error("no back, no error")
	}
}
