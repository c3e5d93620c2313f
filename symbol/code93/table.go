// Package code93 is Code 93, ANSI/AIM BC5-1995: 43 characters in a symbol
// character each and the rest of ASCII in two, with two mandatory check
// characters.
package code93

import "unspool/symbol"

const (
	modules  = 9 // of a symbol character
	elements = 6 // of a symbol character
	guard    = 47
	shifts   = 43 // the first of the four shift characters
)

// alphabet is the data characters by value; the four shift characters follow as
// what they are in Code 39, in round brackets: ($) (%) (/) (+).
const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%"

// patterns are the symbol characters by value: six elements in modules, bar
// first; value 47 is start and stop. ANSI/AIM BC5-1995 Table 2 (rows from memory,
// checked against an independent encoder).
var patterns = [...]string{
	"131112", "111213", "111312", "111411", "121113", // 0
	"121212", "121311", "111114", "131211", "141111", // 5
	"211113", "211212", "211311", "221112", "221211", // A
	"231111", "112113", "112212", "112311", "122112", // F
	"132111", "111123", "111222", "111321", "121122", // K
	"131121", "212112", "212211", "211122", "211221", // P
	"221121", "222111", "112122", "112221", "122121", // U
	"123111", "121131", "311112", "311211", "321111", // Z - . space $
	"112131", "113121", "211131", "121221", "312111", // / + % ($) (%)
	"311121", "122211", "111141", // (/) (+) start and stop
}

// units are the patterns as symbol.Logical holds them.
var units = func() (u [len(patterns)][]uint8) {
	for v, p := range patterns {
		u[v] = symbol.Units(p)
	}
	return u
}()

// pairs spell the ASCII characters that have no symbol character of their own: a
// shift character and a letter each, in runs. ANSI/AIM BC5-1995 Table 3 (from
// memory, checked against an independent encoder).
var pairs = [...]struct {
	first  byte // the ASCII character that letter stands for
	n      int
	shift  int // its value
	letter byte
}{
	{0x01, 26, shifts, 'A'}, // ($)
	{0x00, 1, shifts + 1, 'U'},
	{0x1b, 5, shifts + 1, 'A'}, // (%)
	{';', 5, shifts + 1, 'F'},
	{'@', 1, shifts + 1, 'V'},
	{'[', 5, shifts + 1, 'K'},
	{'`', 1, shifts + 1, 'W'},
	{'{', 5, shifts + 1, 'P'},
	{'!', 15, shifts + 2, 'A'}, // (/), with some that need no pair
	{':', 1, shifts + 2, 'Z'},
	{'a', 26, shifts + 3, 'A'}, // (+)
}
