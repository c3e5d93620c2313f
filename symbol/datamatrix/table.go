// Package datamatrix is Data Matrix ECC 200, ISO/IEC 16022: 24 square and 6
// rectangular sizes, encoded in the fewest codewords, and its reference decode
// from a grid of modules.
package datamatrix

import (
	"cmp"
	"fmt"
	"slices"

	"unspool/symbol"
	"unspool/symbol/reedsolomon"
)

// field is GF(256) by x^8+x^5+x^3+x^2+1; the generator's first root is alpha.
// ISO/IEC 16022 5.7 and Annex E (from memory).
var field = reedsolomon.Field(256, 0x12D, 1)

// size is a row of the table of sizes.
type size struct {
	h, w         int // modules
	down, across int // data regions
	data, check  int // codewords
	blocks       int
}

// sizes are ISO/IEC 16022 Table 7 (from memory, proved against an independent
// encoder), the square ones first.
var sizes = [...]size{
	{10, 10, 1, 1, 3, 5, 1}, {12, 12, 1, 1, 5, 7, 1}, {14, 14, 1, 1, 8, 10, 1},
	{16, 16, 1, 1, 12, 12, 1}, {18, 18, 1, 1, 18, 14, 1}, {20, 20, 1, 1, 22, 18, 1},
	{22, 22, 1, 1, 30, 20, 1}, {24, 24, 1, 1, 36, 24, 1}, {26, 26, 1, 1, 44, 28, 1},
	{32, 32, 2, 2, 62, 36, 1}, {36, 36, 2, 2, 86, 42, 1}, {40, 40, 2, 2, 114, 48, 1},
	{44, 44, 2, 2, 144, 56, 1}, {48, 48, 2, 2, 174, 68, 1}, {52, 52, 2, 2, 204, 84, 2},
	{64, 64, 4, 4, 280, 112, 2}, {72, 72, 4, 4, 368, 144, 4}, {80, 80, 4, 4, 456, 192, 4},
	{88, 88, 4, 4, 576, 224, 4}, {96, 96, 4, 4, 696, 272, 4}, {104, 104, 4, 4, 816, 336, 6},
	{120, 120, 6, 6, 1050, 408, 6}, {132, 132, 6, 6, 1304, 496, 8}, {144, 144, 6, 6, 1558, 620, 10},

	{8, 18, 1, 1, 5, 7, 1}, {8, 32, 1, 2, 10, 11, 1}, {12, 26, 1, 1, 16, 14, 1},
	{12, 36, 1, 2, 22, 18, 1}, {16, 36, 1, 2, 32, 24, 1}, {16, 48, 1, 2, 49, 28, 1},
}

func (s size) String() string { return fmt.Sprintf("%d x %d", s.h, s.w) }

// sizeOf finds the size of a grid.
func sizeOf(h, w int) (size, bool) {
	i := slices.IndexFunc(sizes[:], func(s size) bool { return s.h == h && s.w == w })
	if i < 0 {
		return size{}, false
	}
	return sizes[i], true
}

// fitting are the sizes that a symbol may have, the smallest first and of equals
// the square one.
func (o Options) fitting() []size {
	var may []size
	for _, s := range sizes {
		wanted := o.Rows == 0 && o.Columns == 0 || o.Rows == s.h && o.Columns == s.w
		if wanted && (o.Shape == Auto || (o.Shape == Square) == (s.h == s.w)) {
			may = append(may, s)
		}
	}
	slices.SortStableFunc(may, func(a, b size) int { return cmp.Compare(a.h*a.w, b.h*b.w) })
	return may
}

// codewords says which codewords make each block: one of each in turn, data and
// then check. ISO/IEC 16022 5.7.2 and Annex A.
func (s size) codewords() []symbol.Block {
	all := make([]symbol.Block, s.blocks)
	for w := range s.data + s.check {
		// In 144 x 144 the data does not come out even, and the check codewords go on
		// with the block after the last.
		b := &all[w%s.blocks]
		b.Codewords = append(b.Codewords, w)
	}
	for i := range all {
		all[i].Check = s.check / s.blocks
	}
	return all
}

// protect adds the check codewords.
func (s size) protect(data []int) []int {
	words := append(slices.Clone(data), make([]int, s.check)...)
	for _, b := range s.codewords() {
		n := len(b.Codewords) - b.Check
		own := make([]int, n)
		for i, w := range b.Codewords[:n] {
			own[i] = words[w]
		}
		for i, w := range field.Check(own, b.Check) {
			words[b.Codewords[n+i]] = w
		}
	}
	return words
}
