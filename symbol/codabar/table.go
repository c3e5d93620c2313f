// Package codabar is Codabar, EN 798, with the check characters in common use:
// modulo 16 over all characters, and the Luhn digit of library labels.
package codabar

// alphabet holds the data characters and then the four start and stop
// characters, in the order of the values that the modulo 16 check counts with.
// EN 798:1995 Table 1.
const alphabet = "0123456789-$:/.+ABCD"

// firstGuard is the value of the first start and stop character.
const firstGuard = 16

// patterns are the symbol characters by value: seven elements, bar first, 1
// narrow and 2 wide. EN 798:1995 Table 1 (rows from memory, checked against that
// standard's Figure 1 and against an independent encoder).
var patterns = [...]string{
	"1111122", "1111221", "1112112", "2211111", "1121121", // 0
	"2111121", "1211112", "1211211", "1221111", "2112111", // 5
	"1112211", "1122111", "2111212", "2121112", "2121211", // 10 - $ : / .
	"1121212", "1122121", "1212112", "1112122", "1112221", // 15 + A B C D
}

const (
	elements = 7            // of a symbol character
	pitch    = elements + 1 // with the gap after it
)

// Check is the rule of the optional check character.
type Check uint8

// Check rules.
const (
	NoCheck Check = iota
	Mod16         // the sum of all values, start and stop included, is a multiple of 16
	Luhn          // weights 2, 1 from the right over digits: library labels have 13 and their check
)

// Options are the choices Codabar leaves to the application.
type Options struct {
	Check Check
	Given bool // the text brings its check character; otherwise Encode adds it
	// Start and Stop are "A" to "D". Empty, they are the text's own, or "A".
	Start, Stop string
}
