package code39

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

func ascii() string {
	b := make([]byte, 128)
	for i := range b {
		b[i] = byte(i)
	}
	return string(b)
}

func TestVectors(t *testing.T) {
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"code39":       symboltest.Drawn(encoder(Options{})),
		"code39-mod43": symboltest.Added(encoder(Options{Mod43: true})),
	})
}

// Three of nine elements are wide in every character, and no two are alike: the
// symbology's name and ISO/IEC 16388:2007 4.2.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for v, p := range patterns {
		if len(p) != 9 || strings.Count(p, "2") != 3 || strings.Count(p, "1") != 6 || seen[p] {
			t.Errorf("value %d: %s", v, p)
		}
		seen[p] = true
	}
	if len(patterns) != len(alphabet) {
		t.Errorf("%d patterns for %d characters", len(patterns), len(alphabet))
	}
}

// The patterns are those of zint (2.11.1), wide 2 and gap 1 modules: plain, with
// check character and in full ASCII.
func TestZintDrawsTheSame(t *testing.T) {
	for _, c := range []struct {
		o        Options
		alphabet string
		args     []string
	}{
		{Options{}, alphabet[:guard], []string{"-b", "8"}},
		{Options{Mod43: true}, alphabet[:guard], []string{"-b", "8", "--vers=1"}},
		{Options{FullASCII: true}, ascii(), []string{"-b", "9"}},
		{Options{FullASCII: true, Mod43: true}, ascii(), []string{"-b", "9", "--vers=1"}},
	} {
		texts := append(symboltest.Texts(39, 200, 20, c.alphabet), split(c.alphabet)...)
		for i, got := range symboltest.Zint(t, texts, c.args...) {
			want := symboltest.Modules(t, symboltest.Must(t, texts[i], encoder(c.o)), 2, 1)
			if got != want {
				t.Errorf("%+v %q:\nzint %s\nours %s", c.o, texts[i], got, want)
			}
		}
	}
}

func split(s string) []string { return strings.Split(s, "") }

