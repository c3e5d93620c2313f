package svg

import (
	"math"

	"unspool/face/fill"
)

// shape is a path and how it is painted.
type shape struct {
	path []segment
	style
}

// shape reads a shape; it is nil where the element draws nothing.
func (r *reading) shape(n *node, s style) (*shape, *Error) {
	var path []segment
	var bad *Error
	switch n.name {
	case "path":
		d, _ := n.attr("d")
		var ok bool
		if path, ok = parsePath(d); !ok {
			return nil, fail(n.line, "the path's data cannot be read")
		}
	case "rect":
		path, bad = n.rect()
	case "circle", "ellipse":
		path, bad = n.ellipse()
	case "line":
		path, bad = n.straight()
	case "polyline", "polygon":
		path, bad = n.poly()
	default:
		return nil, fail(n.line, "%s does not belong here", n.name)
	}
	if bad != nil {
		return nil, bad
	}
	r.segments += len(path)
	if r.segments > maxSegments {
		return nil, fail(n.line, "the drawing's paths have more than %d pieces: simplify it or save it as PNG", maxSegments)
	}
	if len(path) == 0 || s.ghost {
		return nil, nil
	}
	return &shape{path, s}, nil
}

// lengths reads several lengths, 0 where they are left out.
func (n *node) lengths(names ...string) ([]float64, *Error) {
	out := make([]float64, len(names))
	for i, name := range names {
		var bad *Error
		if out[i], bad = n.length(name, 0); bad != nil {
			return nil, bad
		}
	}
	return out, nil
}

func move(x, y float64) segment { return segment{'M', [3]point{2: {X: x, Y: y}}} }
func lineTo(x, y float64) segment {
	return segment{'L', [3]point{2: {X: x, Y: y}}}
}
func closed(x, y float64) segment { return segment{'Z', [3]point{2: {X: x, Y: y}}} }

// rect has corners of a quarter ellipse; one radius left out is the other.
func (n *node) rect() ([]segment, *Error) {
	v, bad := n.lengths("x", "y", "width", "height")
	if bad != nil {
		return nil, bad
	}
	rx, bad := n.length("rx", -1)
	if bad != nil {
		return nil, bad
	}
	ry, bad := n.length("ry", rx)
	if bad != nil || !(v[2] > 0 && v[3] > 0) {
		return nil, bad
	}
	if rx < 0 {
		rx = ry
	}
	x0, y0, x1, y1 := v[0], v[1], v[0]+v[2], v[1]+v[3]
	rx, ry = min(rx, v[2]/2), min(ry, v[3]/2)
	if !(rx > 0 && ry > 0) {
		return []segment{move(x0, y0), lineTo(x1, y0), lineTo(x1, y1), lineTo(x0, y1), closed(x0, y0)}, nil
	}
	r := pathReader{}
	r.add('M', point{}, point{}, point{X: x0 + rx, Y: y0})
	corner := func(lx, ly, x, y float64) {
		r.add('L', point{}, point{}, point{X: lx, Y: ly})
		r.arc([7]float64{rx, ry, 0, 0, 1}, point{X: x, Y: y})
	}
	corner(x1-rx, y0, x1, y0+ry)
	corner(x1, y1-ry, x1-rx, y1)
	corner(x0+rx, y1, x0, y1-ry)
	corner(x0, y0+ry, x0+rx, y0)
	return append(r.out, closed(x0+rx, y0)), nil
}

func (n *node) ellipse() ([]segment, *Error) {
	v, bad := n.lengths("cx", "cy", "r", "rx", "ry")
	if bad != nil {
		return nil, bad
	}
	rx, ry := v[3], v[4]
	if n.name == "circle" {
		rx, ry = v[2], v[2]
	}
	if !(rx > 0 && ry > 0) {
		return nil, nil
	}
	r := pathReader{}
	r.add('M', point{}, point{}, point{X: v[0] + rx, Y: v[1]})
	r.arc([7]float64{rx, ry, 0, 0, 1}, point{X: v[0] - rx, Y: v[1]})
	r.arc([7]float64{rx, ry, 0, 0, 1}, point{X: v[0] + rx, Y: v[1]})
	return append(r.out, closed(v[0]+rx, v[1])), nil
}

func (n *node) straight() ([]segment, *Error) {
	v, bad := n.lengths("x1", "y1", "x2", "y2")
	if bad != nil {
		return nil, bad
	}
	return []segment{move(v[0], v[1]), lineTo(v[2], v[3])}, nil
}

func (n *node) poly() ([]segment, *Error) {
	text, _ := n.attr("points")
	v, err := numbers(text)
	if err != nil || len(v)%2 != 0 {
		return nil, fail(n.line, "the points of the %s cannot be read", n.name)
	}
	var out []segment
	for i := 0; i < len(v); i += 2 {
		out = append(out, lineTo(v[i], v[i+1]))
	}
	if len(out) == 0 {
		return nil, nil
	}
	out[0].op = 'M'
	if n.name == "polygon" {
		out = append(out, closed(v[0], v[1]))
	}
	return out, nil
}

// chain is a run of points, joined end to beginning where it is closed.
type chain struct {
	points []point
	closed bool
}

// chains cuts the path's curves into chords that are close enough at scale dots
// a unit.
func (s *shape) chains(scale float64) []chain {
	var out []chain
	var now chain
	var at point
	flush := func() {
		if len(now.points) > 1 || now.closed && len(now.points) > 0 {
			out = append(out, now)
		}
		now = chain{}
	}
	for _, g := range s.path {
		if len(now.points) == 0 && g.op != 'M' {
			now.points = append(now.points, at)
		}
		switch g.op {
		case 'M':
			flush()
			now.points = append(now.points, g.to())
		case 'L':
			now.points = append(now.points, g.to())
		case 'C':
			for p := range fill.Flatten(at, g.p[0], g.p[1], g.p[2], scale) {
				now.points = append(now.points, p)
			}
		case 'Z':
			now.closed = true
			flush()
		}
		at = g.to()
	}
	flush()
	return out
}

// box is the smallest upright rectangle around chains.
func box(chains []chain) (lo, hi point) {
	lo, hi = point{X: math.Inf(1), Y: math.Inf(1)}, point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, c := range chains {
		for _, p := range c.points {
			lo = point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
			hi = point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
	}
	return lo, hi
}
