package face

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"golang.org/x/image/math/fixed"

	"unspool/design"
	"unspool/font"
)

// harfbuzz measures lines with HarfBuzz and FriBidi, through the Python Imaging
// Library's Raqm layout (Debian: python3-pil, libraqm0): the width in thousandths
// of an em.
const harfbuzz = `
import json, sys
from PIL import ImageFont
print(json.dumps([ImageFont.truetype(f, 1000, layout_engine=ImageFont.Layout.RAQM).getlength(t) for f, t in json.load(sys.stdin)]))`

// measured are lines and the place in the bundled list of the font each needs.
var measured = []struct {
	face int
	text string
}{
	{0, "AVATAR To. Wołoszyńska fi ffl"}, {0, "Nguyễn Thị Ánh Tuyết"}, {0, "Nguye\u0302\u0303n Thi\u0323"},
	{0, "Δημήτρης Παπαδόπουλος ΑΥΤΟ"}, {0, "Ганна Шевчук ГТ"}, {0, "“Æther” – 0123"},
	{1, "مريم الزهراني"}, {1, "نص ق ة ى محمد"}, {1, "شيرین گلپایگانی"}, {1, "لا إله"}, {1, "مُحَمَّد"},
	{2, "יִשְׂרָאֵל"}, {2, "שלום כהן"},
	{0, "श्रीमती लक्ष्मी"}, {0, "क्षत्रिय ज्ञान र्कि"}, {0, "हिन्दी"},
}

func TestShapingAgainstHarfBuzz(t *testing.T) {
	dir := t.TempDir()
	var ask [][2]string
	for _, m := range measured {
		path := fmt.Sprintf("%s/%d.ttf", dir, m.face)
		if err := os.WriteFile(path, font.Bundled(false)[m.face].Data, 0o600); err != nil {
			t.Fatal(err)
		}
		ask = append(ask, [2]string{path, m.text})
	}
	in, _ := json.Marshal(ask)
	c := exec.Command("/usr/bin/python3", "-c", harfbuzz)
	c.Stdin = strings.NewReader(string(in))
	out, err := c.Output()
	var want []float64
	if err != nil || json.Unmarshal(out, &want) != nil || len(want) != len(measured) {
		t.Fatal(err, string(out))
	}
	s := newSetter(nil)
	for i, m := range measured {
		l := &fontList{bundled[0][m.face:]}
		got := float64(s.lines(s.paragraph(l, []rune(m.text)), 0)[0].width) / 64 / emUnits * 1000
		// Advances are rounded to whole units at 1000 there, to 1/64 of 1/1024 here.
		if math.Abs(got-want[i]) > 0.5*float64(len([]rune(m.text))) {
			t.Errorf("%q: %.1f wide, HarfBuzz %.1f", m.text, got, want[i])
		}
	}
}

// visual is the order in which the characters of a line are seen.
func visual(text string) string {
	s := newSetter(nil)
	runes := []rune(text)
	var b strings.Builder
	for _, r := range s.lines(s.paragraph(&fontList{bundled[0]}, runes), 0)[0].runs {
		for _, g := range r.Glyphs {
			b.WriteRune(runes[g.TextIndex()])
		}
	}
	return b.String()
}

// Worked by hand by UAX #9: numbers keep their order within text from right to
// left, and the stretches lie in the order of the paragraph.
func TestOrderOfDirections(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"abc", "abc"},
		{"אבג", "גבא"},
		{"abc אבג def", "abc גבא def"},
		{"אבג abc דהו", "והד abc גבא"},
		{"abc אבג 123 דהו xyz", "abc והד 123 גבא xyz"},
		{"אבג 123", "123 גבא"},
		{"No. 12 אבג", "No. 12 גבא"},
		{"אבג (abc)", ")abc( גבא"}, // brackets are mirrored when drawn
	} {
		if got := visual(c.text); got != c.want {
			t.Errorf("%q is seen as %q, not %q", c.text, got, c.want)
		}
	}
}

