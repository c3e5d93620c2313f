package scan

import (
	"math"

	"unspool/plane"
	"unspool/symbol"
)

// mapping takes a place on a symbol, in modules from its top left corner, to a
// place on the raster, as a camera sees a flat card: a projection.
type mapping [9]float64

// at is the place on the raster.
func (m *mapping) at(u, v float64) plane.Point {
	d := m[6]*u + m[7]*v + m[8]
	return plane.Point{X: (m[0]*u + m[1]*v + m[2]) / d, Y: (m[3]*u + m[4]*v + m[5]) / d}
}

// mappingOf is the projection that takes four places to four others. ok is false
// where three of them lie on one line.
func mappingOf(from, to [4]plane.Point) (m mapping, ok bool) {
	var a [8][9]float64
	for i := range 4 {
		u, v, x, y := from[i].X, from[i].Y, to[i].X, to[i].Y
		a[2*i] = [9]float64{u, v, 1, 0, 0, 0, -u * x, -v * x, x}
		a[2*i+1] = [9]float64{0, 0, 0, u, v, 1, -u * y, -v * y, y}
	}
	for c := range 8 {
		p := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		if math.Abs(a[p][c]) < 1e-9 {
			return m, false
		}
		a[c], a[p] = a[p], a[c]
		for r := range 8 {
			if r == c {
				continue
			}
			f := a[r][c] / a[c][c]
			for k := c; k < 9; k++ {
				a[r][k] -= f * a[c][k]
			}
		}
	}
	for i := range 8 {
		m[i] = a[i][8] / a[i][i]
	}
	m[8] = 1
	return m, true
}

// corners are those of a symbol of w x h modules.
func corners(w, h float64) [4]plane.Point {
	return [4]plane.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}
}

// onRaster is where a mapping puts the corners of a symbol.
func (m *mapping) onRaster(w, h int) (q [4]plane.Point) {
	for i, c := range corners(float64(w), float64(h)) {
		q[i] = m.at(c.X, c.Y)
	}
	return q
}

// module is the mean size of a module in samples.
func (m *mapping) module(w, h int) float64 {
	q := m.onRaster(w, h)
	area := 0.0
	for i := range q {
		j := (i + 1) % 4
		area += q[i].X*q[j].Y - q[j].X*q[i].Y
	}
	return math.Sqrt(math.Abs(area) / 2 / float64(w*h))
}

// within says whether a symbol lies on the raster, a little of its edge aside.
func (m *mapping) within(r plane.Raster, w, h int) bool {
	slack := m.module(w, h) + 1
	for _, p := range m.onRaster(w, h) {
		if !(p.X > -slack && p.Y > -slack && p.X < float64(r.W)+slack && p.Y < float64(r.H)+slack) {
			return false
		}
	}
	return true
}

// modules is the reflectance at the middle of every module, a mean over its
// inner part, row by row.
func (m *mapping) modules(r plane.Raster, w, h int) []float32 {
	v := make([]float32, w*h)
	const in = 0.22 // of a module
	for y := range h {
		for x := range w {
			u, t := float64(x)+0.5, float64(y)+0.5
			v[y*w+x] = (2*bilinear(r, m.at(u, t)) + bilinear(r, m.at(u-in, t-in)) + bilinear(r, m.at(u+in, t-in)) +
				bilinear(r, m.at(u-in, t+in)) + bilinear(r, m.at(u+in, t+in))) / 6
		}
	}
	return v
}

// near is how many modules around one its threshold is taken from.
const near = 5

// gridOf tells dark modules from light ones: by the middle between the lightest
// and the darkest around each, or of all where local is not set.
func gridOf(v []float32, w, h int, local bool) symbol.Grid {
	g := symbol.NewGrid(w, h)
	reach := 0
	if local {
		reach = near
	}
	lo, hi := lowest(v, w, h, reach), highest(v, w, h, reach)
	for i := range v {
		g.Dark[i] = v[i] < (lo[i]+hi[i])/2
	}
	return g
}
