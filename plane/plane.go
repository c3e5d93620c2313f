// Package plane holds sampled pictures and lines together with what a sample
// is: how far apart the samples lie and what their values mean. A simulated
// card and a scanned one meet here.
package plane

import "unspool/unit"

// Grid is the raster of one card face at head resolution as a person reads it:
// x runs to the right, y down, the origin is the top-left dot.
type Grid struct {
	W, H   int        // dots
	DX, DY unit.Pitch // dots per inch along x and along y
}

// Dots is the number of dots of the grid.
func (g Grid) Dots() int { return g.W * g.H }

// At is the index of the dot (x, y) in a plane laid out row by row.
func (g Grid) At(x, y int) int { return y*g.W + x }

// Rect covers the whole grid.
func (g Grid) Rect() Rect { return Rect{0, 0, g.W, g.H} }

// Rect is a half-open rectangle of dots: X0 <= x < X1, Y0 <= y < Y1.
type Rect struct{ X0, Y0, X1, Y1 int }

// Empty says whether the rectangle holds no dot.
func (r Rect) Empty() bool { return r.X0 >= r.X1 || r.Y0 >= r.Y1 }

// W and H are the sides in dots.
func (r Rect) W() int { return r.X1 - r.X0 }
func (r Rect) H() int { return r.Y1 - r.Y0 }

// And is the part shared with s; empty rectangles come out as the zero Rect.
func (r Rect) And(s Rect) Rect {
	r = Rect{max(r.X0, s.X0), max(r.Y0, s.Y0), min(r.X1, s.X1), min(r.Y1, s.Y1)}
	if r.Empty() {
		return Rect{}
	}
	return r
}

// Or is the smallest rectangle that holds both.
func (r Rect) Or(s Rect) Rect {
	if r.Empty() {
		return s
	}
	if s.Empty() {
		return r
	}
	return Rect{min(r.X0, s.X0), min(r.Y0, s.Y0), max(r.X1, s.X1), max(r.Y1, s.Y1)}
}

// In says whether r lies wholly inside s.
func (r Rect) In(s Rect) bool {
	return r.Empty() || r.X0 >= s.X0 && r.Y0 >= s.Y0 && r.X1 <= s.X1 && r.Y1 <= s.Y1
}

// Grow moves every side outwards by n dots; a negative n moves them inwards.
func (r Rect) Grow(n int) Rect { return Rect{r.X0 - n, r.Y0 - n, r.X1 + n, r.Y1 + n} }

// Box is a rectangle in millimetres on a face, from its top-left corner as a
// person reads it.
type Box struct{ X, Y, W, H unit.Length }

// Box is the box on the grid, each side rounded to the nearest dot.
func (g Grid) Box(b Box) Rect {
	return Rect{g.DX.Round(b.X), g.DY.Round(b.Y), g.DX.Round(b.X + b.W), g.DY.Round(b.Y + b.H)}
}

// Profile is a line of reflectances: one straight scan over a symbol and its
// quiet zones, simulated or taken from a picture. Reflectance is absolute, 0 to
// 1, where 1 is the perfect diffuser.
type Profile struct {
	Samples []float32   // reflectance, in the order of the scan
	Step    unit.Length // distance between two samples
}

// Picture is a reflectance picture of a face, one value a dot, 0 to 1.
type Picture struct {
	Grid
	R []float32 // row by row
}

// Without is the part of r that lies in none of the holes, as rectangles that
// do not overlap.
func (r Rect) Without(holes []Rect) []Rect {
	rest := []Rect{r}
	for _, h := range holes {
		var next []Rect
		for _, p := range rest {
			next = append(next, p.minus(h)...)
		}
		rest = next
	}
	return rest
}

func (r Rect) minus(h Rect) []Rect {
	h = h.And(r)
	if h.Empty() {
		return []Rect{r}
	}
	var out []Rect
	for _, p := range [...]Rect{
		{r.X0, r.Y0, r.X1, h.Y0},
		{r.X0, h.Y0, h.X0, h.Y1},
		{h.X1, h.Y0, r.X1, h.Y1},
		{r.X0, h.Y1, r.X1, r.Y1},
	} {
		if !p.Empty() {
			out = append(out, p)
		}
	}
	return out
}

// Box is the rectangle in millimetres from the face's corner.
func (r Rect) Box(g Grid) Box {
	return Box{X: g.DX.Span(r.X0), Y: g.DY.Span(r.Y0), W: g.DX.Span(r.W()), H: g.DY.Span(r.H())}
}
