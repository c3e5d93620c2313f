package symboltest

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"unspool/symbol"
)

// Decoder is a reference decode with its options settled.
type Decoder func(widths []float64) (symbol.Reading, error)

// Ideal decodes a symbol at this size from both ends and wants it back whole:
// text, values, places of the characters, X, N, and a decodability of 1.
func Ideal(t testing.TB, l symbol.Logical, s symbol.Size, decode Decoder) {
	t.Helper()
	dots, err := l.Widths(s)
	if err != nil {
		t.Fatal(err)
	}
	widths := Floats(dots)
	n := 0.0
	if l.Family == symbol.TwoWidth {
		n = float64(s.Wide) / float64(s.X)
	}
	for _, reversed := range []bool{false, true} {
		chars := slices.Clone(l.Chars)
		if reversed {
			slices.Reverse(widths)
			for i, c := range chars {
				chars[i].From, chars[i].To = len(widths)-c.To, len(widths)-c.From
			}
		}
		r, err := decode(widths)
		if err != nil {
			t.Fatalf("%q %+v reversed %v: %v", l.Text, s, reversed, err)
		}
		if r.Text != l.Text || !slices.Equal(r.Values, l.Values) || !slices.Equal(r.Chars, chars) || r.Reversed != reversed {
			t.Fatalf("%q %+v reversed %v: read %q %v %v", l.Text, s, reversed, r.Text, r.Values, r.Chars)
		}
		const eps = 1e-9 // rounding of sums
		if math.Abs(r.Decodability-1) > eps || math.Abs(r.X-float64(s.X)) > eps || math.Abs(r.N-n) > eps {
			t.Fatalf("%q %+v: decodability %v, X %v, N %v", l.Text, s, r.Decodability, r.X, r.N)
		}
		if len(r.Margins) != len(widths) || slices.ContainsFunc(r.Margins, func(m float64) bool { return math.Abs(m-1) > eps }) {
			t.Fatalf("%q %+v: margins %v", l.Text, s, r.Margins)
		}
	}
}

// Grown is a symbol's decodability, and whether it reads at all, when every bar
// is g wider and every space g narrower, in X. wide is N.
func Grown(t testing.TB, l symbol.Logical, wide, g float64, decode Decoder) (float64, bool) {
	t.Helper()
	widths := make([]float64, len(l.Units))
	for i, u := range l.Units {
		widths[i] = float64(u)
		switch {
		case l.Family == symbol.TwoWidth && u == symbol.Gap:
			widths[i] = 1
		case l.Family == symbol.TwoWidth && u == 2:
			widths[i] = wide
		}
		if i%2 == 0 {
			widths[i] += g
		} else {
			widths[i] -= g
		}
	}
	r, err := decode(widths)
	return r.Decodability, err == nil && r.Text == l.Text
}

// FuzzDecode holds a decoder to its promises on any widths: no panic, and what
// it reads is consistent. seed is a symbol to begin from.
func FuzzDecode(f *testing.F, seed symbol.Logical, decode Decoder) {
	f.Helper()
	dots, err := seed.Widths(symbol.Size{X: 2, Wide: 5, Gap: 2})
	if err != nil {
		f.Fatal(err)
	}
	plain, floats := []byte{0}, []byte{1}
	for _, d := range dots {
		plain = append(plain, byte(d))
		floats = binary.LittleEndian.AppendUint64(floats, math.Float64bits(float64(d)*1e-3))
	}
	f.Add(plain)
	f.Add(floats)
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1), math.MaxFloat64, math.SmallestNonzeroFloat64} {
		odd := slices.Clone(floats)
		binary.LittleEndian.PutUint64(odd[1:], math.Float64bits(w))
		f.Add(odd)
	}
	f.Fuzz(func(t *testing.T, data []byte) { consistent(t, fuzzed(data), decode) })
}

// fuzzed makes widths of bytes, one a byte or eight.
func fuzzed(data []byte) []float64 {
	var widths []float64
	if len(data) == 0 {
		return nil
	}
	whole, data := data[0]%2 == 0, data[1:]
	for whole && len(data) > 0 {
		widths, data = append(widths, float64(data[0])), data[1:]
	}
	for len(data) >= 8 {
		widths, data = append(widths, math.Float64frombits(binary.LittleEndian.Uint64(data))), data[8:]
	}
	return widths
}

func consistent(t *testing.T, widths []float64, decode Decoder) {
	r, err := decode(widths)
	if err != nil {
		if r.Text != "" || r.Values != nil || r.Margins != nil {
			t.Fatalf("%v: an error and yet a reading: %+v", widths, r)
		}
		return
	}
	if len(r.Margins) != len(widths) || !(r.X > 0) || math.IsInf(r.X, 0) || !(r.N >= 0) {
		t.Fatalf("%v: %+v", widths, r)
	}
	worst := 1.0
	for _, m := range r.Margins {
		if !(m >= 0 && m <= 1) {
			t.Fatalf("%v: margins %v", widths, r.Margins)
		}
		worst = min(worst, m)
	}
	if r.Decodability != worst {
		t.Fatalf("%v: decodability %v, worst margin %v", widths, r.Decodability, worst)
	}
	for _, c := range r.Chars {
		if c.From < 0 || c.To > len(widths) || c.From >= c.To || c.Label == "" {
			t.Fatalf("%v: %+v", widths, c)
		}
	}
}

// Texts are random texts of 1 to longest characters of an alphabet, always the
// same for the same seed.
func Texts(seed uint64, count, longest int, alphabet string) []string {
	texts := make([]string, count)
	state := seed
	next := func(n int) int {
		// Knuth's MMIX generator: enough to shuffle characters with.
		state = state*6364136223846793005 + 1442695040888963407
		return int((state >> 33) % uint64(n))
	}
	for i := range texts {
		b := make([]byte, 1+next(longest))
		for k := range b {
			b[k] = alphabet[next(len(alphabet))]
		}
		texts[i] = string(b)
	}
	return texts
}

// Damage makes each element of a symbol wider and narrower by little steps, its
// neighbours as they were: as long as the text is read, what is left of the
// tolerance never rises and is less than all.
func Damage(t testing.TB, l symbol.Logical, decode Decoder) {
	t.Helper()
	clean := make([]float64, len(l.Units))
	for i, u := range l.Units {
		clean[i] = float64(u)
	}
	const steps = 16 // of 1/32 X
	for i := range clean {
		for _, by := range []float64{1. / 32, -1. / 32} {
			before := 1.0
			widths := slices.Clone(clean)
			for step := range steps {
				widths[i] += by
				r, err := decode(widths)
				if err != nil || r.Text != l.Text {
					break
				}
				if r.Decodability > before+1e-12 || r.Decodability >= 1 {
					t.Errorf("%q element %d off by %.3f: %v left, %v before", l.Text, i+1, by*float64(step+1), r.Decodability, before)
				}
				before = r.Decodability
			}
		}
	}
}
