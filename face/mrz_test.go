package face

import (
	"math"
	"os"
	"strings"
	"testing"

	"unspool/design"
	"unspool/mrz"
	"unspool/plane"
	"unspool/unit"
)

// ocrb is an OCR-B font, see testdata/OCRB.txt.
func ocrb(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/OCRB.otf")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// given is a zone whose lines are given whole.
func given(format mrz.Format, font string, b plane.Box, lines ...string) design.Element {
	m := &design.MRZ{Format: format, Font: font, Spacing: mm(4)}
	for _, line := range lines {
		m.Lines = append(m.Lines, literal(line))
	}
	return design.Element{Name: "zone", Box: b, MRZ: m}
}

var specimen = []string{"I<UTOD231458907<<<<<<<<<<<<<<<", "7408122F1204159UTO<<<<<<<<<<<6", "ERIKSSON<<ANNA<MARIA<<<<<<<<<<"}

func TestZoneInOCRB(t *testing.T) {
	files := files{data: map[string][]byte{"OCRB.otf": ocrb(t)}}
	c := once(t, files, nil, given(mrz.TD1, "OCRB.otf", box(4.6, 33, 76.2, 16), specimen...))
	z := c.Zones[0]
	if len(c.Notes) > 0 || z.Family != "OCR B" || strings.Join(z.Lines, "") != strings.Join(specimen, "") {
		t.Errorf("%+v, notes %+v", z, c.Notes)
	}
	// By the font's own figures (fontTools): 723 of 1000 units are a cell's width, and
	// the 0 reaches from -14 to 773. ISO 1073-2 has 2.40 mm between the middles of
	// strokes 0.35 mm wide, 2.75 in all (from memory).
	if want := 2.54 / 0.723 * 0.787; math.Abs(z.Digit.MM()-want) > 0.002 {
		t.Errorf("a digit is %v high, want %.3f mm", z.Digit, want)
	}
	// The block, two spacings and a digit high, lies in the middle of its box.
	if top, high := z.Cell(1, 1).Y.MM()-33, 8+z.Digit.MM(); math.Abs(top-(16-high)/2) > 0.01 {
		t.Errorf("it begins %.2f mm below the top of its box", top)
	}
	owned := 0
	for i, o := range c.Art.Owner {
		if o == 1 {
			owned++
			if c.Art.Class[i] != Text || c.Art.Mark[i]&Object == 0 {
				t.Fatal("a dot of it is no black object of text")
			}
		}
	}
	if owned != z.Dots || owned < 10_000 {
		t.Errorf("it owns %d dots and says %d", owned, z.Dots)
	}
}

// Characters stand ten to the inch (ICAO Doc 9303-3 4.4), each within half a dot
// of its place, whatever the printer's dots.
func TestZonePitch(t *testing.T) {
	line := strings.Repeat("H", 30)
	for _, dpi := range []unit.Pitch{203, 300, 600} {
		e := given(mrz.TD1, "OCRB.otf", box(4.6, 33, 76.2, 16), line, line, line)
		files := files{data: map[string][]byte{"OCRB.otf": ocrb(t)}}
		c := compose(t, compile(t, programme(dpi, dpi, e), files).Work(), nil)
		var edges []float64 // where characters begin, in mm
		ink := func(x int) bool {
			for y := range c.Art.H {
				if c.Art.Owner[c.Art.At(x, y)] != 0 {
					return true
				}
			}
			return false
		}
		for x := 1; x < c.Art.W; x++ {
			if ink(x) && !ink(x-1) {
				edges = append(edges, dpi.MM(float64(x)))
			}
		}
		if len(edges) != 30 {
			t.Fatalf("%v: %d characters begin", dpi, len(edges))
		}
		for i, at := range edges {
			if off := at - edges[0] - 2.54*float64(i); math.Abs(off) > dpi.MM(1) {
				t.Errorf("%v: character %d lies %.3f mm off", dpi, i+1, off)
			}
		}
	}
}

func TestZoneNotes(t *testing.T) {
	files := files{data: map[string][]byte{"OCRB.otf": ocrb(t)}}
	composed := &design.MRZ{Format: mrz.TD1, Spacing: mm(4), Document: literal("I"), State: literal("UTO"), Number: field("number"),
		Born: field("born"), Expires: literal("300101"), Surname: field("name")}
	whole := box(4, 33, 77, 16)
	for _, c := range []struct {
		name  string
		e     design.Element
		who   person
		kinds []NoteKind
	}{
		{"whole", design.Element{Box: whole, MRZ: composed}, person{"number": "1", "born": "1990-01-02", "name": "Ida"}, nil},
		{"no date", design.Element{Box: whole, MRZ: composed}, person{"number": "1", "born": "soon", "name": "Ida"}, []NoteKind{ZoneRefused}},
		{"narrow box", given(mrz.TD1, "OCRB.otf", box(4, 33, 76.1, 16), specimen...), nil, []NoteKind{TextCut}},
		{"low box", given(mrz.TD1, "OCRB.otf", box(4, 33, 77, 10), specimen...), nil, []NoteKind{TextCut}},
		{"no such character", given(mrz.TD1, "OCRB.otf", whole, "漢", "b", "c"), nil, []NoteKind{GlyphMissing}},
		{"nothing", given(mrz.TD1, "OCRB.otf", whole, "", "", ""), nil, nil},
	} {
		got := once(t, files, c.who, c.e).Notes
		if len(got) != len(c.kinds) || len(got) > 0 && got[0].Kind != c.kinds[0] {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// A font that is no OCR-B is scaled so that its widest character fills a cell.
func TestZoneInAnotherFont(t *testing.T) {
	z := once(t, files{}, nil, given(mrz.TD1, "", box(4, 33, 77, 16), specimen...)).Zones[0]
	if z.Family != "Noto Sans" || z.Digit.MM() > 2.3 || z.Digit.MM() < 1.5 {
		t.Errorf("family %q, digits %v high", z.Family, z.Digit)
	}
}

func BenchmarkZone(b *testing.B) {
	m := &design.MRZ{Format: mrz.TD1, Font: "OCRB.otf", Spacing: mm(4), Document: literal("I"), State: literal("UTO"), Number: field("number"),
		Born: literal("740812"), Expires: literal("300101"), Surname: field("name")}
	files := files{data: map[string][]byte{"OCRB.otf": ocrb(b)}}
	w := compile(b, programme(300, 300, design.Element{Box: box(4, 33, 77, 16), MRZ: m}), files).Work()
	people := crew()
	for i := 0; b.Loop(); i++ {
		compose(b, w, person{"number": people[i%4].Field("number"), "name": "Ida"})
	}
}
