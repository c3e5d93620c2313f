package proof

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"unspool/design"
	"unspool/face"
	"unspool/grade"
	"unspool/roster"
	"unspool/say"
)

// base is a programme in which nothing is wrong. Every case of the catalogue is
// an edit of it.
const base = `unspool: 1
name: Sundhaven
card:
  size: ID-1
printer: {dpi: 300, growth: {along: 0.02, across: 0.005}, spread: {dye: 0.03, resin: 0.01}, dead: []}
ribbon: {panels: YMCKOK, resin: carbon, yield: 200, pitch: 92}
black: {rule: objects, dyes: leave}
faces:
  front:
    - {name: portrait, photo: "{photo}", box: [5, 14, 20, 26]}
    - {name: holder, text: "{name}", box: [31, 14, 51, 6.5], size: 5}
    - {name: crew code, code: code39, text: "{number}", box: [30, 36, 52, 11], x: 3, align: start, printed: crew number}
    - {name: crew number, text: "{number}", box: [30, 48, 52, 4], size: 3}
  back:
    - {name: return, text: Hand in at any quay, box: [5, 20, 60, 6], size: 3}
readers:
  - {name: clock, kind: slot, light: 940, width: 50, spot: 0.2, min-x: 0.25, accepts: [{code: code39, length: 6}], least: C, side: front, from: bottom, line: 11, tolerance: 2}
  - {name: hand, kind: hand, light: 660, width: 20, spot: 0.17, min-x: 0.19, accepts: [{code: code39, length: 6}], least: C}
roster: {file: crew.csv, key: number}
`

// back is the only element of base's back; zone and composed, put behind it, are
// machine readable zones in which nothing is wrong: the specimen of ICAO Doc 9303-5.
const (
	back = "    - {name: return, text: Hand in at any quay, box: [5, 20, 60, 6], size: 3}\n"
	zone = `    - {name: zone, mrz: td1, lines: ["I<UTOD231458907<<<<<<<<<<<<<<<", "7408122F1204159UTO<<<<<<<<<<<6", "ERIKSSON<<ANNA<MARIA<<<<<<<<<<"], font: fonts/OCRB.otf, box: [4.6, 33.5, 76.3, 16]}
`
	composed = `    - {name: zone, mrz: td1, document: I, state: UTO, number: "{number}", born: "{born}", expires: "2030-01-01", surname: "{name}", font: fonts/OCRB.otf, box: [4.6, 33.5, 76.3, 16]}
`
)

type person map[string]string

func (p person) Field(name string) string { return p[name] }

// files are the assets of the tests, in memory.
type files map[string][]byte

func (f files) open(name string) ([]byte, error) {
	if data, ok := f[name]; ok {
		return data, nil
	}
	return nil, fs.ErrNotExist
}

func (f files) Artwork(name string) ([]byte, error) { return f.open(name) }
func (f files) Photo(name string) ([]byte, error)   { return f.open(name) }
func (f files) Font(name string) ([]byte, error)    { return f.open(name) }
func (f files) Fallback(rune) []byte                { return nil }

// shade draws a picture from a function of place, 0 to 1 each way.
func shade(w, h int, at func(x, y float64) color.RGBA) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, at(float64(x)/float64(w), float64(y)/float64(h)))
		}
	}
	return m
}

