package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

// face is a face with every panel, all bare.
func face(w, h int, dx, dy unit.Pitch) *panel.Panels {
	g := plane.Grid{W: w, H: h, DX: dx, DY: dy}
	n := g.Dots()
	b := make([]uint8, 6*n)
	return &panel.Panels{Grid: g, Y: b[:n:n], M: b[n : 2*n : 2*n], C: b[2*n : 3*n : 3*n],
		K: b[3*n : 4*n : 4*n], O: b[4*n : 5*n : 5*n], S: b[5*n:]}
}

// slow is the model of the package computed in the plainest way: a fine square
// raster of the face, growth by the largest amount within reach, a sampled
// Gaussian, and the mean over the fine dots within the circle.
type slow struct {
	lit    *Lit
	p      *panel.Panels
	fine   int // fine dots a dot, either way
	w, h   int
	layers [channels][]float64
}

func newSlow(l *Lit, p *panel.Panels, fine int) *slow {
	s := &slow{lit: l, p: p, fine: fine, w: p.W * fine, h: p.H * fine}
	x, y := l.scene.along(true, p.Grid), l.scene.along(false, p.Grid)
	for ch, plane := range planes(p) {
		a := make([]float64, s.w*s.h)
		for i := range a {
			a[i] = float64(plane[p.At(i%s.w/fine, i/s.w/fine)]) / float64(full[ch])
		}
		a = s.pass(a, 1, s.w, s.grower(x.growth(ch)))
		a = s.pass(a, s.w, s.h, s.grower(y.growth(ch)))
		a = s.pass(a, 1, s.w, s.blurrer(x.spread[ch]))
		s.layers[ch] = s.pass(a, s.w, s.h, s.blurrer(y.spread[ch]))
	}
	return s
}

// pass makes every value from those of its line, i places apart.
func (s *slow) pass(a []float64, stride, n int, f func(at func(int) float64) float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		pos := i / stride % n
		out[i] = f(func(d int) float64 {
			q := min(max(pos+d, 0), n-1)
			return a[i+(q-pos)*stride]
		})
	}
	return out
}

func (s *slow) grower(half float64) func(func(int) float64) float64 {
	reach := int(math.Round(math.Abs(half) * float64(s.fine)))
	return func(at func(int) float64) float64 {
		v := at(0)
		for d := -reach; d <= reach; d++ {
			if half > 0 {
				v = max(v, at(d))
			} else {
				v = min(v, at(d))
			}
		}
		return v
	}
}

func (s *slow) blurrer(spread float64) func(func(int) float64) float64 {
	sigma := spread * float64(s.fine)
	reach := int(math.Ceil(4 * sigma))
	var weights []float64
	total := 0.0
	for d := -reach; d <= reach; d++ {
		w := math.Exp(-float64(d*d) / (2 * max(sigma*sigma, 1e-9)))
		weights = append(weights, w)
		total += w
	}
	return func(at func(int) float64) float64 {
		v := 0.0
		for i, w := range weights {
			v += w * at(i-reach)
		}
		return v / total
	}
}

// see is the mean reflectance of the circle around a place in dots.
func (s *slow) see(x, y float64, aperture unit.Length) float64 {
	rx, ry := s.p.DX.Dots(aperture)/2, s.p.DY.Dots(aperture)/2
	sum, n := 0.0, 0.0
	f := float64(s.fine)
	for j := int(math.Floor((y - ry) * f)); float64(j) < (y+ry)*f; j++ {
		for i := int(math.Floor((x - rx) * f)); float64(i) < (x+rx)*f; i++ {
			u, v := ((float64(i)+0.5)/f-x)/rx, ((float64(j)+0.5)/f-y)/ry
			if u*u+v*v > 1 {
				continue
			}
			n++
			if i < 0 || j < 0 || i >= s.w || j >= s.h {
				sum += offCard
				continue
			}
			var a amounts
			for ch := range a {
				a[ch] = float32(s.layers[ch][j*s.w+i])
			}
			sum += float64(s.lit.reflect(&a))
		}
	}
	return sum / n
}

var um = unit.Micrometre

// Profiles are those of the slow computation, wherever the line lies, whatever
// grows and blurs, along x and y, on and beyond the face.
func TestProfileIsThatOfTheModel(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, c := range []struct {
		name   string
		scene  Scene
		dx, dy unit.Pitch
	}{
		{"sharp", Scene{}, 300, 300},
		{"soft", Scene{SpreadDye: 30 * um, SpreadResin: 12 * um}, 300, 300},
		{"grown", Scene{GrowthX: 42 * um, GrowthY: 21 * um, SpreadDye: 20 * um, SpreadResin: 10 * um}, 300, 300},
		{"shrunk", Scene{GrowthX: -42 * um, GrowthY: -42 * um, SpreadDye: 10 * um, SpreadResin: 10 * um}, 300, 300},
		{"far grown", Scene{GrowthX: 127 * um, GrowthY: 254 * um, SpreadResin: 10 * um}, 300, 300},
		{"oblong dots", Scene{GrowthX: 21 * um, GrowthY: 21 * um, SpreadDye: 20 * um, SpreadResin: 10 * um}, 600, 300},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.scene.Model = ink.Usual()
			c.scene.Special = ink.White()
			l := c.scene.Under(ink.Line(660))
			p := scribble(rng, c.dx, c.dy)
			ref := newSlow(l, p, 16)
			q := l.Probe()
			for range 6 {
				s := Scan{AlongX: rng.IntN(2) == 0, Aperture: 125 * um, Reverse: rng.IntN(2) == 0}
				length, height := s.size(p.Grid)
				s.From, s.To = -1.5*rng.Float64(), float64(length)+1.5*rng.Float64()
				s.At = float64(height) * rng.Float64()
				compare(t, ref, q.Profile(p, s), s)
			}
		})
	}
}

// scribble is a small face with bars of resin and dye, a few odd dots, overlay
// and white resin on parts of it.
func scribble(rng *rand.Rand, dx, dy unit.Pitch) *panel.Panels {
	p := face(20, 14, dx, dy)
	for x := range p.W {
		bar, dye := rng.IntN(3) == 0, [3]uint8{uint8(rng.IntN(256)), uint8(rng.IntN(256)), uint8(rng.IntN(256))}
		for y := range p.H {
			i := p.At(x, y)
			if bar {
				p.K[i] = 1
			} else if x > p.W/2 {
				p.Y[i], p.M[i], p.C[i] = dye[0], dye[1], dye[2]
			}
			if x > 3 {
				p.O[i] = 1
			}
		}
	}
	for range 8 {
		i := rng.IntN(p.Dots())
		p.K[i] ^= 1
		p.C[rng.IntN(p.Dots())] = 255
		p.S[rng.IntN(p.Dots())] = 1
	}
	return p
}

func compare(t *testing.T, ref *slow, got plane.Profile, s Scan) {
	t.Helper()
	worst, sum := 0.0, 0.0
	for i := 0; i < len(got.Samples); i += 5 {
		v := got.Samples[i]
		along := s.Dot(ref.p.Grid, float64(i))
		x, y := along, s.At
		if !s.AlongX {
			x, y = s.At, along
		}
		off := math.Abs(ref.see(x, y, s.Aperture) - float64(v))
		worst, sum = max(worst, off), sum+off
	}
	// The slow raster itself is good to about half a fine dot at every edge: of
	// an aperture of 1.5 dots, 1/32 dot is 0.03 of the step.
	if mean := 5 * sum / float64(len(got.Samples)); worst > 0.04 || mean > 0.006 {
		t.Errorf("%+v: worst %.4f, mean %.4f off", s, worst, mean)
	}
}
