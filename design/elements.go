package design

import (
	"strings"

	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// maxElements bounds the elements of a programme.
const maxElements = 500

// faces reads the section faces.
func (p *reading) faces(v value) {
	read := func(s site.Side) func(value) {
		return func(v value) {
			f := &Face{Side: s}
			v.each(maxElements, `a list of elements such as - {text: "{name}", box: [5, 5, 40, 6], size: 4}`,
				func(_ int, v value) { p.element(f, v) })
			if len(f.Elements) > 0 {
				p.out.Faces[s] = f
			}
		}
	}
	g := v.keys("faces", key{"front", read(site.Front)}, key{"back", read(site.Back)})
	if g.kind == object && len(g.seen) == 0 {
		g.fault("has no side; write front: and its elements")
	}
	if n := len(p.elements); n > maxElements {
		g.fault("has %d elements, more than %d; take some out", n, maxElements)
	}
}

// placedElement is an element with its place in the file.
type placedElement struct {
	value
	kind  string
	side  site.Side
	index int // on its face
	keys  group
}

// kinds are the words that say what an element is, in the order they are shown,
// with what reads their own keys.
var kinds = []struct {
	word string
	read func(*reading, value, string, *Element) group
}{
	{"picture", (*reading).picture},
	{"photo", (*reading).photo},
	{"text", (*reading).text},
	{"code", (*reading).code},
	{"mrz", (*reading).mrz},
	{"rectangle", (*reading).shape},
	{"ellipse", (*reading).shape},
	{"line", (*reading).shape},
}

// element reads one element of a face. Its kind is the first of the words that
// it has: a code has the key text too.
func (p *reading) element(f *Face, v value) {
	if v.kind != object {
		v.wrong("an element", `its keys such as {text: "{name}", box: [5, 5, 40, 6], size: 4}`)
		return
	}
	kind := v.elementKind()
	if kind < 0 {
		words := make([]string, len(kinds))
		for i, k := range kinds {
			words[i] = k.word
		}
		v.fault("does not say what it is; write one of %s", strings.Join(words, ", "))
		return
	}
	e := Element{Pos: v.at}
	g := kinds[kind].read(p, v, kinds[kind].word, &e)
	p.elements = append(p.elements, placedElement{v, kinds[kind].word, f.Side, len(f.Elements), g})
	f.Elements = append(f.Elements, e)
}

// elementKind is the index of the element's kind, -1 where it names none. A
// code is told from a text first, for it has a text.
func (v value) elementKind() int {
	found := -1
	for _, pair := range v.pairs {
		for i, k := range kinds {
			if pair.name == k.word && (found < 0 || k.word == "code") {
				found = i
			}
		}
	}
	return found
}

// common are the keys that every element has.
func common(e *Element) []key {
	return []key{
		{"name", intoLabel(&e.Name)},
		{"send", intoChoice(&e.Send, choice[Send]{"rule", ByRule}, choice[Send]{"resin", ToResin}, choice[Send]{"dye", ToDye},
			choice[Send]{"fluorescent", ToFluor}, choice[Send]{"special", ToSpecial})},
		{"show", func(v value) { e.Show = v.condition() }},
	}
}

// boxed reads an element that lies in a box of its own.
func boxed(v value, kind string, e *Element, own ...key) group {
	own = append(own, key{"box", intoBox(&e.Box, 1)})
	g := v.keys(article(kind)+" element", append(own, common(e)...)...)
	g.need("box", "[x, y, width, height]")
	return g
}

// article puts a or an before a kind.
func article(kind string) string {
	if kind == "ellipse" || kind == "mrz" {
		return "an " + kind
	}
	return "a " + kind
}

// condition reads {field: role, is: Master}.
func (v value) condition() *Condition {
	c := &Condition{Pos: v.at}
	var is, not string
	text := func(to *string) func(value) {
		return func(v value) { *to, _ = v.words() }
	}
	g := v.keys("show", key{"field", intoLabel(&c.Field)}, key{"is", text(&is)}, key{"not", text(&not)})
	g.need("field", "role")
	switch {
	case g.has("is") && g.has("not"):
		g.fault("has both is and not; write one of them")
	case g.has("is"):
		// A field that is "" is a blank one, and blank is what not-blank turned
		// round says.
		c.Equals, c.Not = is, is == ""
	case g.has("not"):
		c.Equals, c.Not = not, not != ""
	}
	return c
}

var fits = []choice[Fit]{{"cover", Cover}, {"contain", Contain}, {"stretch", Stretch}}

func (p *reading) picture(v value, kind string, e *Element) group {
	e.Picture = &Picture{}
	return boxed(v, kind, e,
		key{"picture", intoFile(&e.Picture.File)},
		key{"fit", intoChoice(&e.Picture.Fit, fits...)})
}

// The part of a portrait that stays when it is cut: the head is in the middle,
// above the centre. Engineering judgement, from memory.
const portraitX, portraitY = 0.5, 0.35

func (p *reading) photo(v value, kind string, e *Element) group {
	e.Photo = &Photo{Folder: "photos", AnchorX: portraitX, AnchorY: portraitY}
	return boxed(v, kind, e,
		key{"photo", intoTemplate(&e.Photo.File)},
		key{"folder", intoFile(&e.Photo.Folder)},
		key{"fit", intoChoice(&e.Photo.Fit, fits...)},
		key{"anchor", e.Photo.anchor})
}

// anchor reads portrait, centre or [across, down].
func (ph *Photo) anchor(v value) {
	if v.kind == list {
		if len(v.items) != 2 {
			v.wrong("an anchor", "portrait, centre or [across, down] from 0 to 1 such as [0.5, 0.35]")
			return
		}
		to := [2]*float64{&ph.AnchorX, &ph.AnchorY}
		v.each(2, "[0.5, 0.35]", func(i int, v value) { intoDecimal(to[i], 0, 1)(v) })
		return
	}
	at := [2]float64{portraitX, portraitY}
	intoChoice(&at, choice[[2]float64]{"portrait", at}, choice[[2]float64]{"centre", [2]float64{0.5, 0.5}})(v)
	ph.AnchorX, ph.AnchorY = at[0], at[1]
}

var (
	aligns  = []choice[Align]{{"start", Start}, {"middle", Middle}, {"end", End}}
	valigns = []choice[Align]{{"top", Start}, {"middle", Middle}, {"bottom", End}}
)

// Sizes of letters that can be told from a typing error: an em from 0.5 to 60 mm.
const minEm, maxEm = mm / 2, 60 * mm

// usualLeading is the distance of lines in ems, as page programs have it (common
// practice, no source).
const usualLeading = 1.2

func (p *reading) text(v value, kind string, e *Element) group {
	t := &Text{Leading: usualLeading}
	e.Text = t
	g := boxed(v, kind, e,
		key{"text", intoTemplate(&t.Text)},
		key{"font", func(v value) { t.Font = v.font() }},
		key{"bold", intoFlag(&t.Bold)},
		key{"size", intoLength(&t.Size, minEm, maxEm)},
		key{"floor", intoLength(&t.Floor, minEm, maxEm)},
		key{"wrap", intoFlag(&t.Wrap)},
		key{"align", intoChoice(&t.Align, aligns...)},
		key{"valign", intoChoice(&t.Valign, valigns...)},
		key{"leading", intoDecimal(&t.Leading, 0.5, 5)},
		key{"colour", intoColour(&t.Colour)})
	g.need("size", "3.5")
	switch {
	case t.Floor == 0:
		t.Floor = t.Size
	case t.Floor > t.Size && t.Size > 0:
		g.seen["floor"].fault("is %s, larger than the size of %s; write the smallest size the text may shrink to", t.Floor, t.Size)
	}
	return g
}

// font reads a family name, or a font file within the programme folder.
func (v value) font() string {
	if strings.ContainsAny(v.text, `/\:`) {
		return v.file()
	}
	return v.label()
}

func (p *reading) shape(v value, kind string, e *Element) group {
	s := &Shape{Kind: map[string]ShapeKind{"rectangle": Rectangle, "ellipse": Ellipse, "line": Line}[kind]}
	e.Shape = s
	least := unit.Length(1)
	if s.Kind == Line {
		least = 0
	}
	keys := append(common(e),
		key{kind, intoBox(&e.Box, least)},
		key{"stroke", intoColourOrNone(&s.Stroke)},
		key{"width", intoLength(&s.Width, mm/20, 20*mm)})
	if s.Kind != Line {
		keys = append(keys, key{"fill", intoColourOrNone(&s.Fill)})
	}
	if s.Kind == Rectangle {
		keys = append(keys, key{"radius", intoLength(&s.Radius, 0, maxSide/2)})
	}
	g := v.keys(article(kind)+" element", keys...)
	s.settle(g, e.Box)
	return g
}

// settle fills in the stroke: a line is black and 0.3 mm wide (own judgement)
// where the file does not say, a shape has a stroke only where it names one.
func (s *Shape) settle(g group, box plane.Box) {
	switch {
	case s.Kind == Line && !g.has("stroke"):
		s.Stroke = &[3]uint8{}
	case s.Kind != Line && g.has("width") && !g.has("stroke"):
		g.seen["width"].fault("is the width of a stroke, but there is none; write stroke: black beside it")
	case s.Kind != Line && !g.has("fill") && !g.has("stroke"):
		g.fault("has neither fill nor stroke; write fill: white or stroke: black")
	}
	if s.Kind == Line && box.W == 0 && box.H == 0 && g.has("line") && g.seen["line"].kind == list {
		g.seen["line"].fault("has no length; write [x, y, width, height] with a width or a height")
	}
	if s.Stroke != nil && s.Width == 0 {
		s.Width = 3 * mm / 10
	}
	if s.Radius > 0 && 2*s.Radius > min(box.W, box.H) && box.W > 0 {
		g.seen["radius"].fault("is %s, more than half of the shorter side; write at most %s", s.Radius, plain(min(box.W, box.H)/2))
	}
}
