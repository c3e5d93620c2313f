package pdf

import (
	"fmt"
	"image/color"
	"strings"
)

// Page is one page. What is drawn later lies on top.
type Page struct {
	doc     *Doc
	n       int // from 0
	w, h    float64
	content strings.Builder
	tags    []tag
	marks   int // stretches of content that belong to tags
	state   marking
	open    bool // within Tagged
}

// op writes an operator with its numbers.
func (p *Page) op(name string, numbers ...float64) {
	for _, v := range numbers {
		if !drawable(v) {
			p.doc.fail(fmt.Errorf("pdf: page %d: %g is too large for a page", p.n+1, v))
		}
		if name == "cm" {
			// A matrix scales everything, so it takes more digits than a place does.
			fmt.Fprintf(&p.content, "%.9f ", v)
			continue
		}
		p.content.WriteString(number(v) + " ")
	}
	p.content.WriteString(name + "\n")
}

// Fill fills an outline, by the nonzero winding rule (8.5.3.3.2).
func (p *Page) Fill(c color.Color, o *Path) {
	p.turn(drawing)
	p.colour(c, "g", "rg")
	p.path(o)
	p.op("f")
}

// Stroke draws along an outline with a pen of the given width in millimetres.
func (p *Page) Stroke(c color.Color, width float64, o *Path) {
	p.turn(drawing)
	p.colour(c, "G", "RG")
	p.op("w", width)
	p.path(o)
	p.op("S")
}

// Clip lets only what lies within the outline show of what draw draws (8.5.4).
func (p *Page) Clip(o *Path, draw func()) {
	p.turn(nothing) // a marked stretch begins and ends on one level of saved states
	p.op("q")
	p.path(o)
	p.op("W")
	p.op("n")
	draw()
	p.turn(nothing)
	p.op("Q")
}

// Image draws a picture into a rectangle, whose corner is at x, y.
func (p *Page) Image(m *Image, x, y, w, h float64) {
	m.drawn = true
	p.turn(drawing)
	p.op("q")
	// A picture fills the unit square, its first row on top (8.9.5.2).
	p.op("cm", w, 0, 0, -h, x, y+h)
	p.content.WriteString("/" + m.name + " ")
	p.op("Do")
	p.op("Q")
}

// colour sets a colour of sRGB, given as DeviceGray or DeviceRGB (8.6.4): what
// viewers and printers without colour management show is near enough.
func (p *Page) colour(c color.Color, grey, rgb string) {
	k := color.NRGBAModel.Convert(c).(color.NRGBA)
	r, g, b := float64(k.R)/255, float64(k.G)/255, float64(k.B)/255
	if k.R == k.G && k.G == k.B {
		p.op(grey, r)
		return
	}
	p.op(rgb, r, g, b)
}

func (p *Page) path(o *Path) {
	for _, s := range o.steps {
		p.op(s.op, s.at...)
	}
	if len(o.steps) == 0 {
		p.op("m", 0, 0) // an outline must not be empty
	}
}
