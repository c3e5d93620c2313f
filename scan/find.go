package scan

import (
	"math"
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
	r.V = slices.Clone(r.V) // what was found is painted over
	for range levels {
		if min(r.W, r.H) < leastSide {
			break
		}
		all.matrices(r, wanted, scale)
		if wanted["pdf417"] {
			for _, s := range stacked(r) {
				blank(r, s.Corners)
				s.scaled(scale)
				all.addStacked(s)
			}
		}
		for _, l := range Linears(r, lines) {
			blank(r, l.Corners)
			l.scaled(scale)
			all.addLinear(l)
		}
		r, scale = half(r), scale*2
	}
	return all
}

// blank paints a quadrilateral over with its lightest tone, so that it is not
// looked at again.
func blank(r plane.Raster, q [4]plane.Point) {
	x0, y0, x1, y1 := r.W, r.H, 0, 0
	for _, p := range q {
		x0, y0 = min(x0, max(int(p.X), 0)), min(y0, max(int(p.Y), 0))
		x1, y1 = max(x1, min(int(p.X)+1, r.W)), max(y1, min(int(p.Y)+1, r.H))
	}
	lightest := float32(0)
	for _, paint := range []bool{false, true} {
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				if v := &r.V[y*r.W+x]; inside(q, plane.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5}) {
					if paint {
						*v = lightest
					}
					lightest = max(lightest, *v)
				}
			}
		}
	}
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
			blank(r, m.Corners)
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

// addLinear adds a symbol unless it is there, or is another stretch of the bars
// of one that leans: then it goes on with them.
func (all *All) addLinear(l Linear) {
	if all.taken(l.Corners) {
		return
	}
	for i := range all.Linear {
		if o := &all.Linear[i]; o.Kind.Name == l.Kind.Name && o.Reading.Text == l.Reading.Text && o.beside(l) {
			if l.Good > o.Good {
				*o = l
			}
			return
		}
	}
	all.Linear = append(all.Linear, l)
}

// beside says whether two symbols that read the same lie so close above each
// other that no quiet zone of their width could be between them.
func (l *Linear) beside(k Linear) bool {
	a, b := middle(l.Corners), middle(k.Corners)
	d := between(a, b)
	u, v := l.u, l.u.across()
	along, across := math.Abs(d.x*u.x+d.y*u.y), math.Abs(d.x*v.x+d.y*v.y)
	high := func(l *Linear) float64 { return l.bottom - l.top }
	return along < (l.to.at-l.from.at)/4 && across < (high(l)+high(&k))/2+closeBars*l.X
}

// closeBars is the gap between two stretches of the same bars at most, in X.
const closeBars = 5

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
