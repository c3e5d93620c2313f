package pdf

import (
	"bytes"
	"image/color"
	"slices"
	"testing"

	gofont "github.com/go-text/typesetting/font"

	"unspool/font"
)

// Glyphs and advances agree with those that another reader of fonts finds, for
// every character of the first plane and some beyond.
func TestGlyphsAgreeWithAnotherReader(t *testing.T) {
	for _, file := range slices.Concat(font.Bundled(false), font.Bundled(true)) {
		own, err := parseTrueType(file.Data)
		if err != nil {
			t.Fatalf("%s: %v", file.Name, err)
		}
		other, err := gofont.ParseTTF(bytes.NewReader(file.Data))
		if err != nil {
			t.Fatal(err)
		}
		for r := range rune(0x10400) {
			want, _ := other.NominalGlyph(r)
			got := own.glyph(r)
			if got != int(want) {
				t.Fatalf("%s: %U is glyph %d, want %d", file.Name, r, got, want)
			}
			if adv := int(other.HorizontalAdvance(want)*1000/float32(own.units) + 0.5); own.advance(got) != adv {
				t.Fatalf("%s: %U is %d wide, want %d", file.Name, r, own.advance(got), adv)
			}
		}
	}
}

// A subset draws its glyphs as the whole font does, and is far smaller.
func TestSubsetKeepsOutlines(t *testing.T) {
	whole := font.Bundled(false)[0].Data
	f, err := parseTrueType(whole)
	if err != nil {
		t.Fatal(err)
	}
	var glyphs []int
	letters := []rune("Sundhaven Großė Ẫ 0123")
	for _, r := range letters {
		glyphs = append(glyphs, f.glyph(r))
	}
	small, err := f.subset(glyphs)
	if err != nil {
		t.Fatal(err)
	}
	if len(small) > len(whole)/4 {
		t.Errorf("the subset takes %d bytes of %d", len(small), len(whole))
	}
	if sum := checksum(small); sum != 0xB1B0AFBA {
		t.Errorf("the checksum of the whole font is %08X, want B1B0AFBA (OpenType, head)", sum)
	}
	again := &trueType{tables: map[string]table{}}
	file := table(small)
	for i := range file.u16(4) {
		at := 12 + 16*i
		again.tables[string(small[at:at+4])] = file[file.u32(at+8) : file.u32(at+8)+file.u32(at+12)]
	}
	again.glyphs, again.long = again.tables["maxp"].u16(4), again.tables["hhea"].u16(34)
	if err := again.locate(); err != nil {
		t.Fatal(err)
	}
	for _, g := range glyphs {
		if !bytes.HasPrefix(again.outline(g), f.outline(g)) || !bytes.Equal(again.metric(g), f.metric(g)) {
			t.Errorf("glyph %d is not as it was", g)
		}
		for _, p := range f.parts(g) {
			if !bytes.HasPrefix(again.outline(p), f.outline(p)) {
				t.Errorf("glyph %d lost its part %d", g, p)
			}
		}
	}
}

func TestSets(t *testing.T) {
	d := New("", "en")
	f := bundled(t, d)
	for s, want := range map[string]bool{
		"Sundhaven": true,
		"Žluťoučký Ελλάδα Щука 12 €": true,
		"نورة":     false, // joins
		"अनिता":    false, // changes places
		"渡船":       false, // not in the font
		"a\u202eb": true,  // a mark of direction shows nothing
	} {
		if got := f.Sets(s); got != want {
			t.Errorf("%q: %v, want %v", s, got, want)
		}
	}
	if w := f.Width("mm", 10); w <= f.Width("m", 10) || f.Width("", 10) != 0 {
		t.Errorf("mm is %g wide", w)
	}
}

// Any text can be set, and nothing in it gets out of its string.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", greetings, "\x00\xff\xfe) Tj ET Q", "\u202eabc\u0000", "𝄞 한 अ", "\ud7ff\uffff"} {
		f.Add(s, 3.4)
	}
	regular := font.Bundled(false)[0].Data
	f.Fuzz(func(t *testing.T, s string, size float64) {
		d := New(s, s)
		letters, err := d.Font(regular)
		if err != nil {
			t.Fatal(err)
		}
		p := d.Page(100, 100)
		p.Tagged(Figure, s, func() { p.Text(Style{letters, size, color.Black}, 1, 1, s) })
		if _, err := d.Bytes(); err != nil && drawable(size) {
			t.Errorf("%q at %g: %v", s, size, err)
		}
	})
}

// No font file panics, and one that is taken can be cut to any of its glyphs.
func FuzzFont(f *testing.F) {
	for _, file := range font.Bundled(false)[2:] { // the smallest
		f.Add(file.Data)
		f.Add(file.Data[:len(file.Data)/2])
	}
	f.Add([]byte("\x00\x01\x00\x00\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d := New("", "en")
		letters, err := d.Font(data)
		if err != nil {
			return
		}
		letters.Sets("Sundhaven אבג")
		d.Page(100, 100).Text(Style{letters, 3, color.Black}, 1, 1, "Sundhaven אבג")
		d.Bytes() // an error is a part that is not there
	})
}

func BenchmarkDoc(b *testing.B) {
	for b.Loop() {
		if _, err := sample(b).Bytes(); err != nil {
			b.Fatal(err)
		}
	}
}
