package portrait

import "math"

// vec is a point or direction in millimetres: x to the viewer's right, y up,
// z towards the camera; the origin lies between the pupils.
type vec struct{ x, y, z float64 }

func (a vec) add(b vec) vec              { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec              { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) mul(k float64) vec          { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64          { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) along(d vec, k float64) vec { return vec{a.x + d.x*k, a.y + d.y*k, a.z + d.z*k} }
func (a vec) len() float64               { return math.Sqrt(a.dot(a)) }

func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

func (a vec) unit() vec {
	l := a.len()
	if l < 1e-9 {
		return vec{0, 0, 1}
	}
	return a.mul(1 / l)
}

// pose turns and moves a rigid part of the sitter.
type pose struct {
	rx, ry, rz vec // rows of the rotation
	pivot      vec
	shift      vec
}

// turn builds the pose for a yaw, pitch and roll in radians about pivot.
func turn(yaw, pitch, roll float64, pivot, shift vec) pose {
	sy, cy := math.Sincos(yaw)
	sp, cp := math.Sincos(pitch)
	sr, cr := math.Sincos(roll)
	apply := func(v vec) vec {
		v = vec{v.x*cy + v.z*sy, v.y, -v.x*sy + v.z*cy}
		v = vec{v.x, v.y*cp - v.z*sp, v.y*sp + v.z*cp}
		return vec{v.x*cr - v.y*sr, v.x*sr + v.y*cr, v.z}
	}
	a, b, c := apply(vec{1, 0, 0}), apply(vec{0, 1, 0}), apply(vec{0, 0, 1})
	return pose{rx: vec{a.x, b.x, c.x}, ry: vec{a.y, b.y, c.y}, rz: vec{a.z, b.z, c.z}, pivot: pivot, shift: shift}
}

func (p *pose) dir(v vec) vec { return vec{p.rx.dot(v), p.ry.dot(v), p.rz.dot(v)} }

func (p *pose) point(v vec) vec { return p.dir(v.sub(p.pivot)).add(p.pivot).add(p.shift) }

// back undoes the rotation of a direction.
func (p *pose) back(v vec) vec {
	return vec{
		p.rx.x*v.x + p.ry.x*v.y + p.rz.x*v.z,
		p.rx.y*v.x + p.ry.y*v.y + p.rz.y*v.z,
		p.rx.z*v.x + p.ry.z*v.y + p.rz.z*v.z,
	}
}

func clamp(v, lo, hi float64) float64 { return min(hi, max(lo, v)) }

func mix(a, b, t float64) float64 { return a + (b-a)*t }

// smooth rises from 0 at a to 1 at b; a may exceed b.
func smooth(a, b, v float64) float64 {
	t := (v - a) / (b - a)
	if t <= 0 {
		return 0
	}
	if t >= 1 {
		return 1
	}
	return t * t * (3 - 2*t)
}

// bell is close to exp(-d2) but ends at d2 = 5 and needs no exponential.
func bell(d2 float64) float64 {
	t := 1 - d2*0.2
	if t <= 0 {
		return 0
	}
	return t * t * t * t * t
}

// bump is a bell of widths sx and sy centred on (cx, cy).
func bump(x, y, cx, cy, sx, sy float64) float64 {
	dx, dy := (x-cx)/sx, (y-cy)/sy
	return bell(dx*dx + dy*dy)
}

// smax is the larger of a and b, rounded over a width k where they meet.
func smax(a, b, k float64) float64 {
	d := a - b
	if d > k {
		return a
	}
	if d < -k {
		return b
	}
	t := 0.5 + 0.5*d/k
	return mix(b, a, t) + k*t*(1-t)*0.5
}

// knot is one point of a curve given by a table.
type knot struct{ at, val float64 }

// curve is a table of knots in rising order of at, read by a cubic that does
// not overshoot (Fritsch and Carlson's slopes with harmonic means).
type curve []knot

func (c curve) at(x float64) float64 {
	n := len(c)
	if x <= c[0].at {
		return c[0].val
	}
	if x >= c[n-1].at {
		return c[n-1].val
	}
	i := 0
	for c[i+1].at < x {
		i++
	}
	h := c[i+1].at - c[i].at
	t := (x - c[i].at) / h
	m0, m1 := c.slope(i)*h, c.slope(i+1)*h
	t2, t3 := t*t, t*t*t
	return c[i].val*(2*t3-3*t2+1) + m0*(t3-2*t2+t) + c[i+1].val*(3*t2-2*t3) + m1*(t3-t2)
}

func (c curve) slope(i int) float64 {
	if i == 0 || i == len(c)-1 {
		return 0
	}
	a := (c[i].val - c[i-1].val) / (c[i].at - c[i-1].at)
	b := (c[i+1].val - c[i].val) / (c[i+1].at - c[i].at)
	if a*b <= 0 {
		return 0
	}
	return 2 * a * b / (a + b)
}
