package portrait

import "math"

// frame is a pair of glasses.
type frame struct {
	wide, high float64 // half sizes of a lens
	round      float64 // 2 an ellipse, more a rounded box
	thick      float64 // of the rim, millimetres
	tone       rgb
	shine      float64
}

func newFrame(d *dice) frame {
	f := frame{wide: d.span(23, 26.5), high: d.span(15.5, 20.5), round: d.span(2.3, 4.2)}
	switch d.next() % 4 {
	case 0:
		f.thick, f.tone, f.shine = 1.2, srgb(96, 92, 86), 0.5
	case 1:
		f.thick, f.tone, f.shine = 2.3, srgb(62, 40, 26), 0.25
	default:
		f.thick, f.tone, f.shine = d.span(1.6, 2.6), srgb(30, 30, 33), 0.25
	}
	return f
}

// glasses draws the sitter's glasses over the eyes.
func (b *brush) glasses() {
	if !b.t.Glasses {
		return
	}
	d := b.t.dice.fork(71)
	f := newFrame(&d)
	for _, side := range []float64{-1, 1} {
		b.lens(&f, side)
	}
	key := b.st.lamps[0].dir
	for _, side := range []float64{-1, 1} {
		rim, arm := f.rim(side), f.arm(side)
		b.bar(rim, f.thick*1.5, rgb{}, 0.20, vec{-key.x * 6, -key.y*6 - 2, 0})
		b.bar(arm, f.thick*1.1, f.tone, 0.95, vec{})
		b.bar(rim, f.thick, f.tone, 0.95, vec{})
		b.bar(rim, f.thick*0.35, rgb{0.8, 0.8, 0.8}, 0.2*f.shine, vec{key.x * 0.4, 0.45, 0.5})
	}
	bridge := f.bridge()
	b.bar(bridge, f.thick*1.05, f.tone, 0.95, vec{})
	b.bar(bridge, f.thick*0.35, rgb{0.8, 0.8, 0.8}, 0.35*f.shine, vec{0, 0.5, 0.5})
}

const lensX, lensY = 33.0, -2.5

// rim is the outline of a lens, in rest coordinates.
func (f *frame) rim(side float64) []vec {
	var at []vec
	for i := range 49 {
		sn, cs := math.Sincos(float64(i) / 48 * 2 * math.Pi)
		x := lensX + f.wide*math.Copysign(math.Pow(math.Abs(cs), 2/f.round), cs)
		y := lensY + f.high*math.Copysign(math.Pow(math.Abs(sn), 2/f.round), sn)
		at = append(at, vec{side * x, y + 0.03*(x-lensX), lensZ(x, y)})
	}
	return at
}

// lensZ is the depth of the bowed front of the frame.
func lensZ(x, y float64) float64 { return 15 - 0.0042*x*x + 0.08*y }

func (f *frame) bridge() []vec {
	var at []vec
	in := lensX - f.wide
	for i := range 13 {
		x := mix(-in, in, float64(i)/12)
		at = append(at, vec{x, 4.5 - 2.5*x*x/in/in, 19 - 4*x*x/in/in})
	}
	return at
}

func (f *frame) arm(side float64) []vec {
	x := lensX + f.wide
	return []vec{{side * x, 4, lensZ(x, 4)}, {side * (x + 8), 4.5, -20}, {side * 73, 5, -60}, {side * 76, 7, -84}}
}

// bar draws a tube of the given thickness along rest points, all moved by off.
func (b *brush) bar(at []vec, thick float64, tone rgb, cover float64, off vec) {
	m := make([]mark, len(at))
	for i, q := range at {
		p := b.p.point(b.t.own(q).add(off))
		x, y := b.s.project(p)
		l := b.st.falls(vec{0, 0.3, 0.95}, 0.9, 1)
		m[i] = mark{x, y, p.z, tone.by(l).f32(), thick * b.s.scale, float32(cover)}
	}
	b.stroke(m, 12)
}

// lens tints what is behind the glass and lays a faint mirror over it.
func (b *brush) lens(f *frame, side float64) {
	s := b.s
	mid := b.p.point(b.t.own(vec{side * lensX, lensY, lensZ(lensX, 0)}))
	cx, cy := s.project(mid)
	rx, ry := f.wide*s.scale, f.high*s.scale
	for y := int(cy - ry); y <= int(cy+ry); y++ {
		for x := int(cx - rx); x <= int(cx+rx); x++ {
			if x < 0 || y < 0 || x >= s.w || y >= s.h {
				continue
			}
			u, v := (float64(x)-cx)/rx, (float64(y)-cy)/ry
			if math.Pow(math.Abs(u), f.round)+math.Pow(math.Abs(v), f.round) > 1 {
				continue
			}
			streak := (u + 0.8*v - 0.15) / 0.4
			add := float32(0.010 + 0.022*bell(streak*streak) + 0.02*max(0, -v-0.2))
			c := &b.colour[y*s.w+x]
			*c = c.times(0.95).plus(rgb32{add, add, add})
		}
	}
}
