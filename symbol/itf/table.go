// Package itf is Interleaved 2 of 5, ISO/IEC 16390: pairs of digits, the first
// in the bars and the second in the spaces, with an optional check digit.
package itf

// patterns are the digits: five bars or five spaces, 1 narrow and 2 wide, always
// two of them wide. ISO/IEC 16390:2007 Table 1 (rows from memory, checked
// against figures of the GS1 General Specifications and against an independent
// encoder).
var patterns = [...]string{
	"11221", "21112", "12112", "22111", "11212", // 0
	"21211", "12211", "11122", "21121", "12121", // 5
}

// The start and stop patterns, bar first. ISO/IEC 16390:2007 4.3 (as above).
const (
	start = "1111"
	stop  = "211"
)

const (
	digit    = 5         // elements of a digit
	elements = 2 * digit // of a pair
)

// Check is the rule of the optional check digit.
type Check uint8

// Check rules.
const (
	NoCheck Check = iota
	Mod10         // weights 3, 1 from the right
	Luhn          // weights 2, 1 from the right, digits of the products added
)

// Options are the choices Interleaved 2 of 5 leaves to the application.
type Options struct {
	Check Check
	Given bool // the text brings its check digit; otherwise Encode adds it
}
