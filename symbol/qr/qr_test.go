package qr

import (
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
	example := Options{Level: M}
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"qr": func(t *testing.T, v symboltest.Vector) string {
			return rows(must(t, v.Input[:8], example).Grid)
		},
		"qr-codewords": func(t *testing.T, v symboltest.Vector) string {
			_, data, err := pack(v.Input[:8], eci.Default, example)
			if err != nil {
				t.Fatal(err)
			}
			words := protect(data, 1, M)
			return strings.ToUpper(fmt.Sprintf("% x | % x", bytesOf(words[:16]), bytesOf(words[16:])))
		},
		"qr-format": func(*testing.T, symboltest.Vector) string {
			return fmt.Sprintf("%015b", formatWord(M, 2))
		},
	})
}

func bytesOf(words []int) (b []byte) {
	for _, w := range words {
		b = append(b, byte(w))
	}
	return b
}

// ISO/IEC 18004 Table 7, some of its rows (from memory): the bytes that the
// smallest and the largest versions hold.
func TestCapacity(t *testing.T) {
	for _, c := range []struct {
		version                int
		level                  Level
		digits, letters, bytes int
	}{
		{1, L, 41, 25, 17}, {1, M, 34, 20, 14}, {1, Q, 27, 16, 11}, {1, H, 17, 10, 7},
		{10, L, 652, 395, 271}, {27, H, 1501, 910, 625},
		{40, L, 7089, 4296, 2953}, {40, M, 5596, 3391, 2331}, {40, Q, 3993, 2420, 1663}, {40, H, 3057, 1852, 1273},
	} {
		for unit, n := range map[string]int{"7": c.digits, "A": c.letters, "b": c.bytes} {
			want := fmt.Sprintf("version %d-%v", c.version, c.level)
			if s := must(t, strings.Repeat(unit, n), Options{Level: c.level}); !strings.HasPrefix(s.Spec, want+",") {
				t.Errorf("%d %s: %s, want %s", n, unit, s.Spec, want)
			}
			if s, err := Encode(strings.Repeat(unit, n+1), Options{Level: c.level}); err == nil && strings.HasPrefix(s.Spec, want+",") {
				t.Errorf("%d %s still fit %s", n+1, unit, want)
			}
		}
	}
}

// The two information codes keep their words 7 and 8 bits apart, so that 3 wrong
// bits can be mended. ISO/IEC 18004 Annexes C and D (from memory).
func TestInformationDistance(t *testing.T) {
	var formats, infos []int
	for i := range 4 * masks {
		formats = append(formats, formatWord(Level(i/masks), i%masks))
	}
	for v := 7; v <= versions; v++ {
		infos = append(infos, versionWord(v))
	}
	for name, words := range map[string][]int{"format": formats, "version": infos} {
		for i, w := range words {
			for bit := range 3 {
				if got, ok := nearest(words, 1<<20-1, w^1<<bit^1<<7^1<<11); !ok || got != i {
					t.Errorf("%s %d with 3 bits wrong read as %d, %v", name, i, got, ok)
				}
			}
		}
	}
}

// every draws a symbol of every version and level, with every mask.
func every(t testing.TB, each func(s symbol.Matrix, version int, level Level)) {
	for v := 1; v <= versions; v++ {
		for level := L; level <= H; level++ {
			o := Options{Level: level, Least: v, Masks: []int{(v + int(level)) % masks}}
			each(must(t, fmt.Sprintf("V%d%v", v, level), o), v, level)
		}
	}
}

func TestLayout(t *testing.T) {
	every(t, func(s symbol.Matrix, version int, level Level) {
		left := len(lay(version).order) - 8*total(version)
		symboltest.WholeLayout(t, s.Grid, s.Layout, 8, left)
		parts := 3 + 2 + 2 + 1 + len(centres(version))*len(centres(version))
		if version > 1 {
			parts -= 3
		}
		if version >= 7 {
			parts += 2
		}
		// Remainder bits of ISO/IEC 18004 Table 1 (from memory).
		if len(s.Parts) != parts || !slices.Contains([]int{0, 3, 4, 7}, left) {
			t.Errorf("version %d: %d parts, want %d; %d bits left", version, len(s.Parts), parts, left)
		}
		if got, want := s.W, 17+4*version; got != want || s.H != want {
			t.Errorf("version %d: %d modules", version, got)
		}
	})
}