// names of glyphs, from left to right, as the fonts call them.
func glyphNames(face int, text string) string {
	s := newSetter(nil)
	var out []string
	for _, r := range s.paragraph(&fontList{bundled[0][face:]}, []rune(text)).runs {
		for _, g := range r.Glyphs {
			out = append(out, r.font.GlyphName(g.GlyphID))
		}
	}
	return strings.Join(out, " ")
}

func TestJoining(t *testing.T) {
	for _, c := range []struct {
		face       int
		text, want string
	}{
		{1, "نن", "uni06BA.fina"},                        // the last form of noon
		{1, "مم", "uni0645.init"},                        // the first of meem
		{1, "لا", "uni0627.fina.rlig uni0644.init.rlig"}, // lam and alef meet
	} {
		if got := glyphNames(c.face, c.text); !strings.Contains(got, c.want) {
			t.Errorf("%q: %s, without %s", c.text, got, c.want)
		}
	}
	if got := glyphNames(0, "क्ष"); strings.Contains(got, "virama") || strings.Contains(got, " ") {
		t.Errorf("a conjunct is %s", got)
	}
}

func words(s string, size, floor float64, b [4]float64) design.Element {
	return design.Element{Name: "words", Box: box(b[0], b[1], b[2], b[3]),
		Text: &design.Text{Text: literal(s), Size: mm(size), Floor: mm(floor), Leading: 1.2}}
}

// ink is the box of the dots that belong to the element with the owner number.
func ink(a *Art, owner uint16) (x0, y0, x1, y1 int) {
	x0, y0 = a.W, a.H
	for i, o := range a.Owner {
		if o == owner {
			x, y := i%a.W, i/a.W
			x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x+1), max(y1, y+1)
		}
	}
	return x0, y0, x1, y1
}

func TestTextFits(t *testing.T) {
	at := [4]float64{10, 10, 30, 6}
	for _, c := range []struct {
		name  string
		e     design.Element
		kinds []NoteKind
	}{
		{"short", words("Ida", 4, 2, at), nil},
		{"shrinks", words("Ida of the northern watch", 4, 2, at), []NoteKind{TextShrunk}},
		{"cut", words("Ida of the northern watch and the lighthouse", 4, 3, at), []NoteKind{TextShrunk, TextCut}},
		{"cut, never shrinks", words("Ida of the northern watch", 4, 4, at), []NoteKind{TextCut}},
		{"empty", words("", 4, 4, at), nil},
		{"missing", words("Ida 漢字漢", 4, 4, at), []NoteKind{GlyphMissing}},
		{"off the face", words("Ida", 4, 4, [4]float64{82, 10, 30, 6}), []NoteKind{OffFace}},
		{"long", words(strings.Repeat("x", maxText+1), 4, 4, at), []NoteKind{TextCut, TextCut}},
	} {
		got := once(t, files{}, nil, c.e)
		var kinds []NoteKind
		for _, n := range got.Notes {
			kinds = append(kinds, n.Kind)
		}
		if fmt.Sprint(kinds) != fmt.Sprint(c.kinds) {
			t.Errorf("%s: %v", c.name, got.Notes)
		}
		g := got.Art.Grid.Box(c.e.Box)
		if x0, _, x1, _ := ink(got.Art, 1); x1 > x0 && c.name != "off the face" && (x0 < g.X0-1 || x1 > g.X1+1) {
			t.Errorf("%s: ink from %d to %d, box %d to %d", c.name, x0, x1, g.X0, g.X1)
		}
	}
	missing := once(t, files{}, nil, words("Ida 漢字漢", 4, 4, at)).Notes[0]
	if missing.Detail.String() != "漢 (U+6F22), 字 (U+5B57)" {
		t.Errorf("missing: %q", missing.Detail)
	}
}

