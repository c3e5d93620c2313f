package svg

import (
	"math"
	"slices"
)

// stroker makes the outline of a line: along one side, around the end, back along
// the other. Outlines cross themselves on the inner side of corners and are to be
// filled by the nonzero rule.
type stroker struct {
	line
	half   float64
	circle float64 // corners of a whole round
	out    []point
}

// maxDashes bounds the dashes of one chain; beyond, the line goes on undashed.
const maxDashes = 20_000

// stroke gives the outlines of the stroke of chains. scale is dots a unit.
func (l line) stroke(chains []chain, scale float64) [][]point {
	s := stroker{line: l, half: l.width / 2}
	s.circle = min(max(math.Sqrt(s.half*scale)*12, 8), 300)
	var outlines [][]point
	for _, c := range chains {
		c.points = distinct(c)
		if len(c.points) < 3 {
			c.closed = false
		}
		dashes := []chain{c}
		if l.dashes != nil {
			dashes = l.dashed(c)
		}
		for _, d := range dashes {
			outlines = append(outlines, s.chain(d)...)
		}
	}
	return outlines
}

// distinct leaves out points that lie on the one before.
func distinct(c chain) []point {
	out := c.points[:1:1]
	for _, p := range c.points[1:] {
		if p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	if c.closed && len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}

// dashed cuts a chain into its dashes.
func (l line) dashed(c chain) []chain {
	points := c.points
	if c.closed {
		points = append(points[:len(points):len(points)], points[0])
	}
	i, left := 0, l.dashes[0]
	period := 0.0
	for _, d := range l.dashes {
		period += d
	}
	skip := math.Mod(l.offset, period)
	if skip < 0 {
		skip += period
	}
	for skip >= left && skip > 0 {
		skip -= left
		i = (i + 1) % len(l.dashes)
		left = l.dashes[i]
	}
	left -= skip
	var out []chain
	now := []point{points[0]}
	for k := 1; k < len(points); k++ {
		a, b := points[k-1], points[k]
		long := math.Hypot(b.X-a.X, b.Y-a.Y)
		done := 0.0
		for long-done > left && len(out) < maxDashes {
			done += left
			p := point{X: a.X + (b.X-a.X)*done/long, Y: a.Y + (b.Y-a.Y)*done/long}
			if i%2 == 0 {
				out = append(out, chain{points: append(now, p)})
			}
			now = []point{p}
			i = (i + 1) % len(l.dashes)
			left = l.dashes[i]
		}
		left -= long - done
		now = append(now, b)
	}
	if i%2 == 0 {
		out = append(out, chain{points: now})
	}
	for k := range out {
		out[k].points = distinct(out[k])
	}
	return out
}

func (s *stroker) chain(c chain) [][]point {
	p := c.points
	back := slices.Clone(p)
	slices.Reverse(back)
	s.out = nil
	switch {
	case len(p) == 1:
		s.dot(p[0])
		return [][]point{s.out}
	case c.closed:
		s.side(p, true)
		first := s.out
		s.out = nil
		s.side(back, true)
		return [][]point{first, s.out}
	}
	s.side(p, false)
	s.end(p[len(p)-2], p[len(p)-1])
	s.side(back, false)
	s.end(back[len(p)-2], back[len(p)-1])
	return [][]point{s.out}
}

// along is half the line's width in the direction from a to b.
func (s *stroker) along(a, b point) point {
	long := math.Hypot(b.X-a.X, b.Y-a.Y)
	return point{X: (b.X - a.X) / long * s.half, Y: (b.Y - a.Y) / long * s.half}
}

// beside is p moved to this side of a line that goes along u.
func (s *stroker) beside(p, u point) { s.out = append(s.out, point{X: p.X - u.Y, Y: p.Y + u.X}) }

// side goes along one side of the points, corners included.
func (s *stroker) side(p []point, closed bool) {
	n := len(p)
	pieces := n - 1
	if closed {
		pieces = n
	} else {
		s.beside(p[0], s.along(p[0], p[1]))
	}
	for i := range pieces {
		a, b := p[i], p[(i+1)%n]
		if closed || i+1 < pieces {
			s.corner(b, s.along(a, b), s.along(b, p[(i+2)%n]))
		} else {
			s.beside(b, s.along(a, b))
		}
	}
}

// corner goes around b from the piece along u to the one along v.
func (s *stroker) corner(b, u, v point) {
	cross, dot := u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y
	s.beside(b, u)
	if cross > 0 { // the inner side
		s.out = append(s.out, b)
		s.beside(b, v)
		return
	}
	// 1/sin of half the angle between the pieces is the miter's length over the
	// line's width (SVG 1.1, 11.4).
	d := 1 + dot/(s.half*s.half)
	switch {
	case s.join == "round":
		s.arc(b, u, -math.Atan2(-cross, dot))
	case s.join == "miter" && d > 0 && 2/d <= s.miter*s.miter:
		s.out = append(s.out, point{X: b.X - (u.Y+v.Y)/d, Y: b.Y + (u.X+v.X)/d})
	}
	s.beside(b, v)
}

// arc goes around c by angle, from the place beside a line along u.
func (s *stroker) arc(c, u point, angle float64) {
	n := math.Ceil(math.Abs(angle) / (2 * math.Pi) * s.circle)
	for i := 1.0; i < n; i++ {
		sin, cos := math.Sincos(angle * i / n)
		s.beside(c, point{X: u.X*cos - u.Y*sin, Y: u.X*sin + u.Y*cos})
	}
}

// end goes around the end b of a line that comes from a.
func (s *stroker) end(a, b point) {
	u := s.along(a, b)
	switch s.cap {
	case "round":
		s.arc(b, u, -math.Pi)
	case "square":
		s.beside(point{X: b.X + u.X, Y: b.Y + u.Y}, u)
		s.beside(point{X: b.X + u.X, Y: b.Y + u.Y}, point{X: -u.X, Y: -u.Y})
	}
}

// dot is a line without a length: its caps alone.
func (s *stroker) dot(p point) {
	h := s.half
	switch s.cap {
	case "round":
		s.arc(p, point{X: h}, -2*math.Pi)
		s.beside(p, point{X: h})
	case "square":
		s.out = append(s.out, point{X: p.X - h, Y: p.Y - h}, point{X: p.X + h, Y: p.Y - h}, point{X: p.X + h, Y: p.Y + h}, point{X: p.X - h, Y: p.Y + h})
	}
}
