package design

import (
	"fmt"

	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

const mm = unit.Millimetre

// Sides a card may have, and the longest side a box may state.
const (
	minCard = 20 * mm
	maxCard = 150 * mm
	maxSide = 200 * mm
)

// stock is the width and height of card stock, long edges at the top and bottom.
type stock [2]unit.Length

// Sizes of card stock by name. ID-1 is ISO/IEC 7810, nominal (read second-hand in
// encyclopedias); the trade calls it CR80. CR79 from memory; CR100 common
// practice, no source.
var (
	id1   = stock{unit.MM(85.6), unit.MM(53.98)}
	sizes = []choice[stock]{
		{"ID-1", id1},
		{"CR80", id1},
		{"CR79", stock{unit.MM(83.9), unit.MM(51)}},
		{"CR100", stock{unit.MM(98.5), unit.MM(67)}},
	}
)

// card reads the section card.
func (p *reading) card(v value) {
	var size, own stock
	var upright bool
	var keepouts value
	g := v.keys("card",
		key{"size", intoChoice(&size, sizes...)},
		key{"upright", intoFlag(&upright)},
		key{"width", intoLength(&own[0], minCard, maxCard)},
		key{"height", intoLength(&own[1], minCard, maxCard)},
		key{"keepouts", func(v value) { keepouts = v }})

	c := &p.out.Card
	if size != (stock{}) {
		c.W, c.H = size[0], size[1]
	}
	if upright {
		c.W, c.H = c.H, c.W
	}
	stated := g.has("width") || g.has("height")
	switch {
	case stated && (g.has("size") || g.has("upright")):
		g.fault("has width or height beside size or upright; write either a size or both width and height")
	case stated:
		g.need("width", "85.6")
		g.need("height", "53.98")
		if own[0] > 0 && own[1] > 0 {
			c.W, c.H = own[0], own[1]
		}
	}
	if keepouts.node != nil {
		keepouts.each(40, "a list such as [{stripe: back}]", func(_ int, v value) { p.keepOut(v) })
	}
}

// keepOutKinds are the words for keep-outs.
var keepOutKinds = []choice[site.KeepOutKind]{
	{"stripe", site.Stripe}, {"chip", site.Chip}, {"punch", site.Punch},
	{"signature", site.Signature}, {"bump", site.Bump},
}

// keepOut reads one keep-out: {stripe: back} or {bump: front, box: [...]}.
func (p *reading) keepOut(v value) {
	var k site.KeepOut
	keys := []key{{"box", intoBox(&k.Box, 1)}}
	for _, c := range keepOutKinds {
		keys = append(keys, key{c.word, func(v value) {
			k.Kind = c.means
			intoChoice(&k.Side, sides...)(v)
		}})
	}
	g := v.keys("a keep-out", keys...)
	if g.kind != object {
		return
	}
	kinds := 0
	for _, c := range keepOutKinds {
		if g.has(c.word) {
			kinds++
		}
	}
	if kinds != 1 {
		g.fault("must name one kind and its side; write one of stripe, chip, punch, signature or bump, such as {stripe: back}")
		return
	}
	if !g.has("box") {
		box, ok := p.usualPlace(k.Kind)
		if !ok {
			g.fault("has no box; only on an ID-1 card that is not upright is there a usual place, and none for a bump: write box: [x, y, width, height]")
			return
		}
		k.Box = box
		p.assume("The %s on the %s is taken to lie at its usual place, %s (from memory): measure yours and state its box.",
			k.Kind, k.Side, boxWords(box))
	}
	if k.Box.W > 0 && !p.onCard(k.Box, 0) {
		g.fault("lies beyond the card, which is %s wide and %s high; write a box on the card", p.out.Card.W, p.out.Card.H)
	}
	p.out.Card.KeepOuts = append(p.out.Card.KeepOuts, k)
}

// sides are the words for the sides of a card.
var sides = []choice[site.Side]{{"front", site.Front}, {"back", site.Back}}

// usualPlace is where a keep-out lies where the programme does not say: on an
// ID-1 card with its long edges at the top and bottom. All from memory: the
// stripe as ISO/IEC 7811 places it and the contacts as ISO/IEC 7816-2 does, with
// room; the punch is a slot at the middle of the upper edge, the signature panel
// lies below the stripe. A bump has no usual place.
func (p *reading) usualPlace(k site.KeepOutKind) (plane.Box, bool) {
	c := p.out.Card
	if k == site.Punch {
		return plane.Box{X: (c.W - 18*mm) / 2, W: 18 * mm, H: 10 * mm}, true
	}
	if c.W != id1[0] || c.H != id1[1] {
		return plane.Box{}, false
	}
	switch k {
	case site.Stripe:
		return plane.Box{Y: unit.MM(3.5), W: c.W, H: 14 * mm}, true
	case site.Chip:
		return plane.Box{X: 8 * mm, Y: 16 * mm, W: unit.MM(13.5), H: 15 * mm}, true
	case site.Signature:
		return plane.Box{X: 6 * mm, Y: 19 * mm, W: unit.MM(73.6), H: 10 * mm}, true
	}
	return plane.Box{}, false
}

// onCard says whether a box lies on the card or no further beyond it than bleed.
func (p *reading) onCard(b plane.Box, bleed unit.Length) bool {
	c := p.out.Card
	return b.X >= -bleed && b.Y >= -bleed && b.X+b.W <= c.W+bleed && b.Y+b.H <= c.H+bleed
}

// boxWords writes a box for a sentence.
func boxWords(b plane.Box) string {
	return fmt.Sprintf("x %s to %s, y %s to %s", plain(b.X), b.X+b.W, plain(b.Y), b.Y+b.H)
}
