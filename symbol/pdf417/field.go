package pdf417

import (
	"slices"
	"sync"

	"unspool/say"
)

// Arithmetic modulo 929, of which 3 is a generator: the error correction of
// ISO/IEC 15438 is a Reed-Solomon code over it, with the roots 3^1 to 3^k.

type field struct{ exp, log [prime]int }

var gf = sync.OnceValue(func() *field {
	f := new(field)
	for i, v := 0, 1; i < prime-1; i++ {
		f.exp[i], f.log[v] = v, i
		v = v * 3 % prime
	}
	return f
})

// pow is 3 to the n, n of any sign.
func (f *field) pow(n int) int { return f.exp[((n%(prime-1))+prime-1)%(prime-1)] }

func (f *field) inverse(a int) int { return f.pow(-f.log[a]) }

// check is the k check codewords of data.
func check(data []int, k int) []int {
	f := gf()
	gen := []int{1} // highest power first
	for i := 1; i <= k; i++ {
		longer := append(slices.Clone(gen), 0)
		for j, c := range gen {
			longer[j+1] = (longer[j+1] + (prime-f.pow(i))*c) % prime
		}
		gen = longer
	}
	rest := make([]int, k)
	for _, d := range data {
		lead := (d + rest[0]) % prime
		copy(rest, rest[1:])
		rest[k-1] = 0
		for j := range rest {
			rest[j] = (rest[j] + (prime-lead)*gen[j+1]) % prime
		}
	}
	for j, r := range rest {
		rest[j] = (prime - r) % prime
	}
	return rest
}

// guard is how many check codewords are kept to detect errors: p of ISO/IEC 15438
// (from memory).
const guard = 2

var errTooMany = say.Errorf("PDF417: more codewords are damaged than the error correction can mend; scan it again, or print it anew")

// correct mends word, of which the last k codewords are check codewords, in
// place. erased names those that were not read; what word holds there counts for
// nothing. It returns how many of the others were wrong. Beyond e+2t = k-2 it
// gives errTooMany, with word as it was.
func correct(word []int, k int, erased []int) (int, error) {
	mended := slices.Clone(word)
	for _, i := range erased {
		mended[i] = 0
	}
	f, n := gf(), len(word)
	syndromes := f.syndromes(mended, k)
	if !slices.ContainsFunc(syndromes, func(s int) bool { return s != 0 }) && len(erased) == 0 {
		return 0, nil
	}
	if len(erased) > k-guard {
		return 0, errTooMany
	}
	locator := f.locate(syndromes, n, erased)
	places := f.places(locator, n)
	wrong := len(places) - len(erased)
	if len(places) != len(locator)-1 || wrong < 0 || len(erased)+2*wrong > k-guard {
		return 0, errTooMany
	}
	f.mend(mended, syndromes, locator, places)
	if slices.ContainsFunc(f.syndromes(mended, k), func(s int) bool { return s != 0 }) {
		return 0, errTooMany
	}
	copy(word, mended)
	return wrong, nil
}

// syndromes are the values of word, highest power first, at 3^1 to 3^k.
func (f *field) syndromes(word []int, k int) []int {
	s := make([]int, k)
	for i := range s {
		x, v := f.pow(i+1), 0
		for _, c := range word {
			v = (v*x + c) % prime
		}
		s[i] = v
	}
	return s
}

// locate is the error locator, lowest power first, without zeros at its end: the
// algorithm of Berlekamp and Massey, begun from the erasures.
func (f *field) locate(s []int, n int, erased []int) []int {
	loc := []int{1}
	for _, i := range erased {
		x := f.pow(n - 1 - i)
		longer := append(slices.Clone(loc), 0)
		for j, c := range loc {
			longer[j+1] = (longer[j+1] + (prime-x)*c) % prime
		}
		loc = longer
	}
	prev, size, shift, last := slices.Clone(loc), len(erased), 1, 1
	for r := len(erased); r < len(s); r++ {
		d := 0
		for j := 0; j < len(loc) && j <= r; j++ {
			d = (d + loc[j]*s[r-j]) % prime
		}
		if d == 0 {
			shift++
			continue
		}
		next := make([]int, max(len(loc), len(prev)+shift))
		copy(next, loc)
		scale := d * f.inverse(last) % prime
		for j, c := range prev {
			next[j+shift] = (next[j+shift] + (prime-scale)*c) % prime
		}
		if 2*size <= r+len(erased) {
			prev, size, last, shift = loc, r+1-size+len(erased), d, 1
		} else {
			shift++
		}
		loc = next
	}
	for len(loc) > 1 && loc[len(loc)-1] == 0 {
		loc = loc[:len(loc)-1]
	}
	return loc
}

// places are the indices of a word of n codewords that a locator names.
func (f *field) places(locator []int, n int) []int {
	var at []int
	for i := range n {
		if f.value(locator, f.pow(-(n-1-i))) == 0 {
			at = append(at, i)
		}
	}
	return at
}

// value is that of a polynomial, lowest power first.
func (f *field) value(p []int, x int) int {
	v := 0
	for i := len(p) - 1; i >= 0; i-- {
		v = (v*x + p[i]) % prime
	}
	return v
}

// mend takes the errors off a word: Forney's formula.
func (f *field) mend(word, s, locator, places []int) {
	omega := make([]int, len(s)) // s times locator, modulo x^k
	for i, a := range s {
		for j, b := range locator {
			if i+j < len(omega) {
				omega[i+j] = (omega[i+j] + a*b) % prime
			}
		}
	}
	slope := make([]int, len(locator)-1)
	for i := range slope {
		slope[i] = (i + 1) * locator[i+1] % prime
	}
	for _, i := range places {
		x := f.pow(-(len(word) - 1 - i))
		if d := f.value(slope, x); d != 0 {
			// The error is -omega/slope: it is taken off by adding.
			word[i] = (word[i] + f.value(omega, x)*f.inverse(d)) % prime
		}
	}
}
