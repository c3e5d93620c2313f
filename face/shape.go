package face

import (
	"math"

	"unspool/design"
	"unspool/face/fill"
	"unspool/plane"
)

// drawShape draws a rectangle, an ellipse or a line. A stroke lies inside the
// box, so that nothing of a shape reaches beyond it; a line has the box's
// diagonal in its middle.
func (w *Work) drawShape(l *layer, pt *part) {
	s := pt.Shape
	b := boxMM{pt.Box.X.MM(), pt.Box.Y.MM(), (pt.Box.X + pt.Box.W).MM(), (pt.Box.Y + pt.Box.H).MM()}
	width, radius := s.Width.MM(), s.Radius.MM()
	if s.Stroke == nil || width <= 0 {
		width = 0
	}
	if s.Kind == design.Line {
		if width > 0 {
			w.fillShape(l, pt, *s.Stroke, b.stroke(width))
		}
		return
	}
	outline := func(inset float64) outline {
		if s.Kind == design.Ellipse {
			return b.inset(inset).ellipse()
		}
		return b.inset(inset).rounded(max(radius-inset, 0))
	}
	if s.Fill != nil {
		// Under a stroke the fill ends in the middle, so that it does not show at
		// the stroke's soft outer edge.
		w.fillShape(l, pt, *s.Fill, outline(width/2))
	}
	if width > 0 {
		ring := outline(0)
		if b.inset(width).hollow() {
			ring = append(ring, outline(width).reversed()...)
		}
		w.fillShape(l, pt, *s.Stroke, ring)
	}
}

// boxMM is a box by its sides, in millimetres.
type boxMM struct{ x0, y0, x1, y1 float64 }

func (b boxMM) inset(d float64) boxMM { return boxMM{b.x0 + d, b.y0 + d, b.x1 - d, b.y1 - d} }
func (b boxMM) hollow() bool          { return b.x1 > b.x0 && b.y1 > b.y0 }

// curve is a cubic Bezier curve from one point to another by two control points.
type curve [4]fill.Point

// outline is one or more closed runs of curves; a run begins where a curve does
// not go on from the one before.
type outline []curve

func (o outline) reversed() outline {
	out := make(outline, len(o))
	for i, c := range o {
		out[len(o)-1-i] = curve{c[3], c[2], c[1], c[0]}
	}
	return out
}

func straight(a, b fill.Point) curve { return curve{a, a, b, b} }

// circleControl is the length of the control arms of a quarter circle of radius
// 1: 4/3 tan(pi/8).
const circleControl = 0.5522847498307936

// corner is a quarter ellipse from a to b around the corner c of its box.
func corner(a, c, b fill.Point) curve {
	arm := func(p fill.Point) fill.Point {
		return fill.Point{X: p.X + (c.X-p.X)*circleControl, Y: p.Y + (c.Y-p.Y)*circleControl}
	}
	return curve{a, arm(a), arm(b), b}
}

func (b boxMM) rounded(r float64) outline {
	r = min(r, (b.x1-b.x0)/2, (b.y1-b.y0)/2)
	p := func(x, y float64) fill.Point { return fill.Point{X: x, Y: y} }
	if r <= 0 {
		tl, tr, br, bl := p(b.x0, b.y0), p(b.x1, b.y0), p(b.x1, b.y1), p(b.x0, b.y1)
		return outline{straight(tl, tr), straight(tr, br), straight(br, bl), straight(bl, tl)}
	}
	return outline{
		straight(p(b.x0+r, b.y0), p(b.x1-r, b.y0)), corner(p(b.x1-r, b.y0), p(b.x1, b.y0), p(b.x1, b.y0+r)),
		straight(p(b.x1, b.y0+r), p(b.x1, b.y1-r)), corner(p(b.x1, b.y1-r), p(b.x1, b.y1), p(b.x1-r, b.y1)),
		straight(p(b.x1-r, b.y1), p(b.x0+r, b.y1)), corner(p(b.x0+r, b.y1), p(b.x0, b.y1), p(b.x0, b.y1-r)),
		straight(p(b.x0, b.y1-r), p(b.x0, b.y0+r)), corner(p(b.x0, b.y0+r), p(b.x0, b.y0), p(b.x0+r, b.y0)),
	}
}

func (b boxMM) ellipse() outline {
	cx, cy := (b.x0+b.x1)/2, (b.y0+b.y1)/2
	p := func(x, y float64) fill.Point { return fill.Point{X: x, Y: y} }
	return outline{
		corner(p(cx, b.y0), p(b.x1, b.y0), p(b.x1, cy)), corner(p(b.x1, cy), p(b.x1, b.y1), p(cx, b.y1)),
		corner(p(cx, b.y1), p(b.x0, b.y1), p(b.x0, cy)), corner(p(b.x0, cy), p(b.x0, b.y0), p(cx, b.y0)),
	}
}

// stroke is the line from corner to corner, cut square at its ends.
func (b boxMM) stroke(width float64) outline {
	dx, dy := b.x1-b.x0, b.y1-b.y0
	long := math.Hypot(dx, dy)
	if long == 0 {
		return nil
	}
	nx, ny := -dy/long*width/2, dx/long*width/2
	p := [4]fill.Point{{X: b.x0 - nx, Y: b.y0 - ny}, {X: b.x1 - nx, Y: b.y1 - ny}, {X: b.x1 + nx, Y: b.y1 + ny}, {X: b.x0 + nx, Y: b.y0 + ny}}
	return outline{straight(p[0], p[1]), straight(p[1], p[2]), straight(p[2], p[3]), straight(p[3], p[0])}
}

// fillShape lays an outline in millimetres on the face.
func (w *Work) fillShape(l *layer, pt *part, colour [3]uint8, o outline) {
	g := w.pl.grid
	dots := func(p fill.Point) fill.Point { return fill.Point{X: p.X * g.DX.PerMM(), Y: p.Y * g.DY.PerMM()} }
	rect := plane.Rect{}
	for _, c := range o {
		for _, p := range c {
			q := dots(p)
			x, y := int(math.Floor(q.X)), int(math.Floor(q.Y))
			rect = rect.Or(plane.Rect{X0: x, Y0: y, X1: x + 1, Y1: y + 1})
		}
	}
	rect = rect.And(g.Rect())
	if rect.Empty() {
		return
	}
	c := l.add(pt.index, pt.Element, LineArt, rect)
	c.paint(colour)
	w.raster.Reset(rect.W(), rect.H())
	at := func(p fill.Point) fill.Point {
		q := dots(p)
		return fill.Point{X: q.X - float64(rect.X0), Y: q.Y - float64(rect.Y0)}
	}
	for i, k := range o {
		if i == 0 || k[0] != o[i-1][3] {
			w.raster.MoveTo(at(k[0]))
		}
		w.raster.CubeTo(at(k[1]), at(k[2]), at(k[3]))
	}
	w.raster.Coverage(c.withAlpha(), fill.NonZero)
}
