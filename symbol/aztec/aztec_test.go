package aztec

import (
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/eci"
	"unspool/symbol/symboltest"
)

func must(t testing.TB, text string, o Options) symbol.Matrix {
	t.Helper()
	m, err := Encode(text, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func allBytes() string {
	b := make([]byte, 256)
	for i := range b {
		b[i] = byte(i)
	}
	return string(b)
}

func ascii() string { return allBytes()[:128] }

// licence is a text in the manner of a driving licence's, of invented data: long,
// with control characters.
const licence = "@\n\x1e\rANSI 000000100002DL00410278ZZ03190024DLDAQS0042170\nDCSQUILLON\nDACMARIT\nDADNONE\nDBD03142026\nDBB02291984\n" +
	"DAU168 cm\nDAYGRN\nDAG7 Quay Steps\nDAISUNDHAVEN\nDAJZZ\nDAK000420000  \nDCF0042-17/ferry_line{7}\nDCGSUN\rZZZZA42~end\r"

// ISO/IEC 24778 Annex G, as open implementations give it in their tests: the bits
// of its text, and the symbol of Figure G.2, which zint 2.11.1 draws too.
func TestAnnexG(t *testing.T) {
	const text = "Code 2D!"
	const bits = "00100 11100 10000 00101 00110 11110 0001 0100 1111 00101 0000 00110"
	if got := strings.Trim(strings.ReplaceAll(fmt.Sprint(pack([]byte(text), eci.Default)), " ", ""), "[]"); got != strings.ReplaceAll(bits, " ", "") {
		t.Errorf("bits %s", got)
	}
	const rows = "18c0 0304 b08a 7ff8 f01a 17d8 945e 3552 3454 57d2 9016 9ffa 4624 61b4 e6c0"
	m := must(t, text, Options{})
	for y, want := range strings.Fields(rows) {
		row := make([]byte, 2)
		for x := range m.W {
			if m.At(x, y) {
				row[x/8] |= 0x80 >> (x % 8)
			}
		}
		if hex.EncodeToString(row) != want {
			t.Errorf("row %d: %x, want %s", y, row, want)
		}
	}
}

// Sides and bits of symbols, ISO/IEC 24778 Table 1 (some rows, from memory).
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		f                 form
		side, words, size int
	}{
		{form{true, 1}, 15, 17, 6}, {form{true, 2}, 19, 40, 6}, {form{true, 3}, 23, 51, 8}, {form{true, 4}, 27, 76, 8},
		{form{false, 1}, 19, 21, 6}, {form{false, 4}, 31, 88, 8}, {form{false, 5}, 37, 120, 8}, {form{false, 8}, 49, 240, 8},
		{form{false, 9}, 53, 230, 10}, {form{false, 22}, 109, 1020, 10}, {form{false, 23}, 113, 920, 12}, {form{false, 32}, 151, 1664, 12},
	} {
		if c.f.side() != c.side || c.f.words() != c.words || c.f.wordBits() != c.size {
			t.Errorf("%+v: side %d, %d codewords of %d bits", c.f, c.f.side(), c.f.words(), c.f.wordBits())
		}
	}
}

// What the smallest and the largest symbol hold with 23 % for error correction:
// digits, capital letters, bytes. ISO/IEC 24778 Table 1, from memory; zint takes a
// codeword less for error correction in the smallest.
func TestCapacity(t *testing.T) {
	for unit, most := range map[string][2]int{"7": {13, 3832}, "A": {12, 3067}, "\xa5": {6, 1914}} {
		for i, side := range []int{15, 151} {
			o := Options{Binary: true}
			if m := must(t, strings.Repeat(unit, most[i]), o); m.W != side {
				t.Errorf("%d of %q: %d modules a side, want %d", most[i], unit, m.W, side)
			}
			if m, err := Encode(strings.Repeat(unit, most[i]+1), o); err == nil && m.W == side {
				t.Errorf("%d of %q still fit %d modules a side", most[i]+1, unit, side)
			}
		}
	}
}

// every is each form that there is.
func every() (all []Options) {
	for layers := 1; layers <= maxLayers; layers++ {
		if layers <= maxCompactLayers {
			all = append(all, Options{Layers: layers})
		}
		all = append(all, Options{Layers: layers, Full: true})
	}
	return all
}

