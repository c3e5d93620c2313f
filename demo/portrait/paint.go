package portrait

import "math"

// paint gives every dot of the stage its colour.
func (b *brush) paint() {
	s := b.s
	b.colour = make([]rgb32, s.w*s.h)
	for y := range s.h {
		for x := range s.w {
			i := y*s.w + x
			b.colour[i] = b.dot(i, x, y).f32()
		}
	}
}

func (b *brush) dot(i, x, y int) rgb {
	s := b.s
	u, v := float64(s.place[i][0]), float64(s.place[i][1])
	switch s.what[i] {
	case nothing:
		return b.backdrop(x, y)
	case face:
		return b.faceDot(i, u, v)
	case neck:
		return b.skinDot(i, b.neckTone(u, v), 0.08)
	case ear:
		return b.skinDot(i, b.earTone(u, v), 0.3)
	case hairBase:
		streak := b.g.rough(u*0.5, v*0.13, 2)
		c := b.hair.body.times(0.4 + 0.15*streak).plus(b.hair.gloss.times(0.22 * max(0, streak-0.15)))
		return b.light[i].f64().by(c)
	case jacket:
		return b.clothDot(i, u, v)
	case scarf:
		return b.scarfDot(i, u, v)
	case collar:
		return b.collarDot(i, u, v)
	}
	return b.light[i].f64().times(0.1)
}

func (b *brush) neckTone(u, v float64) rgb {
	blot := b.g.rough(u*0.09, v*0.09, 3)
	return pigments(b.t.melanin+0.02*blot, clamp(b.t.blood*0.7+0.15+0.2*blot, 0, 1.6))
}

// skinDot is skin of a given reflectance with its gloss.
func (b *brush) skinDot(i int, tone rgb, gloss float64) rgb {
	n := b.s.normalAt(i)
	ao, clear := float64(b.seen[i].ao), float64(b.seen[i].clear)
	c := b.light[i].f64().by(tone)
	e := b.st.gloss(n, 3, ao, clear).times(0.07).plus(b.st.gloss(n, 5, ao, clear).times(0.10))
	rim := 1 - max(0, n.z)
	rim *= rim * rim
	gloss *= 1 + 0.5*b.t.melanin
	return c.plus(e.times(gloss)).plus(b.st.wall.times(0.10 * rim * ao * ao))
}

// roots darkens the scalp where hair grows; bare is how much skin shows.
func (b *brush) roots(u, v float64, tone rgb) (c rgb, bare float64) {
	t := b.t
	if t.Style == Scarf || v < -45 || v < 40 && math.Abs(u) < 50 {
		return tone, 1
	}
	x, y := u/skullSize.x, (v-skullAt.y)/skullSize.y
	z := skullAt.z + skullSize.z*math.Sqrt(max(0, 1-x*x-y*y))
	if v < 10 { // the cheek, not what lies behind the ear
		z = 0
	}
	in := t.onScalp(vec{u, v, z})
	k := smooth(-3, 13, in+4*b.g.rough(u*0.25, v*0.25, 2)) * 0.8
	if t.Style == Crop {
		k *= 0.75 + 0.4*b.g.rough(u*1.3, v*1.3, 2)
	}
	k = clamp(k, 0, 0.93)
	return tone.blend(b.hair.body.times(0.8), k), 1 - k
}

func (b *brush) faceDot(i int, u, v float64) rgb {
	a, side := math.Abs(u), math.Copysign(1, u)
	tone := b.faceTone(u, v)
	if k := b.shadow(u, v); k > 0 {
		tone = tone.blend(b.browHair.plus(tone.times(0.12)), k)
	}
	tone, bare := b.roots(u, v, tone)
	gloss := bare * b.t.shine * (0.55 + 0.9*bump(a, v, 0, -38, 9, 14) + 0.7*bump(a, v, 0, 40, 40, 22) + 0.35*bump(a, v, 42, -24, 14, 10))
	gloss *= 0.85 + 0.22*b.g.rough(u*0.9, v*0.9, 2)
	if red, _ := b.t.lip(u, v); red > 0 {
		gloss += 0.8 * red * (1 + 0.5*b.g.at(u*1.7, v*0.5))
	}
	// nostrils
	hx := a - 7*b.t.noseWide
	hole := bump(hx, v+0.30*hx, 0, -49.9, 3.3, 1.5)
	tone = tone.blend(tone.by(rgb{0.13, 0.06, 0.055}), clamp(hole*1.4, 0, 0.9))
	tone = tone.times(1 - 0.22*b.t.wing(a, v))
	if a > eyeX-22 && a < eyeX+24 && v > -14 && v < 18 {
		return b.eyeDot(i, a, v, side, tone, gloss)
	}
	return b.skinDot(i, tone, gloss)
}
