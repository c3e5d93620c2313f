package face

import (
	"iter"
	"math"

	"unspool/code"
	"unspool/design"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
)

// tall is how many X the rows of a multi-row symbol are at most: beyond that
// more height helps no reader (own judgement).
const tall = 4

// ground is the box of a two-dimensional symbol as the symbol lies when it is
// read upright.
type ground struct {
	turn   int     // quarter turns clockwise
	w, h   int     // of the box, in dots along the symbol's own axes
	square float64 // dots down a module for each dot across it
	k      code.Kind
}

func groundOf(c *design.Code, k code.Kind, g plane.Grid, box plane.Rect) ground {
	n := ground{turn: c.Turn / 90 % 4, w: box.W(), h: box.H(), square: float64(g.DY) / float64(g.DX), k: k}
	if n.turn%2 == 1 {
		n.w, n.h, n.square = n.h, n.w, 1/n.square
	}
	return n
}

// module is the size of a module that is x dots across: as high as wide, and of a
// multi-row symbol so many times higher.
func (n ground) module(x, rows int) [2]int {
	high := int(float64(x*n.k.RowX)*n.square + 0.5)
	if rows > 0 { // a row may fill the box up to a limit
		most := int(float64(x*tall) * n.square)
		if n.k.RowX == 1 {
			most = high
		}
		quiet := 2 * int(float64(n.k.QuietX*x)*n.square+0.5)
		high = max(high, min(most, (n.h-quiet)/rows))
	}
	return [2]int{x, max(high, 1)}
}

// needs is the room of a symbol of w x h modules, quiet zones included.
func (n ground) needs(w, h, x int) (across, down int) {
	m := n.module(x, 0)
	quietX, quietY := n.quiet(x)
	return w*m[0] + 2*quietX, h*m[1] + 2*quietY
}

// quiet is the width of the quiet zone along both axes.
func (n ground) quiet(x int) (across, down int) {
	q := n.k.QuietX * x
	return q, int(float64(q)*n.square + 0.5)
}

// largest is the most dots that a module of such a symbol may have, up to a
// limit: the most with which it comes out square, where there are any. 0 where it
// does not fit.
func (n ground) largest(w, h int) int {
	most := 0
	for x := maxAuto; x > 0; x-- {
		if a, d := n.needs(w, h, x); a > n.w || d > n.h {
			continue
		}
		if n.even(x) {
			return x
		}
		most = max(most, x)
	}
	return most
}

// mostUneven is how far the sides of a module may be apart, as a share: what axial
// nonuniformity may be for grade 2 (ISO/IEC 15415:2011; see package grade).
const mostUneven = 0.10

// even says whether a module of x dots is square in whole dots. Rows of a
// multi-row symbol need not be.
func (n ground) even(x int) bool {
	if n.k.RowX > 1 {
		return true
	}
	wide, high := float64(x)*n.square, float64(n.module(x, 0)[1])
	return math.Abs(wide-high) <= mostUneven*(wide+high)/2
}

// drawMatrix lays a two-dimensional code in the middle of its box, in whole dots.
func (w *Work) drawMatrix(l *layer, pt *part, text string) {
	c, k, g := pt.Code, pt.kind, w.pl.grid
	box := g.Box(pt.Box)
	n := groundOf(c, k, g, box)
	m, err := k.Fit(text, c.Options, func(w, h int) int { return n.largest(w, h/k.RowX) })
	if err != nil {
		l.note(Note{Kind: CodeRefused, Element: pt.index, Detail: say.Of(err)})
		return
	}
	x := c.X
	if x == 0 {
		x = max(n.largest(m.W, m.H), leastAuto)
	}
	if across, down := n.needs(m.W, m.H, x); across > n.w || down > n.h {
		note := Note{Kind: CodeTooWide, Element: pt.index, Value: g.DX.MM(float64(across)), Limit: g.DX.MM(float64(n.w))}
		if across <= n.w {
			note.Value, note.Limit = g.DY.MM(float64(down)), g.DY.MM(float64(n.h))
		}
		l.note(note)
	}
	p := n.place(m, x, box, c.Align)
	p.Element, p.Kind, p.Options = pt.index, k, c.Options
	p.AlongX, p.Reverse = n.turn%2 == 0, n.turn >= 2
	l.offFace(pt, g, p.Bars)
	l.codes = append(l.codes, p)
	w.layCode(l, pt, &p)
}

// place lays a symbol in its box: along its own first axis as it is aligned, in
// the middle of the other.
func (n ground) place(m symbol.Matrix, x int, box plane.Rect, a design.Align) Placed {
	module := n.module(x, m.H)
	quietX, quietY := n.quiet(x)
	size := [2]int{m.W * module[0], m.H * module[1]}
	free := [2]int{n.w - size[0] - 2*quietX, n.h - size[1] - 2*quietY}
	at := [2]int{free[0] / 2, free[1] / 2}
	if free[0] > 0 && a != design.Middle {
		at[0] = 0
		if (a == design.End) != (n.turn >= 2) {
			at[0] = free[0]
		}
	}
	at[0], at[1] = at[0]+quietX, at[1]+quietY
	lies := m.Grid
	for range n.turn {
		lies = lies.Turned()
	}
	if n.turn%2 == 1 {
		at[0], at[1], size[0], size[1], quietX, quietY, module[0], module[1] = at[1], at[0], size[1], size[0], quietY, quietX, module[1], module[0]
	}
	bars := plane.Rect{X0: box.X0 + at[0], Y0: box.Y0 + at[1], X1: box.X0 + at[0] + size[0], Y1: box.Y0 + at[1] + size[1]}
	return Placed{
		Matrix: &m, Lies: lies, Module: module, Size: symbol.Size{X: x}, Bars: bars,
		Quiet: plane.Rect{X0: bars.X0 - quietX, Y0: bars.Y0 - quietY, X1: bars.X1 + quietX, Y1: bars.Y1 + quietY},
	}
}

// modules yields the rectangles of dark modules, those side by side as one.
func (p *Placed) modules() iter.Seq[plane.Rect] {
	return func(yield func(plane.Rect) bool) {
		for y := range p.Lies.H {
			for x := 0; x < p.Lies.W; x++ {
				if !p.Lies.At(x, y) {
					continue
				}
				to := x
				for to < p.Lies.W && p.Lies.At(to, y) {
					to++
				}
				r := plane.Rect{X0: p.Bars.X0 + x*p.Module[0], Y0: p.Bars.Y0 + y*p.Module[1], X1: p.Bars.X0 + to*p.Module[0], Y1: p.Bars.Y0 + (y+1)*p.Module[1]}
				if !yield(r) {
					return
				}
				x = to
			}
		}
	}
}