// Every module of every form has its one use, and the symbol reads; in its eight
// ways to lie, those of few layers and the largest.
func TestEveryForm(t *testing.T) {
	for _, o := range every() {
		f := form{!o.Full, o.Layers}
		m := must(t, "S 42", o)
		symboltest.WholeLayout(t, m.Grid, m.Layout, f.wordBits(), f.bits()%f.wordBits())
		if o.Layers <= 5 || o.Layers == maxLayers {
			symboltest.AnyWay(t, m, Decode)
		} else {
			symboltest.ReadsAs(t, m.Grid, m, Decode)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	var texts []string
	for i, alphabet := range []string{ascii(), "0123456789", "0123456789aA", "ab. , : \r\n", "Card 42\n;<", "\x00\x01\x02a"} {
		texts = append(texts, symboltest.Texts(uint64(i), 100, 150, alphabet)...)
	}
	texts = append(texts, licence, "Zoë Łucja Ångström", "渡し船 42", strings.Repeat("7", 500), strings.Repeat("ë", 600))
	for _, text := range texts {
		m := must(t, text, Options{})
		if m.Text != text || string(m.Data) != text {
			t.Fatalf("%q carried as %q", text, m.Text)
		}
		symboltest.ReadsAs(t, m.Grid, m, Decode)
	}
	for _, data := range symboltest.Texts(9, 150, 300, allBytes()) {
		m := must(t, data, Options{Binary: true, Check: 10})
		if string(m.Data) != data {
			t.Fatalf("%q carried as %q", data, m.Data)
		}
		symboltest.ReadsAs(t, m.Grid, m, Decode)
	}
}

// At least the share wanted is kept for error correction, and three codewords.
func TestCheck(t *testing.T) {
	for _, share := range []int{0, 5, 23, 50, 95} {
		for n := 1; n < 40; n += 7 {
			m := must(t, strings.Repeat("x", n), Options{Check: share})
			want := share
			if share == 0 {
				want = 23
			}
			if b := m.Blocks[0]; (b.Check-3)*100 < want*len(b.Codewords) {
				t.Errorf("%d per cent: %s", share, m.Spec)
			}
		}
	}
}

// As many codewords as ISO/IEC 24778's Reed-Solomon codes can mend are mended, and
// no more.
func TestMends(t *testing.T) {
	forms := every()
	symboltest.Mends(t, 200, 20, func(r *rand.Rand) symbol.Matrix {
		return must(t, symboltest.Texts(r.Uint64(), 1, 8, ascii())[0], forms[2+r.IntN(14)])
	}, Decode)
}

// Damage to the fixed patterns and the mode message is told by the Truth.
func TestFixedPatternsDamaged(t *testing.T) {
	m := must(t, licence, Options{})
	g := symbol.Grid{W: m.W, H: m.H, Dark: slices.Clone(m.Dark)}
	hit := 0
	for _, p := range m.Parts {
		n := map[string]int{PartBullseye: 20, PartOrientation: 2, PartMode: 3, PartGrid: 9}[p.Name]
		for _, i := range p.Modules[:n] {
			g.Dark[i] = !g.Dark[i]
			hit++
		}
	}
	r, err := Decode(g)
	if err != nil || r.Text != licence || !r.Truth.Equal(m.Grid) || r.UEC() != 1 || hit != 34 {
		t.Errorf("%d modules wrong: %+v %v", hit, r.Errors, err)
	}
}

// FNC1, character sets and what is no data, from memory of ISO/IEC 24778 and
// held against zint where it draws it.
func TestContent(t *testing.T) {
	for _, c := range []struct {
		bits            string
		text, mark, err string
	}{
		{bits: "00000 00000 000 00010 00000 00000 000 00011", text: "A\x1dB", mark: ", FNC1 in first position"},
		{bits: "00000 00000 001 0110 11111 00001 10100011", text: "Ł"},
		{bits: "11110 1111 00010 0010 0000 00110", text: "A0!"},
		{bits: "11101 11110 00010 00011 11111 00010", text: "\r\n. A"},
		{bits: "00010 11111", text: "A"},
		{bits: "00000 00000 111 00010", err: "Aztec Code: FLG(7) is reserved"},
		{bits: "00000 00000 001 1101", err: "Aztec Code: a character set is named by what is no digit"},
		{bits: "11111 00010 10100011 1010", err: "Aztec Code: the data end within a character"},
		{bits: "00010 1111111", err: "Aztec Code: the data end within a character"},
		{bits: "00010 000", err: "Aztec Code: the data end within a character"},
	} {
		var bits []int
		for _, b := range strings.ReplaceAll(c.bits, " ", "") {
			bits = append(bits, int(b-'0'))
		}
		got, err := read(bits, 6)
		if c.err != "" {
			if err == nil || err.Error() != c.err {
				t.Errorf("%s: %v, want %s", c.bits, err, c.err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.bits, err)
			continue
		}
		if text, err := got.Text(); err != nil || text != c.text || got.marked != c.mark {
			t.Errorf("%s: %q%s %v", c.bits, text, got.marked, err)
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
	}{
		{"", Options{}, "Aztec Code needs at least one character of text"},
		{"\xff", Options{}, "Aztec Code: the text is not UTF-8; carry it as binary data"},
		{strings.Repeat("7", 4993), Options{}, "Aztec Code cannot carry 4993 bytes: shorten the data to at most 4992"},
		{strings.Repeat("7", 40), Options{Layers: 1}, "Aztec Code: 165 bits do not fit in the largest symbol allowed, of 104 bits with 23 per cent for error correction: shorten the data, keep less for error correction or allow more layers"},
		{"x", Options{Layers: 33}, "Aztec Code has 1 to 32 layers, not 33"},
		{"x", Options{Check: 96}, "Aztec Code keeps 5 to 95 per cent for error correction, not 96"},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%+v: %v, want %s", c.o, err, c.want)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"Code 2D!", "", "é", "\xff", licence, ". , 12"} {
		f.Add(s, 0, 0, false, false)
	}
	f.Fuzz(func(t *testing.T, text string, check, layers int, full, binary bool) {
		if m, err := Encode(text, Options{Check: check, Layers: layers, Full: full, Binary: binary}); err == nil {
			symboltest.ReadsAs(t, m.Grid, m, Decode)
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzGrid(f, []symbol.Matrix{must(f, "Code 2D!", Options{}), must(f, "42", Options{Layers: 1, Full: true})}, Decode)
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
