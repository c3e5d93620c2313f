package isbt128

import (
	"fmt"
	"testing"

	"unspool/symbol"
	"unspool/symbol/code128"
	"unspool/symbol/symboltest"
)

func decoder(o Options) symboltest.Decoder {
	return func(w []float64) (symbol.Reading, error) { return Decode(w, o) }
}

func TestVectors(t *testing.T) {
	symboltest.Check(t, map[string]func(*testing.T, symboltest.Vector) string{
		"isbt128-mod37-2": func(_ *testing.T, v symboltest.Vector) string {
			n := mod37(v.Input)
			return fmt.Sprintf("value %d = %c; flag characters %s", n, values[n], flagsOf(v.Input))
		},
	})
}

// ISO 7064 mod 37,2: with its check character, of weight 1, a number's weighted
// sum leaves 1 when divided by 37. Every change of one character and every swap of
// two neighbours is caught, since no difference of values and weights is a
// multiple of the prime (arithmetic).
func TestMod37CatchesErrors(t *testing.T) {
	const number = "G123498654321"
	check := mod37(number)
	weight, sum := 2, check
	for i := len(number) - 1; i >= 0; i-- {
		sum += weight * int(index(number[i]))
		weight = weight * 2 % 37
	}
	if sum%37 != 1 {
		t.Errorf("the weighted sum leaves %d", sum%37)
	}
	for i := range number {
		for _, c := range numerals + letters {
			bad := number[:i] + string(c) + number[i+1:]
			if bad != number && mod37(bad) == check {
				t.Errorf("%s has the check of %s", bad, number)
			}
		}
		if i > 0 {
			bad := number[:i-1] + number[i:i+1] + number[i-1:i] + number[i+1:]
			if bad != number && mod37(bad) == check {
				t.Errorf("%s has the check of %s", bad, number)
			}
		}
	}
}

func index(c byte) int {
	if c <= '9' {
		return int(c - '0')
	}
	return int(c-'A') + 10
}

func TestEncode(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want string // its text, or the error
	}{
		{"=G12349865432100", Options{}, "=G12349865432100"},
		{"=G123498654321", Options{Mod37: true}, "=G12349865432177"},
		{"=G12349865432177", Options{Mod37: true, Given: true}, "=G12349865432177"},
		{"=%5100", Options{}, "=%5100"}, // blood groups
		{"&>0190191235900", Options{}, "&>0190191235900"},
		{"G12349865432100", Options{}, `ISBT 128 data begins with = or & and a second identifying character, but the text is "G12349865432100": correct it, or use Code 128`},
		{"=G", Options{}, `ISBT 128 data begins with = or & and a second identifying character, but the text is "=G": correct it, or use Code 128`},
		{"=G123498654321", Options{}, `"=G123498654321" lacks its two flag characters: write 00 after it, or have the check mod37 added`},
		{"=G123498654321", Options{Mod37: true, Given: true}, `"=G123498654321" lacks its two flag characters: write 00 after it, or have the check mod37 added`},
		{"=G12349865432177", Options{Mod37: true}, `"=G12349865432177" is no donation identification number: write = and a facility of 5 letters and digits, then 2 digits of the year, 6 digits and, unless the check mod37 is added, 2 flag characters`},
		{"=G1234986543b100", Options{}, `"=G1234986543b100" is no donation identification number: write = and a facility of 5 letters and digits, then 2 digits of the year, 6 digits and, unless the check mod37 is added, 2 flag characters`},
		{"=%5100", Options{Mod37: true}, `"=%5100" is no donation identification number, which begins with = and a facility: leave the check mod37 out`},
		{"=G12349865432171", Options{Mod37: true, Given: true}, `"=G12349865432171" ends in flags "71", but its mod 37,2 check character is "H" and its flags are "77": correct the text, or leave the flags out and have them added`},
		{"=%51é0", Options{}, `Code 128 cannot carry 'é' (U+00E9), character 5 of "=%51é0": write it in plain ASCII, without accents`},
	} {
		l, err := Encode(c.text, c.o)
		got := l.Text
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%q %+v: %s, want %s", c.text, c.o, got, c.want)
		}
		if err == nil {
			symboltest.Ideal(t, l, symbol.Size{X: 2}, decoder(c.o))
		}
	}
}

func TestDecode(t *testing.T) {
	for _, c := range []struct {
		text  string
		o     Options
		check symbol.Check
		err   string
	}{
		{"=G12349865432177", Options{}, symbol.Unchecked, ""},
		{"=G12349865432177", Options{Mod37: true}, symbol.CheckGood, ""},
		{"=G12349865432178", Options{Mod37: true}, symbol.CheckBad, ""},
		{"=%5100", Options{Mod37: true}, symbol.CheckBad, ""},
		{"G12349", Options{}, symbol.Unchecked, `"G12349" is Code 128 without the = or & that ISBT 128 data begins with`},
	} {
		w, err := symboltest.Must(t, c.text, code128.Encode).Widths(symbol.Size{X: 2})
		if err != nil {
			t.Fatal(err)
		}
		r, err := Decode(symboltest.Floats(w), c.o)
		if c.err == "" && (err != nil || r.Text != c.text || r.Check != c.check) || c.err != "" && (err == nil || err.Error() != c.err) {
			t.Errorf("%q %+v: %q %v, %v", c.text, c.o, r.Text, r.Check, err)
		}
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range []string{"=G12349865432177", "=G123498654321", "", "=", "=é1", "&>01"} {
		f.Add(s, true, false)
	}
	f.Fuzz(func(t *testing.T, text string, mod37, given bool) {
		o := Options{mod37, given}
		if l, err := Encode(text, o); err == nil {
			symboltest.Ideal(t, l, symbol.Size{X: 2}, func(w []float64) (symbol.Reading, error) {
				r, err := Decode(w, o)
				if mod37 && r.Check != symbol.CheckGood {
					t.Errorf("%q: check %v", text, r.Check)
				}
				return r, err
			})
		}
	})
}

func FuzzDecode(f *testing.F) {
	o := Options{Mod37: true}
	seed := func(text string) (symbol.Logical, error) { return Encode(text, o) }
	symboltest.FuzzDecode(f, symboltest.Must(f, "=G123498654321", seed), decoder(o))
}

func BenchmarkDecode(b *testing.B) {
	w, err := symboltest.Must(b, "=G12349865432177", code128.Encode).Widths(symbol.Size{X: 2})
	if err != nil {
		b.Fatal(err)
	}
	widths := symboltest.Floats(w)
	for b.Loop() {
		if _, err := Decode(widths, Options{Mod37: true}); err != nil {
			b.Fatal(err)
		}
	}
}
