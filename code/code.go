// Package code is the table of symbologies: what each is called, what it can
// carry, how it is encoded and decoded, and the limits its standard sets. To
// add a symbology is to add one folder below symbol and one row here.
package code

import (
	"unspool/symbol"
	"unspool/unit"
)

// Options are the choices a programme makes for a code, beyond its text.
type Options struct {
	Check     Check // the rule of the optional check character
	Given     bool  // the text already ends in its check character: prove it, do not add one
	FullASCII bool  // Code 39 only: pairs of characters stand for all of ASCII
	// Start and Stop are Codabar's guard letters, "A" to "D"; empty means those
	// the text brings, or "A".
	Start, Stop string

	// Level is the error correction of a two-dimensional symbol: "L", "M", "Q" or "H"
	// of QR Code, 0 to 8 of PDF417, a share in per cent of Aztec Code. Empty takes
	// what is usual, or for PDF417 the least that its standard recommends.
	Level   string
	Oblong  bool // Data Matrix only: a rectangular symbol
	Columns int  // PDF417 only: codewords in a row; 0 as fits best
	Compact bool // PDF417 only: without right row indicators
	GS1     bool // QR Code and Data Matrix: GS1 element strings, "(01)..." or with FNC1
	// Binary takes the text for bytes in hexadecimal, two digits each; white space
	// between them is left out. Two-dimensional symbologies only.
	Binary bool
}

// Check names a rule for an optional check character, in lower case as a card
// file writes it.
type Check string

// Check rules.
const (
	NoCheck Check = ""
	Mod43   Check = "mod43" // Code 39
	Mod10   Check = "mod10" // Interleaved 2 of 5, EAN and UPC: weights 3, 1 from the right
	Luhn    Check = "luhn"  // Interleaved 2 of 5, Codabar: weights 2, 1 from the right
	Mod16   Check = "mod16" // Codabar, start and stop counted
	Mod37   Check = "mod37" // ISBT 128: ISO 7064 mod 37,2 in the flag characters
)

// Kind is one symbology.
type Kind struct {
	Name   string // as a card file writes it: "code39"
	Title  string // as a person writes it: "Code 39"
	Family symbol.Family
	Checks []Check // optional check rules it knows, besides NoCheck
	Always Check   // the one of Checks that every symbol keeps, named or not
	HasGap bool    // it has intercharacter gaps

	// A linear symbology has Encode and Decode, a two-dimensional one EncodeMatrix
	// and DecodeMatrix; see Family.

	// Encode makes the symbol for text. The error names the first character it
	// cannot carry and what to do. Options that the symbology does not have are
	// errors.
	Encode func(text string, o Options) (symbol.Logical, error)
	// Decode is the symbology's reference decode of a whole symbol: element
	// widths from the first bar to the last, in any one unit, scanned from
	// either end. It never panics.
	Decode func(widths []float64, o Options) (symbol.Reading, error)
	// EncodeMatrix makes the symbol for text, as Encode does.
	EncodeMatrix func(text string, o Options) (symbol.Matrix, error)
	// DecodeMatrix is the reference decode of a grid of modules, however it is
	// turned. It never panics.
	DecodeMatrix func(symbol.Grid) (symbol.MatrixReading, error)

	QuietX int // quiet zone on each side, in X; of two-dimensional symbols all round
	// RowX is the least height of a row in X; 1 but for multi-row symbologies.
	RowX int
	// QuietEnd is that after the last bar, in X, where it is another than the one
	// before the first; else 0.
	QuietEnd int
	// QuietFloor is an older, larger floor of the quiet zone that some
	// specifications still state; 0 where there is none.
	QuietFloor unit.Length
	// MinRatio is the least legal N at a narrow element x, MaxRatio the largest.
	// Both are 0 for modular symbologies.
	MinRatio func(x unit.Length) float64
	MaxRatio float64
	// MinX and MaxX are the smallest and the largest X the symbology's specification
	// allows in open use; 0 where it leaves that to the application.
	MinX, MaxX unit.Length
	// MinHeight is the bar height recommended for scanning by hand. No standard
	// makes it a fault to be lower.
	MinHeight func(width unit.Length) unit.Length
	// HeightWithQuiet says that the width that MinHeight takes counts the quiet
	// zones; otherwise it is that of the bars alone.
	HeightWithQuiet bool
}
