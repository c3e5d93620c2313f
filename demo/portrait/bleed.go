package portrait

import "math"

// seen is how much of the room and of the key lamp a dot sees, 0 to 1.
type seen struct{ ao, clear float32 }

// illuminate works out the light that falls on every dot, and lets it bleed
// a little way through skin.
func (b *brush) illuminate() {
	s := b.s
	v := newVeil(s, b.st.lamps[0].dir)
	b.light = make([]rgb32, s.w*s.h)
	b.seen = make([]seen, s.w*s.h)
	for y := range s.h {
		for x := range s.w {
			i := y*s.w + x
			if s.what[i] == nothing {
				continue
			}
			b.seen[i] = v.at(s, x, y)
			b.light[i] = b.st.falls(s.normalAt(i), float64(b.seen[i].ao), float64(b.seen[i].clear)).f32()
		}
	}
	b.bleed()
}

// normalAt is the direction in which the surface of dot i faces.
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
	spread(half, mask, w, h, rgb{1.9, 1.0, 0.75})
	share := rgb32{0.9, 0.72, 0.6}
	for y := range s.h {
		for x := range s.w {
			i := y*s.w + x
			if !isSkin(s.what[i]) {
				continue
			}
			l := b.light[i]
			c := between(half, mask, w, h, x, y).plus(l.times(-1))
			b.light[i] = l.plus(c.by(share))
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
		c = c.plus(f[i].times(m))
		n += m
	}
	return c.times(1 / n)
}

// reach is how many dots light spreads through skin, at half size.
const reach = 5

// spread blurs f where mask is set, by sigma dots for each colour.
func spread(f []rgb32, mask []float32, w, h int, sigma rgb) {
	var k [reach + 1]rgb32
	for i := range k {
		d := -float64(i*i) / 2
		k[i] = rgb{math.Exp(d / (sigma.r * sigma.r)), math.Exp(d / (sigma.g * sigma.g)), math.Exp(d / (sigma.b * sigma.b))}.f32()
	}
	tmp := make([]rgb32, w*h)
	for y := range h {
		spreadLine(tmp, f, mask, &k, y*w, 1, w)
	}
	for x := range w {
		spreadLine(f, tmp, mask, &k, x, w, h)
	}
}

// spreadLine blurs one row or column of n dots.
func spreadLine(dst, src []rgb32, mask []float32, k *[reach + 1]rgb32, start, step, n int) {
	for i := range n {
		o := start + i*step
		if mask[o] == 0 {
			continue
		}
		var sum, wt rgb32
		for d := max(-reach, -i); d <= min(reach, n-1-i); d++ {
			p := o + d*step
			if mask[p] == 0 {
				continue
			}
			a := k[max(d, -d)]
			sum = sum.plus(src[p].by(a))
			wt = wt.plus(a)
		}
		dst[o] = rgb32{sum.r / wt.r, sum.g / wt.g, sum.b / wt.b}
	}
}
