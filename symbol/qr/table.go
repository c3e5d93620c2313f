// Package qr is QR code model 2, ISO/IEC 18004: 40 versions of four levels of
// error correction, encoded in the least bits, and its reference decode from a
// grid of modules.
package qr

import (
	"fmt"

	"unspool/symbol"
	"unspool/symbol/reedsolomon"
)

// Level is how much of a symbol may be damaged.
type Level uint8

// The levels. They mend about 7, 15, 25 and 30 % of the codewords.
const (
	L Level = iota
	M
	Q
	H
)

func (l Level) String() string { return "LMQH"[l&3:][:1] }

// Versions run from 1, of 21 modules a side, to 40, of 177.
const (
	versions = 40
	masks    = 8
)

// side is how many modules a version has along each side.
func side(version int) int { return 17 + 4*version }

// field is GF(256) by x^8+x^4+x^3+x^2+1; the generator's first root is 1.
// ISO/IEC 18004 7.5.2 and Annex A (from memory).
var field = reedsolomon.Field(256, 0x11D, 0)

// checks is the number of check codewords of each block, by level and version.
// ISO/IEC 18004 Table 9 (from memory, proved against an independent encoder).
var checks = [4][versions + 1]uint8{
	{0, 7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30},
	{0, 10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26, 26, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28},
	{0, 13, 22, 18, 26, 18, 24, 18, 22, 20, 24, 28, 26, 24, 20, 30, 24, 28, 28, 26, 30, 28, 30, 30, 30, 30, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30},
	{0, 17, 28, 22, 16, 22, 28, 26, 26, 24, 28, 24, 28, 22, 24, 24, 30, 28, 28, 26, 28, 30, 24, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30},
}

// groups is the number of blocks, by level and version. ISO/IEC 18004 Table 9
// (from memory, proved against an independent encoder).
var groups = [4][versions + 1]uint8{
	{0, 1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25},
	{0, 1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16, 17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49},
	{0, 1, 1, 2, 2, 4, 4, 6, 6, 8, 8, 8, 10, 12, 16, 12, 17, 16, 18, 21, 20, 23, 23, 25, 27, 29, 34, 34, 35, 38, 40, 43, 45, 48, 51, 53, 56, 59, 62, 65, 68},
	{0, 1, 1, 2, 4, 4, 4, 5, 6, 8, 8, 11, 11, 16, 16, 18, 16, 19, 21, 25, 25, 25, 34, 30, 32, 35, 37, 40, 42, 45, 48, 51, 54, 57, 60, 63, 66, 70, 74, 77, 81},
}

// guard is p, the check codewords kept to detect misreading. ISO/IEC 18004 Table
// 9, note (from memory).
func guard(version int, level Level) int {
	switch {
	case version == 1:
		return [...]int{L: 3, M: 2, Q: 1, H: 1}[level]
	case version == 2 && level == L:
		return 2
	case version == 3 && level == L:
		return 1
	}
	return 0
}

// total is how many codewords a version has: an eighth of the modules that carry
// neither a fixed pattern nor information on format and version.
func total(version int) int {
	n := side(version)
	modules := n*n - 3*64 - 2*15 - 1 - 2*(n-16)
	if a := len(centres(version)); a > 0 {
		modules -= 25*(a*a-3) - 2*5*(a-2) // those on the timing patterns share 5 modules
	}
	if version >= 7 {
		modules -= 2 * 18
	}
	return modules / 8
}

// room is how many data codewords a version has at a level.
func room(version int, level Level) int {
	return total(version) - int(checks[level][version])*int(groups[level][version])
}

// blocks says which codewords make each block. Data codewords are drawn one of
// each block in turn, then check codewords likewise; the last blocks have a data
// codeword more where they do not come out even. ISO/IEC 18004 7.6.
func blocks(version int, level Level) []symbol.Block {
	count, check := int(groups[level][version]), int(checks[level][version])
	data := room(version, level)
	short := count - data%count // how many blocks have no more than data/count
	all := make([]symbol.Block, count)
	for b := range all {
		all[b] = symbol.Block{Check: check, Guard: guard(version, level)}
		words := make([]int, 0, data/count+1+check)
		for i := range data / count {
			words = append(words, i*count+b)
		}
		if b >= short {
			words = append(words, data/count*count+b-short)
		}
		for i := range check {
			words = append(words, data+i*count+b)
		}
		all[b].Codewords = words
	}
	return all
}

// centres are the rows, and columns, that the centres of alignment patterns lie
// in. ISO/IEC 18004 Annex E: the first is 6, the last 7 from the end, and the
// others evenly between, the odd step the first (the rule from memory, proved
// against an independent encoder).
func centres(version int) []int {
	if version == 1 {
		return nil
	}
	n := version/7 + 2
	step := (version*8 + n*3 + 5) / (n*4 - 4) * 2
	at := make([]int, n)
	for i := range at {
		at[i] = side(version) - 7 - (n-1-i)*step
	}
	at[0] = 6
	return at
}

// formatWord is the 15 bits that tell level and mask: BCH (15,5) by
// x^10+x^8+x^5+x^4+x^2+x+1, masked so that none is all light. ISO/IEC 18004 7.9 and Annex C.
func formatWord(level Level, mask int) int {
	data := [...]int{L: 1, M: 0, Q: 3, H: 2}[level]<<3 | mask
	return (data<<10 | remainder(data<<10, 0x537)) ^ 0x5412
}

// versionWord is the 18 bits that tell the version from 7 on: BCH (18,6) by
// x^12+x^11+x^10+x^9+x^8+x^5+x^2+1. ISO/IEC 18004 7.10 and Annex D.
func versionWord(version int) int {
	return version<<12 | remainder(version<<12, 0x1F25)
}

// remainder divides polynomials over GF(2).
func remainder(value, by int) int {
	top := by
	for top&(top-1) != 0 {
		top &= top - 1
	}
	for shift := 1 << 20; shift > 0; shift >>= 1 {
		if value&(top*shift) != 0 {
			value ^= by * shift
		}
	}
	return value
}

// spec names a symbol as the standard does.
func spec(version int, level Level, mask int) string {
	return fmt.Sprintf("version %d-%v, mask %d", version, level, mask)
}