func TestTextWraps(t *testing.T) {
	e := words("the watch of the northern lighthouse", 3, 3, [4]float64{10, 10, 30, 12})
	e.Text.Wrap = true
	c := once(t, files{}, nil, e)
	if len(c.Notes) != 0 {
		t.Errorf("three lines: %v", c.Notes)
	}
	_, y0, _, y1 := ink(c.Art, 1)
	if lines := float64(y1-y0) / c.Art.DY.Dots(mm(3*1.2)); lines < 1.2 || lines > 2.5 {
		t.Errorf("%.1f lines high", lines)
	}
	e.Box.H = mm(3)
	notes := once(t, files{}, nil, e).Notes
	if len(notes) != 1 || notes[0].Kind != TextCut || notes[0].Detail.String() != "height" || notes[0].Limit != 3 {
		t.Errorf("room for one line: %v", notes)
	}
	e.Box, e.Text.Text = box(10, 10, 30, 20), literal("one\ntwo\r\nthree")
	e.Text.Wrap = false
	_, y0, _, y1 = ink(once(t, files{}, nil, e).Art, 1)
	if lines := float64(y1-y0) / c.Art.DY.Dots(mm(3*1.2)); lines < 2.2 || lines > 3 {
		t.Errorf("%.1f lines high, not 3", lines)
	}
}

func TestTextAligns(t *testing.T) {
	for _, c := range []struct {
		text         string
		align        design.Align
		left, middle bool
	}{
		{"Ida", design.Start, true, false}, {"Ida", design.End, false, false}, {"Ida", design.Middle, false, true},
		{"שלום", design.Start, false, false}, {"שלום", design.End, true, false}, {"שלום", design.Middle, false, true},
	} {
		e := words(c.text, 4, 4, [4]float64{10, 10, 40, 6})
		e.Text.Align = c.align
		a := once(t, files{}, nil, e).Art
		x0, _, x1, _ := ink(a, 1)
		b := a.Grid.Box(e.Box)
		l, r := x0-b.X0, b.X1-x1
		if ok := c.middle && max(l-r, r-l) <= 6 || !c.middle && (min(l, r) <= 6) && (l < r) == c.left; !ok {
			t.Errorf("%s, %v: %d dots left of it, %d right", c.text, c.align, l, r)
		}
	}
	for align, want := range []float64{0, 0.5, 1} {
		e := words("H", 4, 4, [4]float64{10, 10, 40, 20})
		e.Text.Valign = design.Align(align)
		a := once(t, files{}, nil, e).Art
		_, y0, _, y1 := ink(a, 1)
		// Noto Sans: capitals are 0.714 em high, from its OS/2 table.
		if h := float64(y1-y0) / a.DY.Dots(mm(4)); math.Abs(h-0.714) > 0.02 {
			t.Errorf("a capital is %.3f em high", h)
		}
		em := a.DY.Dots(mm(4))
		top := a.DY.Dots(mm(10)) + want*a.DY.Dots(mm(16))
		if float64(y0) < top-1 || float64(y1) > top+em+1 {
			t.Errorf("valign %d: ink from %d to %d, em box from %.0f to %.0f", align, y0, y1, top, top+em)
		}
	}
}

// Equal letters are equal dot by dot, for they begin at whole dots.
func TestLettersAreCrisp(t *testing.T) {
	a := once(t, files{}, nil, words("llllllll", 2.2, 2.2, [4]float64{10, 10, 40, 6})).Art
	x0, y0, x1, y1 := ink(a, 1)
	y := (y0 + y1) / 2
	widths := map[int]int{}
	n := 0
	for x := x0; x <= x1; x++ {
		if a.Mark[a.At(x, y)]&Object != 0 {
			n++
		} else if n > 0 {
			widths[n]++
			n = 0
		}
	}
	if len(widths) != 1 {
		t.Errorf("stems of %v dots", widths)
	}
}

