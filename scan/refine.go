package scan

import (
	"unspool/plane"
	"unspool/symbol"
)

// fit is how well the raster shows a grid under a mapping: the mean of its light
// modules less that of its dark ones, looked at off their middles, where a shift
// tells. only says which modules count; nil says all.
func fit(r plane.Raster, m *mapping, g symbol.Grid, only []int32) float64 {
	const off = 0.36 // of a module from its middle
	var sum, n [2]float64
	one := func(i int) {
		u, v := float64(i%g.W)+0.5, float64(i/g.W)+0.5
		s := float64(bilinear(r, m.at(u-off, v-off)) + bilinear(r, m.at(u+off, v-off)) + bilinear(r, m.at(u-off, v+off)) + bilinear(r, m.at(u+off, v+off)))
		class := 0
		if g.Dark[i] {
			class = 1
		}
		sum[class] += s / 4
		n[class]++
	}
	for _, i := range only {
		one(int(i))
	}
	if only == nil {
		for i := range g.Dark {
			one(i)
		}
	}
	if n[0] == 0 || n[1] == 0 {
		return 0
	}
	return sum[0]/n[0] - sum[1]/n[1]
}

// refined moves a mapping until the raster shows the grid best: all of it first,
// then each corner for itself.
func refined(r plane.Raster, m mapping, g symbol.Grid, only []int32) mapping {
	q := m.onRaster(g.W, g.H)
	best := fit(r, &m, g, only)
	size := m.module(g.W, g.H)
	for _, step := range []float64{0.6, 0.3, 0.15, 0.07} {
		for range 3 {
			moved := false
			for _, way := range ways(q) {
				for _, sign := range []float64{-1, 1} {
					t := q
					for i, d := range way {
						t[i] = move(t[i], d.times(sign*step*size))
					}
					n, ok := mappingOf(corners(float64(g.W), float64(g.H)), t)
					if !ok {
						continue
					}
					if f := fit(r, &n, g, only); f > best {
						q, m, best, moved = t, n, f, true
					}
				}
			}
			if !moved {
				break
			}
		}
	}
	return m
}

// ways are the moves that are tried of four corners: shift, turn and growth of
// all, then each corner along the raster.
func ways(q [4]plane.Point) [12][4]vec {
	var all [12][4]vec
	c := middle(q)
	for i, p := range q {
		out := between(c, p)
		out = out.times(1 / max(out.length(), 1))
		all[0][i], all[1][i], all[2][i], all[3][i] = vec{1, 0}, vec{0, 1}, out.across(), out
		all[4+2*i][i], all[5+2*i][i] = vec{1, 0}, vec{0, 1}
	}
	return all
}
