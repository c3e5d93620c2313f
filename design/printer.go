package design

import (
	"fmt"
	"strconv"
	"strings"

	"unspool/site"
	"unspool/unit"
)

// What is taken where the programme does not say. Engineering judgement from
// memory: heat lag widens marks along the feed by a fraction of a dot and hardly
// across it; dye spreads in the card, resin stays sharp.
const (
	usualDPI          = unit.Pitch(300)
	usualGrowthAlong  = 20 * unit.Micrometre
	usualGrowthAcross = 5 * unit.Micrometre
	usualSpreadDye    = 30 * unit.Micrometre
	usualSpreadResin  = 10 * unit.Micrometre
)

// maxDots bounds the dots of a face: a card of 85.6 x 54 mm at 1200 dpi has ten
// million.
const maxDots = 16_000_000

// printer reads the section printer.
func (p *reading) printer(v value) {
	pr := &p.out.Printer
	g := v.keys("printer",
		key{"dpi", p.dpi},
		key{"process", intoChoice(&pr.Process, choice[site.Process]{"direct", site.Direct}, choice[site.Process]{"retransfer", site.Retransfer})},
		key{"unprinted", intoLength(&pr.Unprinted, 0, 10*mm)},
		key{"growth", p.growth},
		key{"spread", p.spread},
		key{"front", func(v value) { p.lies[site.Front] = p.lie(v) }},
		key{"back", func(v value) { p.lies[site.Back] = p.lie(v) }},
		key{"dead", func(v value) {
			v.each(200, "a list of head elements such as [212]", func(_ int, v value) {
				if e, ok := v.whole(0, 1<<20); ok {
					p.dead = append(p.dead, deadElement{v, e})
				}
			})
		}})
	p.stated.dpi = g.has("dpi")
}

// deadElement is a head element said not to print, with its place in the file.
type deadElement struct {
	value
	element int
}

// dpi reads 300 or 300x600, across the head and along the feed.
func (p *reading) dpi(v value) {
	head, feed, two := strings.Cut(v.text, "x")
	if !two {
		feed = head
	}
	h, err1 := strconv.Atoi(strings.TrimSpace(head))
	f, err2 := strconv.Atoi(strings.TrimSpace(feed))
	lo, hi := int(unit.MinPitch), int(unit.MaxPitch)
	if v.kind == list || v.kind == object || err1 != nil || err2 != nil || min(h, f) < lo || max(h, f) > hi {
		v.wrong("a resolution", fmt.Sprintf("dots per inch from %d to %d such as 300, or across the head and along the feed: 300x600", lo, hi))
		return
	}
	p.out.Printer.Head, p.out.Printer.Feed = unit.Pitch(h), unit.Pitch(f)
}

// growth reads how much wider marks come out than their dots.
func (p *reading) growth(v value) {
	pr := &p.out.Printer
	g := v.keys("growth",
		key{"along", intoLength(&pr.GrowthAlong, -mm/2, mm/2)},
		key{"across", intoLength(&pr.GrowthAcross, -mm/2, mm/2)})
	p.stated.along, p.stated.across = g.has("along"), g.has("across")
}

// spread reads the blur of edges.
func (p *reading) spread(v value) {
	pr := &p.out.Printer
	g := v.keys("spread",
		key{"dye", intoLength(&pr.SpreadDye, 0, mm/2)},
		key{"resin", intoLength(&pr.SpreadResin, 0, mm/2)})
	p.stated.dye, p.stated.resin = g.has("dye"), g.has("resin")
}

// lieStated is what the file says of how a side passes the head.
type lieStated struct {
	value
	leads, first *site.Edge
	offset       *int
}

