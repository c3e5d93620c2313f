package face

import (
	"fmt"
	"iter"
	"strings"

	"unspool/code"
	"unspool/design"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
	"unspool/unit"
)

// leastAuto is the smallest X in dots that is chosen for a code: a bar of one dot
// is at the mercy of one heater (common practice, no source).
const leastAuto = 2

// maxAuto bounds the search for the largest X that fits; a larger one helps no
// reader of a card.
const maxAuto = 40

// checkCode refuses what cannot be drawn for anybody: an unknown symbology, and a
// ratio that is no whole number of dots at the X stated.
func checkCode(c *design.Code, pitch unit.Pitch) (code.Kind, error) {
	k, ok := code.ByName(c.Kind)
	if !ok {
		return k, fmt.Errorf("the code %q is not known", c.Kind)
	}
	if c.X > 0 && k.Family.Linear() {
		if _, err := code.PickSize(k, symbol.Logical{Family: k.Family}, pitch, c.X, c.Ratio); err != nil {
			return k, err
		}
	}
	return k, nil
}

// run is the direction a code runs in.
type run struct {
	alongX, reverse bool
	pitch           unit.Pitch
	from, room      int // the box along the code, in dots
}

func runOf(c *design.Code, g plane.Grid, box plane.Rect) run {
	r := run{alongX: c.Turn%180 == 0, reverse: c.Turn >= 180}
	if r.alongX {
		r.pitch, r.from, r.room = g.DX, box.X0, box.W()
	} else {
		r.pitch, r.from, r.room = g.DY, box.Y0, box.H()
	}
	return r
}

// across replaces the extent of box along the code.
func (r run) across(box plane.Rect, from, to int) plane.Rect {
	if r.alongX {
		box.X0, box.X1 = from, to
	} else {
		box.Y0, box.Y1 = from, to
	}
	return box
}

// drawCode lays a bar code in its box, in whole dots.
func (w *Work) drawCode(l *layer, pt *part, text string) {
	c, k, g := pt.Code, pt.kind, w.pl.grid
	box := g.Box(pt.Box)
	r := runOf(c, g, box)
	refuse := func(detail say.Text) { l.note(Note{Kind: CodeRefused, Element: pt.index, Detail: detail}) }
	if strings.TrimSpace(text) == "" {
		refuse(say.Words("the text is empty"))
		return
	}
	if !k.Family.Linear() {
		w.drawMatrix(l, pt, text)
		return
	}
	logical, err := k.Encode(text, c.Options)
	if err != nil {
		refuse(say.Of(err))
		return
	}
	size, err := pickSize(k, logical, c, r)
	if err != nil {
		refuse(say.Of(err))
		return
	}
	widths, err := logical.Widths(size)
	if err != nil {
		refuse(say.Of(err))
		return
	}
	quiet := code.Quiet(k, size.X)
	if need := needs(k, logical, size); need > r.room {
		l.note(Note{Kind: CodeTooWide, Element: pt.index, Value: r.pitch.MM(float64(need)), Limit: r.pitch.MM(float64(r.room))})
	}
	length := 0
	for _, n := range widths {
		length += n
	}
	if r.reverse {
		quiet[0], quiet[1] = quiet[1], quiet[0]
	}
	from := r.place(c.Align, length, quiet)
	p := Placed{
		Element: pt.index, Kind: k, Options: c.Options, Logical: logical, Size: size, Widths: widths,
		Bars:  r.across(box, from, from+length),
		Quiet: r.across(box, from-quiet[0], from+length+quiet[1]), AlongX: r.alongX, Reverse: r.reverse,
	}
	l.offFace(pt, g, p.Bars)
	l.codes = append(l.codes, p)
	w.layCode(l, pt, &p)
}

// needs is the room a code takes in dots, quiet zones included. The last bar of
// a code whose bars grow reaches beyond its nominal width.
func needs(k code.Kind, l symbol.Logical, s symbol.Size) int {
	quiet := code.Quiet(k, s.X)
	return l.Width(s) + max(0, -s.Reduce) + quiet[0] + quiet[1]
}

