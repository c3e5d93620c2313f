package site

import "unspool/unit"

// ReaderKind is a sort of device.
type ReaderKind uint8

// Kinds of reader.
const (
	Slot    ReaderKind = iota // time clock or door: one line at a fixed distance from a long edge
	Hand                      // hand-held: anywhere the hand goes
	Counter                   // wide field, at a till or counter
	Camera                    // imager
)

func (k ReaderKind) String() string { return [...]string{"slot", "hand", "counter", "camera"}[k%4] }

// Reader is a device on the site that reads cards.
type Reader struct {
	Name  string
	Kind  ReaderKind
	Peak  unit.Nanometres // peak of its light
	Width unit.Nanometres // full width at half maximum; 0 a single line
	Spot  unit.Length     // diameter of the spot it sees
	MinX  unit.Length     // smallest narrow element it resolves
	// MinHeight is the least height of bars it needs; 0 none stated.
	MinHeight unit.Length
	Accepts   []Accept
	Least     float64 // least grade of ISO/IEC 15416 or 15415 that the site asks for, 0 to 4
	// Rule is the acceptance rule that Least comes from, as a card file writes it; empty
	// where the site states a grade.
	Rule  string
	Track Track // slot readers only
}

// Accept is one kind of code that a reader is set to take.
type Accept struct {
	Kind     string // symbology, as a card file writes it
	Min, Max int    // characters, check character included; 0 no limit
	Check    string // check rule it demands, as a card file writes it; empty none
}

// Track says where a slot reader looks.
type Track struct {
	Side      Side
	From      Edge        // the long edge the line is measured from
	Line      unit.Length // distance of the line from that edge
	Tolerance unit.Length // the line lies within Line ± Tolerance
}
