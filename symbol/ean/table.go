// Package ean is EAN-13, EAN-8, UPC-A and UPC-E, ISO/IEC 15420: digits in three
// number sets, with a mandatory modulo 10 check digit.
package ean

import "unspool/symbol"

const (
	modules  = 7 // of a digit
	elements = 4 // of a digit
)

// number set: A and C have digits of one width each way round, B is C read
// backwards.
type set int

const (
	setA set = iota
	setB
	setC
)

// patterns are the digits in number set A, and in C, which has bars where A has
// spaces: four elements in modules. Those of set B are C's backwards. ISO/IEC
// 15420 Tables 1 and 2 (rows from memory, checked against figures of the GS1
// General Specifications and against an independent encoder).
var patterns = [10]string{"3211", "2221", "2122", "1411", "1132", "1231", "1114", "1312", "1213", "3112"}

// Values of the symbol characters: a digit has 10 times its set besides.
const (
	guard  = 30 // normal guard pattern: bar, space, bar
	centre = 31 // centre guard pattern: five elements, space first
	end    = 32 // special guard pattern of UPC-E: six elements, space first
)

// units are the digits as symbol.Logical holds them.
var units = func() (u [3][10][]uint8) {
	for d, p := range patterns {
		c := symbol.Units(p)
		u[setA][d], u[setB][d], u[setC][d] = c, []uint8{c[3], c[2], c[1], c[0]}, c
	}
	return u
}()

// parity says by the first digit of an EAN-13 which of the next six are in set B,
// the first of them the highest bit. ISO/IEC 15420 Table 3 (from memory, checked
// as the patterns are).
var parity = [10]int{0b000000, 0b001011, 0b001101, 0b001110, 0b010011, 0b011001, 0b011100, 0b010101, 0b010110, 0b011010}

// parityE says by the check digit of a UPC-E of number system 0 which of its six
// digits are in set A; in number system 1 they are in set B. ISO/IEC 15420 Table
// 4 (from memory, checked as the patterns are).
var parityE = [10]int{0b000111, 0b001011, 0b001101, 0b001110, 0b010011, 0b011001, 0b011100, 0b010101, 0b010110, 0b011010}

// sums are how many sums of two elements name a digit.
const sums = 2

// digits is what each key may be: the digit and set of a character that begins
// with a space (A or B), or with a bar (C). Of the pairs that share a key, 1 and
// 7, 2 and 8, the lower stands here.
var digits = func() (t [2][1 << (3 * sums)]struct {
	value int
	known bool
}) {
	for s := range units {
		for d := len(patterns) - 1; d >= 0; d-- {
			at := &t[s/int(setC)][symbol.KeyOf(units[s][d], sums)]
			at.value, at.known = 10*s+d, true
		}
	}
	return t
}()
