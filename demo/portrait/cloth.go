package portrait

import "math"

// outfit is the cut and colour of the clothes.
type outfit struct {
	wool, linen, silk, scarf rgb
	tie                      bool
	open                     float64 // half width of the jacket's opening at the collar
}

func newOutfit(t *traits) outfit {
	d := t.dice.fork(31)
	o := outfit{open: d.span(34, 42)}
	o.wool = []rgb{srgb(44, 48, 62), srgb(40, 45, 56), srgb(50, 54, 68)}[d.next()%3]
	o.linen = []rgb{srgb(208, 209, 210), srgb(203, 207, 212), srgb(172, 188, 206)}[d.next()%3]
	o.silk = []rgb{srgb(38, 44, 62), srgb(24, 70, 84), srgb(92, 32, 40)}[d.next()%3]
	o.scarf = []rgb{srgb(58, 68, 92), srgb(84, 112, 114), srgb(186, 179, 166), srgb(104, 62, 66), srgb(88, 89, 93)}[d.next()%5]
	o.tie = d.float() < 0.75-0.35*(1-t.male)
	return o
}

// clothDot is a dot of the clothed chest: jacket, shirt or tie, by place.
func (b *brush) clothDot(i int, u, v float64) rgb {
	a := math.Abs(u)
	light := b.light[i].f64()
	edge := mix(b.outfit.open, 12, smooth(-150, -262, v)) // front edge of the jacket
	const soft = 0.35
	switch {
	case a > edge+soft:
		return b.jacketDot(i, u, v, a-edge, light)
	case a < edge-soft:
		return b.shirtDot(u, v, edge-a, light)
	}
	return b.shirtDot(u, v, edge-a, light).blend(b.jacketDot(i, u, v, a-edge, light), smooth(-soft, soft, a-edge))
}

// shirtDot is linen or the tie on it; in is how far the jacket's edge is.
func (b *brush) shirtDot(u, v, in float64, light rgb) rgb {
	o := &b.outfit
	a := math.Abs(u)
	shade := 0.55 + 0.45*smooth(0, 9, in) // the jacket's shadow
	shade *= 1 + 0.03*b.g.rough(u*0.4, v*0.25, 3)
	if !o.tie {
		shade *= 1 - 0.3*bell((u-6)*(u-6)/0.5) // buttoned front
		return light.by(o.linen).times(shade)
	}
	half := mix(9.5, 6.2, smooth(-165, -186, v)) + 10*smooth(-190, -290, v)
	shade *= 0.6 + 0.4*smooth(half, half+4, a)
	k := 0.5 + 0.5*smooth(half, half-5, a)
	k *= 1 - 0.5*bump(0, v, 0, -187.5, 1, 1.6)
	k *= 1 + 0.10*b.g.at(u*2.2+v*2.2, u*0.7-v*0.7)
	cover := smooth(half+0.35, half-0.35, a) * smooth(-162.6, -163.4, v)
	return light.by(o.linen).times(shade).blend(light.by(o.silk).times(k), cover)
}

// jacketDot is wool, with a lapel that lies over the front.
func (b *brush) jacketDot(i int, u, v, in float64, light rgb) rgb {
	o := &b.outfit
	tone := o.wool.times(1 + 0.16*b.g.rough(u*1.7, v*1.7, 2))
	wide := mix(22, 40, smooth(-150, -200, v)) // lapel
	notch := smooth(2.2, 0.6, math.Abs(v+176-(in-10)*0.35)) * smooth(6, 10, in)
	k := 1 + 0.35*bell((in-0.8)*(in-0.8)/1.2)
	if in < wide {
		k *= 1.06 - 0.55*notch
		k += 0.30 * bell((in-wide+1)*(in-wide+1)/1.4)
	} else {
		k *= 0.62 + 0.38*smooth(0, 7, in-wide)
	}
	sheen := 1 - max(0, b.s.normalAt(i).z)
	fold := 1 + 0.22*b.g.rough(u*0.035+3, v*0.05, 2)
	return light.by(tone).times(k * fold).plus(b.st.wall.times(0.02 * sheen))
}

// collarDot is a dot of the shirt's collar.
func (b *brush) collarDot(i int, k, f float64) rgb {
	light := b.light[i].f64()
	seam := 1 - 0.10*bell((f-0.88)*(f-0.88)/0.0006)
	return light.by(b.outfit.linen).times(seam * (1 + 0.02*b.g.rough(k*60, f*30, 2)))
}
