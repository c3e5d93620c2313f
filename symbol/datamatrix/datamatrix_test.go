package datamatrix

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/eci"
	"unspool/symbol/symboltest"
)

func must(t testing.TB, text string, o Options) symbol.Matrix {
	t.Helper()
	s, err := Encode(text, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func rows(g symbol.Grid) string {
	var b strings.Builder
	for i, dark := range g.Dark {
		if i > 0 && i%g.W == 0 {
			b.WriteByte('/')
		}
		b.WriteByte("01"[map[bool]int{true: 1}[dark]])
	}
	return b.String()
}

func TestVectors(t *testing.T) {
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"datamatrix": func(t *testing.T, v symboltest.Vector) string { return rows(must(t, v.Input, Options{}).Grid) },
		"datamatrix-codewords": func(t *testing.T, v symboltest.Vector) string {
			s, data, err := pack(v.Input, eci.Default, false, Options{}.fitting())
			if err != nil {
				t.Fatal(err)
			}
			words := s.protect(data)
			join := func(w []int) string { return strings.Trim(fmt.Sprint(w), "[]") }
			return join(words[:s.data]) + " | " + join(words[s.data:])
		},
	})
}

// The codewords of each size fill its data regions but for 4 modules at most
// (arithmetic), and the blocks come out even but for one in 144 x 144.
func TestSizes(t *testing.T) {
	for _, s := range sizes {
		free := (s.h-2*s.down)*(s.w-2*s.across) - 8*(s.data+s.check)
		if free != 0 && free != 4 || s.check%s.blocks != 0 || s.data%s.blocks != 0 && s.h != 144 || s.h%s.down != 0 || s.w%s.across != 0 {
			t.Errorf("%v: %d modules free", s, free)
		}
	}
}

func every(t *testing.T, each func(size, symbol.Matrix)) {
	for _, s := range sizes {
		each(s, must(t, fmt.Sprintf("%d%c", s.h, 'a'+s.w%26), Options{Rows: s.h, Columns: s.w}))
	}
}

func TestLayout(t *testing.T) {
	every(t, func(s size, m symbol.Matrix) {
		free := (s.h-2*s.down)*(s.w-2*s.across) - 8*(s.data+s.check)
		symboltest.WholeLayout(t, m.Grid, m.Layout, 8, free)
		// The L in two parts; for each region two clock tracks, and two bars where the L
		// is not.
		if want := 2 + 4*s.down*s.across - s.down - s.across; len(m.Parts) != want {
			t.Errorf("%v: %d parts, want %d", s, len(m.Parts), want)
		}
		if len(m.Parts[0].Modules) != s.h || len(m.Parts[1].Modules) != s.w-1 {
			t.Errorf("%v: an L of %d and %d modules", s, len(m.Parts[0].Modules), len(m.Parts[1].Modules))
		}
	})
}

func TestReadsAnyWay(t *testing.T) {
	every(t, func(_ size, m symbol.Matrix) {
		if m.W == m.H {
			symboltest.AnyWay(t, m, Decode)
			return
		}
		for _, g := range []symbol.Grid{m.Grid, m.Turned(), m.Mirrored(), m.Turned().Turned(), m.Turned().Mirrored()} {
			symboltest.ReadsAs(t, g, m, Decode)
		}
	})
}

func TestMends(t *testing.T) {
	// The smallest size mends two errors with five check codewords; one with three
	// lies near another word with probability 28*255^2/256^5, 2e-6, and larger ones
	// more rarely still (arithmetic); 12 x 12 and 8 x 18 mend three and have four:
	// 220*255^3/256^7.
	symboltest.Mends(t, 300, 1, func(r *rand.Rand) symbol.Matrix {
		s := sizes[r.IntN(len(sizes))]
		return must(t, "1a", Options{Rows: s.h, Columns: s.w})
	}, Decode)
}

func TestText(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
		spec string
	}{
		{"Fähre nach Łódź", Options{}, "Fähre nach Łódź", "22 x 22"},
		{"F\xe4hre", Options{Binary: true}, "Fähre", "14 x 14"},
		{"0104012345123456\x1d10AB12\x1d21X", Options{GS1: true}, "0104012345123456\x1d10AB12\x1d21X", "18 x 18, FNC1 in first position (GS1)"},
		{head05 + "PASS 42" + macroTail, Options{}, head05 + "PASS 42" + macroTail, "14 x 14"},
		{head06 + macroTail, Options{}, head06 + macroTail, "10 x 10"},
		{strings.Repeat("\xfe", 1555), Options{Binary: true}, strings.Repeat("þ", 1555), "144 x 144"},
	} {
		s := must(t, c.text, c.o)
		symboltest.ReadsAs(t, s.Grid, s, Decode)
		if s.Text != c.want || string(s.Data) != c.text || s.Spec != c.spec {
			t.Errorf("%q: %q %q %s, want %s", c.text, s.Data, s.Text, s.Spec, c.spec)
		}
	}
}

