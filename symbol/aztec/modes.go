package aztec

import "strings"

// The modes of text. ISO/IEC 24778 Table 2 (from memory, held against zint and
// zxing-cpp).
const (
	upper = iota
	lower
	mixed
	punct
	digit
	modes
)

// width is how many bits a value has in each mode.
var width = [modes]int{5, 5, 5, 5, 4}

// What values do that are no characters.
const (
	toUpper = 0x80 + iota // latch
	toLower
	toMixed
	toPunct
	toDigit
	shiftUpper // for one character
	shiftPunct
	shiftBytes // for as many bytes as is said
	flag       // FLG(n)
	pairReturn // of two characters: carriage return and line feed
	pairStop   // full stop and space
	pairComma
	pairColon
)

var pairs = map[byte]string{pairReturn: "\r\n", pairStop: ". ", pairComma: ", ", pairColon: ": "}

// meaning is that of each value in each mode.
var meaning = [modes]string{
	upper: does(shiftPunct) + " ABCDEFGHIJKLMNOPQRSTUVWXYZ" + does(toLower, toMixed, toDigit, shiftBytes),
	lower: does(shiftPunct) + " abcdefghijklmnopqrstuvwxyz" + does(shiftUpper, toMixed, toDigit, shiftBytes),
	mixed: does(shiftPunct) + " \x01\x02\x03\x04\x05\x06\x07\b\t\n\v\f\r\x1b\x1c\x1d\x1e\x1f@\\^_`|~\x7f" + does(toLower, toUpper, toPunct, shiftBytes),
	punct: does(flag) + "\r" + does(pairReturn, pairStop, pairComma, pairColon) + "!\"#$%&'()*+,-./:;<=>?[]{}" + does(toUpper),
	digit: does(shiftPunct) + " 0123456789,." + does(toUpper, shiftUpper),
}

func does(b ...byte) string { return string(b) }

// valueOf is the value that means something in a mode, or -1.
func valueOf(mode int, means byte) int { return int(values[mode][means]) }

var values = func() (v [modes][256]int8) {
	for mode := range v {
		for c := range v[mode] {
			v[mode][c] = int8(strings.IndexByte(meaning[mode], byte(c))) // at most 31
		}
	}
	return v
}()

// Binary shift: a length of 5 bits, or 0 and 11 bits of what it is above 31.
const (
	shortBits  = 5
	shortBytes = 31
	longBits   = 11
	longBytes  = shortBytes + 1<<longBits - 1
)

// flagBits are those of the n of FLG(n): 0 is FNC1, 1 to 6 the digits of an ECI.
const flagBits = 3
