package ink

import "math"

// inverter finds the dyes that give a colour. Colours are Lab under D65
// relative to the bare card, for the eye adapts to the card.
type inverter struct {
	light   [len(cie)]xyz // XYZ from the light that the dyes let through
	density [len(cie)]xyz // of Y, M and C, in natural logarithms
	base    xyz           // XYZ of the surface alone
	card    xyz           // XYZ of the bare card: white
	black   xyz           // XYZ of all three dyes in full: black
}

func newInverter(m *Model) *inverter {
	var v inverter
	for i, w := range underD65.weights {
		for j := range w {
			v.light[i][j] = w[j] * m.eye.card[i]
			v.base[j] += w[j] * surface
		}
		v.density[i] = xyz{m.eye.y[i], m.eye.m[i], m.eye.c[i]}
	}
	v.card, _ = v.forward(xyz{})
	v.black, _ = v.forward(xyz{1, 1, 1})
	return &v
}

// forward is the colour of dyes in amounts 0 to 1 (Y, M, C), and its derivative:
// slope[j][d] is that of tristimulus j by dye d. Most of a Separator's time is
// spent here, hence the plain variables, and no call in the loop that sums.
func (v *inverter) forward(dyes xyz) (sum xyz, slope matrix) {
	y, m, c := dyes[0], dyes[1], dyes[2]
	var left [len(cie)]float64
	for i := range v.density {
		d := &v.density[i]
		left[i] = math.Exp(-(y*d[0] + m*d[1] + c*d[2]))
	}
	var sx, sy, sz, xy, xm, xc, yy, ym, yc, zy, zm, zc float64
	for i := range v.light {
		w, d := &v.light[i], &v.density[i]
		t := left[i]
		px, py, pz := t*w[0], t*w[1], t*w[2]
		sx, sy, sz = sx+px, sy+py, sz+pz
		xy, xm, xc = xy+px*d[0], xm+px*d[1], xc+px*d[2]
		yy, ym, yc = yy+py*d[0], ym+py*d[1], yc+py*d[2]
		zy, zm, zc = zy+pz*d[0], zm+pz*d[1], zc+pz*d[2]
	}
	sum = xyz{v.base[0] + sx, v.base[1] + sy, v.base[2] + sz}
	return sum, matrix{{-xy, -xm, -xc}, {-yy, -ym, -yc}, {-zy, -zm, -zc}}
}

// target is the colour that an sRGB value, in linear light 0 to 1, should have
// on this card: media-relative with black-point compensation. XYZ is mapped
// linearly, channel by channel, so that sRGB white falls on the bare card and
// sRGB black on all three dyes in full.
func (v *inverter) target(linear xyz) Lab {
	c := rgbToXYZ.times(linear)
	for j := range c {
		c[j] = v.black[j] + (v.card[j]-v.black[j])*c[j]/rgbWhite[j]
	}
	return toLab(c, v.card)
}

// lab is the colour of dyes and its derivative by each.
func (v *inverter) lab(dyes xyz) (Lab, matrix) {
	c, slope := v.forward(dyes)
	var f matrix // slope of the cube roots
	for j := range f {
		s := labSlope(c[j]/v.card[j]) / v.card[j]
		for d := range f[j] {
			f[j][d] = s * slope[j][d]
		}
	}
	var g matrix
	for d := range 3 {
		g[0][d] = 116 * f[1][d]
		g[1][d] = 500 * (f[0][d] - f[1][d])
		g[2][d] = 200 * (f[1][d] - f[2][d])
	}
	return toLab(c, v.card), g
}

// weighing rates how a colour misses a target. Where the dyes cannot reach it,
// something has to give: hue counts in full, lightness less and chroma least,
// both the less the stronger the colour is. So a screen's green becomes the
// ribbon's green, darker and duller but no other hue. (The least CIEDE2000 would
// turn it pale, for that formula clings to lightness; hue and strength are what
// people miss first. Judgement, no source.) Within the gamut the weights do not
// matter.
type weighing struct {
	target        Lab
	cos, sin      float64 // of the target's hue
	light, chroma float64 // weights beside the hue's 1
}

func weigh(target Lab) weighing {
	c := math.Hypot(target.A, target.B)
	w := weighing{target, 1, 0, 1 / (1 + 0.01*c), 1 / (1 + 0.02*c)}
	if c > 0 {
		w.cos, w.sin = target.A/c, target.B/c
	}
	return w
}

// turn expresses a difference in L, a, b as weighted lightness, chroma and hue.
func (w *weighing) turn(l, a, b float64) xyz {
	return xyz{w.light * l, w.chroma * (w.cos*a + w.sin*b), w.cos*b - w.sin*a}
}

