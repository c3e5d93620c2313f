package portrait

import "math"

// dice is a small deterministic generator (the SplitMix64 step, Steele, Lea
// and Flood, 2014): the same seed gives the same portrait on every machine.
type dice uint64

func (d *dice) next() uint64 {
	*d += 0x9e3779b97f4a7c15
	z := uint64(*d)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// float is uniform in [0, 1).
func (d *dice) float() float64 { return float64(d.next()>>11) / (1 << 53) }

// span is uniform in [lo, hi).
func (d *dice) span(lo, hi float64) float64 { return lo + (hi-lo)*d.float() }

// normal is close to a standard normal value, never beyond 3.5.
func (d *dice) normal() float64 {
	return (d.float() + d.float() + d.float() + d.float() - 2) * 1.7320508
}

// fork is a new generator for one part of the picture, so that a change in
// one part leaves the others alone.
func (d dice) fork(part uint64) dice {
	d ^= dice(part * 0xd6e8feb86659fd93)
	return dice(d.next())
}

const (
	grainSide = 256
	grainMask = grainSide - 1
)

// grain is a square of smooth noise that repeats without a seam; its values
// have mean 0 and lie in about [-1, 1]. One cell of noise is one unit.
type grain struct{ v []float32 }

func newGrain(d dice) *grain {
	g := &grain{v: make([]float32, grainSide*grainSide)}
	for i := 0; i < len(g.v); i += 2 {
		r := d.next()
		g.v[i] = float32(int32(r)) / (1 << 31)
		g.v[i+1] = float32(int32(r>>32)) / (1 << 31)
	}
	return g
}

// at reads the noise between its cells.
func (g *grain) at(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := x-fx, y-fy
	tx, ty = tx*tx*(3-2*tx), ty*ty*(3-2*ty)
	i, j := int(fx)&grainMask, int(fy)&grainMask
	i1, j1 := (i+1)&grainMask, (j+1)&grainMask
	a, b := float64(g.v[j*grainSide+i]), float64(g.v[j*grainSide+i1])
	c, e := float64(g.v[j1*grainSide+i]), float64(g.v[j1*grainSide+i1])
	a += (b - a) * tx
	c += (e - c) * tx
	return a + (c-a)*ty
}

// rough adds n octaves of at, each half as wide and half as strong.
func (g *grain) rough(x, y float64, n int) float64 {
	sum, k := 0.0, 1.0
	for ; n > 0; n-- {
		sum += g.at(x, y) * k
		x, y, k = x*2.03+17.3, y*2.03+9.1, k*0.5
	}
	return sum
}
