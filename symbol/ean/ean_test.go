package ean

import (
	"fmt"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

// sort is one of the four symbologies.
type sort struct {
	name   string
	digits int // without the check digit
	encode func(string, Options) (symbol.Logical, error)
	decode symboltest.Decoder
	zint   string // its number there
}

var sorts = []sort{
	{"EAN-13", 12, Encode13, Decode13, "13"},
	{"UPC-A", 11, EncodeA, DecodeA, "34"},
	{"EAN-8", 7, Encode8, Decode8, "13"},
	{"UPC-E", 7, EncodeE, DecodeE, "37"},
}

func (s sort) plain(text string) (symbol.Logical, error) { return s.encode(text, Options{}) }

// texts are random texts without their check digits.
func (s sort) texts(seed uint64, count int) (texts []string) {
	const digits = "0123456789"
	for i := uint64(0); len(texts) < count; i++ {
		text := ""
		for _, d := range symboltest.Texts(seed<<32+i, s.digits, 1, digits) {
			text += d
		}
		if s.name == "UPC-E" {
			text = string('0'+text[0]%2) + text[1:]
			if short, ok := compress(expand(text)); !ok || short != text {
				continue
			}
		}
		texts = append(texts, text)
	}
	return texts
}

func TestVectors(t *testing.T) {
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"ean13": symboltest.Drawn(sorts[0].plain),
		"upca":  symboltest.Drawn(sorts[1].plain),
		"upce":  symboltest.Drawn(sorts[3].plain),
		"ean-mod10": func(t *testing.T, v symboltest.Vector) string {
			if len(v.Input) == 7 {
				return symboltest.Added(sorts[2].plain)(t, v)
			}
			return symboltest.Added(sorts[0].plain)(t, v)
		},
		"ean-table": func(*testing.T, symboltest.Vector) string {
			var sets []string
			for s, name := range "ABC" {
				first := 1 - s/int(setC) // the first bar
				bars := func(d int) int { return int(units[s][d][first] + units[s][d][first+2]) }
				sets = append(sets, fmt.Sprintf("%c %d/%d,%d/%d", name, bars(1), bars(7), bars(2), bars(8)))
			}
			return "bars " + strings.Join(sets, "; ")
		},
	})
}

// Seven modules, elements of 1 to 4; within what may begin alike, only 1 and 7, 2
// and 8 of one set share their sums (computed in the row ean-table).
func TestTable(t *testing.T) {
	for start, sets := range [][]int{{int(setA), int(setB)}, {int(setC)}} {
		keys := map[int]string{}
		for _, s := range sets {
			for d, u := range units[s] {
				if n := u[0] + u[1] + u[2] + u[3]; n != modules {
					t.Errorf("set %d digit %d: %d modules", s, d, n)
				}
				name := fmt.Sprintf("%c%d", "ABC"[s], d)
				key := symbol.KeyOf(u, sums)
				if before, twice := keys[key]; twice && !(before[:1] == name[:1] && strings.Contains("17 28", before[1:]+name[1:])) {
					t.Errorf("%s and %s share a key", before, name)
				}
				keys[key] = name
				if got := digits[start][key]; !got.known || got.value/10 != s {
					t.Errorf("%s: %+v", name, got)
				}
			}
		}
	}
}

// The patterns are those of zint (2.11.1), and it takes and refuses the same
// UPC-E.
func TestZintDrawsTheSame(t *testing.T) {
	for i, s := range sorts {
		texts := s.texts(uint64(i+1), 500)
		for k, got := range symboltest.Zint(t, texts, "-b", s.zint) {
			if want := symboltest.Modules(t, symboltest.Must(t, texts[k], s.plain), 0, 0); got != want {
				t.Errorf("%s %q:\nzint %s\nours %s", s.name, texts[k], got, want)
			}
		}
	}
}

// zint's refusals (2.11.1), one of each of its errors, and what lies beside them.
func TestShortFormsOfUPC(t *testing.T) {
	for short, full := range map[string]string{
		"0120013": "", "0123004": "", "0123405": "", "1123405": "", // refused by zint
		"0123013": "01230000001", "0123404": "01234000000", "0120304": "01203000000", "0123445": "01234400005",
		"0123400": "01200000340", "0000000": "00000000000", "1123459": "11234500009", "0123452": "01220000345",
	} {
		l, err := EncodeE(short, Options{})
		if full == "" {
			if err == nil || !strings.Contains(err.Error(), "whose short form is") {
				t.Errorf("%s: %+v, %v", short, l, err)
			}
			continue
		}
		if err != nil || expand(short) != full {
			t.Errorf("%s: %s, %v; want %s", short, expand(short), err, full)
			continue
		}
		for _, long := range []string{full, full + string(symbol.Mod10(full))} {
			if again := symboltest.Must(t, long, sorts[3].plain); again.Text != l.Text {
				t.Errorf("%s: %s from %s", short, again.Text, long)
			}
		}
	}
}

