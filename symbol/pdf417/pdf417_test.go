package pdf417

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

// modulesOf writes a grid as module strings, one a row.
func modulesOf(g symbol.Grid) string {
	rows := make([]string, g.H)
	for y := range rows {
		b := make([]byte, g.W)
		for x := range b {
			if b[x] = '0'; g.At(x, y) {
				b[x] = '1'
			}
		}
		rows[y] = string(b)
	}
	return strings.Join(rows, "/")
}

func must(t testing.TB, text string, o Options) symbol.Matrix {
	t.Helper()
	m, err := Encode(text, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// ISO/IEC 15438:2015 Annex Q, as the tests of zint give it; zint 2.11.1 draws the
// same.
func TestAnnexQ(t *testing.T) {
	m := must(t, "PDF417", Options{Columns: 2, Level: 1})
	const want = "1111111101010100011110101011110000110101000110000001110111011001100011110101011110000111111101000101001/" +
		"1111111101010100011111101010011100110100001110001001111010001010000011111101010111000111111101000101001/" +
		"1111111101010100011101010111111000101100110011110001100011111001001011101010011111100111111101000101001/" +
		"1111111101010100010101111001111000101011101110000001100001101000100010101111001111000111111101000101001/" +
		"1111111101010100011101011100011000100001101011111101111110110001011011101011100110000111111101000101001"
	if got := modulesOf(m.Grid); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if got := fmt.Sprint(check([]int{5, 453, 178, 121, 239}, 4)); got != "[452 327 657 619]" {
		t.Errorf("check codewords %s", got)
	}
	if r, err := Decode(m.Grid); err != nil || r.Text != "PDF417" {
		t.Errorf("%+v %v", r, err)
	}
}

// 929 characters a cluster, no two with the same edges: ISO/IEC 15438 Annex A.
func TestTable(t *testing.T) {
	for c, all := range possible() {
		n := 0
		for i, p := range all {
			if isUsed(c, i) {
				n++
			}
			if p[0]+p[1]+p[2]+p[3]+p[4]+p[5]+p[6]+p[7] != modules || p.edges().cluster() != 3*c {
				t.Errorf("cluster %d: %v", c, p)
			}
		}
		if n != prime || len(used[c]) > (len(all)+3)/4 {
			t.Errorf("cluster %d: %d of %d patterns used", c, n, len(all))
		}
	}
	if len(characters().of) != clusters*prime {
		t.Errorf("%d patterns have edges of their own", len(characters().of))
	}
}

// licence is a text in the manner of a driving licence's, of invented data: long,
// with control characters (AAMVA DL/ID Card Design Standard, its form from
// memory).
const licence = "@\n\x1e\rANSI 000000100002DL00410278ZZ03190024DLDAQS0042170\nDCSQUILLON\nDDEN\nDACMARIT\nDDFN\nDADNONE\nDDGN\n" +
	"DCAC\nDCBNONE\nDCDNONE\nDBD03142026\nDBB02291984\nDBA03142034\nDBC2\nDAU168 cm\nDAYGRN\nDAG7 Quay Steps\nDAISUNDHAVEN\n" +
	"DAJZZ\nDAK000420000  \nDCF0042-17/ferry_line{7}\nDCGSUN\rZZZZA42~end\r"

func options() []Options {
	return []Options{{}, {Columns: 1, Level: Least}, {Columns: 3, Level: 1, Compact: true}, {Columns: 12, Level: 4}, {Rows: 20}, {Level: 5, Compact: true}}
}

func TestLiesAnyWay(t *testing.T) {
	for _, o := range options() {
		text := "Sundhaven ferry line, crew 0042"
		m := must(t, text, o)
		if m.Text != text || string(m.Data) != text {
			t.Errorf("%+v carries %q", o, m.Text)
		}
		if o.Level != Least {
			symboltest.WholeLayout(t, m.Grid, m.Layout, modules, 0)
		}
		symboltest.AnyWay(t, m, Decode)
	}
}

func TestRoundTrip(t *testing.T) {
	var texts []string
	for i, alphabet := range []string{ascii(), "0123456789", "0123456789aA", "abc;", "Card 42\n;<", "\x00\x01\x02a"} {
		texts = append(texts, symboltest.Texts(uint64(i), 120, 300, alphabet)...)
	}
	texts = append(texts, licence, "Zoë Łucja Ångström", "渡し船 42", strings.Repeat("7", 500))
	for i, text := range texts {
		o := options()[i%len(options())]
		if len(text) > 60 {
			o = Options{Compact: o.Compact}
		}
		m := must(t, text, o)
		symboltest.ReadsAs(t, m.Grid, m, Decode)
	}
	for i, data := range symboltest.Texts(9, 200, 300, allBytes()) {
		m := must(t, data, Options{Binary: true, Compact: i%2 == 1})
		if string(m.Data) != data {
			t.Fatalf("%q carried as %q", data, m.Data)
		}
		symboltest.ReadsAs(t, m.Grid, m, Decode)
	}
}

func ascii() string { return allBytes()[:128] }

func allBytes() string {
	b := make([]byte, 256)
	for i := range b {
		b[i] = byte(i)
	}
	return string(b)
}

// Character sets, numbers of ECI in their three forms, and what is no data: ISO/IEC
// 15438 5.5 (from memory).
func TestFunctions(t *testing.T) {
	for _, c := range []struct {
		words     []int
		data, err string
		text      string
	}{
		{words: []int{eciSet, 4, oneByte, 0xa3}, data: "\xa3", text: "Ł"},
		{words: []int{oneByte, 0xe9, eciSet, 26, oneByte, 0xc3, oneByte, 0xa9}, data: "\xe9\xc3\xa9", text: "éé"},
		{words: []int{eciGeneral, 0, 1, 1}, data: "AB"},
		{words: []int{eciUser, 1, 1}, data: "AB"},
		{words: []int{27*30 + 0, 29*30 + 0, toText, 1}, data: "a;AB", text: "a;AB"},
		{words: []int{27*30 + 29, oneByte, 'x', 1}, data: "xab", text: "xab"},
		{words: []int{toBytes, 1, 2, 3, 4, 5}, data: "\x01\x02\x03\x04\x05", text: "\x01\x02\x03\x04\x05"},
		{words: []int{toBytes, 256}, err: "PDF417 codeword 2: 256 is no byte"},
		{words: []int{toSixes, 899, 899, 899, 899, 899}, err: "PDF417 codeword 2: five codewords of it are not six bytes"},
		{words: []int{toSixes, 1}, err: "PDF417 codeword 2: 1 codewords are not groups of six bytes"},
		{words: []int{toNumbers, 2}, err: "PDF417 codeword 2: a group of it is not digits"},
		{words: []int{toBytes, oneByte, 65}, err: "PDF417 codeword 2: function 913 stands outside text"},
		{words: []int{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, eciSet}, err: "PDF417 codeword 11: the data end within function 927"},
		{words: []int{eciGeneral, 0, 900}, err: "PDF417 codeword 1: function 900 stands within function 926"},
		{words: []int{fileBlock, 111, 100}, err: "PDF417 codeword 1: the symbol is part of a set (Macro PDF417), which is not read here"},
		{words: []int{905}, err: "PDF417 codeword 1: function 905 is reserved or for other kinds of symbols"},
	} {
		f := form{Shape: Shape{2, 8}, level: 1}
		g, _ := f.draw(f.complete(c.words))
		r, err := Decode(g)
		switch {
		case c.err != "":
			if err == nil || err.Error() != c.err {
				t.Errorf("%v: %v, want %s", c.words, err, c.err)
			}
		case err != nil || string(r.Data) != c.data || r.Text != c.text:
			t.Errorf("%v: %q %q %v, want %q %q", c.words, r.Data, r.Text, err, c.data, c.text)
		}
	}
}

// Annex E of ISO/IEC 15438: the least error correction levels recommended (read
// second-hand in zint's source).
func TestLevel(t *testing.T) {
	for data, want := range map[int]int{1: 2, 40: 2, 41: 3, 160: 3, 161: 4, 320: 4, 321: 5, 863: 5, 864: 4, 925: 0} {
		if got := (Options{}).level(data); got != want {
			t.Errorf("%d data codewords: level %d, want %d", data, got, want)
		}
	}
}

func TestShapes(t *testing.T) {
	for n, want := range map[int]int{3: 30, 90: 30, 91: 29, 928: 2, 929: 0} {
		shapes := Shapes(n)
		if len(shapes) != want {
			t.Errorf("%d codewords: %d shapes, want %d", n, len(shapes), want)
		}
		for _, s := range shapes {
			fits := s.Rows >= minRows && s.Rows <= maxRows && s.Columns*s.Rows >= n && s.Columns*s.Rows <= maxCodewords
			if !fits || s.Rows > minRows && s.Columns*(s.Rows-1) >= n {
				t.Errorf("%d codewords: %+v", n, s)
			}
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
	}{
		{"", Options{}, "PDF417 needs at least one character of text"},
		{"\xff", Options{}, "PDF417: the text is not UTF-8; carry it as binary data"},
		{strings.Repeat("x", 2723), Options{}, "PDF417 cannot carry 2723 bytes: shorten the data to at most 2722"},
		{strings.Repeat("\x01", 1200), Options{}, "PDF417: 1004 codewords do not fit in a symbol, which has at most 928: shorten the data, lower the error correction level or allow more columns"},
		{strings.Repeat("x", 400), Options{Columns: 2}, "PDF417: 234 codewords do not fit in 2 columns, which hold at most 180: shorten the data, lower the error correction level or allow more columns"},
		{"x", Options{Columns: 31}, "PDF417 has 1 to 30 columns, not 31"},
		{"x", Options{Rows: 2}, "PDF417 has 3 to 90 rows, not 2"},
		{"x", Options{Level: 9}, "PDF417 has error correction levels 0 to 8, not 9"},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%+v: %v, want %s", c.o, err, c.want)
		}
	}
}

// Up to e+2t = d-2 every damage is mended and counted, and one more is refused
// or, rarely, read as something else: never told to be sound.
func TestMendsWhatItSays(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 17))
	mistaken, rounds := 0, 0
	for level := range 7 {
		for range 40 {
			o := Options{Level: level, Compact: r.IntN(2) == 0}
			if level == 0 {
				o.Level = Least
			}
			m := must(t, symboltest.Texts(r.Uint64(), 1, 120, ascii())[0], o)
			room := m.Blocks[0].Check - guard
			wrong := r.IntN(room/2 + 1)
			erased := room - 2*wrong
			if erased+wrong > m.Blocks[0].Check {
				continue
			}
			got, err := Decode(damaged(r, m, wrong, erased))
			if err != nil || string(got.Data) != string(m.Data) || got.Errors[0] != wrong || got.Erasures[0] != erased || !got.Truth.Equal(m.Grid) || got.UEC() != map[bool]float64{true: 1}[room == 0] {
				t.Fatalf("%s: %d wrong and %d erased read as %v and %v, UEC %v: %v", m.Spec, wrong, erased, got.Errors, got.Erasures, got.UEC(), err)
			}
			rounds++
			if got, err := Decode(damaged(r, m, wrong, erased+1)); err == nil {
				if string(got.Data) == string(m.Data) {
					t.Fatalf("%s: %d wrong and %d erased were mended, one too many", m.Spec, wrong, erased+1)
				}
				mistaken++
			}
		}
	}
	t.Logf("%d of %d symbols with one erasure too many were read as others", mistaken, rounds)
	if mistaken > 2 {
		t.Errorf("%d symbols with one erasure too many were read as others", mistaken)
	}
}