func jpegOf(m image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func pngOf(m image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// head is a portrait of sorts: black hair above a face on a pale wall.
func head(x, y float64) color.RGBA {
	dx, dy := x-0.5, y-0.5
	switch {
	case dx*dx+dy*dy < 0.09 && y < 0.4:
		return color.RGBA{A: 255}
	case dx*dx+dy*dy < 0.09:
		return color.RGBA{uint8(150 + 60*x), 120, 100, 255}
	}
	return color.RGBA{220, uint8(220 + 20*y), 225, 255}
}

func assets() files {
	photo := jpegOf(shade(480, 640, head))
	return files{
		"fonts/OCRB.otf":   ocrb(),
		"photos/a.jpg":     photo,
		"photos/cut.jpg":   photo[:len(photo)/3],
		"photos/tiny.jpg":  jpegOf(shade(60, 78, head)),
		"photos/small.jpg": jpegOf(shade(160, 208, head)),
		"photos/green.png": pngOf(shade(240, 312, func(x, y float64) color.RGBA { return color.RGBA{0, 255, 0, 255} })),
		"art/black.png":    pngOf(shade(50, 50, func(x, y float64) color.RGBA { return color.RGBA{A: 255} })),
	}
}

// ocrb is an OCR-B font for tests alone.
func ocrb() []byte {
	data, err := os.ReadFile("../face/testdata/OCRB.otf")
	if err != nil {
		panic(err)
	}
	return data
}

func somebody() person {
	return person{"number": "004217", "name": "Ida Sund", "photo": "a.jpg"}
}

// edit changes base; every old text must be there.
func edit(t *testing.T, changes ...string) *design.Programme {
	t.Helper()
	src := base
	for i := 0; i < len(changes); i += 2 {
		if !strings.Contains(src, changes[i]) {
			t.Fatalf("the base programme has no %q", changes[i])
		}
		src = strings.Replace(src, changes[i], changes[i+1], 1)
	}
	p, err := design.Parse("programme.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// findings proves one card.
func findings(t *testing.T, p *design.Programme, who person, margins bool) []Finding {
	t.Helper()
	pf, err := New(p, assets(), Options{Edition: grade.Ed2016})
	if err != nil {
		t.Fatal(err)
	}
	c, err := pf.Worker().Card(0, Row{Key: who["number"], Person: p.Person(who), Margins: margins})
	if err != nil {
		t.Fatal(err)
	}
	return append(pf.Fixed(), c.Findings...)
}

// cases makes every finding of the catalogue by a change to what is right. The
// limits are those of the catalogue, with their sources there.
var cases = []struct {
	id      string
	changes []string
	who     person // changes to somebody
	margins bool
}{
	{id: "no-carbon", changes: []string{"{rule: objects, dyes: leave}", "none"}},
	{id: "no-carbon", changes: []string{"resin: carbon", "resin: not carbon"}},
	{id: "part-carbon", changes: []string{"rule: objects", "rule: zones, zones: [[30, 36, 26, 12]]"}},
	{id: "resin-unknown", changes: []string{"resin: carbon", "resin: unknown"}},
	{id: "resin-unproved", changes: []string{"YMCKOK", "YMCKSK", "x: 3,", "x: 3, send: special,"}},
	{id: "colour-vanishes", changes: []string{"x: 3,", `x: 3, colour: "#e00000",`}},
	{id: "decode-fails", changes: []string{"resin: 0.01", "resin: 0.25"}},
	{id: "no-code", changes: []string{"x: 3,", "x: 3, show: {field: grade},"}},
	{id: "wrong-kind", changes: []string{"{code: code39, length: 6}", "{code: itf, length: 6}"}},
	{id: "wrong-length", changes: []string{"length: 6", "length: 7"}},
	{id: "wrong-check", changes: []string{"length: 6", "check: mod43"}},
	{id: "x-below-reader", changes: []string{"min-x: 0.25", "min-x: 0.3"}},
	{id: "off-line", changes: []string{"line: 11", "line: 17"}},
	{id: "off-line", changes: []string{"side: front", "side: back"}},
	{id: "two-codes", changes: []string{"x: 3,", "x: 2,", "box: [30, 36, 52, 11]", "box: [57, 36, 28, 11]", "    - {name: crew number", "    - {name: second, code: code39, text: \"{number}\", box: [27, 36, 28, 11], x: 2}\n    - {name: crew number"}},
	{id: "code-cut", changes: []string{"size: ID-1", "size: ID-1\n  keepouts: [{punch: front, box: [50, 40, 14, 3]}]"}},
	{id: "quiet-entered", changes: []string{"    - {name: crew number", "    - {name: bar, rectangle: [31.5, 36, 1, 11], fill: black}\n    - {name: crew number"}},
	{id: "quiet-floor", changes: []string{"x: 3,", "x: 2,"}},
	{id: "cannot-carry", who: person{"number": "ÅØ4217"}},
	{id: "code-too-wide", changes: []string{"[30, 36, 52, 11]", "[30, 36, 30, 11]"}},
	{id: "ratio-range", changes: []string{"x: 3,", "x: 3, ratio: 2,"}},
	{id: "x-below-head", changes: []string{"x: 3,", "x: 1,"}},
	{id: "x-below-open", changes: []string{"x: 3,", "x: 2,"}},
	{id: "x-above-most", changes: []string{"code: code39, text: \"", "code: ean13, text: \"451234", "x: 3,", "x: 8,"}},
	{id: "level-low", changes: matrixChanges("qr, level: L")},
	{id: "low-bars", changes: []string{"[30, 36, 52, 11]", "[30, 40, 52, 4.5]"}},
	{id: "dark-ground", changes: []string{"    - {name: crew code", "    - {name: ground, rectangle: [28, 34, 56, 15], fill: \"#40707a\"}\n    - {name: crew code"}},
	{id: "number-differs", changes: []string{`crew number, text: "{number}"`, `crew number, text: "{name}"`}},
	{id: "itf-open-length", changes: []string{"{code: code39, length: 6}", "{code: code39, length: 6}, itf"}},
	{id: "dead-line", changes: []string{"dead: []", "dead: [507, 508]"}},
	{id: "dead-bar", changes: []string{"dead: []", "dead: [440, 441, 442, 443]", "x: 3,", "x: 3, turn: 90,", "[30, 36, 52, 11]", "[66, 12, 12, 40]", "    - {name: holder, text: \"{name}\", box: [31, 14, 51, 6.5], size: 5}\n", "", "    - {name: crew number, text: \"{number}\", box: [30, 48, 52, 4], size: 3}\n", "", ", printed: crew number", ""}},
	{id: "grade-below-least", changes: []string{"resin: 0.01", "resin: 0.1", "least: C}", "least: 4}"}},
	{id: "thin-margin", changes: []string{"along: 0.02", "along: 0.09", "x: 3,", "x: 3, ratio: 2.33,"}},
	{id: "margin", margins: true},
	{id: "element-loss", margins: true},
	{id: "photo-in-resin", changes: []string{"rule: objects", "rule: dark, limit: 40"}},
	{id: "picture-in-resin", changes: []string{"rule: objects", "rule: exact", "    - {name: holder", "    - {name: stamp, picture: art/black.png, box: [70, 3, 8, 8]}\n    - {name: holder"}},
	{id: "text-in-dye", changes: []string{"{rule: objects, dyes: leave}", "none"}},
	{id: "nothing-in-resin", changes: []string{"{rule: objects, dyes: leave}", "none"}},
	{id: "colours-out", who: person{"photo": "green.png"}},
	{id: "back-no-resin", changes: []string{"YMCKOK", "YMCKOY"}},
	{id: "no-panel", changes: []string{"size: 5}", "size: 5, send: fluorescent}"}},
	{id: "beyond-short", changes: []string{"yield: 200", "yield: 200, short: {from: 0, to: 20}"}},
	{id: "on-keepout", changes: []string{"size: ID-1", "size: ID-1\n  keepouts: [{chip: front}]"}},
	{id: "off-face", changes: []string{"dpi: 300", "dpi: 300, unprinted: 4"}},
	{id: "photo-missing", who: person{"photo": "nobody.jpg"}},
	{id: "photo-unreadable", who: person{"photo": "cut.jpg"}},
	{id: "photo-tiny", who: person{"photo": "tiny.jpg"}},
	{id: "photo-upscaled", who: person{"photo": "small.jpg"}},
	{id: "text-cut", who: person{"name": "Wilhelmina Anastasia Featherstonehaugh-Sundhaven"}},
	{id: "text-shrunk", changes: []string{"size: 5}", "size: 5, floor: 1}"}, who: person{"name": "Wilhelmina Anastasia Featherstonehaugh-Sundhaven"}},
	{id: "mrz-no-carbon", changes: []string{back, back + zone, "resin: carbon", "resin: unknown"}},
	{id: "mrz-no-carbon", changes: []string{back, back + zone, "resin: carbon", "resin: not carbon"}},
	{id: "mrz-no-carbon", changes: []string{back, zone + back, "YMCKOK", "YMCKO", "{rule: objects, dyes: leave}", "none"}},
	{id: "mrz-check-digit", changes: []string{back, back + zone, "D231458907", "D231458906"}},
	{id: "mrz-length", changes: []string{back, back + zone, "D231458907", "D2314589077"}},
	{id: "mrz-character", changes: []string{back, back + zone, "7408122F", "74O8122F"}},
	{id: "mrz-refused", changes: []string{back, back + composed, "{born}", "{name}"}},
	{id: "mrz-not-ocr-b", changes: []string{back, back + zone, "font: fonts/OCRB.otf, ", ""}},
	{id: "mrz-size", changes: []string{back, back + zone, "font: fonts", "size: 3, font: fonts"}},
	{id: "mrz-place", changes: []string{back, back + zone, "[4.6, 33.5", "[4.6, 25"}},
	{id: "mrz-place", changes: []string{back, back + zone, "[4.6, 33.5", "[7, 33.5"}},
	{id: "mrz-place", changes: []string{back, back + zone, "size: ID-1", "width: 85.6\n  height: 58"}},
	{id: "mrz-ground", changes: []string{back, "    - {rectangle: [4, 38, 78, 1], fill: black}\n" + back + zone}},
	{id: "mrz-ground", changes: []string{back, back + zone + "    - {rectangle: [4, 38, 78, 1], fill: white}\n"}},
	{id: "mrz-ground", changes: []string{back, "    - {rectangle: [4, 33, 78, 18], fill: \"#204060\", send: dye}\n" + back + zone, "YMCKOK", "YMCKO"}},
	{id: "glyph-missing", who: person{"name": "Ida \U00012000"}},
}

func TestEveryFindingIsFound(t *testing.T) {
	made := map[string]bool{}
	for _, f := range slices.Concat(rosterFindings(t), noteFindings(t), secondCheck(t, "26")) {
		made[f.ID] = true
	}
	for _, c := range cases {
		made[c.id] = true
		t.Run(c.id, func(t *testing.T) {
			who := somebody()
			for k, v := range c.who {
				who[k] = v
			}
			all := findings(t, edit(t, c.changes...), who, c.margins)
			i := slices.IndexFunc(all, func(f Finding) bool { return f.ID == c.id })
			if i < 0 {
				t.Fatalf("not found; found %+v", all)
			}
			f := all[i]
			if f.Measure.IsZero() || f.Limit.IsZero() || f.Detail.IsZero() || f.Advise().IsZero() || About(f.ID).Source == "" {
				t.Errorf("a finding needs measure, limit, detail, remedy and source: %+v", f)
			}
		})
	}
	for _, e := range Catalogue {
		if !made[e.ID] {
			t.Errorf("no case makes %s", e.ID)
		}
	}
}

// What is right has no findings but notes.
func TestNothingIsFoundWhereAllIsRight(t *testing.T) {
	for _, f := range findings(t, edit(t), somebody(), false) {
		if f.Level > Note {
			t.Errorf("%+v", f)
		}
	}
}

// A zone that is right, given or composed, has no findings either; nor has one on a
// pale ground.
func TestNothingIsFoundOfARightZone(t *testing.T) {
	for _, changes := range [][]string{
		{back, back + zone},
		{back, back + composed},
		{back, "    - {rectangle: [4, 33, 78, 18], fill: \"#dde8ee\", send: dye}\n" + back + zone, "YMCKOK", "YMCKO"},
	} {
		who := somebody()
		who["born"] = "1990-02-03"
		for _, f := range findings(t, edit(t, changes...), who, false) {
			if f.Level > Note {
				t.Errorf("%+v", f)
			}
		}
	}
}

// noteFindings turns every note the composer can make into a finding. Some
// notes, such as that of a font that fails in the middle of a run, take a
// damaged file that no hand can make twice.
func noteFindings(t *testing.T) []Finding {
	t.Helper()
	pf, err := New(edit(t), assets(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	w, card := pf.Worker(), Card{}
	f := &finder{worker: w, card: &card}
	for k := face.PhotoMissing; k <= face.ZoneRefused; k++ {
		f.note(w.sides[0], face.Note{Kind: k, Detail: say.Data("as it is"), Value: 1, Limit: 2})
		if len(card.Findings) != int(k)+1 || card.Findings[k].Detail.IsZero() || About(card.Findings[k].ID).Title == "" {
			t.Fatalf("note %d makes no finding of the catalogue", k)
		}
	}
	return card.Findings
}

// rosterFindings are those of a roster with every fault in it.
func rosterFindings(t *testing.T) []Finding {
	t.Helper()
	r, err := roster.ReadCSV("crew.csv", []byte("number,name\n004217,Ida\n4218,Per\n004219,Ann\n004219,Bo\n,Eve\n004220 ,Kim\n004221,?ukasz\n"), roster.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return RosterFindings(r, edit(t))
}

// secondCheck is what is found of a code with a Luhn digit to be added, the last
// card's number as given. 79927398713 is the usual example of the Luhn algorithm;
// 18, 34, 42 and 26 come to 10 by hand.
func secondCheck(t *testing.T, last string) []Finding {
	t.Helper()
	r, err := roster.ReadCSV("crew.csv", []byte("number,name\n79927398713,Ida\n18,Per\n34,Ann\n42,Kim\n"+last+",Jo\n"), roster.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(RosterFindings(r, edit(t, "code: code39, text", "code: codabar, check: luhn, text")), func(f Finding) bool { return f.ID != "check-twice" })
}

func TestSecondCheckIsFoundWhereEveryNumberHasOne(t *testing.T) {
	if n := len(secondCheck(t, "26")); n != 5 {
		t.Errorf("found on %d cards of 5 whose numbers all end in a Luhn digit", n)
	}
	if n := len(secondCheck(t, "27")); n != 0 {
		t.Errorf("found on %d cards though one number ends in no Luhn digit", n)
	}
}

func TestRosterFindingsSayWhere(t *testing.T) {
	want := map[string]string{
		"key-missing":  `crew.csv:6: the column "number" is blank`,
		"key-twice":    `crew.csv:5: the key "004219" stands in line 4 already`,
		"key-spaced":   `crew.csv:7: the key "004220 " begins or ends with a space`,
		"letters-lost": `crew.csv:8: column "name" holds "?ukasz": question marks where letters belong`,
		"zeros-lost":   `crew.csv:3: column "number" holds "4218" where the others are longer; it was likely "004218"`,
	}
	for _, f := range rosterFindings(t) {
		if f.Detail.String() != want[f.ID] {
			t.Errorf("%s: %s", f.ID, f.Detail)
		}
		delete(want, f.ID)
	}
	for id := range want {
		t.Errorf("%s is not found", id)
	}
}
