package datamatrix

import "strings"

// mode is a way to pack data: an encodation scheme of ISO/IEC 16022 5.2.
type mode uint8

const (
	ascii mode = iota
	c40
	text
	x12
	edifact
	base256
)

// Codewords of the ASCII scheme that are no data. ISO/IEC 16022 Table 2.
const (
	pad        = 129
	pairs      = 130 // and above, up to 229: two digits
	toC40      = 230
	toBase256  = 231
	fnc1       = 232
	structured = 233
	programs   = 234 // a reader: reader programming
	upperShift = 235
	macro05    = 236
	macro06    = 237
	toX12      = 238
	toText     = 239
	toEDIFACT  = 240
	eciWord    = 241
	unlatch    = 254 // of C40, Text and X12
)

// latch is the codeword that leads from ASCII to a mode.
var latch = [...]int{c40: toC40, text: toText, x12: toX12, edifact: toEDIFACT, base256: toBase256}

// unlatchEDIFACT ends EDIFACT, in its six bits.
const unlatchEDIFACT = 31

// gs separates fields of GS1 data and is FNC1 in the symbol.
const gs = 0x1D

// The values of C40 and Text that lead to the other sets, and their sets 0, 2 and
// 3; set 1 is the control characters. Upper shift, for what is beyond ASCII, and
// FNC1 stand in set 2. ISO/IEC 16022 Tables C.1 and C.2.
const (
	shift1, shift2, shift3 = 0, 1, 2
	fnc1InSet2             = 27
	upperInSet2            = 30

	basicC40  = "\x00\x00\x00 0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	basicText = "\x00\x00\x00 0123456789abcdefghijklmnopqrstuvwxyz"
	set2      = "!\"#$%&'()*+,-./:;<=>?@[\\]^_"
	set3C40   = "`abcdefghijklmnopqrstuvwxyz{|}~\x7f"
	set3Text  = "`ABCDEFGHIJKLMNOPQRSTUVWXYZ{|}~\x7f"
)

// ofX12 are the characters of X12 by value. ISO/IEC 16022 Table 7.
const ofX12 = "\r*> 0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// sets are the sets 0 and 3 of C40 or Text.
func (m mode) sets() (basic, set3 string) {
	if m == text {
		return basicText, set3Text
	}
	return basicC40, set3C40
}

// values are what a character is in C40, Text or X12, and nothing where it is not
// in X12. FNC1 stands for GS in GS1 data.
func (m mode) values(c byte, gs1 bool) []int {
	if m == x12 {
		if v := strings.IndexByte(ofX12, c); v >= 0 {
			return []int{v}
		}
		return nil
	}
	if gs1 && c == gs {
		return []int{shift2, fnc1InSet2}
	}
	var v []int
	if c > 0x7f {
		v, c = []int{shift2, upperInSet2}, c-0x80
	}
	basic, set3 := m.sets()
	switch {
	case c < ' ':
		return append(v, shift1, int(c))
	case strings.IndexByte(basic, c) >= 0:
		return append(v, strings.IndexByte(basic, c))
	case strings.IndexByte(set2, c) >= 0:
		return append(v, shift2, strings.IndexByte(set2, c))
	}
	return append(v, shift3, strings.IndexByte(set3, c))
}

// inEDIFACT says whether EDIFACT has a character.
func inEDIFACT(c byte) bool { return c >= ' ' && c <= '^' }

// asciiWords is a character in the ASCII scheme.
func asciiWords(c byte, gs1 bool) []int {
	switch {
	case gs1 && c == gs:
		return []int{fnc1}
	case c > 0x7f:
		return []int{upperShift, int(c) - 0x80 + 1}
	}
	return []int{int(c) + 1}
}

// digitPair says whether two digits begin a text: one codeword in ASCII.
func digitPair(s string) bool {
	return len(s) >= 2 && s[0] >= '0' && s[0] <= '9' && s[1] >= '0' && s[1] <= '9'
}

// randomized hides a codeword by its place, counted from 1, so that padding and
// bytes make no pattern; ISO/IEC 16022 Annex B. modulus is 253 for padding, 255
// for Base 256.
func randomized(v, place, modulus int) int {
	v += 149*place%modulus + 1
	if modulus == 253 {
		if v > 254 {
			v -= 254
		}
		return v
	}
	return v & 0xFF
}

// plain takes back what randomized did to a codeword of Base 256.
func plain(v, place int) int { return (v - 149*place%255 - 1) & 0xFF }
