package itf

import (
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

func encoder(o Options) func(string) (symbol.Logical, error) {
	return func(text string) (symbol.Logical, error) { return Encode(text, o) }
}

func decoder(o Options) symboltest.Decoder {
	return func(w []float64) (symbol.Reading, error) { return Decode(w, o) }
}

// rows are random rows of digits whose count is even, or odd where a check digit
// is to make it so.
func rows(seed uint64, count, longest int, o Options) []string {
	texts := symboltest.Texts(seed, count, longest, "0123456789")
	for i, s := range texts {
		if (len(s)%2 == 1) != (o.Check != NoCheck) {
			texts[i] = s + "7"
		}
	}
	return texts
}

func TestVectors(t *testing.T) {
	bare := func(text string) (symbol.Logical, error) { return Encode(text, Options{}) }
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"itf": symboltest.Drawn(bare),
		"itf14": func(t *testing.T, v symboltest.Vector) string {
			digits, check, _ := strings.Cut(v.Input, " + check ")
			if l := symboltest.Must(t, digits, encoder(Options{Check: Mod10})); l.Text != digits+check {
				t.Errorf("%s: carries %s", v.Input, l.Text)
			}
			return symboltest.Drawn(bare)(t, v)
		},
		"itf-mod10": func(t *testing.T, v symboltest.Vector) string {
			// One row has an even count of digits, so it is padded as its note says.
			if len(v.Input)%2 == 0 {
				v.Input = "0" + v.Input
			}
			return symboltest.Added(encoder(Options{Check: Mod10}))(t, v)
		},
		"itf-luhn-variant": symboltest.Added(encoder(Options{Check: Luhn})),
	})
}

// Two of five elements are wide in every digit, and no two digits are alike: the
// symbology's name.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for v, p := range patterns {
		if len(p) != digit || strings.Count(p, "2") != 2 || strings.Count(p, "1") != 3 || seen[p] {
			t.Errorf("digit %d: %s", v, p)
		}
		seen[p] = true
	}
}

