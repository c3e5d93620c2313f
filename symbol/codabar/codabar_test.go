package codabar

import (
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

var size = symbol.Size{X: 2, Wide: 5, Gap: 2}

func encoder(o Options) func(string) (symbol.Logical, error) {
	return func(text string) (symbol.Logical, error) { return Encode(text, o) }
}

func decoder(o Options) symboltest.Decoder {
	return func(w []float64) (symbol.Reading, error) { return Decode(w, o) }
}

// guarded puts start and stop letters round texts, all sixteen pairs in turn.
func guarded(texts []string) []string {
	for i, s := range texts {
		texts[i] = string(alphabet[firstGuard+i%4]) + s + string(alphabet[firstGuard+i/4%4])
	}
	return texts
}

func TestVectors(t *testing.T) {
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		// The row ends in the gap that its encoder draws after the stop too.
		"codabar": func(t *testing.T, v symboltest.Vector) string {
			return symboltest.Drawn(encoder(Options{}))(t, v) + "0"
		},
		"codabar-mod16": func(t *testing.T, v symboltest.Vector) string {
			return symboltest.Must(t, v.Input, encoder(Options{Check: Mod16})).Text
		},
		"luhn-library14": library,
		"luhn":           library,
	})
}

// library is the Luhn digit that Encode puts before the stop.
func library(t *testing.T, v symboltest.Vector) string {
	l := symboltest.Must(t, v.Input, encoder(Options{Check: Luhn, Start: "A", Stop: "B"}))
	return strings.TrimSuffix(strings.TrimPrefix(l.Text, "A"+v.Input), "B")
}

// The twenty characters differ; the ten digits, - and $ have one wide bar and one
// wide space, : / . + three wide bars, A to D one wide bar and two wide spaces:
// the construction that Decode's thresholds rest on.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for v, p := range patterns {
		bars, spaces := 0, 0
		for i, u := range symbol.Units(p) {
			if u == 2 && i%2 == 0 {
				bars++
			} else if u == 2 {
				spaces++
			}
		}
		want := [2]int{1, 1}
		switch {
		case v >= firstGuard:
			want = [2]int{1, 2}
		case v >= 12:
			want = [2]int{3, 0}
		}
		if len(p) != elements || [2]int{bars, spaces} != want || seen[p] {
			t.Errorf("%c: %s", alphabet[v], p)
		}
		seen[p] = true
	}
	if len(patterns) != len(alphabet) {
		t.Errorf("%d patterns for %d characters", len(patterns), len(alphabet))
	}
}