func (p *reading) lie(v value) lieStated {
	edges := []choice[site.Edge]{{"left", site.Left}, {"right", site.Right}, {"top", site.Top}, {"bottom", site.Bottom}}
	var leads, first site.Edge
	var offset int
	l := lieStated{value: v}
	g := v.keys("a side of the printer",
		key{"leads", intoChoice(&leads, edges...)},
		key{"first", intoChoice(&first, edges...)},
		key{"offset", intoWhole(&offset, -10_000, 10_000)})
	if g.has("leads") {
		l.leads = &leads
	}
	if g.has("first") {
		l.first = &first
	}
	if g.has("offset") {
		l.offset = &offset
	}
	return l
}

// settlePrinter fills in what depends on the card and states what was assumed.
func (p *reading) settlePrinter() {
	pr := &p.out.Printer
	for _, s := range sides {
		pr.Lie[s.means] = p.settleLie(p.lies[s.means])
	}
	pr.GrowthAssumed = !p.stated.along || !p.stated.across
	pr.SpreadAssumed = !p.stated.dye || !p.stated.resin
	if !p.stated.dpi {
		p.assume("The printer is taken to print %d dots per inch across the head and along the feed.", int(usualDPI))
	}
	if pr.GrowthAssumed {
		p.assume("Printed marks are taken to come out %s wider along the feed and %s across it (from memory): measure a test card and state printer.growth.",
			micrometres(pr.GrowthAlong), micrometres(pr.GrowthAcross))
	}
	if pr.SpreadAssumed {
		p.assume("Printed edges are taken to blur with a standard deviation of %s in dye and %s in resin (from memory): state printer.spread where it is known.",
			micrometres(pr.SpreadDye), micrometres(pr.SpreadResin))
	}
	if n := pr.Grid(p.out.Card, pr.Lie[site.Front]).Dots(); n > maxDots {
		p.fault("printer.dpi", "gives %d dots on a face of %s x %s, more than the %d that are computed; write a lower resolution or a smaller card",
			n, p.out.Card.W, p.out.Card.H, maxDots)
	}
	p.settleDead()
}

func micrometres(l unit.Length) string {
	return strconv.FormatFloat(l.Micrometres(), 'f', -1, 64) + " µm"
}

// settleLie fills in how a side passes the head: the card moves along its long
// edges, left or top edge first, unless the file says otherwise.
func (p *reading) settleLie(l lieStated) site.Lie {
	out := site.Lie{Leads: site.Left}
	switch {
	case l.leads != nil:
		out.Leads = *l.leads
	case l.first != nil && l.first.Horizontal() || l.first == nil && p.out.Card.W < p.out.Card.H:
		out.Leads = site.Top
	}
	out.First = site.Top
	if !out.AlongX() {
		out.First = site.Left
	}
	if l.first != nil {
		out.First = *l.first
		if out.First.Horizontal() == out.Leads.Horizontal() {
			l.fault("leads with the %s edge while the head begins at the %s edge, but these run the same way; write edges that meet at a corner", out.Leads, out.First)
		}
	}
	if l.offset != nil {
		out.Offset = *l.offset
	}
	return out
}

// settleDead checks that dead elements lie over the card, for elsewhere they
// would be taken for checked and found harmless.
func (p *reading) settleDead() {
	pr := &p.out.Printer
	lo, hi := 1<<30, 0
	for _, s := range sides {
		l, g := pr.Lie[s.means], pr.Grid(p.out.Card, pr.Lie[s.means])
		n := g.H
		if !l.AlongX() {
			n = g.W
		}
		lo, hi = min(lo, l.Offset), max(hi, l.Offset+n-1)
	}
	for _, d := range p.dead {
		if d.element < lo || d.element > hi {
			d.fault("is %d, but the card passes under the elements %d to %d; write one of those, or state the offset of the card under printer.front", d.element, lo, hi)
			continue
		}
		pr.Dead = append(pr.Dead, d.element)
	}
	if len(pr.Dead) > 0 && p.lies[site.Front].offset == nil {
		p.assume("Head element 0 is taken to lie over the outermost dots of the card: state printer.front.offset to place dead elements.")
	}
}
