// Package code128 is Code 128, ISO/IEC 15417: all of ASCII in three code sets,
// encoded in the least width, with its mandatory modulo 103 check character.
package code128

import "unspool/symbol"

// Values that are no data in some or all code sets. ISO/IEC 15417:2007 Table 1.
const (
	fnc3   = 96 // A and B
	fnc2   = 97 // A and B
	shift  = 98 // A and B: one character from the other
	codeC  = 99
	codeB  = 100 // in B: FNC4
	codeA  = 101 // in A: FNC4
	fnc1   = 102
	startA = 103
	startB = 104
	startC = 105
	stop   = 106
)

// modules is the width of every symbol character; the stop has a last bar of 2
// modules besides.
const modules = 11

// patterns are the symbol characters by value: six elements in modules, bar
// first. The stop's seventh is in stopUnits.
// ISO/IEC 15417:2007 Table 1 (rows from memory, checked against the figures of
// that standard and against an independent encoder).
var patterns = [...]string{
	"212222", "222122", "222221", "121223", "121322", // 0
	"131222", "122213", "122312", "132212", "221213", // 5
	"221312", "231212", "112232", "122132", "122231", // 10
	"113222", "123122", "123221", "223211", "221132", // 15
	"221231", "213212", "223112", "312131", "311222", // 20
	"321122", "321221", "312212", "322112", "322211", // 25
	"212123", "212321", "232121", "111323", "131123", // 30
	"131321", "112313", "132113", "132311", "211313", // 35
	"231113", "231311", "112133", "112331", "132131", // 40
	"113123", "113321", "133121", "313121", "211331", // 45
	"231131", "213113", "213311", "213131", "311123", // 50
	"311321", "331121", "312113", "312311", "332111", // 55
	"314111", "221411", "431111", "111224", "111422", // 60
	"121124", "121421", "141122", "141221", "112214", // 65
	"112412", "122114", "122411", "142112", "142211", // 70
	"241211", "221114", "413111", "241112", "134111", // 75
	"111242", "121142", "121241", "114212", "124112", // 80
	"124211", "411212", "421112", "421211", "212141", // 85
	"214121", "412121", "111143", "111341", "131141", // 90
	"114113", "114311", "411113", "411311", "113141", // 95
	"114131", "311141", "411131", "211412", "211214", // 100
	"211232", "233111", // 105 start C, stop
}

// units are the patterns as symbol.Logical holds them, the stop's whole.
var units = func() (u [len(patterns)][]uint8) {
	for v, p := range patterns {
		u[v] = symbol.Units(p)
	}
	u[stop] = append(u[stop], 2)
	return u
}()

// set is a code set.
type set int

const (
	setA set = iota // ASCII 0 to 95
	setB            // ASCII 32 to 127
	setC            // pairs of digits
)

// String is the letter of the set.
func (s set) String() string { return string(rune('A' + s)) }

// other is the set that SHIFT reaches from A or B.
func (s set) other() set { return setB - s }

// mark stands for FNC1 in a text that is to be coded. It is beyond ASCII, so that
// no text holds it otherwise.
const mark = 0x80

// value is the value of the ASCII character c, or of mark, in set A or B; or -1.
func (s set) value(c byte) int {
	switch {
	case c == mark:
		return fnc1
	case s == setA && c < 32:
		return int(c) + 64
	case s == setA && c < 96, s == setB && c >= 32 && c < 128:
		return int(c) - 32
	}
	return -1
}

// ascii is the character of a data value in set A or B.
func (s set) ascii(value int) byte {
	if s == setA && value >= 64 {
		return byte(value - 64)
	}
	return byte(value + 32)
}
