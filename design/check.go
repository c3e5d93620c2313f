package design

import (
	"fmt"

	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// of is the element that was read from a place in the file.
func (p *reading) of(pe placedElement) *Element {
	return &p.out.Faces[pe.side].Elements[pe.index]
}

// nameElements gives each element without a name its kind and number, "text 2",
// and holds the names to be unique.
func (p *reading) nameElements() {
	taken := map[string]int{}
	for _, pe := range p.elements {
		name := p.of(pe).Name
		if name == "" {
			continue
		}
		if line, again := taken[name]; again {
			pe.fault("is named %s like the element on line %d; write another name", show(name), line)
			continue
		}
		taken[name] = pe.node.at.Line
	}
	count := map[string]int{}
	for _, pe := range p.elements {
		e := p.of(pe)
		for e.Name == "" {
			count[pe.kind]++
			name := fmt.Sprintf("%s %d", pe.kind, count[pe.kind])
			if _, used := taken[name]; !used {
				e.Name = name
			}
		}
	}
}

// checkPrinted holds printed: to the names of texts.
func (p *reading) checkPrinted() {
	var texts []string
	for _, pe := range p.elements {
		if e := p.of(pe); e.Text != nil {
			texts = append(texts, e.Name)
		}
	}
	for _, pe := range p.elements {
		c := p.of(pe).Code
		if c == nil || c.Printed == "" {
			continue
		}
		found := false
		for _, name := range texts {
			found = found || name == c.Printed
		}
		if !found {
			pe.keys.seen["printed"].fault("is %s, which is no text element%s", show(c.Printed), hint(c.Printed, texts))
		}
	}
}

// bleed is how far artwork may reach beyond the card, as pages are made for a
// print that runs off the edge. From memory.
const bleed = 3 * mm

// checkPlaces holds elements and zones to the card.
func (p *reading) checkPlaces() {
	for _, pe := range p.elements {
		e := p.of(pe)
		if e.Box == (plane.Box{}) {
			continue // it could not be read
		}
		at := pe.keys.value
		for _, name := range []string{"box", pe.kind} {
			if v, ok := pe.keys.seen[name]; ok && v.kind == list {
				at = v
			}
		}
		over := p.overhang(e.Box)
		switch loose := e.Picture != nil || e.Shape != nil; {
		case over == "":
		case !loose:
			at.fault("puts the %s %s; write a box on the card, which is %s wide and %s high", pe.kind, over, p.out.Card.W, p.out.Card.H)
		case !p.onCard(e.Box, bleed):
			at.fault("puts the %s %s; write a box that reaches at most %s beyond the card, which is %s wide and %s high",
				pe.kind, over, bleed, p.out.Card.W, p.out.Card.H)
		}
	}
	for _, z := range p.zones {
		if !p.onCard(z.box, bleed) {
			z.fault("lies beyond the card, which is %s wide and %s high; write a zone on the card", p.out.Card.W, p.out.Card.H)
		}
	}
}

// overhang says how far and where a box reaches beyond the card; "" where it
// does not.
func (p *reading) overhang(b plane.Box) string {
	c := p.out.Card
	if b.X >= c.W || b.Y >= c.H || b.X+b.W <= 0 || b.Y+b.H <= 0 {
		return "off the card"
	}
	said := ""
	for _, side := range []struct {
		edge site.Edge
		over unit.Length
	}{
		{site.Left, -b.X}, {site.Right, b.X + b.W - c.W}, {site.Top, -b.Y}, {site.Bottom, b.Y + b.H - c.H},
	} {
		if side.over > 0 {
			if said != "" {
				said += " and "
			}
			said += side.over.String() + " beyond the " + side.edge.String() + " edge"
		}
	}
	return said
}