func TestRoundTrip(t *testing.T) {
	for _, mod43 := range []bool{false, true} {
		for _, full := range []bool{false, true} {
			o, chars := Options{Mod43: mod43, FullASCII: full}, alphabet[:guard]
			if full {
				chars = ascii()
			}
			for i, text := range append(symboltest.Texts(1, 300, 40, chars), split(chars)...) {
				l := symboltest.Must(t, text, encoder(o))
				x := 1 + i%6
				symboltest.Ideal(t, l, symbol.Size{X: x, Wide: 2*x + i%(x+1), Gap: x + i%3}, decoder(o))
				if !strings.HasPrefix(l.Text, text) || mod43 != (len(l.Text) == len(text)+1) {
					t.Fatalf("%q carries %q", text, l.Text)
				}
				if given := (Options{mod43, mod43, full}); mod43 {
					again := symboltest.Must(t, l.Text, encoder(given))
					if !slices.Equal(again.Units, l.Units) || again.Text != l.Text {
						t.Fatalf("%q with its check given is another symbol", l.Text)
					}
				}
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
		{"", Options{}, "Code 39 needs at least one character of text"},
		{"7", Options{Mod43: true, Given: true}, "Code 39 needs at least one character of text"},
		{"AB*", Options{}, `Code 39 cannot carry '*' (U+002A), character 3 of "AB*": it carries 0-9, A-Z, - . space $ / + % and no more, unless full ASCII is chosen and every reader is set for it`},
		{"Ab", Options{}, `Code 39 cannot carry 'b' (U+0062), character 2 of "Ab": use capital letters, or full ASCII if every reader is set for it`},
		{"AÄ", Options{FullASCII: true}, `Code 39 cannot carry 'Ä' (U+00C4), character 2 of "AÄ": only ASCII can be coded`},
		{"A\xff", Options{FullASCII: true}, `Code 39 cannot carry '�' (U+FFFD), character 2 of "A\xff": only ASCII can be coded`},
		{"AÄ", Options{Mod43: true, Given: true}, `Code 39 cannot carry 'Ä' (U+00C4), character 2 of "AÄ": only ASCII can be coded`},
		{"159AZ1", Options{Mod43: true, Given: true}, `"159AZ1" ends in "1", but its modulo 43 check character is "H": correct the text, or leave the check character out and have it added`},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%q %+v: %v, want %s", c.text, c.o, err, c.want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	widths := func(change func(l *symbol.Logical)) []float64 {
		l := symboltest.Must(t, "A1+", encoder(Options{}))
		change(&l)
		dots, err := l.Widths(symbol.Size{X: 1, Wide: 3, Gap: 1})
		if err != nil {
			t.Fatal(err)
		}
		return symboltest.Floats(dots)
	}
	replace := func(char, value int) func(*symbol.Logical) {
		return func(l *symbol.Logical) { copy(l.Units[char*pitch:], units[value]) }
	}
	for _, c := range []struct {
		name   string
		widths []float64
		o      Options
		want   string
	}{
		{"nothing", nil, Options{}, "0 elements are not a Code 39 symbol, which has ten less one for each character of at least three"},
		{"no start", widths(replace(0, 1)), Options{}, "Code 39: no start pattern"},
		{"no stop", widths(replace(4, 1)), Options{}, "Code 39 character 5: start and stop must stand at the ends and nowhere else"},
		{"stop within", widths(replace(2, guard)), Options{}, "Code 39 character 3: start and stop must stand at the ends and nowhere else"},
		{"two wide", widths(func(l *symbol.Logical) { l.Units[1*pitch] = 1 }), Options{}, "Code 39 character 2: 2 wide elements where three belong"},
		{"no such pattern", widths(func(l *symbol.Logical) { copy(l.Units[pitch:], symbol.Units("212121111")) }), Options{}, "Code 39 character 2: no character has the pattern 101010000"},
		{"half a pair", widths(func(*symbol.Logical) {}), Options{FullASCII: true}, `Code 39: "+" after character 2 is no full ASCII pair`},
		{"no such pair", widths(replace(1, strings.Index(alphabet, "+"))), Options{FullASCII: true}, `Code 39: "+1" after character 0 is no full ASCII pair`},
	} {
		if _, err := Decode(c.widths, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func TestWrongCheckIsAFinding(t *testing.T) {
	for text, want := range map[string]symbol.Check{"159AZH": symbol.CheckGood, "159AZ1": symbol.CheckBad, "0": symbol.CheckBad} {
		l := symboltest.Must(t, text, encoder(Options{}))
		dots, err := l.Widths(symbol.Size{X: 2, Wide: 5, Gap: 2})
		if err != nil {
			t.Fatal(err)
		}
		r, err := Decode(symboltest.Floats(dots), Options{Mod43: true})
		if err != nil || r.Check != want || r.Text != text {
			t.Errorf("%q: %+v, %v", text, r, err)
		}
		if label := r.Chars[len(r.Chars)-2].Label; label != "check "+text[len(text)-1:] {
			t.Errorf("%q: label %q", text, label)
		}
	}
}

// The decodability of evenly grown bars, computed from the formulas of
// Sorted.Measure when they were written down: it guards against change and
// proves nothing. Each growth, in X, is where a grade of ISO/IEC 15416 ends.
func TestGrowthRegression(t *testing.T) {
	grades := []float64{.62, .50, .37, .25}
	l := symboltest.Must(t, "0123456789", encoder(Options{}))
	for _, c := range []struct {
		n      float64
		growth []float64
	}{
		{2.0, []float64{.15, .20, .26, .32}},
		{2.5, []float64{.25, .33, .43, .52}},
		{3.0, []float64{.34, .46, .59, .72}},
		{2.0, []float64{-.18}}, {2.5, []float64{-.25}}, {3.0, []float64{-.32}},
	} {
		for i, g := range c.growth {
			within, okWithin := symboltest.Grown(t, l, c.n, g*.96, decoder(Options{}))
			beyond, _ := symboltest.Grown(t, l, c.n, g*1.04, decoder(Options{}))
			if !okWithin || within < grades[i] || beyond >= grades[i] {
				t.Errorf("N %v growth %v: %.3f just within and %.3f just beyond, for a limit of %v", c.n, g, within, beyond, grades[i])
			}
		}
	}
	// One dot of a 300 dpi head: 0.50, 0.33 and 0.25 X at 2, 3 and 4 dots.
	for _, c := range []struct{ n, g, want float64 }{
		{2.5, 1. / 2, .27}, {3, 1. / 2, .46}, {8. / 3, 1. / 3, .55}, {3, 1. / 3, .63}, {2.5, 1. / 4, .61}, {3, 1. / 4, .72},
	} {
		if v, ok := symboltest.Grown(t, l, c.n, c.g, decoder(Options{})); !ok || v < c.want-.006 || v > c.want+.006 {
			t.Errorf("N %.2f growth %.2f: %.3f, want %.2f", c.n, c.g, v, c.want)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"1A", "", "a*", "é", "\xff", "+A123BJC5D6E71G"} {
		f.Add(s, true, false, true)
	}
	f.Fuzz(func(t *testing.T, text string, mod43, given, full bool) {
		o := Options{mod43, given && mod43, full}
		if l, err := Encode(text, o); err == nil {
			symboltest.Ideal(t, l, symbol.Size{X: 2, Wide: 5, Gap: 2}, decoder(o))
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "A+B$", encoder(Options{})), decoder(Options{}))
}

func FuzzDecodeFullASCII(f *testing.F) {
	o := Options{Mod43: true, FullASCII: true}
	symboltest.FuzzDecode(f, symboltest.Must(f, "a\n~", encoder(o)), decoder(o))
}

func BenchmarkEncode(b *testing.B) {
	for b.Loop() {
		if _, err := Encode("S004217", Options{Mod43: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	l := symboltest.Must(b, "S004217", encoder(Options{}))
	dots, err := l.Widths(symbol.Size{X: 3, Wide: 8, Gap: 3})
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
