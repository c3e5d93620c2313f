package face

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"unspool/design"
	"unspool/font"
)

var update = flag.Bool("update", false, "write the pictures in testdata anew")

// scripts is a face with names in every script that the bundled fonts have, and
// one that an installed font has to bring.
func scripts() ([]design.Element, files) {
	var out []design.Element
	add := func(s string, y, size float64, bold bool, align design.Align) {
		e := words(s, size, size, [4]float64{3, y, 79.6, size})
		e.Text.Bold, e.Text.Align = bold, align
		out = append(out, e)
	}
	add("Åsa Björkqvist-Wołoszyńska, Đặng Thị Mỹ Hạnh", 3, 3.2, false, design.Start)
	add("Nguyễn Ánh Tuyết · Šárka Říhová · Çağlar Öz", 8, 3.2, true, design.Start)
	add("Δημήτρης Παπαδόπουλος · Ганна Шевчук · Їжак", 13, 3.2, false, design.Start)
	add("مريم الزهراني · محمد نصّار ق ٤٧", 18, 3.6, false, design.Start)
	add("شيرین گلپایگانی (Deck 12) پژمان", 23.5, 3.6, true, design.Start)
	add("שלום כהן · יִשְׂרָאֵל 12", 29, 3.4, false, design.Start)
	add("श्रीमती लक्ष्मी क्षत्रिय · ज्ञानेश्वर हिन्दी", 34, 3.6, false, design.Start)
	add("Ida महेश مريم כהן Ганна 0123", 39.5, 3.4, true, design.Middle)
	add("Small 6 pt: Illinois, Ferry Terminal 2, fi ffl AVATAR", 45, 2.1, false, design.Start)
	add("Missing: 漢 — in a box", 48.5, 2.6, false, design.End)
	return out, files{}
}

// marked shows the marks of a face: black objects black, what they touch gray,
// resin, dye, fluorescent and special in colours.
func (a *Art) marked() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, a.W, a.H))
	for i, mark := range a.Mark {
		c := color.RGBA{255, 255, 255, 255}
		switch {
		case mark&Object != 0:
			c = color.RGBA{0, 0, 0, 255}
		case mark&Touched != 0:
			c = color.RGBA{170, 170, 170, 255}
		}
		for bit, k := range map[Mark]color.RGBA{Resin: {160, 0, 0, 255}, Dye: {0, 120, 200, 255}, Fluor: {120, 220, 0, 255}, Special: {220, 160, 0, 255}} {
			if mark&bit != 0 {
				c = k
			}
		}
		m.SetRGBA(i%a.W, i/a.W, c)
	}
	return m
}

// The pictures were looked at when they were written. Another processor may round
// an edge to the next level.
func TestGolden(t *testing.T) {
	names, a := scripts()
	noPhoto := card()
	noPhoto = append(noPhoto[1:4:4], noPhoto[5:]...)
	p := crew()[0]
	for _, c := range []struct {
		name string
		got  *image.RGBA
	}{
		{"scripts", once(t, a, nil, names...).Art.page()},
		{"card", once(t, cardFiles(t), p, noPhoto...).Art.page()},
		{"marks", once(t, cardFiles(t), p, noPhoto...).Art.marked()},
		{"tall", compose(t, compile(t, programme(300, 600, noPhoto[1:6]...), cardFiles(t)).Work(), p).Art.page()},
	} {
		path := filepath.Join("testdata", c.name+".png")
		if *update {
			var b bytes.Buffer
			if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, c.got); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want, err := png.Decode(bytes.NewReader(data))
		if err != nil || want.Bounds() != c.got.Bounds() {
			t.Fatal(c.name, err, want.Bounds())
		}
		for i := range c.got.Rect.Dx() * c.got.Rect.Dy() {
			x, y := i%c.got.Rect.Dx(), i/c.got.Rect.Dx()
			r, g, b, _ := want.At(x, y).RGBA()
			if w := [3]uint8{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8)}; !near([3]uint8(c.got.Pix[4*i:]), w) {
				t.Errorf("%s: dot %d, %d is %v, not %v", c.name, x, y, c.got.Pix[4*i:4*i+3], w)
				break
			}
		}
	}
}

// Fonts are the same whatever order characters are asked for in.
func TestFallbackIsSteady(t *testing.T) {
	a := files{fallback: func(r rune) []byte {
		if r%2 == 0 {
			return font.Bundled(false)[2].Data
		}
		return font.Bundled(true)[2].Data
	}}
	one, two := newFontStore(a), newFontStore(a)
	one.has('א')
	one.has('ב')
	two.has('ב')
	two.has('א')
	for _, r := range "אב" {
		if one.has(r).Describe() != two.has(r).Describe() {
			t.Errorf("%c: another font in another order", r)
		}
	}
}
