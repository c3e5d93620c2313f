package reedsolomon

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"
)

// The fields of the symbologies: QR code and Data Matrix, then Aztec by the size
// of its codewords (polynomials from memory of ISO/IEC 18004, 16022 and 24778;
// that they are primitive, Field proves).
var fields = []struct{ size, primitive, root int }{
	{256, 0x11D, 0}, {256, 0x12D, 1},
	{16, 0x13, 1}, {64, 0x43, 1}, {1024, 0x409, 1}, {4096, 0x1069, 1},
}

// Worked examples: ISO/IEC 18004 Annex I.2, 01234567 in version 1-M (data from
// memory; the symbol they give is that of the figure), and ISO/IEC 16022:2006
// Annex O, 123456 in 10 x 10.
func TestWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		code        *Code
		data, check []int
	}{
		{Field(256, 0x11D, 0),
			[]int{0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11},
			[]int{0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55}},
		{Field(256, 0x12D, 1), []int{142, 164, 186}, []int{114, 25, 5, 88, 102}},
	} {
		if got := c.code.Check(c.data, len(c.check)); !slices.Equal(got, c.check) {
			t.Errorf("%v: check %v, want %v", c.data, got, c.check)
		}
	}
}

// random makes a word of the code.
func random(r *rand.Rand, c *Code, data, check int) []int {
	word := make([]int, data, data+check)
	for i := range word {
		word[i] = r.IntN(c.size)
	}
	return append(word, c.Check(word, check)...)
}

// Every number of errors and erasures that the code can mend is mended, and
// counted: e + 2t <= d.
func TestCorrectsAllItCan(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, f := range fields {
		c := Field(f.size, f.primitive, f.root)
		for range 600 {
			check := r.IntN(min(40, f.size-2)) + 1
			word := random(r, c, 1+r.IntN(f.size-1-check), check)
			erased := min(r.IntN(check+1), len(word))
			wrong := min(r.IntN((check-erased)/2+1), len(word)-erased)
			places := r.Perm(len(word))
			got := slices.Clone(word)
			for _, p := range places[:erased] {
				got[p] = r.IntN(c.size) // it may be right by chance
			}
			for _, p := range places[erased : erased+wrong] {
				got[p] ^= 1 + r.IntN(c.size-1)
			}
			n, err := c.Correct(got, check, places[:erased])
			if err != nil || !slices.Equal(got, word) {
				t.Fatalf("GF(%d) %d of %d check, %d erased, %d wrong: %v", f.size, check, len(word), erased, wrong, err)
			}
			if n != wrong {
				t.Fatalf("GF(%d): counted %d errors of %d", f.size, n, wrong)
			}
		}
	}
}

// Beyond that a word is left alone, or mended to another word of the code. For a
// code of n symbols, r of them check, that mends t errors, a random word lies
// within reach of one with the probability sum C(n,i) (q-1)^i / q^r, i = 0..t
// (arithmetic).
func TestTooManyErrors(t *testing.T) {
	const n, check, rounds = 8, 5, 100_000 // the smallest Data Matrix
	c := Field(256, 0x12D, 1)
	r := rand.New(rand.NewPCG(3, 4))
	mistaken := 0
	for range rounds {
		word := random(r, c, n-check, check)
		got := slices.Clone(word)
		for _, p := range r.Perm(n)[:4] {
			got[p] ^= 1 + r.IntN(255)
		}
		before := slices.Clone(got)
		if _, err := c.Correct(got, check, nil); err == nil {
			mistaken++
			if slices.Equal(got, word) || !slices.Equal(got[n-check:], c.Check(got[:n-check], check)) {
				t.Fatal("four errors mended, or not a word of the code")
			}
		} else if !errors.Is(err, ErrTooMany) || !slices.Equal(got, before) {
			t.Fatalf("%v, or the word was touched", err)
		}
	}
	// 28*255^2 / 256^5 is 1.7e-6: 0.17 expected.
	t.Logf("%d of %d words with too many errors were mended to others", mistaken, rounds)
	if mistaken > 3 {
		t.Errorf("%d of %d mended to others", mistaken, rounds)
	}
}

func TestRefuses(t *testing.T) {
	c := Field(16, 0x13, 1)
	for name, call := range map[string]func() error{
		"too long":       func() error { _, err := c.Correct(make([]int, 16), 2, nil); return err },
		"too much check": func() error { _, err := c.Correct(make([]int, 3), 4, nil); return err },
		"beyond field":   func() error { _, err := c.Correct([]int{16, 0, 0}, 2, nil); return err },
		"below field":    func() error { _, err := c.Correct([]int{-1, 0, 0}, 2, nil); return err },
		"erased outside": func() error { _, err := c.Correct([]int{1, 0, 0}, 2, []int{3}); return err },
		"erased twice":   func() error { _, err := c.Correct([]int{1, 0, 0}, 2, []int{1, 1}); return err },
		"erased all":     func() error { _, err := c.Correct([]int{1, 0, 0}, 2, []int{0, 1, 2}); return err },
	} {
		if call() == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for _, f := range [][3]int{{255, 0x11D, 0}, {256, 0x11B, 0}, {16, 0x1F, 1}, {16, 0x13, 15}, {2, 3, 0}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v: a field", f)
				}
			}()
			Field(f[0], f[1], f[2])
		}()
	}
}

func FuzzCorrect(f *testing.F) {
	f.Add([]byte{142, 164, 186, 114, 25, 5, 88, 102}, 5, []byte{0, 1})
	f.Add([]byte{}, 0, []byte{})
	f.Add([]byte{1, 2, 3}, -1, []byte{200})
	codes := []*Code{Field(256, 0x12D, 1), Field(256, 0x11D, 0)}
	f.Fuzz(func(t *testing.T, bytes []byte, check int, erased []byte) {
		for _, c := range codes {
			word, places := make([]int, len(bytes)), make([]int, len(erased))
			for i, b := range bytes {
				word[i] = int(b)
			}
			for i, b := range erased {
				places[i] = int(b)
			}
			n, err := c.Correct(word, check, places)
			if err != nil {
				continue
			}
			data := word[:len(word)-check]
			if n < 0 || 2*n+len(places) > check || !slices.Equal(word[len(data):], append([]int{}, c.Check(data, check)...)) {
				t.Fatalf("%v %d %v: %v after %d errors", bytes, check, places, word, n)
			}
		}
	})
}

func BenchmarkCorrect(b *testing.B) {
	c := Field(256, 0x11D, 0)
	word := random(rand.New(rand.NewPCG(5, 6)), c, 100, 30)
	for b.Loop() {
		for i := range 15 {
			word[i*7] ^= 0x55
		}
		if _, err := c.Correct(word, 30, nil); err != nil {
			b.Fatal(err)
		}
	}
}