// Every UPC-A number that has zeros to leave out gives them back.
func TestCompressIsUndoneByExpand(t *testing.T) {
	for _, s := range sorts[3].texts(9, 2000) {
		if again, ok := compress(expand(s)); !ok || again != s {
			t.Errorf("%s: %s", s, again)
		}
	}
	for _, full := range []string{"21200000345", "01234567890", "01234100004", "01234000012", "01234500004"} {
		if short, ok := compress(full); ok {
			t.Errorf("%s has the short form %s", full, short)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for i, s := range sorts {
		for k, text := range s.texts(uint64(i+20), 500) {
			l := symboltest.Must(t, text, s.plain)
			if l.Text[:len(text)] != text || len(l.Text) != len(text)+1 {
				t.Fatalf("%s %q carries %q", s.name, text, l.Text)
			}
			symboltest.Ideal(t, l, symbol.Size{X: 1 + k%6}, s.decode)
			for _, o := range []Options{{}, {Check: true, Given: true}} {
				if again, err := s.encode(l.Text, o); err != nil || fmt.Sprint(again) != fmt.Sprint(l) {
					t.Fatalf("%s %q with its check digit: %v, %v", s.name, l.Text, again, err)
				}
			}
			if again, err := s.encode(text, Options{Check: true}); err != nil || again.Text != l.Text {
				t.Fatalf("%s %q: %v", s.name, text, err)
			}
		}
	}
}

// A UPC-A is an EAN-13 that begins with 0, and only that.
func TestUPCAIsEAN13(t *testing.T) {
	a := symboltest.Must(t, "012345678905", sorts[1].plain)
	r, err := Decode13(dots(t, a))
	if err != nil || r.Text != "0012345678905" {
		t.Errorf("UPC-A as EAN-13: %q, %v", r.Text, err)
	}
	r, err = DecodeA(dots(t, symboltest.Must(t, "451234567890", sorts[0].plain)))
	if want := `"4512345678906" is an EAN-13 and no UPC-A, which it would be with a 0 in front`; err == nil || err.Error() != want || r.Text != "" {
		t.Errorf("EAN-13 as UPC-A: %q, %v", r.Text, err)
	}
}

func dots(t testing.TB, l symbol.Logical) []float64 {
	t.Helper()
	w, err := l.Widths(symbol.Size{X: 2})
	if err != nil {
		t.Fatal(err)
	}
	return symboltest.Floats(w)
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		sort int
		text string
		o    Options
		want string
	}{
		{0, "", Options{}, `EAN-13 needs 12 digits, or 13 with the check digit, but "" has 0: correct the text`},
		{0, "45123456789", Options{}, `EAN-13 needs 12 digits, or 13 with the check digit, but "45123456789" has 11: correct the text`},
		{0, "4512345678905", Options{}, `"4512345678905" ends in "5", but its modulo 10 check digit is "6": correct the text, or leave the check digit out and have it added`},
		{0, "4512345678906", Options{Check: true}, `EAN-13 needs 12 digits, to which a check digit is added, but "4512345678906" has 13: correct the text`},
		{0, "451234567890", Options{Check: true, Given: true}, `EAN-13 needs 13 digits, the check digit last, but "451234567890" has 12: correct the text`},
		{0, "45123456789O", Options{}, `EAN-13 cannot carry 'O' (U+004F), character 12 of "45123456789O": it carries digits and nothing else`},
		{1, "45123456789٣", Options{}, `UPC-A cannot carry '٣' (U+0663), character 12 of "45123456789٣": it carries digits and nothing else`},
		{2, "123456", Options{}, `EAN-8 needs 7 digits, or 8 with the check digit, but "123456" has 6: correct the text`},
		{3, "123456", Options{}, `UPC-E needs 7 digits, or 8 with the check digit, but "123456" has 6: correct the text`},
		{3, "2123456", Options{}, `UPC-E "2123456" begins with "2": its number system must be 0 or 1`},
		{3, "0120013", Options{}, `UPC-E "0120013" stands for the UPC-A number "01200000001", whose short form is "0120010": use that`},
		{3, "00123456", Options{}, `"00123456" ends in "6", but its modulo 10 check digit is "7": correct the text, or leave the check digit out and have it added`},
		{3, "012345678905", Options{}, `UPC-E cannot carry "012345678905": it leaves out zeros that this number does not have; use UPC-A`},
		{3, "0123456789", Options{}, `UPC-A needs 11 digits, or 12 with the check digit, but "0123456789" has 10: correct the text`},
	} {
		if _, err := sorts[c.sort].encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%q %+v: %v, want %s", c.text, c.o, err, c.want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	changed := func(sort int, text string, at int, units ...uint8) []float64 {
		l := symboltest.Must(t, text, sorts[sort].plain)
		copy(l.Units[at:], units)
		return dots(t, l)
	}
	const text = "451234567890"
	uneven := func(digits, at int, by float64) []float64 {
		w := changed(0, text, 0)
		for i := range digits * elements {
			w[3+at*elements+i] *= by
		}
		return w
	}
	thin := changed(0, text, 0)
	copy(thin[3:], []float64{1, 1, 6, 6})
	for _, c := range []struct {
		sort   int
		widths []float64
		want   string
	}{
		{0, nil, "0 elements are not an EAN-13 symbol, which has 59"},
		{2, changed(0, text, 0), "59 elements are not an EAN-8 symbol, which has 43"},
		{3, changed(2, "9501234", 0), "43 elements are not an UPC-E symbol, which has 33"},
		{0, scaled(changed(0, text, 0, 4), 58, 4), "EAN-13: no start pattern"},
		{0, changed(0, text, 3+4*6, 1, 4), "EAN-13: the guard pattern after 6 digits does not fit"},
		{0, changed(0, text, 57, 4), "EAN-13: the guard pattern after 12 digits does not fit"},
		{3, changed(3, "0012345", 31, 4), "UPC-E: the guard pattern after 6 digits does not fit"},
		{0, uneven(2, 2, 1.4), "EAN-13: its digits differ in width by more than 30 %"},
		{0, thin, "EAN-13 digit 1: its widths fit no pattern"},
		{0, changed(0, text, 3, units[setB][5]...), "EAN-13: its digits stand in number sets that do not go together"},
		{0, changed(0, text, 3, units[setA][6]...), "EAN-13: the check digit is 6, the digits ask for 3"},
		{2, changed(2, "9501234", 3, units[setB][9]...), "EAN-8: its digits stand in number sets that do not go together"},
	} {
		if r, err := sorts[c.sort].decode(c.widths); err == nil || err.Error() != c.want || r.Values != nil {
			t.Errorf("%+v %v, want %s", r, err, c.want)
		}
	}
}

func scaled(w []float64, i int, by float64) []float64 {
	w[i] *= by
	return w
}

// Scanned backwards, no symbol reads as another.
func TestEitherEndIsUnmistakable(t *testing.T) {
	for i, s := range sorts {
		for _, text := range s.texts(uint64(i+40), 5000) {
			l := symboltest.Must(t, text, s.plain)
			w := dots(t, l)
			for a, b := 0, len(w)-1; a < b; a, b = a+1, b-1 {
				w[a], w[b] = w[b], w[a]
			}
			if r, err := s.decode(w); err != nil || r.Text != l.Text || !r.Reversed {
				t.Fatalf("%s %q read backwards: %q, %v", s.name, l.Text, r.Text, err)
			}
		}
	}
}

// Whichever element is damaged, the more it grows or shrinks the less is left,
// until nothing or nothing right is read.
func TestDamageLowersDecodability(t *testing.T) {
	for _, s := range sorts {
		l := symboltest.Must(t, s.texts(77, 1)[0], s.plain)
		symboltest.Damage(t, l, s.decode)
	}
}

// Uniform growth leaves edge-to-similar-edge sums alone; where a 1, 2, 7 or 8
// stands, its two bars grow by 2g of the one module between it and the other:
// arithmetic from the formula, kept as a regression.
func TestGrowthRegression(t *testing.T) {
	with := symboltest.Must(t, "451234567890", sorts[0].plain)
	without := symboltest.Must(t, "345695640394", sorts[0].plain)
	for _, g := range []float64{.1, .2, .3, .4, -.1, -.3} {
		if v, ok := symboltest.Grown(t, with, 0, g, Decode13); !ok || v < 1-2*max(g, -g)-1e-9 || v > 1-2*max(g, -g)+1e-9 {
			t.Errorf("growth %.2f: %.3f", g, v)
		}
		if v, ok := symboltest.Grown(t, without, 0, g, Decode13); !ok || v < 1-1e-9 {
			t.Errorf("growth %.2f without 1, 2, 7 and 8: %.3f", g, v)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, text := range []string{"451234567890", "01234567890", "9501234", "0012345", "", "é", "012345678905"} {
		f.Add(text, uint8(3), true, false)
	}
	f.Fuzz(func(t *testing.T, text string, which uint8, check, given bool) {
		s := sorts[int(which)%len(sorts)]
		if l, err := s.encode(text, Options{check, given}); err == nil {
			symboltest.Ideal(t, l, symbol.Size{X: 2}, s.decode)
		}
	})
}

func FuzzDecode13(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "451234567890", sorts[0].plain), Decode13)
}

func FuzzDecodeA(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "01234567890", sorts[1].plain), DecodeA)
}

func FuzzDecode8(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "9501234", sorts[2].plain), Decode8)
}

func FuzzDecodeE(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "0012345", sorts[3].plain), DecodeE)
}

func BenchmarkEncode13(b *testing.B) {
	for b.Loop() {
		if _, err := Encode13("451234567890", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode13(b *testing.B) {
	w := dots(b, symboltest.Must(b, "451234567890", sorts[0].plain))
	for b.Loop() {
		if _, err := Decode13(w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecodeE(b *testing.B) {
	w := dots(b, symboltest.Must(b, "0012345", sorts[3].plain))
	for b.Loop() {
		if _, err := DecodeE(w); err != nil {
			b.Fatal(err)
		}
	}
}
