package portrait

import "math"

// brows draws the eyebrows hair by hair.
func (b *brush) brows() {
	t := b.t
	d := t.dice.fork(41)
	thick := mix(0.85, 1.08, t.male) * d.span(0.8, 1.2)
	arch := mix(3.2, 1.6, t.male) + d.normal()*0.7
	high := mix(17, 15, t.male) + d.normal()*0.8
	dark := d.span(0.75, 1)
	n := int(420 * thick)
	for _, side := range []float64{-1, 1} {
		for range n {
			k := math.Pow(d.float(), 0.85)
			a := mix(12, 52.5, k)
			mid := high - 1 + arch*math.Sin(clamp(k/0.68, 0, 1)*math.Pi/2)*1.3 - smooth(0.6, 1, k)*(1.0+arch)
			half := 3.4 * thick * smooth(-0.12, 0.22, k) * (1 - 0.72*smooth(0.45, 1, k))
			off := d.normal() * 0.55
			y := mid + off*half
			// hairs stand up at the nose and lie down towards the temple
			lean := mix(1.25, 0.05, smooth(0, 0.35, k)) - off*0.35 - 0.45*smooth(0.5, 1, k) + d.normal()*0.14
			long := d.span(4.2, 7.2) * (0.75 + 0.25*thick) * (1 - 0.35*smooth(0.7, 1, k))
			b.hairOnFace(side, a, y, lean, long, d.span(0.55, 0.9), dark*d.span(0.3, 0.72), -0.25)
		}
	}
}

// hairOnFace draws one short hair that starts at rest point (side*a, y) and
// goes outwards at angle lean, bending by bend along its way.
func (b *brush) hairOnFace(side, a, y, lean, long, wide, cover, bend float64) {
	const steps = 3
	var m [steps + 1]mark
	for i := range m {
		f := float64(i) / steps
		px, py, z := b.onFace(side*a, y, 0.6+0.8*f)
		c := b.browHair.by(b.lightAt(px, py)).times(0.9 + 0.3*f)
		m[i] = mark{px, py, z, c.f32(), wide * (1 - 0.45*f), float32(cover * (1 - 0.5*f))}
		sn, cs := math.Sincos(lean)
		a += cs * long / steps
		y += sn * long / steps
		lean += bend
	}
	b.stroke(m[:], 2.5)
}

// lashes draws the lashes of both eyes.
func (b *brush) lashes() {
	t := b.t
	d := t.dice.fork(42)
	long := mix(1.25, 0.85, t.male)
	for _, side := range []float64{-1, 1} {
		for i := range 44 {
			q := mix(-0.80, 1.0, (float64(i)+d.float())/44)
			a := eyeX + q*eyeOut
			up, low, _ := t.lids(a)
			lean := math.Pi/2 - q*0.8 + d.normal()*0.12
			sn, cs := math.Sincos(lean)
			l := (2.4 + 1.6*smooth(-0.5, 0.8, q)) * long * d.span(0.7, 1.1)
			b.lash(side, a, up+0.1, cs*l, sn*l*0.62, 0.75)
			if i%2 == 0 && q > -0.5 {
				b.lash(side, a, low-0.5, cs*l*0.35, -sn*l*0.38, 0.25*long)
			}
		}
	}
}

func (b *brush) lash(side, a, y, dx, dy, cover float64) {
	var m [3]mark
	dark := b.browHair.times(0.35).f32()
	for i := range m {
		f := float64(i) / 2
		px, py, z := b.onFace(side*(a+dx*f), y+dy*f*(0.6+0.4*f), 1+2*f)
		m[i] = mark{px, py, z, dark, 0.9 - 0.5*f, float32(cover * (1 - 0.55*f))}
	}
	b.stroke(m[:], 3)
}
