package scan

import (
	"slices"

	"unspool/code"
	"unspool/plane"
	"unspool/symbol/aztec"
	"unspool/symbol/datamatrix"
	"unspool/symbol/qr"
)

// All is every symbol that was found in a picture.
type All struct {
	Linear  []Linear
	Matrix  []Matrix
	Stacked []Stacked
}

// levels is how often a picture is looked at again at half its size: noise and
// the seams of compression go, and a symbol of many samples a module comes within
// reach.
const levels = 3

// leastSide is the least side of a picture that is looked at, in samples.
const leastSide = 40

// Find looks for the symbols of the given kinds. What lies over something that
// was found already is left out.
func Find(r plane.Raster, kinds []code.Kind) (all All) {
	if !r.Sound() {
		return all
	}
	var lines []code.Kind
	wanted := map[string]bool{}
	for _, k := range kinds {
		wanted[k.Name] = true
		if k.Decode != nil {
			lines = append(lines, k)
		}
	}
	scale := 1.0
	for range levels {
		if min(r.W, r.H) < leastSide {
			break
		}
		all.matrices(r, wanted, scale)
		if wanted["pdf417"] {
			for _, s := range stacked(r) {
				s.scaled(scale)
				all.addStacked(s)
			}
		}
		for _, l := range Linears(r, lines) {
			l.scaled(scale)
			all.addLinear(l)
		}
		r, scale = half(r), scale*2
	}
	return all
}

// looks are the ways a picture is cut into two tones: by the light around, near
// and far, and by that of the whole.
var looks = []int{4, 12, 0}

func (all *All) matrices(r plane.Raster, wanted map[string]bool, scale float64) {
	for _, reach := range looks {
		k := twoTone(r, reach)
		var found []Matrix
		if wanted["qr"] {
			found = append(found, qrs(r, k, qr.Decode)...)
		}
		if wanted["datamatrix"] {
			found = append(found, dataMatrices(r, k, datamatrix.Decode)...)
		}
		if wanted["aztec"] {
			found = append(found, aztecs(r, k, aztec.Decode)...)
		}
		for _, m := range found {
			m.scaled(scale)
			all.addMatrix(m)
		}
	}
}

func (all *All) taken(q [4]plane.Point) bool {
	c := middle(q)
	over := func(o [4]plane.Point) bool { return inside(o, c) || inside(q, middle(o)) }
	return slices.ContainsFunc(all.Linear, func(l Linear) bool { return over(l.Corners) }) ||
		slices.ContainsFunc(all.Matrix, func(m Matrix) bool { return over(m.Corners) }) ||
		slices.ContainsFunc(all.Stacked, func(s Stacked) bool { return over(s.Corners) })
}

func (all *All) addLinear(l Linear) {
	if !all.taken(l.Corners) {
		all.Linear = append(all.Linear, l)
	}
}

func (all *All) addMatrix(m Matrix) {
	if !all.taken(m.Corners) {
		all.Matrix = append(all.Matrix, m)
	}
}

func (all *All) addStacked(s Stacked) {
	if !all.taken(s.Corners) {
		all.Stacked = append(all.Stacked, s)
	}
}

// half is a raster at half its size, each sample the mean of four.
func half(r plane.Raster) plane.Raster {
	h := plane.Raster{W: r.W / 2, H: r.H / 2, StepX: 2 * r.StepX, StepY: 2 * r.StepY}
	h.V = make([]float32, h.W*h.H)
	for y := range h.H {
		a, b := r.V[2*y*r.W:], r.V[(2*y+1)*r.W:]
		for x := range h.W {
			h.V[y*h.W+x] = (a[2*x] + a[2*x+1] + b[2*x] + b[2*x+1]) / 4
		}
	}
	return h
}

func scaled(q [4]plane.Point, by float64) [4]plane.Point {
	for i := range q {
		q[i] = plane.Point{X: q[i].X * by, Y: q[i].Y * by}
	}
	return q
}

func (l *Linear) scaled(by float64) {
	l.Corners, l.X = scaled(l.Corners, by), l.X*by
	l.from.at, l.to.at, l.top, l.bottom = l.from.at*by, l.to.at*by, l.top*by, l.bottom*by
}

func (m *Matrix) scaled(by float64) {
	m.Corners, m.X = scaled(m.Corners, by), m.X*by
	for i := range 6 {
		m.places[i] *= by
	}
}

func (s *Stacked) scaled(by float64) {
	s.Corners, s.X = scaled(s.Corners, by), s.X*by
	s.from.at, s.to.at, s.top, s.bottom = s.from.at*by, s.to.at*by, s.top*by, s.bottom*by
}
