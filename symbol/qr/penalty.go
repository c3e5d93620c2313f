package qr

import (
	"math/bits"

	"unspool/symbol"
)

// What each feature costs. ISO/IEC 18004 Table 11 (from memory).
const (
	runCost    = 3  // N1: five like modules in line; each more costs 1
	blockCost  = 3  // N2: four like modules in a square
	finderCost = 40 // N3: what looks like a finder pattern beside light
	shareCost  = 10 // N4: each 5 % that dark modules are off one half
)

// penalty is how ill a symbol is to read: the sum over its features.
func penalty(g symbol.Grid) int {
	n := g.W
	rows, columns := make([]line, n), make([]line, n)
	dark := 0
	for y := range n {
		for x := range n {
			if g.Dark[y*n+x] {
				rows[y].set(x)
				columns[x].set(y)
				dark++
			}
		}
	}
	sum := 0
	for i := range n {
		sum += rows[i].penalty(n) + columns[i].penalty(n)
		if i > 0 {
			sum += blockCost * squares(&rows[i-1], &rows[i], n)
		}
	}
	// k is the number of whole 5 % between the share of dark modules and 50 %.
	return sum + shareCost*(abs(20*dark-10*n*n)/(n*n))
}

// line is a row or column, a bit a module.
type line [(177 + 63) / 64]uint64

func (l *line) set(i int) { l[i/64] |= 1 << (i % 64) }

// next shifts a line by one, so that each bit meets its neighbour.
func (l *line) next(by uint) line {
	var s line
	for i := range l {
		s[i] = l[i] >> by
		if i+1 < len(l) {
			s[i] |= l[i+1] << (64 - by)
		}
	}
	return s
}

// penalty is N1 and N3 of one line of n modules.
func (l *line) penalty(n int) int {
	const (
		finder = 0b1011101 // with four light modules before or after it, or both
		light  = 0b1111
		window = 1<<15 - 1
	)
	sum, run, recent := 0, 0, 0
	last := uint64(2)
	for i := range n + 4 { // the quiet zone is light
		bit := uint64(0)
		if i < n {
			bit = l[i/64] >> (i % 64) & 1
			if bit != last {
				run, last = 0, bit
			}
			if run++; run == 5 {
				sum += runCost
			} else if run > 5 {
				sum++
			}
		}
		recent = (recent<<1 | int(bit)) & window
		if recent>>4&0x7F == finder && (recent&light == 0 || recent>>11 == 0) {
			sum += finderCost
		}
	}
	return sum
}

// squares is how many 2 x 2 like modules two lines have.
func squares(a, b *line, n int) int {
	nextA, nextB := a.next(1), b.next(1)
	count := 0
	for i := range a {
		same := ^(a[i] ^ b[i]) & ^(a[i] ^ nextA[i]) & ^(a[i] ^ nextB[i])
		if left := n - 1 - 64*i; left < 64 {
			same &= 1<<max(left, 0) - 1
		}
		count += bits.OnesCount64(same)
	}
	return count
}
