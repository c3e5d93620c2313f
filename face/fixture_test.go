package face

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io/fs"
	"math"
	"math/rand/v2"
	"testing"

	"unspool/design"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// files is Assets in memory.
type files struct {
	data     map[string][]byte
	fallback func(r rune) []byte
}

func (f files) open(name string) ([]byte, error) {
	if d, ok := f.data[name]; ok {
		return d, nil
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

func (f files) Artwork(name string) ([]byte, error) { return f.open(name) }
func (f files) Photo(name string) ([]byte, error)   { return f.open(name) }
func (f files) Font(name string) ([]byte, error)    { return f.open(name) }
func (f files) Fallback(r rune) []byte {
	if f.fallback == nil {
		return nil
	}
	return f.fallback(r)
}

// person is a row of a roster.
type person map[string]string

func (p person) Field(name string) string { return p[name] }

// literal is a template without fields, field one of a field alone.
func literal(s string) design.Template { return design.Template{Parts: []design.Part{{Literal: s}}} }
func field(s string) design.Template   { return design.Template{Parts: []design.Part{{Field: s}}} }

func mm(v float64) unit.Length { return unit.MM(v) }

func box(x, y, w, h float64) plane.Box { return plane.Box{X: mm(x), Y: mm(y), W: mm(w), H: mm(h)} }

// programme is an ID-1 card (ISO/IEC 7810) printed along its long edge.
func programme(along, across unit.Pitch, elements ...design.Element) *design.Programme {
	for i := range elements {
		elements[i].Pos = design.Pos{Line: 10 + i, Column: 5}
	}
	return &design.Programme{
		File: "programme.yaml", Card: site.Card{W: mm(85.6), H: mm(53.98)},
		Printer: site.Printer{Head: across, Feed: along},
		Faces:   [2]*design.Face{{Elements: elements}},
	}
}

func compile(t testing.TB, p *design.Programme, a Assets) *Plan {
	t.Helper()
	pl, err := Compile(p, site.Front, a)
	if err != nil {
		t.Fatal(err)
	}
	return pl
}

func compose(t testing.TB, w *Work, p design.Person) *Composed {
	t.Helper()
	c, err := w.Compose(p)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// once composes one card of the elements at 300 dpi.
func once(t testing.TB, a Assets, p design.Person, elements ...design.Element) *Composed {
	t.Helper()
	return compose(t, compile(t, programme(300, 300, elements...), a).Work(), p)
}

// portrait is a picture with the tones of a photograph of a head before a wall,
// no two alike.
func portrait(seed uint64, w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	rnd := rand.New(rand.NewPCG(seed, 7))
	skin := 150 + 90*rnd.Float64()
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w)-0.5, float64(y)/float64(h)-0.45
			level := 175 + 40*v - 20*u
			if d := math.Hypot(u/0.26, v/0.33); d < 1 {
				level = skin*(1-0.4*d*d) + 30*u
			} else if math.Hypot(u/0.32, (v+0.06)/0.36) < 1 {
				level = 18 + 30*rnd.Float64()
			} else if v > 0.3-0.05*math.Cos(4*u) {
				level = 60 + 20*math.Sin(40*u)
			}
			level += 6 * rnd.NormFloat64()
			c := func(k float64) uint8 { return uint8(min(max(level*k, 0), 255)) }
			m.SetRGBA(x, y, color.RGBA{c(1), c(0.85), c(0.72), 255})
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// page is the page of a face as a picture.
func (a *Art) page() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, a.W, a.H))
	for i := range a.Dots() {
		copy(m.Pix[4*i:], a.Page[3*i:3*i+3])
		m.Pix[4*i+3] = 255
	}
	return m
}

