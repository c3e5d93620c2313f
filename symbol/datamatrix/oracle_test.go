package datamatrix

import (
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

var alphabets = []string{
	"0123456789",
	"ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 ",
	"abcdefghijklmnopqrstuvwxyz ",
	"ABCDEFGHIJ0123456789\r*>",
	"ABCDEFGH.,;:-+/()0123456789",
	"abcABC012#\n",
	"\x00\x01\x02\x7f ~aA0",
}

// texts are random texts, of one alphabet or of a stretch of each of several, of
// up to most characters, long ones more rarely.
func texts(seed uint64, count, most int) []string {
	r := rand.New(rand.NewPCG(41, seed))
	list := make([]string, count)
	for i := range list {
		n := 1 + int(float64(most)*r.Float64()*r.Float64()*r.Float64())
		if i < 50 {
			n = most * (i + 1) / 50
		}
		var b strings.Builder
		for b.Len() < n {
			a := alphabets[r.IntN(len(alphabets))]
			stretch := n - b.Len()
			if i%2 == 0 {
				stretch = min(stretch, 1+r.IntN(20))
			}
			for range stretch {
				b.WriteByte(a[r.IntN(len(a))])
			}
		}
		list[i] = b.String()
	}
	return list
}

// zint (2.11.1) draws squares and rectangles; each of its symbols reads as its
// text, and none of ours is larger.
func TestReadsWhatZintDraws(t *testing.T) {
	drawn := map[string]bool{}
	for name, c := range map[string]struct {
		o    Options
		args []string
		most int
	}{
		"auto":   {Options{}, nil, 800},
		"square": {Options{Shape: Square}, []string{"--square"}, 1500},
	} {
		same, fewer := 0, 0
		list := texts(uint64(len(name)), 500, c.most)
		for i, g := range symboltest.ZintGrids(t, list, append([]string{"-b", "DATAMATRIX"}, c.args...)...) {
			r, err := Decode(g)
			if err != nil || r.Text != list[i] || r.UEC() != 1 || !r.Truth.Equal(g) {
				t.Fatalf("%q: read %q from zint, %v, errors %v", list[i], r.Text, err, r.Errors)
			}
			drawn[r.Spec] = true
			ours := must(t, list[i], c.o)
			if ours.W*ours.H > g.W*g.H {
				t.Errorf("%q: %s, zint %s", list[i], ours.Spec, r.Spec)
			}
			switch n, zints := used(t, ours.Grid), used(t, g); {
			case ours.Spec != r.Spec: // as many modules, of which square ones are chosen
			case n > zints:
				t.Errorf("%q: %d codewords, zint %d", list[i], n, zints)
			case n < zints:
				fewer++
			case ours.Equal(g):
				same++
			}
		}
		t.Logf("%s: of %d symbols %d are zint's very modules and %d have fewer codewords than zint's", name, len(list), same, fewer)
		if same == 0 {
			t.Errorf("%s: none has zint's modules", name)
		}
	}
	const common = 28 // zint prefers 12 x 12 to 8 x 18, and 144 x 144 needs longer texts
	if len(drawn) < common {
		t.Errorf("zint drew %d of %d sizes", len(drawn), len(sizes))
	}
}

// used is how many data codewords a symbol takes before it is filled up.
func used(t *testing.T, g symbol.Grid) int {
	t.Helper()
	s, _ := sizeOf(g.H, g.W)
	words := make([]int, s.data)
	for i, m := range lay(s).bits[:8*s.data] {
		if g.Dark[m] {
			words[i/8] |= 1 << (7 - i%8)
		}
	}
	c, err := parse(words)
	if err != nil {
		t.Fatal(err)
	}
	if c.left() > 0 || words[c.at-1] == pad {
		return c.at - 1
	}
	return c.at
}

// The encoder's choices aside, the same codewords make the same modules, in every
// size; zint numbers the sizes as the table does.
func TestZintDrawsTheSame(t *testing.T) {
	for i, s := range sizes {
		text := "1a"
		if s.data > 10 {
			text = "Sundhaven!"
		}
		g := symboltest.ZintGrids(t, []string{text}, "-b", "DATAMATRIX", fmt.Sprintf("--vers=%d", i+1))[0]
		if m := must(t, text, Options{Rows: s.h, Columns: s.w}); !m.Equal(g) {
			t.Errorf("%v: zint draws other modules, %d x %d", s, g.H, g.W)
		}
	}
}

func TestReadsZintsModes(t *testing.T) {
	for name, c := range map[string]struct {
		text, want, spec string
		args             []string
	}{
		"Latin": {"Fähre über Öland", "Fähre über Öland", "", nil},
		"UTF-8": {"Łódź 42", "Łódź 42", "", []string{"--eci=26"}},
		"Greek": {"Ωμέγα", "Ωμέγα", "", []string{"--eci=9"}},
		"kanji": {"日本の船", "日本の船", "", []string{"--eci=20"}},
		"GS1":   {"[01]04012345123456[10]AB12[21]X%Y", "010401234512345610AB12\x1d21X%Y", firstPosition, []string{"--gs1", "--gs1nocheck"}},
		"bytes": {"\x00\x01\xfe\xff", "\x00\x01þÿ", "", []string{"--binary"}},
		"macro": {head05 + "ABC" + macroTail, head05 + "ABC" + macroTail, "", nil},
	} {
		g := symboltest.ZintGrids(t, []string{c.text}, append([]string{"-b", "DATAMATRIX"}, c.args...)...)[0]
		r, err := Decode(g)
		if err != nil || r.Text != c.want || r.UEC() != 1 || !strings.HasSuffix(r.Spec, c.spec) {
			t.Errorf("%s: read %q %s, %v; want %q", name, r.Text, r.Spec, err, c.want)
		}
	}
}

// zxing-cpp reads what is drawn: texts, texts of other languages, bytes, GS1 data,
// and every size.
func TestReadersReadWhatIsDrawn(t *testing.T) {
	var symbols []symbol.Matrix
	for i, text := range texts(5, 500, 1500) {
		symbols = append(symbols, must(t, text, Options{Shape: Shape(i % 2)}))
	}
	for _, s := range sizes {
		symbols = append(symbols, must(t, "42", Options{Rows: s.h, Columns: s.w}))
	}
	r := rand.New(rand.NewPCG(51, 52))
	for range 100 {
		b := make([]byte, 1+r.IntN(300))
		for k := range b {
			b[k] = byte(r.IntN(256))
		}
		symbols = append(symbols, must(t, string(b), Options{Binary: true}))
	}
	for i, text := range symboltest.Texts(33, 100, 40, "aB1 ") {
		symbols = append(symbols, must(t, text+[]string{"ü", "Łódź", "Ωμέγα", "日本", "😀"}[i%5]+text, Options{}))
	}
	for _, text := range symboltest.Texts(34, 50, 30, "AB12\x1d") {
		symbols = append(symbols, must(t, "10"+text, Options{GS1: true}))
	}
	grids := make([]symbol.Grid, len(symbols))
	for i, s := range symbols {
		grids[i] = s.Grid
	}
	const dots = 4
	for i, f := range symboltest.ReadGrids(t, "DataMatrix", dots, grids) {
		if s := symbols[i]; f.Bytes == nil || *f.Bytes != hex.EncodeToString(s.Data) {
			t.Errorf("%s %q: zxing-cpp reads %v", s.Spec, s.Text, f)
		}
	}
}

// Never longer than ASCII or Base 256 alone (arithmetic).
func TestFewestCodewords(t *testing.T) {
	for _, text := range texts(6, 1500, 300) {
		s, _, err := pack(text, -1, false, Options{}.fitting())
		if err != nil {
			t.Fatal(err)
		}
		plain := 0
		for i := 0; i < len(text); i++ {
			if digitPair(text[i:]) {
				i++
			}
			plain++
		}
		bytes := 2 + len(text)
		if len(text) > shortField {
			bytes++
		}
		least := min(plain, bytes)
		fits := slices.IndexFunc(Options{}.fitting(), func(s size) bool { return s.data >= least })
		if fits >= 0 && s.data > (Options{}).fitting()[fits].data {
			t.Errorf("%q: %v, though %d codewords do", text, s, least)
		}
	}
}
