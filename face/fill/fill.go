// Package fill turns outlines into coverage: how much of each dot lies inside.
//
// It adds up signed areas: every edge notes, in the dots it crosses, how much of
// the dot lies to its right, and a running sum along each row then gives the
// winding number of each dot, fractions at the edges. The same input gives the
// same bytes on every machine, for no product is fused with a sum.
package fill

import "math"

// Rule says which winding numbers are inside.
type Rule uint8

// Fill rules, as in SVG and PDF.
const (
	NonZero Rule = iota
	EvenOdd
)

// Raster collects outlines over a rectangle of dots. Its zero value is ready for
// Reset; it is for one goroutine. Outlines may reach beyond the rectangle.
type Raster struct {
	w, h        int
	sums        []float32 // h rows of w+2
	start, at   Point
	top, bottom int // rows that an edge has touched
}

// Point is a place in dots from the top-left corner of the rectangle, y down.
type Point struct{ X, Y float64 }

// Reset clears the raster and sets its size in dots.
func (r *Raster) Reset(w, h int) {
	*r = Raster{w: w, h: h, sums: r.sums, top: h}
	n := (w + 2) * h
	if cap(r.sums) < n {
		r.sums = make([]float32, n)
		return
	}
	r.sums = r.sums[:n]
	clear(r.sums)
}

// MoveTo closes the outline so far and begins one at p.
func (r *Raster) MoveTo(p Point) {
	r.Close()
	r.start, r.at = p, p
}

// Close joins the outline to its beginning.
func (r *Raster) Close() {
	if r.at != r.start {
		r.LineTo(r.start)
	}
}

// LineTo adds a straight edge.
func (r *Raster) LineTo(p Point) {
	r.edge(r.at, p)
	r.at = p
}

// QuadTo adds a quadratic Bezier curve with the control point c.
func (r *Raster) QuadTo(c, p Point) {
	a := r.at
	third := func(u, v float64) float64 { return u + float64(2*(v-u))/3 }
	r.CubeTo(Point{third(a.X, c.X), third(a.Y, c.Y)}, Point{third(p.X, c.X), third(p.Y, c.Y)}, p)
}

// CubeTo adds a cubic Bezier curve with the control points b and c.
func (r *Raster) CubeTo(b, c, p Point) {
	for q := range Flatten(r.at, b, c, p, 1) {
		r.LineTo(q)
	}
}

// flatness is how far a chord may lie from its curve, in dots.
const flatness = 0.01

// Flatten yields the ends of the chords of a cubic Bezier curve, the last one
// being d. scale is the dots in one unit of the points.
func Flatten(a, b, c, d Point, scale float64) func(yield func(Point) bool) {
	// The chords of n equal steps lie within 6*bend/(8*n*n) of the curve, bend
	// being the larger second difference of the control points.
	bend := max(math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y), math.Hypot(b.X-2*c.X+d.X, b.Y-2*c.Y+d.Y))
	n := min(max(math.Ceil(math.Sqrt(0.75*bend*scale/flatness)), 1), 500)
	return func(yield func(Point) bool) {
		for i := 1.0; i < n; i++ {
			t := i / n
			u := 1 - t
			k0, k1, k2, k3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
			mix := func(a, b, c, d float64) float64 {
				return float64(k0*a) + float64(k1*b) + float64(k2*c) + float64(k3*d)
			}
			if !yield(Point{mix(a.X, b.X, c.X, d.X), mix(a.Y, b.Y, c.Y, d.Y)}) {
				return
			}
		}
		yield(d)
	}
}

// edge cuts an edge to the rows of the rectangle and at its left and right side;
// what lies beyond a side counts as lying on it.
func (r *Raster) edge(a, b Point) {
	dir := float32(1)
	if a.Y > b.Y {
		a, b, dir = b, a, -1
	}
	w, h := float64(r.w), float64(r.h)
	if !(a.Y < h && b.Y > 0) || a.Y == b.Y || math.IsNaN(a.X) || math.IsNaN(b.X) {
		return
	}
	slope := (b.X - a.X) / (b.Y - a.Y)
	cutY := func(y float64) Point { return Point{a.X + float64((y-a.Y)*slope), y} }
	if b.Y > h {
		b = cutY(h)
	}
	if a.Y < 0 {
		a = cutY(0)
	}
	r.top, r.bottom = min(r.top, int(a.Y)), max(r.bottom, min(int(math.Ceil(b.Y)), r.h))
	sides := [2]float64{0, w}
	if a.X > b.X {
		sides = [2]float64{w, 0}
	}
	for _, side := range sides {
		if (a.X < side) == (b.X < side) {
			continue
		}
		m := Point{side, min(max(a.Y+(side-a.X)/slope, a.Y), b.Y)}
		r.clamped(a, m, dir)
		a = m
	}
	r.clamped(a, b, dir)
}

func (r *Raster) clamped(a, b Point, dir float32) {
	if a.Y >= b.Y {
		return
	}
	w := float64(r.w)
	a.X, b.X = min(max(a.X, 0), w), min(max(b.X, 0), w)
	slope := (b.X - a.X) / (b.Y - a.Y)
	x := a.X
	for row := int(a.Y); row < r.h && float64(row) < b.Y; row++ {
		dy := min(float64(row+1), b.Y) - max(float64(row), a.Y)
		next := min(max(x+float64(slope*dy), 0), w)
		r.span(r.sums[row*(r.w+2):(row+1)*(r.w+2)], x, next, float32(dy)*dir)
		x = next
	}
}

// span notes the part of an edge within one row, from x to next; cover is its
// height, signed by its direction. The area to its right within a dot goes to
// that dot, what is left of the height to the next.
func (r *Raster) span(row []float32, x, next float64, cover float32) {
	lo, hi := min(x, next), max(x, next)
	first, last := int(lo), int(math.Ceil(hi))-1
	if last <= first {
		part := cover * float32((lo+hi)/2-float64(first))
		row[first] += cover - part
		row[first+1] += part
		return
	}
	perDot := float64(cover) / (hi - lo)
	left := cover
	carry := float32(0)
	for i := first; i <= last; i++ {
		from, to := max(lo, float64(i)), min(hi, float64(i+1))
		c := float32(perDot * (to - from))
		if i == last {
			c = left
		}
		left -= c
		part := float32(c * float32((from+to)/2-float64(i)))
		row[i] += float32(c-part) + carry
		carry = part
	}
	row[last+1] += carry
}

// Coverage closes the last outline and writes how much of each dot is inside,
// 255 all of it, row by row, w bytes a row.
func (r *Raster) Coverage(dst []uint8, rule Rule) {
	r.Close()
	clear(dst[:r.w*r.h])
	for y := r.top; y < r.bottom; y++ {
		sum := float32(0)
		row := r.sums[y*(r.w+2):]
		out := dst[y*r.w : (y+1)*r.w]
		for x := range out {
			sum += row[x]
			v := sum
			if v < 0 {
				v = -v
			}
			if rule == EvenOdd {
				v -= 2 * float32(math.Floor(float64(v)/2))
				if v > 1 {
					v = 2 - v
				}
			}
			out[x] = uint8(min(v, 1)*255 + 0.5)
		}
	}
}
