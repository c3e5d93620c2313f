package scan

import "unspool/plane"

// tones is a raster in two tones, cut where the light of the neighbourhood says.
type tones struct {
	w, h int
	dark []bool
}

func (k tones) at(x, y int) bool {
	return x >= 0 && y >= 0 && x < k.w && y < k.h && k.dark[y*k.w+x]
}

const (
	leastSpan = 0.08 // of reflectance: less is paper, not print
	cells     = 8    // samples a side of the squares whose light is weighed
)

// twoTone cuts a raster at the middle between the lightest and the darkest of
// its neighbourhood, reach squares around; a reach of 0 takes the whole raster
// for one neighbourhood.
func twoTone(r plane.Raster, reach int) tones {
	k := tones{r.W, r.H, make([]bool, len(r.V))}
	w, h := (r.W+cells-1)/cells, (r.H+cells-1)/cells
	lo, hi := make([]float32, w*h), make([]float32, w*h)
	for i := range lo {
		lo[i], hi[i] = 4, -1
	}
	for y := range r.H {
		for x := range r.W {
			i, v := y/cells*w+x/cells, r.V[y*r.W+x]
			lo[i], hi[i] = min(lo[i], v), max(hi[i], v)
		}
	}
	if reach <= 0 {
		reach = max(w, h)
	}
	lo, hi = widest(lo, w, h, reach, func(a, b float32) bool { return a < b }), widest(hi, w, h, reach, func(a, b float32) bool { return a > b })
	for y := range r.H {
		for x := range r.W {
			i := y/cells*w + x/cells
			k.dark[y*r.W+x] = hi[i]-lo[i] >= leastSpan && r.V[y*r.W+x] < (lo[i]+hi[i])/2
		}
	}
	return k
}

// widest is the best value within reach of each cell, one way and then the other.
func widest(v []float32, w, h, reach int, better func(a, b float32) bool) []float32 {
	along := func(v []float32, n, step, lines, stride int) []float32 {
		out := make([]float32, len(v))
		for l := range lines {
			for i := range n {
				best := v[l*stride+i*step]
				for j := max(0, i-reach); j <= min(n-1, i+reach); j++ {
					if u := v[l*stride+j*step]; better(u, best) {
						best = u
					}
				}
				out[l*stride+i*step] = best
			}
		}
		return out
	}
	return along(along(v, w, 1, h, w), h, w, w, 1)
}