func TestReadsAnyWay(t *testing.T) {
	every(t, func(s symbol.Matrix, version int, level Level) {
		if version <= 8 || version == 40 && level == M {
			symboltest.AnyWay(t, s, Decode)
		} else {
			symboltest.ReadsAs(t, s.Grid, s, Decode)
		}
	})
}

func TestMends(t *testing.T) {
	// Most of the versions drawn here spare no check codeword, but for four or more
	// errors a block a wrong reading is rarer than 1 in 4!.
	symboltest.Mends(t, 300, 6, func(r *rand.Rand) symbol.Matrix {
		return must(t, "Sundhaven 0042", Options{Level: Level(r.IntN(4)), Least: 1 + r.IntN(12), Masks: []int{r.IntN(8)}})
	}, Decode)
}

// The version and format information count for nothing where three bits of each
// copy are wrong, and stop the reading where both copies have four.
func TestInformationDamage(t *testing.T) {
	s := must(t, "Sundhaven", Options{Least: 7})
	l := lay(7)
	for name, copies := range map[string][2][]int32{"format": {l.format[0][:], l.format[1][:]}, "version": {l.info[0][:], l.info[1][:]}} {
		for wrong := range 8 {
			g := symbol.Grid{W: s.W, H: s.H, Dark: slices.Clone(s.Dark)}
			for _, modules := range copies {
				for _, m := range modules[:wrong] {
					g.Dark[m] = !g.Dark[m]
				}
			}
			r, err := Decode(g)
			if wrong <= 3 && (err != nil || !r.Truth.Equal(s.Grid) || r.Text != s.Text) {
				t.Errorf("%s with %d bits wrong: %v", name, wrong, err)
			}
			if wrong == 4 && (err == nil || !strings.Contains(err.Error(), "neither copy of the "+name)) {
				t.Errorf("%s with %d bits wrong: %v", name, wrong, err)
			}
		}
	}
}

// What a reader takes for text, by the symbol's own words.
func TestText(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
		spec string
	}{
		{"Fähre nach Łódź", Options{}, "Fähre nach Łódź", ""},
		{"Fähre", Options{Binary: true}, "Fähre", ""},
		{"F\xe4hre", Options{Binary: true}, "Fähre", ""},
		{"0104012345123456\x1d10AB%12\x1d21X", Options{GS1: true}, "0104012345123456\x1d10AB%12\x1d21X", ", FNC1 in first position (GS1)"},
		{"10AB\x1d21XYZ", Options{GS1: true}, "10AB\x1d21XYZ", ", FNC1 in first position (GS1)"},
		{"\x00\xff", Options{Binary: true}, "\x00ÿ", ""},
	} {
		s := must(t, c.text, c.o)
		symboltest.ReadsAs(t, s.Grid, s, Decode)
		if s.Text != c.want || string(s.Data) != c.text || !strings.HasSuffix(s.Spec, c.spec) {
			t.Errorf("%q: %q %q %s", c.text, s.Data, s.Text, s.Spec)
		}
	}
}

