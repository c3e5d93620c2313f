// Package design reads a card programme: one YAML file that says which card,
// printer, ribbon, black rule, faces and readers there are and where the roster
// is. Lengths are millimetres from the top-left corner of the face as a person
// reads it.
//
// A programme that proofs today proofs the same next year: the file carries a
// version, and an unknown key is an error with its line and column.
package design

import (
	"unspool/code"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// Version is the version of the programme format that this package writes and
// reads.
const Version = 1

// Programme is a whole card programme.
type Programme struct {
	File    string // the name it was read under, for messages
	Name    string
	Card    site.Card
	Printer site.Printer
	Ribbon  site.Ribbon
	Black   [2]site.Black // by side
	Dye     site.Dye
	Faces   [2]*Face // by side; nil where the side is not printed
	Readers []site.Reader
	Roster  Roster
	// Fields are named texts made of other fields, in the order of the file.
	Fields []Field
	// Sample is an invented person, column by column, whom pictures show that
	// leave the card office.
	Sample []Field
	// Assumed lists the settings the file left out whose defaults are guesses, as
	// sentences for the report.
	Assumed []string
}

// Roster says where the people are.
type Roster struct {
	File      string // CSV or XLSX, within the programme folder
	FilePos   Pos
	Sheet     string // XLSX: sheet name; empty the first
	Separator rune   // CSV: ',' ';' or '\t'; 0 to find out
	Encoding  string // CSV: "utf-8" (default) or "windows-1252"
	Key       string // the column that names a card; unique
	KeyPos    Pos
}

// Field is a derived field.
type Field struct {
	Name string
	Text Template
	Pos  Pos
}

// Pos is a place in the programme file, counted from 1.
type Pos struct{ Line, Column int }

// Face is one printed side.
type Face struct {
	Side     site.Side
	Elements []Element // in the order they are laid down: later ones lie on top
}

// Element is one thing on a face. Exactly one of the pointers is set.
type Element struct {
	Name string // unique on the programme
	Box  plane.Box
	Send Send
	Show *Condition // nil: always shown
	Pos  Pos

	Picture *Picture
	Photo   *Photo
	Text    *Text
	Code    *Code
	Shape   *Shape
	MRZ     *MRZ
}

// Send says by hand which panel an element goes to.
type Send uint8

// Where an element may be sent.
const (
	ByRule    Send = iota // the black rule decides
	ToResin               // black resin, or the ribbon's only resin
	ToDye                 // dyes, whatever the rule says
	ToFluor               // the fluorescent panel
	ToSpecial             // the ribbon's metallic, white or coloured resin
)

func (s Send) String() string {
	return [...]string{"rule", "resin", "dye", "fluorescent", "special"}[s%5]
}

// Condition shows an element only for some people.
type Condition struct {
	Field string
	// Equals is the text the field must have; where it is empty the field must
	// only not be blank. Not turns the condition round.
	Equals string
	Not    bool
	Pos    Pos
}

// Fit says how a picture fills its box.
type Fit uint8

// Fits.
const (
	Cover   Fit = iota // fill the box, cut what hangs over
	Contain            // show all, leave room
	Stretch            // fill the box, change the shape
)

// Picture is artwork that is the same on every card.
type Picture struct {
	File string
	Fit  Fit
}

// Photo is a picture named by the roster.
type Photo struct {
	File   Template // "{photo}" or "photos/{number}.jpg"
	Folder string   // where photos lie, within the programme folder
	Fit    Fit
	// AnchorX and AnchorY say which part stays when the photo is cut to the box,
	// 0 left or top, 1 right or bottom. A portrait keeps its head: 0.5 and 0.35.
	AnchorX, AnchorY float64
}

// Align is where text or a symbol lies in its box.
type Align uint8

// Alignments. Start and End follow the direction of the script.
const (
	Start Align = iota
	Middle
	End
)

// Text is a run of text.
type Text struct {
	Text    Template
	Font    string // family or file within the programme folder; empty the bundled one
	Bold    bool
	Size    unit.Length // em size
	Floor   unit.Length // smallest em size it may shrink to; Size: never shrinks
	Wrap    bool
	Align   Align
	Valign  Align
	Leading float64 // line distance in ems
	Colour  [3]uint8
}

// Code is a bar code.
type Code struct {
	Kind    string // symbology, a name of package code
	Text    Template
	Options code.Options
	X       int     // narrow element in dots of the direction it runs in; 0 auto
	Ratio   float64 // wide:narrow wanted; 0 auto
	Reduce  int     // bar-width reduction in dots
	Turn    int     // 0, 90, 180 or 270 degrees clockwise
	Align   Align   // along the code
	Colour  [3]uint8
	// Backing lays white under the code and its quiet zones.
	Backing bool
	// Printed names the text element that shows the same number to the eye; empty
	// where none does.
	Printed string
}

// ShapeKind is a drawn shape.
type ShapeKind uint8

// Shapes.
const (
	Rectangle ShapeKind = iota
	Ellipse
	Line // from the box's top-left to its bottom-right corner
)

// Shape is a drawn shape.
type Shape struct {
	Kind   ShapeKind
	Fill   *[3]uint8 // nil: none
	Stroke *[3]uint8 // nil: none
	Width  unit.Length
	Radius unit.Length // of a rectangle's corners
}

// Template is text with fields of the roster in it.
type Template struct {
	Parts []Part
	Pos   Pos
}

// Part is literal text or, where Field is not empty, a field's value.
type Part struct{ Literal, Field string }

// Person is one row of a roster as the rooms after it need it: the key that
// names the card, and a value for every field.
type Person interface {
	// Field is the value of the named column or derived field; "" where the column
	// is blank or missing.
	Field(name string) string
}

// Expand writes the template for p.
func (t Template) Expand(p Person) string {
	s := ""
	for _, part := range t.Parts {
		if part.Field == "" {
			s += part.Literal
		} else if p != nil {
			s += p.Field(part.Field)
		}
	}
	return s
}

// Fixed says whether the template is the same for every person.
func (t Template) Fixed() bool {
	for _, p := range t.Parts {
		if p.Field != "" {
			return false
		}
	}
	return true
}
