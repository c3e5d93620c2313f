// Package site describes what a card is printed with and read by: the card
// stock, the printer, the ribbon, the driver's black rule and the readers. It
// is plain data; a programme file fills it in and the rooms after it compute.
package site

import (
	"unspool/plane"
	"unspool/unit"
)

// Side is one side of a card.
type Side uint8

// Sides, also the index of a side in an array.
const (
	Front Side = iota
	Back
)

func (s Side) String() string { return [...]string{"front", "back"}[s&1] }

// Edge is an edge of a face as a person reads it.
type Edge uint8

// Edges of a face.
const (
	Left Edge = iota
	Right
	Top
	Bottom
)

func (e Edge) String() string { return [...]string{"left", "right", "top", "bottom"}[e&3] }

// Horizontal says whether the edge bounds the x direction: left or right.
func (e Edge) Horizontal() bool { return e == Left || e == Right }

// Card is the card stock. W and H are those of the face as a person reads it, so
// a card laid out upright has W < H.
type Card struct {
	W, H     unit.Length
	KeepOuts []KeepOut
}

// KeepOut is a part of a face where printing does harm or does not hold.
type KeepOut struct {
	Kind KeepOutKind
	Side Side
	Box  plane.Box
}

// KeepOutKind says what lies in a keep-out.
type KeepOutKind uint8

// Kinds of keep-out.
const (
	Stripe    KeepOutKind = iota // magnetic stripe
	Chip                         // contact chip
	Punch                        // slot punch
	Signature                    // signature panel
	Bump                         // antenna or chip bump under the surface
)

func (k KeepOutKind) String() string {
	return [...]string{"magnetic stripe", "contact chip", "slot punch", "signature panel", "antenna bump"}[k%5]
}

// Window says whether the overlay panel leaves the keep-out uncovered.
func (k KeepOutKind) Window() bool { return k == Stripe || k == Chip || k == Signature }

// Process is how colour gets from the ribbon to the card.
type Process uint8

// Processes.
const (
	Direct     Process = iota // the head prints on the card
	Retransfer                // the head prints mirrored on a clear carrier, which is then laid on the card
)

func (p Process) String() string { return [...]string{"direct", "retransfer"}[p&1] }

// Printer is one card printer.
type Printer struct {
	Head    unit.Pitch // across the head
	Feed    unit.Pitch // along the feed
	Process Process
	// Unprinted is the border that the head cannot reach, 0 for edge to edge.
	Unprinted unit.Length
	// GrowthAlong and GrowthAcross are how much wider a printed mark comes out
	// than its dots, along and across the feed; negative where it comes out
	// narrower.
	GrowthAlong, GrowthAcross unit.Length
	GrowthAssumed             bool // the programme did not state them
	// SpreadDye and SpreadResin are the standard deviations of the blur of an
	// edge.
	SpreadDye, SpreadResin unit.Length
	SpreadAssumed          bool
	Lie                    [2]Lie // how each side lies under the head
	Dead                   []int  // head elements known not to print, counted from 0
}

// Lie says how a face passes the head.
type Lie struct {
	Leads  Edge // the edge of the face that passes the head first
	First  Edge // the edge of the face at the low end of the head
	Offset int  // the head element at the face's outermost dot row or column at First
}

// AlongX says whether the feed runs along the face's x direction.
func (l Lie) AlongX() bool { return l.Leads.Horizontal() }

// Grid is the raster of a face of the card under the lie l.
func (p Printer) Grid(c Card, l Lie) plane.Grid {
	dx, dy := p.Feed, p.Head
	if !l.AlongX() {
		dx, dy = p.Head, p.Feed
	}
	return plane.Grid{W: dx.Round(c.W), H: dy.Round(c.H), DX: dx, DY: dy}
}

// Growth is the growth of marks along x and along y of a face under the lie l.
func (p Printer) Growth(l Lie) (x, y unit.Length) {
	if l.AlongX() {
		return p.GrowthAlong, p.GrowthAcross
	}
	return p.GrowthAcross, p.GrowthAlong
}

// Row is the dot row (feed along x) or column (feed along y) of a face of n such
// rows that the head element e prints, and whether there is one.
func (l Lie) Row(e, n int) (int, bool) {
	i := e - l.Offset
	if l.First == Right || l.First == Bottom {
		i = n - 1 - i
	}
	return i, i >= 0 && i < n
}

// Element is the head element that prints row i of n: the inverse of Row.
func (l Lie) Element(i, n int) int {
	if l.First == Right || l.First == Bottom {
		i = n - 1 - i
	}
	return i + l.Offset
}
