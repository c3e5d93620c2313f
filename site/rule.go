package site

import "unspool/plane"

// Rule is how the printer's driver decides which dots go to the resin panel.
type Rule uint8

// Black rules. What drivers offer comes down to these (common practice, no
// source).
const (
	NoRule  Rule = iota // every colour from dyes
	Exact               // dots that are exactly black, RGB 0,0,0
	Dark                // dots with R, G and B all at or below Limit
	Objects             // black text, line art and codes that arrive as objects; pictures never
	Zones               // dark dots inside, or outside, rectangles
	All                 // everything: resin, or a halftone of it; no dyes
)

// Rules lists every rule in the order they are shown.
var Rules = [...]Rule{NoRule, Exact, Dark, Objects, Zones, All}

func (r Rule) String() string {
	return [...]string{"none", "exact", "dark", "objects", "zones", "all"}[r%6]
}

// Black is a black rule with its settings.
type Black struct {
	Rule  Rule
	Limit uint8 // of Dark and Zones: a dot is dark when R, G and B are all <= Limit
	// Zones are the rectangles of the rule Zones; Outside turns them round.
	Zones   []plane.Box
	Outside bool
	// KeepDyes: the dyes under a resin dot are printed too.
	KeepDyes bool
}

// Dye says how a page colour becomes dye amounts.
type Dye uint8

// Ways to separate colour.
const (
	Match Dye = iota // invert the ink model: the card looks like the page
	Plain            // complement: Y = 255-B, M = 255-G, C = 255-R
)
