package reedsolomon

import (
	"fmt"
	"slices"

	"unspool/say"
)

// ErrTooMany is the error of a word with more wrong symbols than its check
// symbols can correct.
var ErrTooMany = say.Errorf("more errors than the check symbols can correct")

// Correct mends a word in place, of whose symbols the last check are check
// symbols, and says how many symbols were wrong besides the erased ones, whose
// places are known. It can mend as long as twice the errors and the erasures
// together are no more than check; else it leaves the word alone and gives
// ErrTooMany, or, seldom, mends it to another word of the code.
//
// It computes syndromes, the locator by Berlekamp and Massey beginning with the
// erasures, its roots by trial and the values by Forney (R. E. Blahut, Theory and
// Practice of Error Control Codes, 1983, from memory).
func (c *Code) Correct(word []int, check int, erased []int) (errors int, err error) {
	if err := c.sound(word, check, erased); err != nil {
		return 0, err
	}
	if len(erased) > check {
		return 0, ErrTooMany
	}
	s, clean := c.syndromes(word, check)
	if clean {
		return 0, nil
	}
	locator, degree := c.locator(s, c.erasures(len(word), erased), len(erased))
	errors = degree - len(erased)
	if 2*errors+len(erased) > check {
		return 0, ErrTooMany
	}
	fixed := slices.Clone(word)
	if !c.forney(fixed, s, locator[:degree+1]) {
		return 0, ErrTooMany
	}
	if _, clean := c.syndromes(fixed, check); !clean {
		return 0, ErrTooMany
	}
	copy(word, fixed)
	return errors, nil
}

func (c *Code) sound(word []int, check int, erased []int) error {
	if check < 0 || check > len(word) || len(word) >= c.size {
		return fmt.Errorf("reedsolomon: %d symbols with %d check symbols are no word over GF(%d)", len(word), check, c.size)
	}
	for i, w := range word {
		if w < 0 || w >= c.size {
			return fmt.Errorf("reedsolomon: symbol %d is %d, beyond GF(%d)", i, w, c.size)
		}
	}
	seen := make([]bool, len(word))
	for _, e := range erased {
		if e < 0 || e >= len(word) || seen[e] {
			return fmt.Errorf("reedsolomon: erasure at %d, which is no place of the word or was named before", e)
		}
		seen[e] = true
	}
	return nil
}

// syndromes are the values of the word at the roots of the code; all are 0 in a
// word of the code.
func (c *Code) syndromes(word []int, check int) (s []int, clean bool) {
	s, clean = make([]int, check), true
	for j := range s {
		v, root := 0, (c.root+j)%(c.size-1)
		for _, w := range word {
			if v != 0 {
				v = int(c.exp[int(c.log[v])+root])
			}
			v ^= w
		}
		s[j] = v
		clean = clean && v == 0
	}
	return s, clean
}

// erasures is the product of all 1 - X x over the erased places; the coefficient
// of x^i is at i.
func (c *Code) erasures(n int, erased []int) []int {
	p := []int{1}
	for _, e := range erased {
		at := c.alpha(n - 1 - e)
		p = append(p, 0)
		for i := len(p) - 1; i > 0; i-- {
			p[i] ^= c.mul(p[i-1], at)
		}
	}
	return p
}

// locator finds the polynomial whose roots are the inverses of the wrong places,
// and how many places those should be.
func (c *Code) locator(s, erasures []int, erased int) (locator []int, degree int) {
	locator = make([]int, len(s)+2)
	copy(locator, erasures)
	before := slices.Clone(locator)
	next := make([]int, len(locator))
	degree = erased
	for r := erased + 1; r <= len(s); r++ {
		off := 0
		for j := 0; j <= degree && j < r; j++ {
			off ^= c.mul(locator[j], s[r-1-j])
		}
		copy(before[1:], before) // times x
		before[0] = 0
		if off == 0 {
			continue
		}
		for i := range next {
			next[i] = locator[i] ^ c.mul(off, before[i])
		}
		if 2*degree <= r+erased-1 {
			for i := range before {
				before[i] = c.div(locator[i], off)
			}
			degree = r + erased - degree
		}
		locator, next = next, locator
	}
	return locator, degree
}

// forney corrects the word at the roots of the locator, and says whether there
// are as many as its degree.
func (c *Code) forney(word, s, locator []int) bool {
	degree := len(locator) - 1
	omega := make([]int, degree) // s * locator; the higher powers cancel out
	for i := range omega {
		for j := 0; j <= i; j++ {
			omega[i] ^= c.mul(s[i-j], locator[j])
		}
	}
	found := 0
	for i := range word {
		power := len(word) - 1 - i
		inverse := c.alpha(-power)
		if c.at(locator, inverse) != 0 {
			continue
		}
		found++
		slope := 0 // the derivative has the odd coefficients only
		square := c.mul(inverse, inverse)
		for k, x := 1, 1; k < len(locator); k += 2 {
			slope ^= c.mul(locator[k], x)
			x = c.mul(x, square)
		}
		if slope == 0 {
			return false
		}
		value := c.div(c.at(omega, inverse), slope)
		word[i] ^= c.mul(value, c.alpha(power*(1-c.root)))
	}
	return found == degree
}

// at is the value of a polynomial, whose coefficient of x^i is at i.
func (c *Code) at(p []int, x int) int {
	v := 0
	for _, a := range slices.Backward(p) {
		v = c.mul(v, x) ^ a
	}
	return v
}
