package code93

import (
	"fmt"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

var dots = symbol.Size{X: 2}

func ascii() string {
	b := make([]byte, 128)
	for i := range b {
		b[i] = byte(i)
	}
	return string(b)
}

func TestVectors(t *testing.T) {
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"code93": func(t *testing.T, v symboltest.Vector) string {
			text, _, drawn := strings.Cut(v.Input, " (checks")
			l := symboltest.Must(t, text, Encode)
			if drawn {
				return symboltest.Modules(t, l, 0, 0)
			}
			c := checks(values(text))
			return label(c[0]) + label(c[1])
		},
		"code93-table": func(*testing.T, symboltest.Vector) string {
			keys := map[int]bool{}
			for _, u := range units {
				keys[symbol.KeyOf(u, sums)] = true
			}
			return fmt.Sprintf("%d distinct (E1,E2,E3,E4)", len(keys))
		},
	})
}

// Nine modules, elements of 1 to 4 modules, no two alike: the symbology's name.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for v, p := range patterns {
		sum := 0
		for _, w := range symbol.Units(p) {
			sum += int(w)
		}
		if len(p) != elements || sum != modules || strings.Trim(p, "1234") != "" || seen[p] {
			t.Errorf("value %d: %s", v, p)
		}
		seen[p] = true
	}
	if len(patterns) != guard+1 || len(alphabet) != shifts {
		t.Errorf("%d patterns, %d characters", len(patterns), len(alphabet))
	}
}

// The patterns are those of zint (2.11.1).
func TestZintDrawsTheSame(t *testing.T) {
	texts := strings.Split(ascii(), "")
	for i, a := range []string{ascii(), alphabet, "0123456789"} {
		texts = append(texts, symboltest.Texts(uint64(i), 200, 30, a)...)
	}
	for i, got := range symboltest.Zint(t, texts, "-b", "25") {
		if want := symboltest.Modules(t, symboltest.Must(t, texts[i], Encode), 0, 0); got != want {
			t.Errorf("%q:\nzint %s\nours %s", texts[i], got, want)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	texts := strings.Split(ascii(), "")
	for i, a := range []string{ascii(), alphabet, "0123456789"} {
		texts = append(texts, symboltest.Texts(uint64(i+5), 300, 60, a)...)
	}
	for i, text := range texts {
		l := symboltest.Must(t, text, Encode)
		if l.Text != text {
			t.Fatalf("%q carries %q", text, l.Text)
		}
		symboltest.Ideal(t, l, symbol.Size{X: 1 + i%6}, Decode)
	}
}

func TestDamageLowersDecodability(t *testing.T) {
	symboltest.Damage(t, symboltest.Must(t, "SH-20417a", Encode), Decode)
}

// Uniform growth leaves every sum of a bar and a space alone (arithmetic).
func TestGrowthLosesNothing(t *testing.T) {
	l := symboltest.Must(t, "SH-20417", Encode)
	for _, g := range []float64{.1, .5, .9, -.9} {
		if v, ok := symboltest.Grown(t, l, 0, g, Decode); !ok || v < 1-1e-9 {
			t.Errorf("growth %.1f: %.3f", g, v)
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":     "Code 93 needs at least one character of text",
		"Zoë ": `Code 93 cannot carry 'ë' (U+00EB), character 3 of "Zoë ": write it in plain ASCII, without accents`,
	} {
		if _, err := Encode(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	with := func(checked bool, data ...int) []float64 {
		l := assemble(data)
		if !checked {
			copy(l.Units[(len(data)+1)*elements:], units[0])
		}
		w, err := l.Widths(dots)
		if err != nil {
			t.Fatal(err)
		}
		return symboltest.Floats(w)
	}
	changed := func(i int, to float64) []float64 {
		w := with(true, 10, 1, 20)
		w[(i+len(w))%len(w)] = to
		return w
	}
	for _, c := range []struct {
		name   string
		widths []float64
		want   string
	}{
		{"nothing", nil, "0 elements are not a Code 93 symbol, which has six for each character of at least five and one more"},
		{"no data", with(true), "25 elements are not a Code 93 symbol, which has six for each character of at least five and one more"},
		{"no start", with(true, 10)[1:], "30 elements are not a Code 93 symbol, which has six for each character of at least five and one more"},
		{"start wrong", changed(4, 40), "Code 93: no start pattern"},
		{"no pattern", changed(8, 40), "Code 93 character 2: its widths fit no pattern"},
		{"stop within", with(true, 10, guard, 20), "Code 93 character 3: start and stop must stand at the ends and nowhere else"},
		{"termination bar", changed(-1, 6), "Code 93: the termination bar does not fit"},
		{"check wrong", with(false, 10, 1, 20), "Code 93: the check characters are 0 +, the data asks for 5 +"},
		{"shift alone", with(true, 10, shifts), "Code 93 character 3: a shift character without the letter it belongs to"},
		{"shift and digit", with(true, 10, shifts, 1), "Code 93 character 3: a shift character without the letter it belongs to"},
	} {
		if r, err := Decode(c.widths); err == nil || err.Error() != c.want || r.Values != nil {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"CODE 93", "", "a\na", "é", "\xff", "$%/+"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if l, err := Encode(text); err == nil {
			symboltest.Ideal(t, l, dots, Decode)
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "A1\n2", Encode), Decode)
}

func BenchmarkEncode(b *testing.B) {
	for b.Loop() {
		if _, err := Encode("S004217"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	w, err := symboltest.Must(b, "S004217", Encode).Widths(dots)
	if err != nil {
		b.Fatal(err)
	}
	widths := symboltest.Floats(w)
	for b.Loop() {
		if _, err := Decode(widths); err != nil {
			b.Fatal(err)
		}
	}
}