// fit is a mixture of dyes and how it misses a target.
type fit struct {
	dyes  xyz
	lab   Lab
	miss  xyz     // weighted deviation
	sum   float64 // of its squares
	slope matrix  // of the deviation by each dye
}

func (v *inverter) fit(w *weighing, dyes xyz) (f fit) {
	lab, g := v.lab(dyes)
	f.dyes, f.lab = dyes, lab
	f.miss = w.turn(lab.L-w.target.L, lab.A-w.target.A, lab.B-w.target.B)
	f.sum = f.miss[0]*f.miss[0] + f.miss[1]*f.miss[1] + f.miss[2]*f.miss[2]
	for d := range 3 {
		col := w.turn(g[0][d], g[1][d], g[2][d])
		f.slope[0][d], f.slope[1][d], f.slope[2][d] = col[0], col[1], col[2]
	}
	return f
}

// Limits of the search. A step below stepEnough, an eighth of a code value, is
// the last: the next would be smaller by orders.
const (
	maxSteps   = 60
	stepEnough = 5e-4
)

// invert finds the dyes, each 0 to 1, whose colour is nearest to the target, and
// that colour: a Levenberg-Marquardt search kept within the cube of dyes, from a
// start close by. It ends at a minimum, or after maxSteps at the best place
// found.
func (v *inverter) invert(target Lab, start xyz) (dyes xyz, got Lab) {
	w := weigh(target)
	at := v.fit(&w, start)
	damp := 1e-4
	for range maxSteps {
		step := descend(&at, damp)
		moved := max(math.Abs(step[0]-at.dyes[0]), math.Abs(step[1]-at.dyes[1]), math.Abs(step[2]-at.dyes[2]))
		if moved == 0 {
			break
		}
		next := v.fit(&w, step)
		if next.sum > at.sum {
			if damp > 1e6 || moved < stepEnough/100 {
				break
			}
			damp = max(10*damp, 1e-3)
			continue
		}
		at = next
		damp /= 10
		if moved < stepEnough {
			break
		}
	}
	return at.dyes, at.lab
}

// descend solves one damped step inside the cube: a dye that would leave it is
// held at its wall and the step solved again for the others.
func descend(at *fit, damp float64) xyz {
	dyes, r, slope := at.dyes, at.miss, &at.slope
	var h matrix // the normal equations h * step = -g
	var g xyz
	for d := range 3 {
		for e := range 3 {
			h[d][e] = slope[0][d]*slope[0][e] + slope[1][d]*slope[1][e] + slope[2][d]*slope[2][e]
		}
		g[d] = slope[0][d]*r[0] + slope[1][d]*r[1] + slope[2][d]*r[2]
	}
	for d := range 3 {
		h[d][d] += damp*h[d][d] + 1e-9
	}
	var held [3]bool
	for d := range 3 {
		held[d] = dyes[d] <= 0 && g[d] > 0 || dyes[d] >= 1 && g[d] < 0
	}
	next := dyes
	for range 3 {
		step := solveHeld(h, g, dyes, next, held)
		again := false
		for d := range 3 {
			if held[d] {
				continue
			}
			to := dyes[d] + step[d]
			next[d] = min(max(to, 0), 1)
			if to != next[d] {
				held[d], again = true, true
			}
		}
		if !again {
			break
		}
	}
	return next
}

// solveHeld solves h * step = -g for the dyes that are not held; those held
// move to where next has them.
func solveHeld(h matrix, g, dyes, next xyz, held [3]bool) (step xyz) {
	for d := range 3 {
		g[d] = -g[d]
	}
	for d := range 3 {
		if !held[d] {
			continue
		}
		step[d] = next[d] - dyes[d]
		for e := range 3 {
			if e != d {
				g[e] -= h[e][d] * step[d]
				h[d][e], h[e][d] = 0, 0
			}
		}
		h[d][d], g[d] = 1, step[d]
	}
	return cholesky(h, g)
}

// cholesky solves a positive definite system of three.
func cholesky(h matrix, g xyz) (x xyz) {
	a := math.Sqrt(h[0][0])
	b, c := h[1][0]/a, h[2][0]/a
	d := math.Sqrt(h[1][1] - b*b)
	e := (h[2][1] - b*c) / d
	f := math.Sqrt(h[2][2] - c*c - e*e)
	y0 := g[0] / a
	y1 := (g[1] - b*y0) / d
	y2 := (g[2] - c*y0 - e*y1) / f
	x[2] = y2 / f
	x[1] = (y1 - e*x[2]) / d
	x[0] = (y0 - b*x[1] - c*x[2]) / a
	return x
}
