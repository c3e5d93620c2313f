package scan

import (
	"slices"

	"unspool/plane"
)

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
	lo, hi = lowest(lo, w, h, reach), highest(hi, w, h, reach)
	for y := range r.H {
		lo, hi := lo[y/cells*w:], hi[y/cells*w:]
		row, dark := r.V[y*r.W:(y+1)*r.W], k.dark[y*r.W:(y+1)*r.W]
		for x, v := range row {
			i := x / cells
			dark[x] = hi[i]-lo[i] >= leastSpan && v < (lo[i]+hi[i])/2
		}
	}
	return k
}

// highest is the highest value within reach of each cell, one way and then the
// other; a reach of 0 takes all.
func highest(v []float32, w, h, reach int) []float32 {
	if reach <= 0 || reach >= max(w, h) {
		return even(v, slices.Max(v))
	}
	along := func(v []float32, n, step, lines, stride int) []float32 {
		out := make([]float32, len(v))
		for l := range lines {
			for i := range n {
				best := v[l*stride+i*step]
				for j := max(0, i-reach); j <= min(n-1, i+reach); j++ {
					best = max(best, v[l*stride+j*step])
				}
				out[l*stride+i*step] = best
			}
		}
		return out
	}
	return along(along(v, w, 1, h, w), h, w, w, 1)
}

func lowest(v []float32, w, h, reach int) []float32 {
	minus := func(v []float32) []float32 {
		out := make([]float32, len(v))
		for i := range v {
			out[i] = -v[i]
		}
		return out
	}
	return minus(highest(minus(v), w, h, reach))
}

func even(like []float32, v float32) []float32 {
	out := make([]float32, len(like))
	for i := range out {
		out[i] = v
	}
	return out
}