// The patterns are those of zint (2.11.1), wide 3 modules, bare and with its
// modulo 10 check digit.
func TestZintDrawsTheSame(t *testing.T) {
	for _, c := range []struct {
		o    Options
		args []string
	}{
		{Options{}, []string{"-b", "3"}},
		{Options{Check: Mod10}, []string{"-b", "3", "--vers=1"}},
	} {
		texts := rows(25, 300, 30, c.o)
		for i, got := range symboltest.Zint(t, texts, c.args...) {
			if want := symboltest.Modules(t, symboltest.Must(t, texts[i], encoder(c.o)), 3, 0); got != want {
				t.Errorf("%+v %q:\nzint %s\nours %s", c.o, texts[i], got, want)
			}
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for _, check := range []Check{NoCheck, Mod10, Luhn} {
		o := Options{Check: check}
		for i, text := range rows(uint64(check), 300, 60, o) {
			l := symboltest.Must(t, text, encoder(o))
			x := 1 + i%6
			symboltest.Ideal(t, l, symbol.Size{X: x, Wide: 2*x + i%(x+1)}, decoder(o))
			if check == NoCheck {
				continue
			}
			again := symboltest.Must(t, l.Text, encoder(Options{Check: check, Given: true}))
			if len(l.Text) != len(text)+1 || !slices.Equal(again.Units, l.Units) {
				t.Fatalf("%q carries %q, given %q", text, l.Text, again.Text)
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
		{"", Options{}, "Interleaved 2 of 5 needs at least two digits"},
		{"12A4", Options{}, `Interleaved 2 of 5 cannot carry 'A' (U+0041), character 3 of "12A4": it carries the digits 0 to 9 and nothing else`},
		{"1٣", Options{}, `Interleaved 2 of 5 cannot carry '٣' (U+0663), character 2 of "1٣": it carries the digits 0 to 9 and nothing else`},
		{"123", Options{}, `Interleaved 2 of 5 codes digits in pairs, and "123" with no check digit makes 3: put a zero before it, or add a check digit`},
		{"1234", Options{Check: Luhn}, `Interleaved 2 of 5 codes digits in pairs, and "1234" with Luhn makes 5: put a zero before it`},
		{"15400141288760", Options{Check: Mod10, Given: true}, `"15400141288760" ends in "0", but its modulo 10 check digit is "3": correct the text, or leave the check digit out and have it added`},
		{"0", Options{Check: Mod10, Given: true}, `"0" ends in "0", but its modulo 10 check digit is "0": correct the text, or leave the check digit out and have it added`},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%q %+v: %v, want %s", c.text, c.o, err, c.want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	widths := func(at int, units string) []float64 {
		l := symboltest.Must(t, "602003", encoder(Options{}))
		copy(l.Units[at:], symbol.Units(units))
		dots, err := l.Widths(symbol.Size{X: 2, Wide: 5})
		if err != nil {
			t.Fatal(err)
		}
		return symboltest.Floats(dots)
	}
	const end = 4 + 3*elements
	for _, c := range []struct {
		name   string
		widths []float64
		want   string
	}{
		{"nothing", nil, "0 elements are not an Interleaved 2 of 5 symbol, which has ten for each pair of digits and seven more"},
		{"start and stop only", widths(0, "")[:7], "7 elements are not an Interleaved 2 of 5 symbol, which has ten for each pair of digits and seven more"},
		{"no start", widths(0, "2111"), "Interleaved 2 of 5: no start pattern"},
		{"no stop", widths(end, "111"), "Interleaved 2 of 5: the stop pattern does not fit"},
		{"one wide bar", widths(4+2, "1"), "Interleaved 2 of 5 pair 1: 1 wide bars where two belong"},
		{"no wide bar", widths(4+elements, "1212121111"), "Interleaved 2 of 5 pair 2: 0 wide bars where two belong"},
		{"three wide bars", widths(4+elements, "2121211111"), "Interleaved 2 of 5 pair 2: 3 wide bars where two belong"},
		{"three wide spaces", widths(4+elements, "2221121211"), "Interleaved 2 of 5 pair 2: 3 wide spaces where two belong"},
	} {
		if _, err := Decode(c.widths, Options{}); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func TestWrongCheckIsAFinding(t *testing.T) {
	for _, c := range []struct {
		text  string
		check Check
		want  symbol.Check
	}{
		{"15400141288763", Mod10, symbol.CheckGood},
		{"15400141288763", Luhn, symbol.CheckBad},
		{"0204897136", Luhn, symbol.CheckGood},
		{"0204897136", NoCheck, symbol.Unchecked},
	} {
		l := symboltest.Must(t, c.text, encoder(Options{}))
		dots, err := l.Widths(symbol.Size{X: 2, Wide: 5})
		if err != nil {
			t.Fatal(err)
		}
		r, err := Decode(symboltest.Floats(dots), Options{Check: c.check})
		if err != nil || r.Check != c.want || r.Text != c.text {
			t.Errorf("%+v: %+v, %v", c, r, err)
		}
	}
}

// The decodability of evenly grown bars, computed from the formulas of
// Sorted.Measure when they were written down: it guards against change and
// proves nothing. Each growth, in X, is where a grade of ISO/IEC 15416 ends.
func TestGrowthRegression(t *testing.T) {
	grades := []float64{.62, .50, .37, .25}
	l := symboltest.Must(t, "15400141288763", encoder(Options{}))
	for _, c := range []struct {
		n      float64
		growth []float64
	}{
		{2.5, []float64{.285, .375, .475, .565}}, {3, []float64{.37, .48, .61, .73}},
		{2.5, []float64{-.285, -.375, -.475, -.565}}, {3, []float64{-.37, -.48, -.61, -.73}},
	} {
		for i, g := range c.growth {
			within, ok := symboltest.Grown(t, l, c.n, g*.96, decoder(Options{}))
			beyond, _ := symboltest.Grown(t, l, c.n, g*1.04, decoder(Options{}))
			if !ok || within < grades[i] || beyond >= grades[i] {
				t.Errorf("N %v growth %v: %.3f just within and %.3f just beyond, for a limit of %v", c.n, g, within, beyond, grades[i])
			}
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"602003", "", "1", "12A4", "٣", "\xff"} {
		f.Add(s, uint8(0), false)
		f.Add(s, uint8(1), true)
	}
	f.Fuzz(func(t *testing.T, text string, check uint8, given bool) {
		o := Options{Check(check % 3), given}
		if l, err := Encode(text, o); err == nil {
			symboltest.Ideal(t, l, symbol.Size{X: 2, Wide: 5}, decoder(o))
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "602003", encoder(Options{})), decoder(Options{Check: Luhn}))
}

func BenchmarkEncode(b *testing.B) {
	for b.Loop() {
		if _, err := Encode("0042170018", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	dots, err := symboltest.Must(b, "0042170018", encoder(Options{})).Widths(symbol.Size{X: 2, Wide: 5})
	if err != nil {
		b.Fatal(err)
	}
	widths := symboltest.Floats(dots)
	for b.Loop() {
		if _, err := Decode(widths, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
