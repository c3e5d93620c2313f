// Package symbol holds what every linear symbology shares: a symbol as a row of
// elements, the whole dots it is printed in, and what a reading of it says. The
// symbologies themselves are in the folders below, each with the same three
// parts: the table, the encoder and the reference decoder.
//
// A linear symbol is a row of elements, bar and space in turn, that begins and
// ends with a bar. Two families are told apart, since they scale differently:
//
//   - two-width symbologies (Code 39, Interleaved 2 of 5, Codabar) have narrow
//     and wide elements, and the wide:narrow ratio N is the printer's choice;
//   - modular symbologies (Code 128) have elements of 1 to 4 modules.
package symbol

// Family says what the symbols of a symbology are made of.
type Family uint8

// Families of symbologies.
const (
	TwoWidth Family = iota // linear: elements are narrow or wide
	Modular                // linear: elements are 1 to 4 modules
	Square                 // matrix: square modules
	MultiRow               // rows of bars one above the other
)

// Linear says whether a symbol is one row of elements.
func (f Family) Linear() bool { return f == TwoWidth || f == Modular }

// Gap marks the intercharacter gap among the Units of a two-width symbol. It is
// no part of a character and has a width of its own.
const Gap = 0

// Logical is a symbol before it has a size.
type Logical struct {
	Family Family
	// Units holds one entry an element, beginning with the first bar. Two-width:
	// 1 narrow, 2 wide, Gap an intercharacter gap. Modular: modules, 1 to 4.
	Units []uint8
	// Values are the symbol characters in order, start, check and stop included.
	Values []int
	// Text is the data the symbol carries, check characters included, start and
	// stop left out except for Codabar, whose start and stop letters are data.
	Text string
	// Chars says which elements carry which character, in order, gaps left out.
	Chars []Char
}

// Char is one symbol character's place in the symbol. The digits of an
// Interleaved 2 of 5 pair share their elements and make one Char.
type Char struct {
	From, To int    // elements From <= i < To
	Label    string // what a person calls it: "A", "start B", "check 45", "stop"
}

// Size is a symbol's drawing size in whole dots of the direction it runs in.
type Size struct {
	X      int // narrow element or module
	Wide   int // wide element; two-width only
	Gap    int // intercharacter gap; Code 39 and Codabar only
	Reduce int // dots taken off each bar and given to the space after it (bar-width reduction)
}

// Reading is what the reference decode of one row of element widths gave.
type Reading struct {
	Text   string // as Logical.Text
	Values []int  // as Logical.Values
	// Chars is as Logical.Chars, in the order of the text; its elements are
	// indices of the widths given, so they descend where Reversed is set.
	Chars    []Char
	Reversed bool // the widths ran from the symbol's stop to its start
	// Check says what became of the check character the caller asked for.
	Check Check
	// X is the mean narrow element or module and N the mean wide:narrow ratio
	// (0 for modular symbologies), in the unit of the widths given.
	X, N float64
	// Decodability is V of ISO/IEC 15416 5.4.9 for the worst measurement, 0 to 1.
	Decodability float64
	// Margins is V for each element, the share of its tolerance that is left: 1
	// untouched, 0 on the threshold. An element takes the worst of the
	// measurements it is part of. Gaps have margin 1.
	Margins []float64
}

// Check is the state of a symbol's own optional check character.
type Check uint8

// States of a check character.
const (
	Unchecked Check = iota // none was asked for
	CheckGood
	CheckBad
)
