package portrait

import "math"

// coils draws a round crown of tight curls: many small arcs, inner ones
// first.
func (b *brush) coils(d dice) {
	c := &b.t.cut
	n := 12000
	for i := range n {
		layer := math.Pow(float64(i)/float64(n), 0.45)
		p, in := b.rootAt(&d)
		edge := smooth(0, 16, in)
		h := c.thick(p) * layer * (0.3 + 0.7*edge) * (1 + 0.07*b.g.at(p.x*0.10+5, p.y*0.10+p.z*0.07))
		mid := p.along(outward(p), h)
		s := strand{layer: layer * (0.8 + 0.2*d.float()), tint: 1 + 0.4*d.normal(), shift: d.normal() * 0.2}
		s.white = d.float() < b.hair.grey
		ax := vec{d.normal(), d.normal(), d.normal()}.unit()
		e1 := ax.cross(vec{0.3, 0.9, 0.2}).unit()
		e2 := ax.cross(e1)
		r, a := d.span(1.2, 2.6), d.span(0, 2*math.Pi)
		for j := range 6 {
			sn, cs := math.Sincos(a + float64(j)*0.8)
			s.at = append(s.at, mid.along(e1, r*cs).along(e2, r*sn))
		}
		b.drawStrand(&s)
	}
}

// crop draws hair clipped to a few millimetres.
func (b *brush) crop(d dice) {
	n := 12000
	long := d.span(2, 4.5)
	for i := range n {
		p, in := b.rootAt(&d)
		s := strand{layer: 0.35 + 0.65*float64(i)/float64(n), tint: 1 + 0.2*d.normal(), shift: d.normal() * 0.2, fine: true}
		s.white = d.float() < b.hair.grey
		way := tangent(p, vec{0.3 * p.x / 70, -0.3 - 0.5*smooth(60, 20, p.y), 0.8}).along(outward(p), 0.9)
		way = way.add(vec{d.normal(), d.normal(), d.normal()}.mul(0.25)).unit()
		l := long * d.span(0.6, 1.1) * (0.5 + 0.5*smooth(0, 14, in))
		for j := range 3 {
			s.at = append(s.at, p.along(way, l*float64(j)/2))
		}
		b.drawStrand(&s)
	}
}