// Streams that the encoder does not make, each as a version 1-L or larger holds it.
func TestParse(t *testing.T) {
	type f struct{ value, bits int }
	for name, c := range map[string]struct {
		fields []f
		want   string
		fnc1   string
		err    string
	}{
		// 点 and 茗 are the examples of ISO/IEC 18004 7.4.6 (from memory).
		"kanji":           {[]f{{8, 4}, {2, 8}, {0x0D9F, 13}, {0x1AAA, 13}, {0, 4}}, "点茗", "", ""},
		"kanji and bytes": {[]f{{4, 4}, {1, 8}, {'a', 8}, {8, 4}, {1, 8}, {0x0D9F, 13}}, "a点", "", ""},
		"no terminator":   {[]f{{1, 4}, {1, 10}, {7, 4}, {0, 3}}, "7", "", ""},
		"ECI 3":           {[]f{{7, 4}, {3, 8}, {4, 4}, {1, 8}, {0xE9, 8}, {0, 4}}, "é", "", ""},
		"ECI of 2 bytes":  {[]f{{7, 4}, {0x8000 | 899, 16}, {4, 4}, {1, 8}, {0xE9, 8}, {0, 4}}, "é", "", ""},
		"ECI of 3 bytes":  {[]f{{7, 4}, {0xC00000 | 7, 24}, {4, 4}, {1, 8}, {0xB6, 8}, {0, 4}}, "Ж", "", ""},
		"ECI unknown":     {[]f{{7, 4}, {100, 8}, {4, 4}, {1, 8}, {0xE9, 8}, {0, 4}}, "", "", "000100, which is not known here"},
		"ECI unfinished":  {[]f{{7, 4}, {0xFF, 8}}, "", "", "ends within"},
		"two sets":        {[]f{{7, 4}, {26, 8}, {4, 4}, {2, 8}, {0xC3, 8}, {0xA9, 8}, {7, 4}, {4, 8}, {4, 4}, {1, 8}, {0xA3, 8}, {0, 4}}, "éŁ", "", ""},
		"FNC1 and %":      {[]f{{5, 4}, {2, 4}, {5, 9}, {38*45 + 38, 11}, {10*45 + 38, 11}, {11, 6}, {0, 4}}, "%A\x1dB", firstPosition, ""},
		"FNC1 second":     {[]f{{9, 4}, {37, 8}, {4, 4}, {1, 8}, {'x', 8}, {0, 4}}, "x", secondPosition + "37", ""},
		"FNC1 letter":     {[]f{{9, 4}, {'A' + 100, 8}, {4, 4}, {1, 8}, {'x', 8}, {0, 4}}, "x", secondPosition + "'A'", ""},
		"append":          {[]f{{3, 4}, {0x01, 8}, {0, 8}, {0, 4}}, "", "", "structured append"},
		"no mode":         {[]f{{6, 4}, {0, 8}}, "", "", "0110 names no mode"},
		"short":           {[]f{{4, 4}, {9, 8}, {0, 8}}, "", "", "ends within"},
		"no digits":       {[]f{{1, 4}, {3, 10}, {1000, 10}}, "", "", "1000 stands where 3 digits"},
		"no letters":      {[]f{{2, 4}, {2, 9}, {2025, 11}}, "", "", "2025 stands where alphanumeric"},
		"no letter":       {[]f{{2, 4}, {1, 9}, {45, 6}}, "", "", "45 stands where alphanumeric"},
	} {
		var b bitWriter
		for _, x := range c.fields {
			b.put(x.value, x.bits)
		}
		m, err := parse(codewords(b.bits, (len(b.bits)+7)/8), 0)
		text := ""
		if err == nil {
			text, err = m.Text()
		}
		if c.err != "" {
			if err == nil || !strings.Contains(err.Error(), c.err) {
				t.Errorf("%s: %v, want %s", name, err, c.err)
			}
		} else if err != nil || text != c.want || m.fnc1 != c.fnc1 {
			t.Errorf("%s: %q %q %v, want %q %q", name, text, m.fnc1, err, c.want, c.fnc1)
		}
	}
}

// Least bits: every way to split short data, against the one chosen.
func TestLeastBits(t *testing.T) {
	for _, alphabet := range []string{"0A", "0Ab", "1b"} {
		for _, text := range symboltest.Texts(11, 40, 10, alphabet) {
			for span := range 3 {
				if got, least := cost(split(text, span, false), span), least(text, span); got != least {
					t.Fatalf("%q, range %d: %d bits, least %d", text, span, got, least)
				}
			}
		}
	}
	// And long runs, where the heads are worth it.
	for _, text := range []string{"b012345678901234567890b", "ABCDEFGHIJ0123456789012abc", strings.Repeat("A", 40) + strings.Repeat("1", 40)} {
		if n := len(split(text, 0, false)); n != strings.Count(text, "b012")*2+strings.Count(text, "2abc")*2+strings.Count(text, "A1")+1 {
			t.Errorf("%q: %d segments", text, n)
		}
	}
}

func cost(segments []segment, span int) (n int) {
	for _, s := range segments {
		n += indicatorIs + counts[s.mode][span] + s.bits()
	}
	return n
}

