package portrait

import "math"

// beardAt is how much hair grows at rest point (x, y) of a man's face, 0 to 1.
func (t *traits) beardAt(x, y float64) float64 {
	a := math.Abs(x)
	if y > 2 || y < -119 {
		return 0
	}
	var edge float64 // the upper edge: the lip's, then the cheek's
	switch {
	case a < 28:
		edge = -53.5 - 0.008*a*a
	default:
		f := (a - 28) / 40
		edge = mix(-61, 0, f*f)
	}
	k := smooth(-1, 7, edge-y)
	if a > 60 {
		k = max(k, smooth(60, 66, a)) * smooth(3, -4, y)
	}
	q := x / (t.mouthHalf() + 3.5)
	mid := t.lipLine(x)
	v := y - mid
	if v > 0 {
		v /= 7.6*t.lips*(1-0.6*q*q) + 1.2
	} else {
		v /= 9.2*t.lips + 2
	}
	k *= smooth(0.85, 1.12, q*q*q*q+v*v)
	k *= 1 - 0.7*bump(a, y, 15, -88, 7, 5) // bare beside the tuft under the lip
	return k
}

// shadow is how dark the roots of a beard make the skin.
func (b *brush) shadow(x, y float64) float64 {
	t := b.t
	if t.male == 0 {
		return 0
	}
	k := [beards]float64{0.10, 0.42, 0.12, 0.55}[t.Beard]
	if t.Beard == Shaven && t.Hair > Brown {
		k *= 0.4
	}
	return k * t.beardAt(x, y) * (0.85 + 0.4*b.g.rough(x*0.6, y*0.6, 2))
}

// beard draws the hairs of the face.
func (b *brush) beard() {
	t := b.t
	d := t.dice.fork(61)
	switch t.Beard {
	case Stubble:
		b.whiskers(&d, 2600, 1.4, 2.4, 0.42, func(x, y float64) float64 { return t.beardAt(x, y) })
	case Moustache:
		b.whiskers(&d, 2600, 5, 9, 0.6, t.moustacheAt)
	case FullBeard:
		long := d.span(6, 13)
		b.whiskers(&d, 5200, long*0.7, long*1.15, 0.6, func(x, y float64) float64 { return t.beardAt(x, y) })
	}
}

// moustacheAt is beardAt held to the upper lip.
func (t *traits) moustacheAt(x, y float64) float64 {
	if math.Abs(x) > t.mouthHalf()+5 || y < t.lipLine(x)-2 {
		return 0
	}
	return t.beardAt(x, y)
}

// whiskers draws up to n hairs where grows allows them.
func (b *brush) whiskers(d *dice, n int, short, long, cover float64, grows func(x, y float64) float64) {
	for range n {
		x, y := d.span(-70, 70), d.span(-115, 0)
		if b.t.Beard == Moustache {
			x, y = d.span(-32, 32), d.span(-78, -52)
		}
		k := grows(x, y)
		if k < d.float() || math.Abs(x) > 0.95*halfWidth.at(y) {
			continue
		}
		l := d.span(short, long) * (0.35 + 0.65*k)
		// down and outwards, sideways over the lip, straight down at the chin
		lip := bump(x, y, 0, -60, 40, 8)
		dx := x*0.006 + d.normal()*0.22 + lip*math.Copysign(min(1, math.Abs(x)/9), x)*1.1
		b.whisker(x, y, dx, -1+0.35*lip, l, cover*d.span(0.6, 1.1), d.float() < b.hair.grey*1.5)
	}
}

func (b *brush) whisker(x, y, dx, dy, long, cover float64, white bool) {
	n := math.Hypot(dx, dy)
	body := b.browHair
	if white {
		body = rgb{0.3, 0.29, 0.28}
	}
	var m [4]mark
	for i := range m {
		f := float64(i) / 3
		s := long * f / n
		on := max(y+dy*s, -112) // lower it hangs free of the chin
		if most := 0.98 * halfWidth.at(on); math.Abs(x+dx*s) > most {
			s = 0 // past the jaw's edge: stay at the root
			on = max(y, -112)
		}
		px, py, z := b.onFace(x+dx*s, on, 0.5+long*0.22*f)
		py += (on - y - dy*s) * b.s.scale
		c := body.by(b.lightAt(px, py).plus(rgb{0.06, 0.06, 0.06})).times(0.75 + 0.4*f)
		m[i] = mark{px, py, z, c.f32(), 0.95 - 0.4*f, float32(cover * (1 - 0.5*f))}
	}
	b.stroke(m[:], 3)
}