// place is where the first dot of the bars lies: aligned within the box, or
// centred on it where it does not fit. quiet are its quiet zones along the box.
func (r run) place(a design.Align, length int, quiet [2]int) int {
	free := r.room - length - quiet[0] - quiet[1]
	at := free / 2
	if free > 0 {
		switch {
		case a == design.Start && !r.reverse, a == design.End && r.reverse:
			at = 0
		case a != design.Middle:
			at = free
		}
	}
	return r.from + at + quiet[0]
}

// pickSize is the size stated, or the largest X that fits. Where none does it is
// the smallest that is sensible, and the code will be too wide.
func pickSize(k code.Kind, l symbol.Logical, c *design.Code, r run) (symbol.Size, error) {
	if c.X > 0 {
		s, err := code.PickSize(k, l, r.pitch, c.X, c.Ratio)
		s.Reduce = c.Reduce
		return s, err
	}
	var least symbol.Size
	var failed error
	for x := leastAuto; x <= maxAuto; x++ {
		s, err := code.PickSize(k, l, r.pitch, x, c.Ratio)
		if err != nil {
			failed = err
			continue
		}
		s.Reduce = c.Reduce
		if least.X == 0 {
			least = s
		}
	}
	if least.X == 0 {
		return least, failed
	}
	most := maxAuto
	if k.MaxX > 0 {
		most = min(most, max(r.pitch.Floor(k.MaxX), leastAuto))
	}
	for x := most; x >= leastAuto; x-- {
		for _, s := range candidates(k, l, c, r.pitch, x) {
			s.Reduce = c.Reduce
			if needs(k, l, s) <= r.room {
				return s, nil
			}
		}
	}
	return least, nil
}

// candidates are the sizes to try at X, the best first: the ratio wanted, or the
// one commonly aimed at and then the smallest legal one.
func candidates(k code.Kind, l symbol.Logical, c *design.Code, pitch unit.Pitch, x int) []symbol.Size {
	var out []symbol.Size
	if s, err := code.PickSize(k, l, pitch, x, c.Ratio); err == nil {
		out = append(out, s)
	}
	if c.Ratio == 0 {
		if all := code.Sizes(k, pitch, x); len(all) > 0 {
			out = append(out, all[0])
		}
	}
	return out
}

// layCode lays the white ground, where it is wanted, and the bars.
func (w *Work) layCode(l *layer, pt *part, p *Placed) {
	face := w.pl.grid.Rect()
	if pt.Code.Backing {
		if r := p.Quiet.And(face); !r.Empty() {
			c := l.add(pt.index, pt.Element, Code, r)
			c.send = design.ByRule
			c.paint([3]uint8{255, 255, 255})
		}
	}
	rect := p.Bars.And(face)
	if rect.Empty() {
		return
	}
	c := l.add(pt.index, pt.Element, Code, rect)
	c.paint(pt.Code.Colour)
	alpha := c.withAlpha()
	clear(alpha)
	for bar := range p.Dark() {
		bar = bar.And(face)
		for y := bar.Y0; y < bar.Y1; y++ {
			row := alpha[(y-rect.Y0)*rect.W():]
			for x := bar.X0 - rect.X0; x < bar.X1-rect.X0; x++ {
				row[x] = 255
			}
		}
	}
}

// Dark yields the rectangles that are dark in a code, as they are drawn: its bars,
// or its modules with those side by side as one. They may reach beyond the face.
func (p *Placed) Dark() iter.Seq[plane.Rect] {
	if p.Matrix != nil {
		return p.modules()
	}
	return p.bars()
}

// bars yields the rectangle of every bar, in the order of the symbol.
func (p *Placed) bars() iter.Seq[plane.Rect] {
	return func(yield func(plane.Rect) bool) {
		at := 0
		for i, n := range p.Widths {
			r := p.Bars
			switch {
			case p.AlongX && p.Reverse:
				r.X0, r.X1 = r.X1-at-n, r.X1-at
			case p.AlongX:
				r.X0, r.X1 = r.X0+at, r.X0+at+n
			case p.Reverse:
				r.Y0, r.Y1 = r.Y1-at-n, r.Y1-at
			default:
				r.Y0, r.Y1 = r.Y0+at, r.Y0+at+n
			}
			if i%2 == 0 && !yield(r) {
				return
			}
			at += n
		}
	}
}
