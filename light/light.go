// Package light looks at what a card will carry: under any lamp as a
// reflectance picture or as the profile of one scan line, and as the eye sees
// it.
//
// A printed dot is not a square of ink. Marks come out wider or narrower than
// their dots (growth), their edges are soft (spread), and a reader sees through
// a round aperture. In this order:
//
//  1. Growth: every boundary between a darker and a lighter amount of one panel
//     moves by half the growth towards the lighter side; marks that meet become
//     one, gaps and marks that close up vanish.
//  2. Spread: a Gaussian blur of the amounts of dye, and of the area that resin
//     covers.
//  3. The reflectance of every sample, by package ink.
//  4. The aperture: the mean reflectance of a circle.
//
// That printing acts in these steps is a model of our own (no source). It knows
// no wear and no print faults, so what comes of it is a prediction. Everything
// here is pure and deterministic.
package light

import (
	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

// offCard is the reflectance of what lies beyond the edge of the card: the dark
// inside of a slot. A symbol cut by the edge thus loses its quiet zone. Own
// judgement.
const offCard = 0.02

// Scene is what the light needs to know of how a face was printed. The zero
// resins are carbon.
type Scene struct {
	Model   *ink.Model
	Resin   ink.Resin // of the panel K
	Special ink.Resin // of the panel S
	// GrowthX and GrowthY are how much wider a mark comes out along x and along y
	// of the face; negative where it comes out narrower.
	GrowthX, GrowthY unit.Length
	// SpreadDye and SpreadResin are the standard deviations of the blur.
	SpreadDye, SpreadResin unit.Length
}

// Lit is a scene under one lamp. It is immutable and safe for concurrent use.
type Lit struct {
	scene   Scene
	table   *ink.Table
	special *ink.Table
}

// Under lights the scene.
func (s Scene) Under(l ink.Lamp) *Lit {
	return &Lit{s, s.Model.UnderResin(l, s.Resin), s.Model.UnderResin(l, s.Special)}
}

// Channels of a face, in the order they are kept here. The fluorescent panel is
// none: it neither takes nor gives light at the wavelengths a reader uses.
const (
	chY = iota
	chM
	chC
	chK
	chS
	chO
	channels
)

// planes are the channels of a face; nil where the ribbon has no such panel.
func planes(p *panel.Panels) [channels][]uint8 {
	return [channels][]uint8{p.Y, p.M, p.C, p.K, p.S, p.O}
}

// full is the entry of a channel that stands for its full amount.
var full = [channels]float32{255, 255, 255, 1, 1, 1}

// geometry is how one direction of a face is printed, in dots of it.
type geometry struct {
	half   float64           // half the growth
	spread [channels]float64 // standard deviation by channel
}

func (s Scene) along(x bool, g plane.Grid) geometry {
	pitch, growth := g.DY, s.GrowthY
	if x {
		pitch, growth = g.DX, s.GrowthX
	}
	dye, resin := max(0, pitch.Dots(s.SpreadDye)), max(0, pitch.Dots(s.SpreadResin))
	return geometry{
		half:   pitch.Dots(growth) / 2,
		spread: [channels]float64{dye, dye, dye, resin, resin, resin},
	}
}

// growth is half the growth of a channel. The overlay is no mark: it has none.
func (g geometry) growth(ch int) float64 {
	if ch == chO {
		return 0
	}
	return g.half
}

// reach is how far a dot's ink may act, in dots.
func (g geometry) reach() float64 {
	return max(g.half, -g.half) + sigmas*max(g.spread[chY], g.spread[chK])
}

// amounts is what lies at one place: shares of the full amount.
type amounts [channels]float32

// reflect is the reflectance of a place.
func (l *Lit) reflect(a *amounts) float32 {
	r := l.table.Mix(a[chY], a[chM], a[chC], a[chK])
	if s := a[chS]; s > 0 {
		r += s * (l.special.Mix(a[chY], a[chM], a[chC], 1) - r)
	}
	if o := a[chO]; o > 0 {
		r += o * (l.table.Overlaid(r) - r)
	}
	return r
}