// least tries every split.
func least(text string, span int) int {
	if text == "" {
		return 0
	}
	best := 1 << 30
	for n := 1; n <= len(text); n++ {
		for m := range kanji {
			fits := !slices.ContainsFunc([]byte(text[:n]), func(c byte) bool { return m.value(c, false) < 0 })
			if head := cost([]segment{{m, text[:n]}}, span); fits && head < best {
				best = min(best, head+least(text[n:], span))
			}
		}
	}
	return best
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
	}{
		{"", Options{}, "QR code needs at least one character of text"},
		{"a\xff", Options{}, "QR code: the text is not UTF-8; carry it as binary data"},
		{"10A\x1d\x1d21B", Options{GS1: true}, "QR code: two separators (GS) stand side by side in GS1 data: leave one out"},
		{"a", Options{Level: 4}, "QR code: level 4 or least version 0 is none: levels are L, M, Q, H, versions 1 to 40"},
		{"a", Options{Least: 41}, "QR code: level 0 or least version 41 is none: levels are L, M, Q, H, versions 1 to 40"},
		{"a", Options{Masks: []int{8}}, "QR code: mask pattern 8 is none: they are 0 to 7"},
		{strings.Repeat("b", 1274), Options{Level: H}, "QR code at level H holds 1273 bytes, or more where they are digits and capital letters, and these 1274 bytes do not fit: shorten the text or choose a lower level"},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%.10q %+v: %v, want %s", c.text, c.o, err, c.want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	full := symbol.NewGrid(21, 21)
	for i := range full.Dark {
		full.Dark[i] = true
	}
	other := must(t, "a", Options{Least: 8})
	l := lay(8)
	for _, modules := range l.info {
		for bit, m := range modules {
			other.Dark[m] = versionWord(9)>>bit&1 == 1
		}
	}
	for name, c := range map[string]struct {
		g    symbol.Grid
		want string
	}{
		"nothing":       {symbol.Grid{}, "0 x 0 modules are no QR code: it has 21, 25, 29 ... 177 a side"},
		"unsound":       {symbol.Grid{W: 21, H: 21}, "21 x 21 modules are no QR code: it has 21, 25, 29 ... 177 a side"},
		"oblong":        {symbol.NewGrid(21, 25), "21 x 25 modules are no QR code: it has 21, 25, 29 ... 177 a side"},
		"light":         {symbol.NewGrid(21, 21), "QR code: 106 of 203 modules of the fixed patterns are wrong"},
		"dark":          {full, "QR code: 97 of 203 modules of the fixed patterns are wrong"},
		"other version": {other.Grid, "QR code: the version information says version 9, and 49 modules a side are version 8"},
	} {
		if _, err := Decode(c.g); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

func FuzzEncode(f *testing.F) {
	f.Add("01234567", uint8(1), 0, false, false)
	f.Add("Łódź", uint8(0), 0, false, false)
	f.Add("10A\x1d%", uint8(3), 7, false, true)
	f.Add("\xff\x00", uint8(2), 2, true, false)
	f.Fuzz(func(t *testing.T, text string, level uint8, least int, binary, gs1 bool) {
		s, err := Encode(text, Options{Level: Level(level % 4), Least: least % 10, Masks: []int{int(level) % 8}, Binary: binary, GS1: gs1})
		if err == nil {
			symboltest.ReadsAs(t, s.Grid, s, Decode)
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzGrid(f, []symbol.Matrix{must(f, "01234567", Options{Level: M}), must(f, "Łódź 0042", Options{Least: 7})}, Decode)
}

func BenchmarkEncode(b *testing.B) { // 49 modules a side
	for b.Loop() {
		if _, err := Encode("https://sundhaven.example/pass/0042", Options{Least: 8}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) { // 49 modules a side, a tenth of what can be mended
	s := must(b, "https://sundhaven.example/pass/0042", Options{Least: 8, Level: M})
	g, _ := symboltest.Spoil(rand.New(rand.NewPCG(1, 1)), s, func(symbol.Block) int { return 2 })
	for b.Loop() {
		if _, err := Decode(g); err != nil {
			b.Fatal(err)
		}
	}
}
