package face

import (
	"unspool/code"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
)

// Composed is one face of one card. It is valid until the next Compose of the
// same Work.
type Composed struct {
	Art *Art
	// Dirty are the parts of the face that may differ from card to card; outside
	// them Art is the same for the whole run.
	Dirty []plane.Rect
	// Redone are the parts in which Art may differ from what the last Compose of the
	// Work, or of the one that it goes on from, left in it.
	Redone []plane.Rect
	Codes  []Placed
	// Texts are the texts as set, by element, for comparing printed numbers with
	// coded ones.
	Texts []SetText
	Zones []SetZone
	Notes []Note
}

// SetText is a text element's words on one card.
type SetText struct {
	Element int
	Text    string
}

// Placed is a code laid on a face.
type Placed struct {
	Element int // index among the face's elements
	Kind    code.Kind
	Options code.Options
	Logical symbol.Logical
	Size    symbol.Size
	Widths  []int // element widths in dots as drawn; of a linear symbol
	// Matrix is a two-dimensional symbol, as it lies when read upright; nil of a
	// linear one, and then Logical is set.
	Matrix *symbol.Matrix
	// Lies is the symbol as it lies on the face, a module of it is Module[0] dots
	// wide and Module[1] high. Of two-dimensional symbols.
	Lies   symbol.Grid
	Module [2]int
	// Bars is the rectangle of the bars, Quiet that of bars and quiet zones, in
	// dots; Quiet may reach beyond the face.
	Bars, Quiet plane.Rect
	AlongX      bool // the symbol runs along x; otherwise along y
	Reverse     bool // it begins at the high end: turned by 180 or 270 degrees
}

// Text is the data a code carries.
func (p *Placed) Text() string {
	if p.Matrix != nil {
		return p.Matrix.Text
	}
	return p.Logical.Text
}

// NoteKind says what the composer noticed.
type NoteKind uint8

// Notes of the composer. Value and Limit hold the measure named here.
const (
	PhotoMissing    NoteKind = iota // Detail: the file name
	PhotoUnreadable                 // Detail: why
	PhotoTiny                       // Value: source pixels along the box's width, Limit: dots
	PhotoUpscaled                   // Value: source pixels a dot, Limit: 1
	TextShrunk                      // Value: em size in mm, Limit: stated size
	TextCut                         // Value: width in mm it needs, Limit: width of the box; heights where Detail says so
	GlyphMissing                    // Detail: the characters
	CodeRefused                     // Detail: why the symbology cannot carry the text
	CodeTooWide                     // Value: width in mm it needs at X 1 dot or the stated X, Limit: room in the box
	OffFace                         // Value: mm beyond the face
	ColourAssumed                   // Detail: why a photo's or picture's colours are taken for sRGB
	FontFailed                      // Detail: the font and why it could not set the text, which the bundled font did
	ZoneRefused                     // Detail: why the fields make no machine readable zone
)

// Note is one thing the composer noticed about an element.
type Note struct {
	Kind         NoteKind
	Element      int
	Detail       say.Text
	Value, Limit float64
}

// Assets brings the bytes of files that a face needs. Names are relative to the
// programme folder, as the programme file writes them. Errors say what is wrong
// with a file without its name: "is a folder". Those of files that are not there
// are fs.ErrNotExist. It is safe for use by several goroutines.
type Assets interface {
	// Artwork is a picture that elements name.
	Artwork(name string) ([]byte, error)
	// Photo is a person's picture.
	Photo(name string) ([]byte, error)
	// Font is a font file within the programme folder, or an installed font's
	// file by family name.
	Font(name string) ([]byte, error)
	// Fallback is the file of an installed font that has the rune, nil where there
	// is none.
	Fallback(r rune) []byte
}