// ISO/IEC 16022 Table 7, some of its rows (from memory): digits, letters in C40,
// and bytes that a size holds.
func TestCapacity(t *testing.T) {
	for _, c := range []struct{ h, w, digits, letters, bytes int }{
		{10, 10, 6, 3, 1}, {12, 12, 10, 6, 3}, {14, 14, 16, 10, 6}, {16, 16, 24, 16, 10}, {26, 26, 88, 64, 42},
		{52, 52, 408, 304, 202}, {104, 104, 1632, 1222, 814}, {144, 144, 3116, 2335, 1555},
		{8, 18, 10, 6, 3}, {8, 32, 20, 13, 8}, {16, 48, 98, 72, 47},
	} {
		o := Options{Rows: c.h, Columns: c.w, Binary: true}
		for unit, n := range map[string]int{"7": c.digits, "A": c.letters, "\xee": c.bytes} {
			symboltest.ReadsAs(t, must(t, strings.Repeat(unit, n), o).Grid, must(t, strings.Repeat(unit, n), o), Decode)
			if _, err := Encode(strings.Repeat(unit, n+1), o); err == nil {
				t.Errorf("%d x %d: %d of %q still fit", c.h, c.w, n+1, unit)
			}
		}
	}
}

// Rows of codewords that the encoder does not make.
func TestParse(t *testing.T) {
	for name, c := range map[string]struct {
		words []int
		want  string
		fnc1  string
		err   string
	}{
		"pad":                {[]int{66, 129, 70, 3}, "A", "", ""},
		"C40 to the end":     {[]int{230, 91, 11, 66}, "AIMA", "", ""}, // AIM is 14 22 26 and one: 23307
		"C40 and unlatch":    {[]int{230, 91, 11, 254, 66}, "AIMA", "", ""},
		"C40 half a triple":  {[]int{230, 91, 11}, "AIM", "", ""},
		"Base 256 to end":    {[]int{231, randomized(0, 2, 255), randomized('x', 3, 255)}, "x", "", ""},
		"Base 256 too long":  {[]int{231, randomized(3, 2, 255), 1}, "", "", "field of 3 bytes stands where 1 codewords"},
		"Base 256 nothing":   {[]int{231}, "", "", "ends within"},
		"Base 256 half":      {[]int{231, randomized(250, 2, 255)}, "", "", "ends within"},
		"EDIFACT short":      {[]int{240, 66, 67}, "AB", "", ""},
		"FNC1 second":        {[]int{66, 232, 67}, "AB", secondPosition, ""},
		"FNC1 third":         {[]int{66, 67, 232, 67}, "AB\x1dB", "", ""},
		"FNC1 after ?":       {[]int{64, 232, 67}, "?\x1dB", "", ""},
		"ECI 1 codeword":     {[]int{241, 8, 235, 0xB6 - 127}, "Ж", "", ""},
		"ECI 2 codewords":    {[]int{241, 131, 11, 235, 0xB6 - 127}, "¶", "", ""}, // 899
		"ECI unknown":        {[]int{241, 192, 1, 1, 66}, "", "", "016383, which is not known"},
		"ECI half":           {[]int{241, 131}, "", "", "ends within"},
		"ECI none":           {[]int{241, 208, 1, 1}, "", "", "no part of an interpretation"},
		"unlatch at the end": {[]int{66, 254}, "A", "", ""},
		"unlatch":            {[]int{66, 254, 66}, "", "", "codeword 254, number 2"},
		"macro late":         {[]int{66, 236}, "", "", "codeword 236, number 2"},
		"nought":             {[]int{0}, "", "", "codeword 0, number 1"},
		"upper of upper":     {[]int{235, 235}, "", "", "no character to shift"},
		"upper of nothing":   {[]int{235}, "", "", "ends within"},
		"append":             {[]int{233, 1, 1, 1, 66}, "", "", "structured append"},
		"programming":        {[]int{234, 66}, "", "", "sets up a reader"},
		"no triple":          {[]int{230, 255, 255}, "", "", "no three values"},
		"no set 2":           {[]int{230, (1*1600+28*40+1)>>8 | 0, (1*1600 + 28*40 + 1) & 0xFF}, "", "", "is none"},
	} {
		m, err := parse(c.words)
		got := ""
		if err == nil {
			got, err = m.Text()
		}
		if c.err != "" {
			if err == nil || !strings.Contains(err.Error(), c.err) {
				t.Errorf("%s: %q %v, want %s", name, got, err, c.err)
			}
		} else if err != nil || got != c.want || m.fnc1 != c.fnc1 {
			t.Errorf("%s: %q %q %v, want %q %q", name, got, m.fnc1, err, c.want, c.fnc1)
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
	}{
		{"", Options{}, "Data Matrix needs at least one character of text"},
		{"a\xff", Options{}, "Data Matrix: the text is not UTF-8; carry it as binary data"},
		{"a", Options{Shape: 3}, "Data Matrix: shape 3 is none"},
		{"a", Options{Rows: 11, Columns: 11}, "Data Matrix has no size of 11 x 11 modules and that shape: square ones are 10 x 10 to 144 x 144, rectangular ones 8 x 18, 8 x 32, 12 x 26, 12 x 36, 16 x 36 and 16 x 48"},
		{"a", Options{Rows: 12, Columns: 12, Shape: Rectangle}, "Data Matrix has no size of 12 x 12 modules and that shape: square ones are 10 x 10 to 144 x 144, rectangular ones 8 x 18, 8 x 32, 12 x 26, 12 x 36, 16 x 36 and 16 x 48"},
		{"12345678", Options{Rows: 10, Columns: 10}, "Data Matrix of 10 x 10 modules has 3 codewords, each of one character or two digits, and these 8 bytes do not fit: shorten the text or choose a larger size"},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%.10q %+v: %v, want %s", c.text, c.o, err, c.want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	full := symbol.NewGrid(10, 10)
	for i := range full.Dark {
		full.Dark[i] = true
	}
	for name, c := range map[string]struct {
		g    symbol.Grid
		want string
	}{
		"nothing": {symbol.Grid{}, "0 x 0 modules are no Data Matrix"},
		"unsound": {symbol.Grid{W: 10, H: 10}, "10 x 10 modules are no Data Matrix"},
		"no size": {symbol.NewGrid(10, 12), "12 x 10 modules are no size of Data Matrix"},
		// 36 modules frame it, 19 + 4 + 4 of them dark (arithmetic).
		"light": {symbol.NewGrid(10, 10), "Data Matrix: 27 of 36 modules of the finder and clock tracks are wrong"},
		"dark":  {full, "Data Matrix block 1 of 1: more errors than the check symbols can correct"},
	} {
		if _, err := Decode(c.g); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

func FuzzEncode(f *testing.F) {
	f.Add("123456", uint8(0), false, false)
	f.Add("Łódź", uint8(1), false, false)
	f.Add("0104012345123456\x1d10ABC*", uint8(2), false, true)
	f.Add("\xff\x00ABCDEFG1234", uint8(0), true, false)
	f.Add("ABCDEFGabcdefg^^^^^\r>*A>*", uint8(0), false, false)
	f.Fuzz(func(t *testing.T, text string, shape uint8, binary, gs1 bool) {
		s, err := Encode(text, Options{Shape: Shape(shape % 3), Binary: binary, GS1: gs1})
		if err == nil {
			symboltest.ReadsAs(t, s.Grid, s, Decode)
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzGrid(f, []symbol.Matrix{
		must(f, "123456", Options{}), must(f, "ABCDEFGabcdefg*>*>^^^^^", Options{}),
		must(f, "Łódź 42", Options{Shape: Rectangle}), must(f, strings.Repeat("\xfe", 300), Options{Binary: true}),
	}, Decode)
}

func BenchmarkEncode(b *testing.B) {
	for b.Loop() {
		if _, err := Encode("https://sundhaven.example/pass/0042", Options{Rows: 48, Columns: 48}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	s := must(b, "https://sundhaven.example/pass/0042", Options{Rows: 48, Columns: 48})
	g, _ := symboltest.Spoil(rand.New(rand.NewPCG(1, 1)), s, func(symbol.Block) int { return 4 })
	for b.Loop() {
		if _, err := Decode(g); err != nil {
			b.Fatal(err)
		}
	}
}
