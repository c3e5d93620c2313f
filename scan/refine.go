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

// refined moves the corners of a mapping until the raster shows the grid best.
func refined(r plane.Raster, m mapping, g symbol.Grid, only []int32) mapping {
	q := m.onRaster(g.W, g.H)
	best := fit(r, &m, g, only)
	size := m.module(g.W, g.H)
	for _, step := range []float64{0.6, 0.3, 0.15, 0.07} {
		for range 3 {
			moved := false
			for i := range 8 {
				for _, way := range []float64{-1, 1} {
					t := q
					d := way * step * size
					if i%2 == 0 {
						t[i/2].X += d
					} else {
						t[i/2].Y += d
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