const crest = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><defs><linearGradient id="sea" x1="0" y1="0" x2="0" y2="1">
<stop offset="0" stop-color="#0b7285"/><stop offset="1" stop-color="#063a5c"/></linearGradient></defs>
<circle cx="50" cy="50" r="48" fill="url(#sea)"/><path d="M15 62q12-12 24 0t24 0 24 0M15 76q12-12 24 0t24 0 24 0" fill="none" stroke="#fff" stroke-width="5"/>
<path fill="#ffd43b" fill-rule="evenodd" d="M50 12 58 36H82L62 50 70 74 50 59 30 74 38 50 18 36H42z"/></svg>`

// card is a face with an element of every kind: fixed ones, ones that vary, ones
// shown for some, one above another.
func card() []design.Element {
	black, white, blue := [3]uint8{}, [3]uint8{255, 255, 255}, [3]uint8{11, 58, 92}
	return []design.Element{
		{Name: "ground", Box: box(0, 0, 85.6, 53.98), Picture: &design.Picture{File: "ground.png", Fit: design.Cover}},
		{Name: "band", Box: box(0, 0, 85.6, 12), Shape: &design.Shape{Kind: design.Rectangle, Fill: &blue}},
		{Name: "crest", Box: box(3, 1.5, 9, 9), Picture: &design.Picture{File: "crest.svg", Fit: design.Contain}},
		{Name: "line", Box: box(14, 3.2, 60, 6), Text: &design.Text{Text: literal("Sundhaven Ferry Line"), Bold: true, Size: mm(4.6), Floor: mm(4.6), Valign: design.Middle, Leading: 1.2, Colour: white}},
		{Name: "photo", Box: box(4, 15, 22, 29.4), Photo: &design.Photo{File: field("photo"), Folder: "photos", AnchorX: 0.5, AnchorY: 0.35}},
		{Name: "frame", Box: box(4, 15, 22, 29.4), Shape: &design.Shape{Kind: design.Rectangle, Stroke: &black, Width: mm(0.3), Radius: mm(1)}},
		{Name: "name", Box: box(29, 15, 53, 6), Text: &design.Text{Text: field("name"), Bold: true, Size: mm(4.5), Floor: mm(2.6), Leading: 1.2}},
		{Name: "role", Box: box(29, 22, 53, 8), Text: &design.Text{Text: field("role"), Size: mm(3), Floor: mm(2), Wrap: true, Leading: 1.25, Colour: blue}},
		{Name: "master", Box: box(76, 23, 6, 6), Show: &design.Condition{Field: "role", Equals: "Master"},
			Shape: &design.Shape{Kind: design.Ellipse, Fill: &[3]uint8{255, 212, 59}, Stroke: &blue, Width: mm(0.5)}},
		{Name: "code", Box: box(28, 34, 55, 10), Code: &design.Code{Kind: "code39", Text: field("number"), Align: design.Middle, Backing: true, Printed: "number"}},
		{Name: "number", Box: box(29, 45, 53, 4), Text: &design.Text{Text: field("number"), Size: mm(3), Floor: mm(3), Align: design.Middle, Leading: 1.2}},
		{Name: "seal", Box: box(60, 26, 20, 20), Send: design.ToFluor, Picture: &design.Picture{File: "crest.svg", Fit: design.Contain}},
		{Name: "veil", Box: box(20, 40, 12, 8), Shape: &design.Shape{Kind: design.Ellipse, Fill: &white}},
		{Name: "rule", Box: box(4, 50.5, 77.6, 0), Shape: &design.Shape{Kind: design.Line, Stroke: &black, Width: mm(0.25)}},
	}
}

func cardFiles(t testing.TB) files {
	ground := image.NewRGBA(image.Rect(0, 0, 506, 319))
	for y := range 319 {
		for x := range 506 {
			k := 10 * math.Sin(float64(x)/30) * math.Cos(float64(y)/25)
			ground.SetRGBA(x, y, color.RGBA{uint8(228 + k), uint8(240 + k/2), 246, 255})
		}
	}
	d := map[string][]byte{"ground.png": asPNG(t, ground), "crest.svg": []byte(crest)}
	for i := range 4 {
		d[fmt.Sprintf("photos/%d.jpg", i)] = asJPEG(t, portrait(uint64(i), 480, 640))
	}
	d["photos/cut.jpg"] = d["photos/0.jpg"][:4000]
	return files{data: d}
}

func crew() []design.Person {
	return []design.Person{
		person{"name": "Åsa Björkqvist-Wołoszyńska", "role": "Master", "number": "0012345678", "photo": "0.jpg"},
		person{"name": "Nguyễn Thị Ánh Tuyết", "role": "Engineer of the watch, relief", "number": "0000000042", "photo": "1.jpg"},
		person{"name": "مريم الزهراني", "role": "Deck", "number": "4711", "photo": "2.jpg"},
		person{"name": "Ганна Шевчук", "role": "", "number": "ABC123", "photo": "missing.jpg"},
		person{"name": "श्रीमती लक्ष्मी", "role": "Master", "number": "lower case", "photo": "cut.jpg"},
		person{"name": "", "role": "Deck", "number": "", "photo": ""},
		person{"name": "Δημήτρης Παπαδόπουλος of the far northern winter station", "role": "Deck", "number": "0123456789012345678901", "photo": "3.jpg"},
	}
}
