package portrait

import "math"

// illuminate works out the light that falls on every dot, and lets it bleed
// a little way through skin.
func (b *brush) illuminate() {
	s := b.s
	b.light = make([]rgb32, s.w*s.h)
	for y := range s.h {
		for x := range s.w {
			i := y*s.w + x
			if s.what[i] == nothing {
				continue
			}
			ao, clear := b.v.at(s, x, y)
			b.light[i] = b.st.falls(s.normalAt(i), ao, clear).f32()
		}
	}
	b.bleed()
}

func (s *stage) normalAt(i int) vec {
	n := s.normal[i]
	return vec{float64(n[0]), float64(n[1]), float64(n[2])}.unit()
}

func isSkin(m matter) bool { return m == face || m == neck || m == ear }

// bleed spreads the light under the skin: red furthest, blue least. It works
// at half size; what leaves the skin's edge is put back by weighting.
func (b *brush) bleed() {
	s := b.s
	w, h := s.w/2, s.h/2
	half, mask := make([]rgb32, w*h), make([]float32, w*h)
	for y := range h {
		for x := range w {
			j := 2*y*s.w + 2*x
			if isSkin(s.what[j]) {
				half[y*w+x], mask[y*w+x] = b.light[j], 1
			}
		}
	}
	spread(half, mask, w, h, rgb32{1.9, 1.0, 0.75})
	share := rgb32{0.9, 0.72, 0.6}
	for y := range s.h {
		for x := range s.w {
			i := y*s.w + x
			if !isSkin(s.what[i]) {
				continue
			}
			c := between(half, mask, w, h, x, y)
			for k := range 3 {
				b.light[i][k] += (c[k] - b.light[i][k]) * share[k]
			}
		}
	}
}

// between reads a half-size picture at a full-size dot, weighted by mask.
func between(f []rgb32, mask []float32, w, h, x, y int) rgb32 {
	var c rgb32
	var n float32
	for k := range 4 {
		px, py := min(x/2+(k&1)*(x&1), w-1), min(y/2+(k>>1)*(y&1), h-1)
		i := py*w + px
		m := mask[i] + 1e-4
		for j := range 3 {
			c[j] += f[i][j] * m
		}
		n += m
	}
	return rgb32{c[0] / n, c[1] / n, c[2] / n}
}

// spread blurs f where mask is set, by sigma dots for each colour.
func spread(f []rgb32, mask []float32, w, h int, sigma rgb32) {
	const reach = 6
	var k [3][reach + 1]float32
	for c := range 3 {
		for i := range k[c] {
			d := float64(i) / float64(sigma[c])
			k[c][i] = float32(math.Exp(-d * d / 2))
		}
	}
	tmp := make([]rgb32, w*h)
	pass := func(dst, src []rgb32, step, n, lines, lineStep int) {
		for l := range lines {
			for i := range n {
				o := l*lineStep + i*step
				if mask[o] == 0 {
					continue
				}
				var sum, wt rgb32
				for d := -reach; d <= reach; d++ {
					if i+d < 0 || i+d >= n {
						continue
					}
					p := o + d*step
					if mask[p] == 0 {
						continue
					}
					a := max(d, -d)
					for c := range 3 {
						sum[c] += src[p][c] * k[c][a]
						wt[c] += k[c][a]
					}
				}
				dst[o] = rgb32{sum[0] / wt[0], sum[1] / wt[1], sum[2] / wt[2]}
			}
		}
	}
	pass(tmp, f, 1, w, h, w)
	pass(f, tmp, w, h, w, 1)
}

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
		return b.faceDot(i, x, y, u, v)
	case neck:
		return b.skinDot(i, x, y, b.neckTone(u, v), 0.08)
	case ear:
		return b.skinDot(i, x, y, b.earTone(u, v), 0.3)
	case hairBase:
		return b.light[i].f64().by(b.hair.body).times(0.34 + 0.12*b.g.rough(u*0.5, v*0.13, 2))
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
func (b *brush) skinDot(i, x, y int, tone rgb, gloss float64) rgb {
	n := b.s.normalAt(i)
	ao, clear := b.v.at(b.s, x, y)
	c := b.light[i].f64().by(tone)
	e := b.st.gloss(n, 3, ao, clear).times(0.055).plus(b.st.gloss(n, 5, ao, clear).times(0.07))
	rim := 1 - math.Max(0, n.z)
	rim *= rim * rim
	gloss *= 1 + 1.1*b.t.melanin
	return c.plus(e.times(gloss)).plus(b.st.wall.times(0.10 * rim * ao * ao))
}

// roots darkens the scalp where hair grows; bare is how much skin shows.
func (b *brush) roots(u, v float64, tone rgb) (c rgb, bare float64) {
	t := b.t
	if t.Style == Scarf || v < -45 || v < 40 && math.Abs(u) < 50 {
		return tone, 1
	}
	x, y := u/skullSize.x, (v-skullAt.y)/skullSize.y
	in := t.onScalp(vec{u, v, skullAt.z + skullSize.z*math.Sqrt(math.Max(0, 1-x*x-y*y))})
	k := smooth(-3, 13, in+4*b.g.rough(u*0.25, v*0.25, 2)) * 0.8
	if t.Style == Crop {
		k *= 0.75 + 0.4*b.g.rough(u*1.3, v*1.3, 2)
	}
	k = clamp(k, 0, 0.93)
	return tone.blend(b.hair.body.times(0.8), k), 1 - k
}

