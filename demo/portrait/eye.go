package portrait

import "math"

// The opening between the lids, in rest coordinates of the right half; the
// left half is its mirror.
const (
	eyeX      = 31.6 // centre of the pupil from the middle line
	eyeIn     = 14.6 // from the pupil to the inner corner
	eyeOut    = 14.4 // to the outer corner
	irisSize  = 5.95 // radius
	pupilSize = 2.1
)

// lids are the heights of the upper and lower lid's edge at x, and how far
// along the opening x lies: -1 at the nose, 1 outside.
func (t *traits) lids(x float64) (up, low, q float64) {
	d := x - eyeX
	if d < 0 {
		q = d / eyeIn
	} else {
		q = d / eyeOut
	}
	base := -0.9 + (0.5+0.5*q)*(1.5+t.tilt)
	r := 1 - q*q
	if r <= 0 {
		return base, base, q
	}
	lean := 1 - 0.14*q
	up = base + 5.1*t.open*math.Pow(r, 0.62)*lean - 0.3*(1-q)*r
	low = base - 4.6*(0.8+0.2*t.open)*math.Pow(r, 0.75)*(1+0.10*q) + 0.5*t.smile*r
	return up, low, q
}

// gaze is where the iris lies on the ball so that it faces the camera.
func (t *traits) gaze() (x, y float64) { return -t.yaw * 11, t.pitch*11 + 0.2 }

// ballColour is the eye seen at rest point (x, y) of one half (x > 0), with
// side -1 for the sitter's half at the viewer's left. It gives the
// reflectance, shaded by the lids, and the local normal.
func (b *brush) ballColour(x, y, side float64) (c rgb, n vec) {
	t := b.t
	gx, gy := t.gaze()
	dx, dy := x-eyeX-gx*side, y-gy
	d := math.Hypot(dx, dy)
	n = vec{(x - eyeX) / 12.5 * side, (y + 0.2) / 12.5, 0}
	n.z = math.Sqrt(max(0.05, 1-n.x*n.x-n.y*n.y))
	up, low, q := t.lids(x)

	white := rgb{0.56, 0.53, 0.505}.times(1 - 0.28*t.melanin)
	pink := smooth(0.45, 1.0, math.Abs(q))
	white = white.blend(rgb{0.46, 0.30, 0.26}, 0.45*pink)
	vein := b.g.rough(x*1.1, y*1.6+side*40, 3)
	white = white.blend(rgb{0.52, 0.30, 0.27}, clamp(vein*0.35, 0, 0.25))
	white = white.blend(rgb{0.42, 0.19, 0.16}, smooth(-0.80, -0.94, q))

	iris := b.irisColour(dx, dy, d)
	c = white.blend(iris, smooth(irisSize+0.45, irisSize-0.35, d))
	c = c.blend(rgb{0.004, 0.004, 0.004}, smooth(pupilSize+0.3, pupilSize-0.25, d))
	// The upper lid and its lashes shade the ball.
	shade := 0.30 + 0.70*smooth(0.0, 4.6, up-y)
	shade *= 0.72 + 0.28*smooth(0, 1.6, y-low)
	shade *= 1 - 0.35*smooth(0.55, 1, math.Abs(q))
	return c.times(shade), n
}

func (b *brush) irisColour(dx, dy, d float64) rgb {
	t := b.t
	deep, pale := irisTones(t)
	a := math.Atan2(dy, dx)
	fibre := b.g.rough(a*9, d*0.6, 2) * 0.5
	k := clamp(smooth(irisSize, pupilSize+0.6, d)*0.6+0.4+fibre*0.45-0.25*smooth(0, 5, dy), 0, 1)
	c := deep.blend(pale, k)
	return c.blend(deep.times(0.25), smooth(irisSize-1.3, irisSize-0.1, d)*0.85)
}

func irisTones(t *traits) (deep, pale rgb) {
	v := t.iris
	switch {
	case t.Skin > 0.35 || t.Hair == Black:
		k := 0.7 + 0.6*v
		return rgb{0.016, 0.008, 0.004}.times(k), rgb{0.075, 0.033, 0.014}.times(k)
	case v < 0.35:
		return rgb{0.03, 0.016, 0.008}, rgb{0.13, 0.062, 0.025}
	case v < 0.55:
		return rgb{0.04, 0.035, 0.017}, rgb{0.17, 0.13, 0.06}
	default:
		return rgb{0.035, 0.045, 0.055}, rgb{0.16, 0.195, 0.225}
	}
}
