package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"unspool/code"
	"unspool/grade"
	"unspool/scan"
	"unspool/schema"
	"unspool/symbol"
)

// What is printed as JSON fits the published schema (JSON Schema 2020-12, by
// github.com/santhosh-tekuri/jsonschema), and what is bent does not.
func TestGradesFitTheirSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Grade))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("grade.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("grade.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	fits := func(text string) error {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return s.Validate(v)
	}
	good := ""
	for _, k := range code.All() {
		for _, accept := range []*grade.Acceptance{nil, &grade.Acceptances()[0]} {
			for _, scale := range []float64{0, 1200} {
				good = gradesOf(t, k, scale, accept)
				if err := fits(good); err != nil {
					t.Errorf("%s: %v\n%s", k.Title, err, good)
				}
				if !strings.Contains(good, `"kind": "`+k.Name+`"`) {
					t.Errorf("%s is not found", k.Title)
				}
			}
		}
	}
	for _, bent := range [][2]string{{`"unspool": 1`, `"unspool": 2`}, {`"kind": "pdf417"`, `"kind": "pdf"`}, {`"letter": "`, `"letter": "G`}, {`"x_px": `, `"x_px": -`}, {`"symbols": [`, `"more": [`}} {
		text := strings.Replace(good, bent[0], bent[1], 1)
		if text == good || fits(text) == nil {
			t.Errorf("%s for %s fits", bent[1], bent[0])
		}
	}
}

// gradesOf is what is printed of a symbol in the tones of a card.
func gradesOf(t *testing.T, k code.Kind, dpi float64, accept *grade.Acceptance) string {
	t.Helper()
	text := map[string]string{"itf": "00421700", "codabar": "A40156B", "gs1-128": "(21)00421", "isbt128": "=G12349865432100", "ean13": "200042170031",
		"ean8": "2000421", "upca": "04210000526", "upce": "0123456"}[k.Name]
	if text == "" {
		text = "S004217"
	}
	var g symbol.Grid
	if k.Family.Linear() {
		l, err := k.Encode(text, code.Options{Check: k.Always})
		if err != nil {
			t.Fatal(err)
		}
		size := symbol.Size{X: 2, Wide: 5, Gap: 2}
		widths, err := l.Widths(size)
		if err != nil {
			t.Fatal(err)
		}
		g = symbol.NewGrid(l.Width(size), 40)
		at := 0
		for i, w := range widths {
			for x := at; x < at+w; x++ {
				for y := range g.H {
					g.Set(x, y, i%2 == 0)
				}
			}
			at += w
		}
	} else {
		m, err := k.EncodeMatrix(text, code.Options{})
		if err != nil {
			t.Fatal(err)
		}
		g = symbol.NewGrid(2*m.W, 2*m.H*k.RowX)
		for i := range g.Dark {
			g.Dark[i] = m.At(i%g.W/2, i/g.W/2/k.RowX)
		}
	}
	const side, rim = 4, 120
	w, h := side*g.W+2*rim, side*g.H+2*rim
	rgb := make([]uint8, 3*w*h)
	for i := range rgb {
		x, y := i/3%w-rim, i/3/w-rim
		if rgb[i] = 225; x >= 0 && y >= 0 && x < side*g.W && y < side*g.H && g.At(x/side, y/side) {
			rgb[i] = 40
		}
	}
	cmd := gradeCmd{DPI: dpi}
	pixel, err := cmd.pixel(w)
	if err != nil {
		t.Fatal(err)
	}
	s, err := scan.NewShot(rgb, w, h, scan.About{Pixel: pixel})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := writeGrades(&b, &s, s.Judge(scan.Options{Kinds: code.All(), Edition: grade.Ed2016, Light: 660}), accept); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A picture of 2.5 million pixels, as a flatbed scanner gives of a card at 600 to
// the inch, with one symbol on it, the file read included.
func BenchmarkGrade(b *testing.B) {
	k, _ := code.ByName("code39")
	l, err := k.Encode("S004217", code.Options{})
	if err != nil {
		b.Fatal(err)
	}
	m, err := symbol.Raster(l, symbol.Size{X: 6, Wide: 15, Gap: 6}, symbol.Drawing{Height: 1250, Quiet: [2]int{600, 600}})
	if err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "card.png")
	f, err := os.Create(file)
	if err != nil {
		b.Fatal(err)
	}
	if err := png.Encode(f, m); err != nil {
		b.Fatal(err)
	}
	f.Close()
	for b.Loop() {
		g := gradeCmd{Image: file, DPI: 600}
		o, _, err := g.options()
		if err != nil {
			b.Fatal(err)
		}
		s, err := g.shot()
		if err != nil {
			b.Fatal(err)
		}
		if len(s.Judge(o)) != 1 {
			b.Fatal("not found")
		}
	}
}

// A level is read or refused, and what is read lies within its bounds.
func FuzzLevel(f *testing.F) {
	for _, s := range []string{"0.86", "40,40,60,60=0.86", "1,2,3=0", "=", "1e9", "NaN", "-1,-2,3,4=1.2", "9223372036854775807,0,9223372036854775807,1=1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := level("--white", text)
		if err == nil && !(l.R >= 0 && l.R <= 1.2) {
			t.Errorf("%q: reflectance %v", text, l.R)
		}
		if err == nil && strings.Contains(text, "=") && l.Patch.Empty() {
			t.Errorf("%q: a patch of no area", text)
		}
	})
}
