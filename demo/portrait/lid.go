package portrait

import "math"

// eyeDot is a dot of the eye or of the lids about it.
func (b *brush) eyeDot(i int, a, v, side float64, tone rgb, gloss float64) rgb {
	t := b.t
	up, low, q := t.lids(a)
	near := smooth(1.25, 0.8, math.Abs(q))
	// crease of the upper lid
	r := max(0, 1-q*q*0.72)
	crease := -0.6 + (0.5+0.5*q)*(1.5+t.tilt) + (6.6+1.9*t.fold)*t.open*math.Pow(r, 0.6)*(1-0.05*q)
	d := (v - crease) / 0.85
	dark := (0.28 + 0.30*t.fold) * bell(d*d) * near
	// edge of the lids, and the lashes' dark line above
	d = (v - up - 0.5) / 0.9
	dark = max(dark, 0.80*bell(d*d)*smooth(1.06, 0.85, math.Abs(q))*(0.6+0.4*smooth(-1, 0.6, q)))
	d = (v - low + 0.55) / 0.55
	lowLine := bell(d*d) * smooth(1.02, 0.8, math.Abs(q))
	dark = max(dark, 0.26*lowLine)
	// bag under the eye
	d = (v - low + 5.5 + 1.5*t.years) / 1.6
	dark = max(dark, (0.02+0.16*t.years)*bell(d*d)*smooth(1.1, 0.3, math.Abs(q)))
	skin := b.skinDot(i, tone.by(rgb{1 - dark*0.9, 1 - dark, 1 - dark}), gloss)

	in := smooth(-0.35, 0.35, up-v) * smooth(-0.35, 0.35, v-low)
	if in <= 0 || math.Abs(q) >= 1 {
		return skin
	}
	c, n := b.ballColour(a, v, side)
	n = b.p.dir(n)
	ao, clear := float64(b.seen[i].ao), float64(b.seen[i].clear)
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
