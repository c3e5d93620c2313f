// Package code39 is Code 39, ISO/IEC 16388: plain, with pairs for all of ASCII,
// and with the optional modulo 43 check character.
package code39

// alphabet holds the 43 data characters in the order of their values, and the
// start and stop character *. ISO/IEC 16388:2007 Table 1.
const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%*"

// guard is the value of the start and stop character.
const guard = 43

// patterns are the symbol characters by value: nine elements, bar first, 1
// narrow and 2 wide, always three of them wide.
// ISO/IEC 16388:2007 Table 1 (rows from memory, checked against the figures of
// that standard and MIL-STD-1189 Rev B and against an independent encoder).
var patterns = [...]string{
	"111221211", "211211112", "112211112", "212211111", "111221112", // 0
	"211221111", "112221111", "111211212", "211211211", "112211211", // 5
	"211112112", "112112112", "212112111", "111122112", "211122111", // 10 A
	"112122111", "111112212", "211112211", "112112211", "111122211", // 15 F
	"211111122", "112111122", "212111121", "111121122", "211121121", // 20 K
	"112121121", "111111222", "211111221", "112111221", "111121221", // 25 P
	"221111112", "122111112", "222111111", "121121112", "221121111", // 30 U
	"122121111", "121111212", "221111211", "122111211", "121212111", // 35 Z - . space $
	"121211121", "121112121", "111212121", "121121211", // 40 / + % *
}

// Pairs that stand for the characters Code 39 lacks: a shift and the letter that
// begins a run of ASCII. ISO/IEC 16388:2007 Annex A (from memory, checked
// against an independent encoder).
var pairs = []struct {
	shift, letter, first byte
	n                    int
}{
	{'%', 'U', 0x00, 1},
	{'$', 'A', 0x01, 26},
	{'%', 'A', 0x1b, 5},
	{'/', 'A', '!', 12}, // ! " # $ % & ' ( ) * + ,
	{'/', 'O', '/', 1},
	{'/', 'Z', ':', 1},
	{'%', 'F', ';', 5}, // ; < = > ?
	{'%', 'V', '@', 1},
	{'%', 'K', '[', 5}, // [ \ ] ^ _
	{'%', 'W', '`', 1},
	{'+', 'A', 'a', 26},
	{'%', 'P', '{', 5}, // { | } ~ DEL
	// The last three letters of % repeat DEL. They are read but never written.
	{'%', 'X', 0x7f, 1},
	{'%', 'Y', 0x7f, 1},
	{'%', 'Z', 0x7f, 1},
}
