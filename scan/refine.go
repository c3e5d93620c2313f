package scan

import (
	"unspool/plane"
	"unspool/symbol"
)

// fit is how well the raster shows a grid under a mapping: light modules less
// dark ones, looked at near their edges, where a shift tells. only says which
// modules count; nil says all.
func fit(r plane.Raster, m *mapping, g symbol.Grid, only []int32) float64 {
	const off = 0.42 // of a module from its middle
	one := func(i int) float64 {
		u, v := float64(i%g.W)+0.5, float64(i/g.W)+0.5
		s := float64(bilinear(r, m.at(u-off, v-off)) + bilinear(r, m.at(u+off, v-off)) + bilinear(r, m.at(u-off, v+off)) + bilinear(r, m.at(u+off, v+off)))
		if g.Dark[i] {
			return -s
		}
		return s
	}
	sum := 0.0
	if only != nil {
		for _, i := range only {
			sum += one(int(i))
		}
		return sum
	}
	for i := range g.Dark {
		sum += one(i)
	}
	return sum
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
