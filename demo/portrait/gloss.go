package portrait

import "math"

// drawStrand lights a strand and puts it into the picture.
func (b *brush) drawStrand(s *strand) {
	n := len(s.at)
	if n < 2 {
		return
	}
	var buf [16]mark
	m := buf[:0]
	pts := [16]vec{}
	for i := range min(n, 16) {
		pts[i] = b.p.point(b.t.own(s.at[i]))
	}
	for i := range min(n, 16) {
		tan := pts[min(i+1, n-1)].sub(pts[max(i-1, 0)]).unit()
		norm := b.p.dir(facing(s.at[i]))
		f := float64(i) / float64(n-1)
		x, y := b.s.project(pts[i])
		wide := b.t.cut.wide
		cover := 0.8
		if s.white {
			wide *= 0.7
		}
		if s.wild {
			wide, cover = 0.8, 0.45
		}
		if s.fine {
			wide, cover = 0.85, 0.5
		}
		taper := 1 - 0.55*smooth(0.6, 1, f)
		c := b.hairLight(s, tan, norm, pts[i], f)
		m = append(m, mark{x, y, pts[i].z, c.f32(), wide * taper, float32(cover * taper * smooth(-0.3, 0.08, f))})
	}
	b.stroke(m, 4)
}

// facing is the way the surface of the hair looks at rest point p: away from
// the skull, and to the front where it hangs beside the face.
func facing(p vec) vec {
	n := outward(p)
	hang := smooth(20, -30, p.y)
	if hang == 0 {
		return n
	}
	return n.mul(1 - hang).add(vec{n.x * 0.6, 0, 0.8}.mul(hang)).unit()
}

// hairLight is the light a strand sends to the camera: what it scatters, a
// white gloss from its skin and a coloured one from within (after Marschner
// and others, 2003, much shortened).
func (b *brush) hairLight(s *strand, tan, norm, p vec, f float64) rgb {
	body, tint := b.hair.body.times(s.tint), b.hair.gloss
	if s.white {
		body, tint = rgb{0.17, 0.165, 0.155}, rgb{0.1, 0.1, 0.1}
	}
	open := 0.16 + 0.84*s.layer*s.layer
	open *= 0.75 + 0.25*f
	k := 0.5 + 0.5*norm.y
	amb := b.st.ground.blend(b.st.sky, k).times(0.8)
	c := body.plus(tint.times(1.1 * max(0, s.tint-0.9))).by(amb)
	// gloss needs the strand's own normal: across it, away from the skull
	across := norm.along(tan, -norm.dot(tan)).unit()
	t1 := tan.along(across, -0.06+s.shift)
	t2 := tan.along(across, 0.11+s.shift)
	for i := range b.st.lamps {
		l := &b.st.lamps[i]
		tl := tan.dot(l.dir)
		facing := clamp((norm.dot(l.dir)+0.35)/1.35, 0, 1)
		c = c.plus(body.by(l.rgb).times(math.Sqrt(max(0, 1-tl*tl)) * facing))
		h := b.st.halves[i]
		g1 := sinPower(t1.unit().dot(h), 6) * facing
		g2 := sinPower(t2.unit().dot(h), 4) * facing
		c = c.plus(l.rgb.times(0.030 * g1)).plus(tint.by(l.rgb).times(0.55 * g2 * s.tint))
	}
	return c.times(open)
}

// sinPower is the sine for a cosine c, to the power 2^n.
func sinPower(c float64, n int) float64 {
	v := max(0, 1-c*c)
	for range n - 1 {
		v *= v
	}
	return v
}

// curtain is the hair that hangs behind the neck.
func (b *brush) curtain(d *dice) {
	c := &b.t.cut
	low := max(c.hang, -230)
	for range 1500 {
		x := d.span(-78, 78)
		s := strand{layer: 0.25 + 0.3*math.Abs(x)/78*d.float(), tint: max(0.3, 1+0.5*d.normal())}
		end := low + d.span(-4, 8)
		sway := d.normal() * 3
		for i := range 8 {
			f := float64(i) / 7
			y := mix(10, end, f)
			s.at = append(s.at, vec{x*(1-0.12*f) + sway*f, y, -150})
		}
		b.drawStrand(&s)
	}
}

// knot is the bun that shows over the crown.
func (b *brush) knot(d *dice) {
	mid := vec{d.span(-3, 3), 112, -140}
	r := d.span(27, 34)
	for i := range 1100 {
		s := strand{layer: 0.35 + 0.65*float64(i)/1100, tint: 1 + 0.15*d.normal(), shift: d.normal() * 0.06}
		z, a := d.span(-0.3, 1), d.span(0, 2*math.Pi)
		for j := range 9 {
			t := a + float64(j)*0.16
			w := math.Sqrt(max(0.02, 1-z*z))
			q := vec{math.Cos(t) * w, math.Sin(t) * w, z}
			s.at = append(s.at, mid.along(q, r*(0.75+0.25*s.layer)+d.normal()*0.2))
		}
		b.drawStrand(&s)
	}
}
