package portrait

import (
	"image"
	"math"
)

// develop turns light into the bytes of a camera: a slightly soft lens, a
// curve with a toe that clips, and grain.
func (b *brush) develop() *image.RGBA {
	s := b.s
	soften(b.colour, s.w, s.h, 0.62)
	img := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	d := b.t.dice.fork(11)
	tone := newToneCurve()
	clouds := make([]float32, s.w/2)
	for y := range s.h {
		if y%2 == 0 {
			b.cloudRow(clouds, y)
		}
		fy := float32(y)/Height - 0.5
		for x := range s.w {
			i := y*s.w + x
			fx := float32(x)/Width - 0.5
			lit := b.colour[i].times(1 - 0.28*(fx*fx+fy*fy))
			r := d.next()
			grey := float32(int16(r)+int16(r>>16)/2)/(1<<15)*2.2 + clouds[x/2]
			p := img.Pix[4*i : 4*i+4]
			p[0] = tone.level(lit.r, grey, r>>32)
			p[1] = tone.level(lit.g, grey, r>>40)
			p[2] = tone.level(lit.b, grey, r>>48)
			p[3] = 255
		}
	}
	return img
}

// cloudRow is the coarse part of the grain: a camera's own smoothing leaves
// blots of a few dots.
func (b *brush) cloudRow(row []float32, y int) {
	for i := range row {
		x, y := float64(2*i), float64(y)
		row[i] = float32(b.g.at(x*0.31, y*0.31)*1.5 + b.g.at(x*0.13+31, y*0.13)*0.9)
	}
}

// level is the byte for one channel's light, with the grain that all channels
// share and a little of its own.
func (t *toneCurve) level(light, grey float32, own uint64) uint8 {
	v := t.at(light)
	v += (grey + float32(int8(own))*(0.9/128)) * t.noise(v)
	return uint8(min(255, max(0, v+0.5)))
}

// toneCurve maps linear light to 0..255 by a table over the square root.
type toneCurve struct{ v [1025]float32 }

func newToneCurve() *toneCurve {
	t := &toneCurve{}
	for i := range t.v {
		q := float64(i) / 1024 * 1.5
		t.v[i] = float32(camera(q * q))
	}
	return t
}

// camera is the response to linear light x: sRGB with a shoulder above the
// mid-tones and blacks clipped as a small camera does.
func camera(x float64) float64 {
	const black = 0.0045
	x = max(0, (x-black)*1.12)
	if x > 0.5 {
		x = 0.5 + 0.5*(1-math.Exp(-(x-0.5)/0.5))
	}
	v := 12.92 * x
	if x > 0.0031308 {
		v = 1.055*math.Pow(x, 1/2.4) - 0.055
	}
	v = v + 0.06*math.Sin((v-0.5)*2*math.Pi)/2*1.0
	return v*255 - 3
}

func (t *toneCurve) at(x float32) float32 {
	if x <= 0 {
		return t.v[0]
	}
	q := float32(math.Sqrt(float64(x))) * (1024 / 1.5)
	i := int(q)
	if i >= 1024 {
		return t.v[1024]
	}
	f := q - float32(i)
	return t.v[i] + (t.v[i+1]-t.v[i])*f
}

// noise is the grain's strength at level v: none in clipped blacks.
func (t *toneCurve) noise(v float32) float32 {
	return min(1, max(0, v/24)) * (1.15 - v/400)
}

// soften blurs in place by a Gaussian of sigma dots, three taps wide.
func soften(f []rgb32, w, h int, sigma float64) {
	k := float32(math.Exp(-1 / (2 * sigma * sigma)))
	mid := 1 / (1 + 2*k)
	side := k * mid
	line := make([]rgb32, max(w, h))
	pass := func(start, step, n int) {
		for i := range n {
			line[i] = f[start+i*step]
		}
		for i := range n {
			a, c, e := line[max(i-1, 0)], line[i], line[min(i+1, n-1)]
			f[start+i*step] = c.times(mid).plus(a.plus(e).times(side))
		}
	}
	for y := range h {
		pass(y*w, 1, w)
	}
	for x := range w {
		pass(x, w, h)
	}
}