func (b *brush) faceDot(i, x, y int, u, v float64) rgb {
	a, side := math.Abs(u), math.Copysign(1, u)
	tone := b.faceTone(u, v)
	if k := b.shadow(u, v); k > 0 {
		tone = tone.blend(b.browHair.plus(tone.times(0.12)), k)
	}
	tone, bare := b.roots(u, v, tone)
	gloss := bare * b.t.shine * (0.55 + 0.9*bump(a, v, 0, -38, 9, 14) + 0.7*bump(a, v, 0, 40, 40, 22) + 0.35*bump(a, v, 42, -24, 14, 10))
	gloss *= 0.8 + 0.5*b.g.at(u*1.3, v*1.3)
	if red, _ := b.t.lip(u, v); red > 0 {
		gloss += 0.8 * red * (1 + 0.5*b.g.at(u*1.7, v*0.5))
	}
	// nostrils
	hx := a - 7*b.t.noseWide
	hole := bump(hx, v+0.22*hx, 0, -50.1, 3.9, 1.7)
	tone = tone.blend(tone.by(rgb{0.10, 0.045, 0.045}), clamp(hole*1.35, 0, 0.92))
	tone = tone.times(1 - 0.22*b.t.wing(a, v))
	if a > eyeX-22 && a < eyeX+24 && v > -14 && v < 18 {
		return b.eyeDot(i, x, y, a, v, side, tone, gloss)
	}
	return b.skinDot(i, x, y, tone, gloss)
}

// eyeDot is a dot of the eye or of the lids about it.
func (b *brush) eyeDot(i, x, y int, a, v, side float64, tone rgb, gloss float64) rgb {
	t := b.t
	up, low, q := t.lids(a)
	near := smooth(1.25, 0.8, math.Abs(q))
	// crease of the upper lid
	r := math.Max(0, 1-q*q*0.72)
	crease := -0.6 + (0.5+0.5*q)*(1.5+t.tilt) + (6.6+1.9*t.fold)*t.open*math.Pow(r, 0.6)*(1-0.05*q)
	d := (v - crease) / 0.85
	dark := (0.28 + 0.30*t.fold) * bell(d*d) * near
	// edge of the lids, and the lashes' dark line above
	d = (v - up - 0.5) / 0.9
	dark = math.Max(dark, 0.80*bell(d*d)*smooth(1.06, 0.85, math.Abs(q))*(0.6+0.4*smooth(-1, 0.6, q)))
	d = (v - low + 0.55) / 0.55
	lowLine := bell(d*d) * smooth(1.02, 0.8, math.Abs(q))
	dark = math.Max(dark, 0.26*lowLine)
	// bag under the eye
	d = (v - low + 5.5 + 1.5*t.years) / 1.6
	dark = math.Max(dark, (0.02+0.16*t.years)*bell(d*d)*smooth(1.1, 0.3, math.Abs(q)))
	skin := b.skinDot(i, x, y, tone.by(rgb{1 - dark*0.9, 1 - dark, 1 - dark}), gloss)

	in := smooth(-0.35, 0.35, up-v) * smooth(-0.35, 0.35, v-low)
	if in <= 0 || math.Abs(q) >= 1 {
		return skin
	}
	c, n, _ := b.ballColour(a, v, side)
	n = b.p.dir(n)
	ao, clear := b.v.at(b.s, x, y)
	e := b.st.falls(n, math.Sqrt(ao), clear)
	ball := c.by(e).plus(b.catchlight(a, v, side))
	// the wet rim of the lower lid
	d = (v - low - 0.25) / 0.4
	ball = ball.plus(b.st.lamps[0].rgb.times(0.10 * bell(d*d) * clear))
	return skin.blend(ball, in)
}

// catchlight is the lamp mirrored in the cornea.
func (b *brush) catchlight(a, v, side float64) rgb {
	gx, gy := b.t.gaze()
	h := b.st.halves[0]
	// the cornea's sphere has a radius of 7.8, from memory
	cx, cy := gx+h.x*7.8*0.85, gy+h.y*7.8*0.85
	dx, dy := (a-eyeX)*side-cx, v-cy
	k := smooth(1.15, 0.65, math.Abs(dx)) * smooth(1.35, 0.8, math.Abs(dy))
	f := b.st.halves[1]
	dx, dy = (a-eyeX)*side-gx-f.x*6.6, v-gy-f.y*6.6
	k2 := bell((dx*dx + dy*dy) / 1.2)
	return rgb{1, 1, 1}.times(0.95*k + 0.12*k2)
}

// wall is what hangs behind the sitter.
type wall struct {
	tone  rgb
	slope float64 // of its light, from left to right
}

func newWall(t *traits) wall {
	d := t.dice.fork(9)
	tones := [...]rgb{srgb(222, 226, 230), srgb(214, 221, 230), srgb(229, 227, 222), srgb(205, 212, 218)}
	return wall{tones[d.next()%uint64(len(tones))], d.span(-0.12, 0.12)}
}

// backdrop is a pale wall, lit a little unevenly.
func (b *brush) backdrop(x, y int) rgb {
	fx := float64(x)/Width - 0.5
	fy := float64(y)/Height - 0.45
	k := 1.03 - 0.55*(fx*fx+fy*fy*0.7) + b.wall.slope*fx - 0.10*fy + 0.006*b.g.rough(float64(x)*0.02, float64(y)*0.02, 2)
	return b.wall.tone.times(k)
}