// damaged replaces so many characters by others of their cluster, and makes so
// many unreadable.
func damaged(r *rand.Rand, m symbol.Matrix, wrong, erased int) symbol.Grid {
	g := symbol.Grid{W: m.W, H: m.H, Dark: slices.Clone(m.Dark)}
	columns := len(m.Blocks[0].Codewords) / m.H
	for i, at := range r.Perm(len(m.Blocks[0].Codewords))[:wrong+erased] {
		x, y := modules*(2+at%columns), at/columns
		if i >= wrong {
			g.Set(x, y, false)
			continue
		}
		was := gridCell(g, x, y).Codeword
		p := characters().patterns[y%clusters][(was+1+r.IntN(prime-1))%prime]
		dark := true
		for _, w := range p {
			for range w {
				g.Set(x, y, dark)
				x++
			}
			dark = !dark
		}
	}
	return g
}

// Even with every row indicator gone a sampled grid is read: its sides tell the
// rows and columns, and the level is tried.
func TestReadsWithoutRowIndicators(t *testing.T) {
	for _, o := range []Options{{}, {Compact: true}, {Level: 6}} {
		m := must(t, licence, o)
		g := symbol.Grid{W: m.W, H: m.H, Dark: slices.Clone(m.Dark)}
		for _, p := range m.Parts {
			for _, i := range p.Modules {
				if p.Name == PartLeft || p.Name == PartRight {
					g.Dark[i] = false
				}
			}
		}
		if r, err := Decode(g); err != nil || r.Text != licence || r.Spec != m.Spec || !r.Truth.Equal(m.Grid) {
			t.Errorf("%+v: %s %v", o, r.Spec, err)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"PDF417", "", "é", "\xff", licence, "12345678901234567890"} {
		f.Add(s, 0, 0, false, false)
	}
	f.Fuzz(func(t *testing.T, text string, columns, level int, compact, binary bool) {
		if m, err := Encode(text, Options{Columns: columns, Level: level, Compact: compact, Binary: binary}); err == nil {
			symboltest.ReadsAs(t, m.Grid, m, Decode)
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzGrid(f, []symbol.Matrix{must(f, "PDF417", Options{Columns: 2}), must(f, "417", Options{Columns: 1, Compact: true})}, Decode)
}

func BenchmarkEncode(b *testing.B) {
	for b.Loop() {
		must(b, licence, Options{})
	}
}

func BenchmarkDecode(b *testing.B) {
	m := must(b, licence, Options{})
	for b.Loop() {
		if _, err := Decode(m.Grid); err != nil {
			b.Fatal(err)
		}
	}
}
