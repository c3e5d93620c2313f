// Package reedsolomon is the Reed-Solomon error correction that the
// two-dimensional symbologies share: codewords of 4 to 12 bits over GF(2^m).
//
// A word is a row of symbols, data first and check symbols last; its first symbol
// is the coefficient of the highest power of x. It belongs to the code when it
// has the roots alpha^b, alpha^(b+1) ... alpha^(b+n-1), where b is the first root
// and n the number of check symbols.
package reedsolomon

import "fmt"

// Code is a Reed-Solomon code over one field with one first root. It holds only
// tables, so that any number of goroutines may use it.
type Code struct {
	size int // of the field
	root int // b
	exp  []uint16
	log  []uint16
}

// Field makes the code over GF(size), with alpha a root of the primitive
// polynomial, written as its bits (x^8+x^4+x^3+x^2+1 is 0x11D), and the first
// root alpha^firstRoot. It panics where the polynomial is not primitive or size
// not a power of 2 from 4 to 4096: these are constants of a standard.
func Field(size, primitive, firstRoot int) *Code {
	if size < 4 || size > 4096 || size&(size-1) != 0 || firstRoot < 0 || firstRoot >= size-1 {
		panic(fmt.Sprintf("reedsolomon: no code over GF(%d) from root %d", size, firstRoot))
	}
	c := &Code{size, firstRoot, make([]uint16, 2*(size-1)), make([]uint16, size)}
	x := 1
	for i := range size - 1 {
		if i > 0 && x <= 1 || x >= size {
			panic(fmt.Sprintf("reedsolomon: %#x is not primitive for GF(%d)", primitive, size))
		}
		c.exp[i], c.exp[i+size-1], c.log[x] = uint16(x), uint16(x), uint16(i)
		if x <<= 1; x >= size {
			x ^= primitive
		}
	}
	if x != 1 {
		panic(fmt.Sprintf("reedsolomon: %#x is not primitive for GF(%d)", primitive, size))
	}
	return c
}

func (c *Code) mul(a, b int) int {
	if a == 0 || b == 0 {
		return 0
	}
	return int(c.exp[int(c.log[a])+int(c.log[b])])
}

// div is a/b; b is not 0.
func (c *Code) div(a, b int) int {
	if a == 0 {
		return 0
	}
	return int(c.exp[int(c.log[a])+c.size-1-int(c.log[b])])
}

// alpha is alpha to any power.
func (c *Code) alpha(power int) int {
	n := c.size - 1
	return int(c.exp[(power%n+n)%n])
}

// Check gives the n check symbols of data. Symbols beyond the field count with
// their low bits.
func (c *Code) Check(data []int, n int) []int {
	if n <= 0 {
		return nil
	}
	g := c.generator(n)
	check := make([]int, n) // the remainder of data * x^n by g
	for _, d := range data {
		lead := check[0] ^ d&(c.size-1)
		copy(check, check[1:])
		check[n-1] = 0
		if lead == 0 {
			continue
		}
		at := int(c.log[lead])
		for i, log := range g {
			if log >= 0 {
				check[i] ^= int(c.exp[at+log])
			}
		}
	}
	return check
}

// generator is the product of all x - alpha^(b+i): the logarithms of its
// coefficients from x^(n-1) down, -1 for 0. That of x^n is 1.
func (c *Code) generator(n int) []int {
	g := make([]int, n+1)
	g[n] = 1
	for i := range n {
		root := c.alpha(c.root + i)
		for k := n - i - 1; k < n; k++ {
			g[k] ^= g[k+1] // times x
			g[k+1] = c.mul(g[k+1], root)
		}
	}
	for k := range g[1:] {
		if g[k] = -1; g[k+1] != 0 {
			g[k] = int(c.log[g[k+1]])
		}
	}
	return g[:n]
}
