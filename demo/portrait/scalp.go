package portrait

import "math"

// The skull under the hair, as an ellipsoid that fits the tables of head.go.
var (
	skullAt   = vec{0, 22, -88}
	skullSize = vec{75, 95, 101}
)

// level is 1 on the scalp and grows by about 0.01 a millimetre outwards.
func level(p vec) float64 {
	q := p.sub(skullAt)
	x, y, z := q.x/skullSize.x, q.y/skullSize.y, q.z/skullSize.z
	return math.Sqrt(x*x + y*y + z*z)
}

// outward is the normal of the skull's level through p.
func outward(p vec) vec {
	q := p.sub(skullAt)
	return vec{q.x / (skullSize.x * skullSize.x), q.y / (skullSize.y * skullSize.y), q.z / (skullSize.z * skullSize.z)}.unit()
}

// lift moves p along its ray from the skull's middle to height h over the
// scalp.
func lift(p vec, h float64) vec {
	q := p.sub(skullAt)
	return skullAt.along(q, (1+h/90)/level(p))
}

// along takes from d what points through the scalp at p.
func tangent(p, d vec) vec {
	n := outward(p)
	return d.along(n, -n.dot(d)).unit()
}

// hairline is the height of the edge of the hair at distance a from the
// middle line, seen from the front; below it the skin is bare.
func (t *traits) hairline(a float64) float64 {
	h := &t.cut
	y := h.front - h.corner*bump(a, 0, 0, 0, 30, 1)*0.15
	y += h.corner * bump(a, 0, 41, 0, 17, 1)
	y -= 12 * smooth(30, 58, a) * (1 - smooth(0, 14, h.corner)*0.5)
	return mix(y, h.side, smooth(55, 71, a))
}

// onScalp is how far, in millimetres, a rest point lies inside the hair.
func (t *traits) onScalp(p vec) float64 {
	a := math.Abs(p.x)
	in := p.y - t.hairline(a)
	if p.z < -72 { // over and behind the ear
		low := t.cut.ear
		if p.z < -106 {
			low = -58
		}
		in = p.y - low
	}
	if t.cut.crown > 0 {
		d := p.sub(skullAt)
		top := d.y/skullSize.y + 0.35*d.z/skullSize.z
		in = min(in, (t.cut.crown-top)*90)
	}
	return in
}

// cut says how a head of hair is worn.
type cut struct {
	front, corner, side float64 // heights of the hairline: middle, rise of the corners, at the ear
	crown               float64 // above this share of the height the scalp is bare; 0 for none
	top, flank          float64 // thickness on top and at the sides
	long                float64 // length of a strand
	count, locks        int
	bulk                float64 // share of the thickness that is opaque
	part                float64 // place of the parting
	curl, coil          float64 // radius of the curls and length of one turn; 0 for straight
	loose               float64 // how far strands leave their lock
	wide                float64 // width of a drawn strand, dots
	wild                float64 // share of strands that stand off
	mode                uint64  // of short hair: to the side, back, or forward
	fringe              bool
	knot                bool
	ear                 float64 // height of the hair's edge over the ear
	hang                float64 // height at which hanging hair ends; 0 for none
}

func newCut(t *traits, d dice) cut {
	c := cut{front: 62 + d.normal()*2.5 + 2*t.male, corner: 3 + 7*t.male*d.float() + 4*t.male*t.years, side: -2,
		top: 18, flank: 8, long: 55, count: 7200, locks: 620, loose: 4, wide: 1.0, wild: 0.02, ear: 18, bulk: 0.5}
	c.part = d.span(22, 36)
	if d.float() < 0.5 {
		c.part = -c.part
	}
	switch t.Style {
	case Short:
		c.top, c.flank, c.side, c.mode = d.span(14, 24), d.span(4, 8), -4, d.next()%3
	case Receding:
		c.front, c.corner, c.top, c.flank, c.count = c.front+9, c.corner+13, 10, 6, 4200
	case Bald:
		c.crown, c.front, c.corner, c.flank, c.side, c.count = 0.42, 70, 20, 5, -10, 4200
	case Curly:
		c.top, c.flank, c.long, c.curl, c.coil, c.loose = d.span(22, 32), d.span(12, 18), 42, d.span(3, 4.5), d.span(15, 21), 3
		c.locks, c.count, c.wild, c.ear = 360, 7500, 0.03, mix(-25, 14, t.male)
	case Afro:
		c.top, c.flank, c.wide, c.ear, c.side, c.bulk = d.span(20, 40), d.span(12, 28), 1.1, -20, 4, 0.8
	case Bun:
		c.top, c.flank, c.long, c.side, c.loose, c.knot = 9, 6, 120, -12, 5, d.float() < 0.6
	case Bob:
		c.top, c.flank, c.long, c.hang, c.side = 15, 15, 250, d.span(-105, -80), -15
		c.ear = -50
		c.fringe = d.float() < 0.4
	case Long:
		c.top, c.flank, c.long, c.hang, c.side, c.ear = 13, 12, 330, d.span(-215, -150), -15, -50
	}
	if t.Style == Bob || t.Style == Long {
		c.count, c.locks = 5600, 440
		if d.float() < 0.5 {
			c.curl, c.coil = d.span(2, 5), d.span(55, 90)
		}
	}
	if t.male == 0 {
		c.part *= 0.6
		c.side = max(c.side, 6)
	}
	return c
}

// thick is the thickness of the hair at a point over the scalp.
func (c *cut) thick(p vec) float64 {
	d := p.sub(skullAt)
	up := d.y / skullSize.y
	h := mix(c.flank, c.top, smooth(0.25, 0.85, up))
	if c.hang != 0 {
		h *= 1 - 0.45*bell((p.x-c.part)*(p.x-c.part)/160)*smooth(0.5, 0.8, up)
	} else {
		h *= 0.35 + 0.65*smooth(-25, 35, p.y)
	}
	return h
}

// hairShell is the dark bulk inside the hair, which shades the face and
// closes gaps between the strands.
func (t *traits) hairShell(p *pose) *sheet {
	const rows, cols = 96, 100
	m := newSheet(rows, cols)
	c := &t.cut
	low := -62.0
	if c.hang != 0 {
		low = -60
	}
	for i := range rows {
		y := mix(116.4, low, float64(i)/(rows-1))
		r := t.row(y)
		for j := range cols {
			k := float64(j)/(cols-1)*2 - 1
			a := k * math.Pi / 2 * 1.12 // a little way round the back
			sn, cs := math.Sincos(a)
			q := vec{r.w * sn, y, skullZ + (r.z-skullZ)*cs}
			if cs < 0 {
				q.z = skullZ + 100*cs
			}
			in := t.onScalp(q) - 4
			h := c.bulk * c.thick(q) * smooth(0, 14, in)
			if in < 0 {
				h = max(-9, in*1.2)
			}
			q = q.along(outward(q), h)
			v := m.at(i, j)
			v.u, v.v = q.x, q.y
			v.pos = p.point(t.own(q))
		}
	}
	return m
}
