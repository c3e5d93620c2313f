// Package face composes the artwork of a card face: what a page would carry to
// the printer's driver, and for each dot what it belongs to.
package face

import (
	"bytes"
	"slices"

	"unspool/plane"
)

// Class is the art class of a dot: what kind of thing it belongs to.
type Class uint8

// Art classes.
const (
	Ground  Class = iota // bare card
	Picture              // artwork that is the same on every card
	Photo                // a person's picture
	Text
	Code
	LineArt // rectangles, ellipses, lines
)

func (c Class) String() string {
	return [...]string{"ground", "picture", "photo", "text", "code", "line art"}[c%6]
}

// Mark says what a driver that looks at objects, or a hand that sends them,
// knows of a dot. Bits combine.
type Mark uint8

// Marks of a dot.
const (
	// Object: a black object (text, line art or code that arrives as one) covers
	// at least half of the dot.
	Object Mark = 1 << iota
	// Touched: a black object covers some of the dot, so Page and Under differ.
	Touched
	// Resin, Dye, Fluor and Special: an element sent there by hand covers at least
	// half of the dot. The last such element wins, so at most one of them is set.
	Resin
	Dye
	Fluor
	Special
)

// Art is the artwork of one face at head resolution, row by row. Colour is sRGB,
// 8 bits a channel, interleaved R G B.
type Art struct {
	plane.Grid
	// Page is the page as a driver would receive it, anti-aliased edges and all.
	// Elements sent by hand to resin, fluorescent or special panels leave it as it
	// was: they are no part of the colour page.
	Page []uint8
	// Under is the page without its black objects: what a driver prints in dye
	// when it has taken those objects out.
	Under []uint8
	Class []Class
	// Owner is 1 + the index of the element that covers the dot, 0 the bare card.
	Owner []uint16
	Mark  []Mark
}

// NewArt is a bare white face.
func NewArt(g plane.Grid) *Art {
	n := g.Dots()
	a := &Art{Grid: g, Page: make([]uint8, 3*n), Under: make([]uint8, 3*n),
		Class: make([]Class, n), Owner: make([]uint16, n), Mark: make([]Mark, n)}
	white(a.Page)
	white(a.Under)
	return a
}

// Clone is a copy with planes of its own.
func (a *Art) Clone() *Art {
	return &Art{Grid: a.Grid, Page: slices.Clone(a.Page), Under: slices.Clone(a.Under),
		Class: slices.Clone(a.Class), Owner: slices.Clone(a.Owner), Mark: slices.Clone(a.Mark)}
}

// Equal says whether two faces are the same, dot for dot.
func (a *Art) Equal(b *Art) bool {
	return a.Grid == b.Grid && bytes.Equal(a.Page, b.Page) && bytes.Equal(a.Under, b.Under) &&
		slices.Equal(a.Class, b.Class) && slices.Equal(a.Owner, b.Owner) && slices.Equal(a.Mark, b.Mark)
}

func white(colours []uint8) {
	for i := range colours {
		colours[i] = 255
	}
}
