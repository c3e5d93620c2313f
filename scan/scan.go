// Package scan finds symbols in pictures of real cards: at any angle, of any
// size, several at once. What it finds ends in the same profiles and module
// grids that a simulated card gives, so that the grader cannot know which it
// judges.
//
// Everything here is pure: a picture is a raster of reflectances, and what is
// not found is not an error. Places are in samples of the raster, the middle of
// the first at (0.5, 0.5). None of the methods follows a standard; their
// tolerances are own judgement, held by the corpus of the tests.
package scan

import (
	"math"

	"unspool/plane"
)

// vec is a direction or distance in samples.
type vec struct{ x, y float64 }

func (a vec) times(f float64) vec           { return vec{a.x * f, a.y * f} }
func (a vec) across() vec                   { return vec{-a.y, a.x} } // a quarter turn clockwise, y being down
func (a vec) dot(p plane.Point) float64     { return a.x*p.X + a.y*p.Y }
func move(p plane.Point, d vec) plane.Point { return plane.Point{X: p.X + d.x, Y: p.Y + d.y} }
func between(a, b plane.Point) vec          { return vec{b.X - a.X, b.Y - a.Y} }
func (a vec) length() float64               { return math.Hypot(a.x, a.y) }
func at(u vec, along, across float64) plane.Point {
	v := u.across()
	return plane.Point{X: u.x*along + v.x*across, Y: u.y*along + v.y*across}
}

// bilinear is the reflectance between samples; beyond the raster that of its
// nearest sample.
func bilinear(r plane.Raster, p plane.Point) float32 {
	x, y := p.X-0.5, p.Y-0.5
	if x >= 0 && y >= 0 && x < float64(r.W-1) && y < float64(r.H-1) {
		x0, y0 := int(x), int(y)
		fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
		a, b := r.V[y0*r.W+x0:], r.V[(y0+1)*r.W+x0:]
		top, low := a[0]+(a[1]-a[0])*fx, b[0]+(b[1]-b[0])*fx
		return top + (low-top)*fy
	}
	x, y = min(max(x, 0), float64(r.W-1)), min(max(y, 0), float64(r.H-1))
	if x != x || y != y { // a mapping that leads nowhere
		x, y = 0, 0
	}
	x0, y0 := int(x), int(y)
	x1, y1 := min(x0+1, r.W-1), min(y0+1, r.H-1)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	top := r.V[y0*r.W+x0]*(1-fx) + r.V[y0*r.W+x1]*fx
	low := r.V[y1*r.W+x0]*(1-fx) + r.V[y1*r.W+x1]*fx
	return top*(1-fy) + low*fy
}

// line takes n samples a step apart from a place on, each the mean over a
// stretch of the raster across the line: bars reach across it, noise does not.
func line(r plane.Raster, from plane.Point, u vec, step float64, n, wide int) []float32 {
	out := make([]float32, n)
	v := u.across()
	for k := -wide; k <= wide; k++ {
		p := move(from, v.times(float64(k)))
		for i := range out {
			out[i] += bilinear(r, move(p, u.times(float64(i)*step)))
		}
	}
	for i := range out {
		out[i] /= float32(2*wide + 1)
	}
	return out
}