func TestFallbackFont(t *testing.T) {
	// A font of its own for Hebrew, as an installed one would come.
	asked := 0
	a := files{fallback: func(r rune) []byte {
		asked++
		if r >= 0x0590 && r < 0x0600 {
			return font.Bundled(false)[2].Data
		}
		return nil
	}}
	store := newFontStore(a)
	s := newSetter(store)
	l := &fontList{bundled[0][:1]}
	p := s.paragraph(l, []rune("Ida שלום שלום"))
	if len(p.missing) != 0 || len(p.runs) < 2 || len(store.parsed) != 1 {
		t.Errorf("missing %q, %d runs, %d fonts", p.missing, len(p.runs), len(store.parsed))
	}
	before := asked
	s.paragraph(l, []rune("שלום"))
	if asked != before {
		t.Error("asked again for the same characters")
	}
}

func TestFonts(t *testing.T) {
	hebrew := font.Bundled(false)[2].Data
	named := func(name string, bold bool) *design.Programme {
		e := words("Ida", 4, 4, [4]float64{10, 10, 40, 6})
		e.Text.Font, e.Text.Bold = name, bold
		return programme(300, 300, e)
	}
	a := files{data: map[string][]byte{"own.ttf": font.Bundled(true)[0].Data, "Some Sans": hebrew, "Some Sans Bold": font.Bundled(true)[2].Data,
		"text.ttf": []byte("no font"), "short.ttf": hebrew[:2000]}}
	for _, name := range []string{"", "own.ttf", "Some Sans"} {
		compile(t, named(name, true), a)
	}
	for _, c := range []struct{ name, want string }{
		{"none.ttf", "none.ttf"}, {"text.ttf", "TrueType or OpenType"}, {"short.ttf", "short.ttf"},
	} {
		_, err := Compile(named(c.name, false), 0, a)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "programme.yaml:10:5: faces.front[1] (words): ") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func FuzzText(f *testing.F) {
	for _, m := range measured {
		f.Add(m.text)
	}
	f.Add("\u202eabc\u2066\u2067\u0000\ufffd\U0010ffff\u200d\U0001f469\u200d\U0001f680")
	e := words("", 4, 1, [4]float64{10, 10, 30, 6})
	e.Text.Text, e.Text.Wrap = field("name"), true
	w := compile(f, programme(300, 600, e), files{}).Work()
	f.Fuzz(func(t *testing.T, name string) {
		c := compose(t, w, person{"name": name})
		for _, n := range c.Notes {
			if n.Kind == FontFailed {
				t.Fatalf("%q: %s", name, n.Detail)
			}
		}
	})
}

func FuzzFont(f *testing.F) {
	f.Add([]byte("OTTO"), 0)
	f.Add(font.Bundled(false)[2].Data[:4000], 3)
	whole := font.Bundled(false)[2].Data
	f.Fuzz(func(t *testing.T, data []byte, at int) {
		damaged := append([]byte{}, whole...)
		if len(damaged) > len(data) {
			copy(damaged[uint(at)%uint(len(damaged)-len(data)):], data)
		}
		if len(data) < 2000 {
			data = damaged
		}
		if face, err := parseFont("fuzz", data, 0); err == nil {
			tryFont("fuzz", face)
		}
	})
}

func TestLinesBreakAtWords(t *testing.T) {
	s := newSetter(nil)
	p := s.paragraph(&fontList{bundled[0]}, []rune("aa bb cc ddddddddddd e"))
	limit := s.lines(p, 0)[0].width / 4
	var got []string
	for _, l := range s.lines(p, limit) {
		var b strings.Builder
		for _, r := range l.runs {
			for _, g := range r.Glyphs {
				b.WriteRune(p.text[g.TextIndex()])
			}
		}
		got = append(got, b.String())
		if l.width > limit && b.String() != "ddddddddddd" {
			t.Errorf("%q is %v wide, beyond %v", b.String(), l.width, fixed.Int26_6(limit))
		}
	}
	if want := "[aa bb cc ddddddddddd e]"; fmt.Sprint(got) != want || len(got) < 4 {
		t.Errorf("%q", got)
	}
}