// The patterns are those of zint (2.11.1), wide 2 and gap 1 modules, without and
// with its modulo 16 check character.
func TestZintDrawsTheSame(t *testing.T) {
	for _, c := range []struct {
		o    Options
		args []string
	}{
		{Options{}, []string{"-b", "18"}},
		{Options{Check: Mod16}, []string{"-b", "18", "--vers=1"}},
	} {
		texts := guarded(symboltest.Texts(798, 300, 30, alphabet[:firstGuard]))
		for i, got := range symboltest.Zint(t, texts, c.args...) {
			if want := symboltest.Modules(t, symboltest.Must(t, texts[i], encoder(c.o)), 2, 1); got != want {
				t.Errorf("%+v %q:\nzint %s\nours %s", c.o, texts[i], got, want)
			}
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for check, chars := range map[Check]string{NoCheck: alphabet[:firstGuard], Mod16: alphabet[:firstGuard], Luhn: "0123456789"} {
		o := Options{Check: check}
		for i, text := range guarded(symboltest.Texts(uint64(check), 300, 40, chars)) {
			l := symboltest.Must(t, text, encoder(o))
			x := 1 + i%6
			symboltest.Ideal(t, l, symbol.Size{X: x, Wide: 2*x + i%(x+1), Gap: x + i%3}, decoder(o))
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

func TestStartAndStop(t *testing.T) {
	for _, c := range []struct {
		text        string
		start, stop string
		want        string
	}{
		{"37859", "", "", "A37859A"},
		{"37859", "C", "", "C37859A"},
		{"37859", "B", "D", "B37859D"},
		{"A37859B", "", "", "A37859B"},
		{"A37859B", "A", "B", "A37859B"},
		{"D1D", "", "", "D1D"},
	} {
		if l := symboltest.Must(t, c.text, encoder(Options{Start: c.start, Stop: c.stop})); l.Text != c.want {
			t.Errorf("%+v: %s", c, l.Text)
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string
	}{
		{"", Options{}, "Codabar needs at least one character between start and stop"},
		{"AB", Options{}, "Codabar needs at least one character between start and stop"},
		{"A", Options{}, `Codabar text "A" has a start or a stop letter but not both: write both or neither`},
		{"A12", Options{}, `Codabar text "A12" has a start or a stop letter but not both: write both or neither`},
		{"12D", Options{}, `Codabar text "12D" has a start or a stop letter but not both: write both or neither`},
		{"A12B", Options{Stop: "C"}, `Codabar text "A12B" brings start A and stop B, but start "" and stop "C" are asked for: leave one of them out`},
		{"12", Options{Start: "E"}, `"E" is no Codabar start or stop: use A, B, C or D`},
		{"12", Options{Stop: "AB"}, `"AB" is no Codabar start or stop: use A, B, C or D`},
		{"A1AA", Options{}, `Codabar cannot carry 'A' (U+0041), character 3 of "A1AA": it carries 0-9 - $ : / . + between its start and stop letters A to D`},
		{"1é", Options{}, `Codabar cannot carry 'é' (U+00E9), character 2 of "1é": it carries 0-9 - $ : / . + between its start and stop letters A to D`},
		{"1-2", Options{Check: Luhn}, `Codabar text "1-2" cannot have a Luhn check character: it needs digits before it and nothing else`},
		{"1", Options{Check: Mod16, Given: true}, `Codabar text "1" cannot have a modulo 16 check character: it needs a character before it`},
		{"A012340B", Options{Check: Mod16, Given: true}, `"A012340B" has check character "0", but by modulo 16 it is "5": correct the text, or leave the check character out and have it added`},
	} {
		if _, err := Encode(c.text, c.o); err == nil || err.Error() != c.want {
			t.Errorf("%q %+v: %v, want %s", c.text, c.o, err, c.want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	widths := func(char int, pattern string) []float64 {
		l := symboltest.Must(t, "A1:2B", encoder(Options{}))
		copy(l.Units[char*pitch:], symbol.Units(pattern))
		dots, err := l.Widths(size)
		if err != nil {
			t.Fatal(err)
		}
		return symboltest.Floats(dots)
	}
	noise := make([]float64, 5*pitch-1)
	for i, u := range symboltest.Must(t, "A1:2B", encoder(Options{})).Units {
		noise[i] = 1 + .1*float64(u)
	}
	for _, c := range []struct {
		name   string
		widths []float64
		want   string
	}{
		{"nothing", nil, "0 elements are not a Codabar symbol, which has eight less one for each character of at least three"},
		{"no start", widths(0, patterns[1]), "Codabar: no start pattern"},
		{"no stop", widths(4, patterns[1]), "Codabar character 5: A to D must stand at the ends and nowhere else (EN 798 4.3.2)"},
		{"start within", widths(1, patterns[firstGuard]), "Codabar character 2: A to D must stand at the ends and nowhere else (EN 798 4.3.2)"},
		{"no pattern", widths(1, "2121121"), "Codabar character 2: its widths fit no pattern"},
		{"wide space where none belongs", widths(2, "2211212"), "Codabar character 3: its widths fit no pattern"},
		{"nearly equal elements", noise, "Codabar: wide elements are only 1.09 times as wide as narrow ones"},
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
		{"A012345B", Mod16, symbol.CheckGood},
		{"A012345C", Mod16, symbol.CheckBad},
		{"A31117013206375A", Luhn, symbol.CheckGood}, // a library label, see testdata/vectors.csv
		{"A31117013206376A", Luhn, symbol.CheckBad},
		{"A3-1A", Luhn, symbol.CheckBad},
		{"A3A", Mod16, symbol.CheckBad},
		{"A3A", NoCheck, symbol.Unchecked},
	} {
		dots, err := symboltest.Must(t, c.text, encoder(Options{})).Widths(size)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Decode(symboltest.Floats(dots), Options{Check: c.check})
		if err != nil || r.Check != c.want || r.Text != c.text {
			t.Errorf("%+v: %+v, %v", c, r, err)
		}
	}
}

// Bars and spaces have thresholds of their own, so even growth of g X leaves
// every element on its side; against the mean narrow element of both, the loss
// of V is 1 - h/(h+g) with h half the difference of wide and narrow (arithmetic
// from the stand-in, kept as a regression).
func TestGrowthRegression(t *testing.T) {
	l := symboltest.Must(t, "A31117013206375B", encoder(Options{}))
	for _, g := range []float64{.1, .25, .5, -.25, -.5} {
		v, ok := symboltest.Grown(t, l, 2.5, g, decoder(Options{}))
		if want := .75 / (.75 + max(g, -g)); !ok || v < want-.06 || v > want+.06 {
			t.Errorf("growth %v: %.3f, want about %.3f", g, v, want)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"A37859B", "", "A", "1é", "\xff", "A1AA"} {
		f.Add(s, uint8(0), false, "", "")
		f.Add(s, uint8(1), true, "A", "D")
	}
	f.Fuzz(func(t *testing.T, text string, check uint8, given bool, start, stop string) {
		o := Options{Check(check % 3), given, start, stop}
		if l, err := Encode(text, o); err == nil {
			symboltest.Ideal(t, l, size, decoder(o))
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "A1:2B", encoder(Options{})), decoder(Options{Check: Mod16}))
}

func BenchmarkEncode(b *testing.B) {
	for b.Loop() {
		if _, err := Encode("3111701320637", Options{Check: Luhn}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	dots, err := symboltest.Must(b, "31117013206375", encoder(Options{})).Widths(size)
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
