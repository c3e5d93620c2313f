package scan

import (
	"math"

	"unspool/grade"
	"unspool/plane"
	"unspool/symbol"
	"unspool/symbol/pdf417"
)

// Stacked is a symbol of rows that was found in a picture.
type Stacked struct {
	Reading symbol.MatrixReading
	Shape   pdf417.Shape
	Corners [4]plane.Point // from where the symbol begins, round it as it is read
	X       float64        // in samples
	Lines   int            // that showed rows of it

	u           vec // the way lines run
	from, to    edge
	top, bottom float64 // across u
}

const (
	rowStep  = 1.5 // samples from one line to the next
	mostRows = 400
	leastRow = 4 // lines that must show a start or stop pattern
)

// stacked finds PDF417 symbols.
func stacked(r plane.Raster) (found []Stacked) {
	for _, g := range regions(r) {
		for _, lean := range []float64{0, 1, -1, 2.5, -2.5} {
			if s, ok := g.leant(lean).stacked(r); ok {
				found = append(found, s)
				break
			}
		}
	}
	return found
}

// leant is the region looked at under another angle, in degrees.
func (g region) leant(degrees float64) region {
	if degrees == 0 {
		return g
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	c := at(g.u, (g.u0+g.u1)/2, (g.v0+g.v1)/2)
	half, high := (g.u1-g.u0)/2, (g.v1-g.v0)/2
	g.u = vec{g.u.x*cos - g.u.y*sin, g.u.x*sin + g.u.y*cos}
	along, across := g.u.dot(c), g.u.across().dot(c)
	g.u0, g.u1, g.v0, g.v1 = along-half, along+half, across-high, across+high
	return g
}

// stacked reads a region row by row.
func (g region) stacked(r plane.Raster) (Stacked, bool) {
	g.v0, g.v1 = g.v0-2*tileSide, g.v1+2*tileSide // rows of few edges are no bars to the search
	n := min(int((g.v1-g.v0)/rowStep), mostRows)
	var lines []pdf417.Line
	var from, to []hit
	s := Stacked{u: g.u, top: math.Inf(1), bottom: math.Inf(-1)}
	backward := 0
	for i := range n {
		if i == n/3 && len(lines) == 0 {
			return Stacked{}, false // nothing of it so far: another symbology
		}
		across := g.v0 + (g.v1-g.v0)*(float64(i)+0.5)/float64(n)
		along, p, ok := g.across(r, across)
		if !ok {
			continue
		}
		row, ok := grade.FindRow(p)
		if !ok {
			continue
		}
		lines, s.X = append(lines, row.Line), s.X+row.X*lineStep
		s.top, s.bottom = min(s.top, across), max(s.bottom, across)
		if row.Reversed {
			backward++
		}
		if row.HasFrom {
			from = append(from, hit{across: across, from: along + (row.From+0.5)*lineStep})
		}
		if row.HasTo {
			to = append(to, hit{across: across, from: along + (row.To+0.5)*lineStep})
		}
	}
	if len(lines) < leastRow {
		return Stacked{}, false
	}
	a, err := pdf417.Assemble(lines)
	if err != nil {
		return Stacked{}, false
	}
	s.Reading, s.Shape, s.Lines, s.X = a.MatrixReading, a.Shape, len(lines), s.X/float64(len(lines))
	s.lie(from, to, float64(a.Shape.Width(a.Compact)), 2*backward > len(lines))
	return s, true
}

// lie settles the sides of a symbol that is modules wide, from the ends of the
// lines that showed one. One side may not have been seen.
func (s *Stacked) lie(from, to []hit, modules float64, backward bool) {
	end := func(h hit) float64 { return h.from }
	width := modules * s.X
	if backward {
		width = -width
	}
	switch {
	case len(to) < leastRow:
		s.from = sideOf(from, end)
		s.to = edge{s.from.at + width, s.from.slope}
	case len(from) < leastRow:
		s.to = sideOf(to, end)
		s.from = edge{s.to.at - width, s.to.slope}
	default:
		s.from, s.to = sideOf(from, end), sideOf(to, end)
	}
	top, bottom := s.top-rowStep/2, s.bottom+rowStep/2
	if backward { // upside down
		top, bottom = bottom, top
	}
	s.top, s.bottom = top, bottom
	corner := func(e edge, across float64) plane.Point { return at(s.u, e.along(across), across) }
	s.Corners = [4]plane.Point{corner(s.from, top), corner(s.to, top), corner(s.to, bottom), corner(s.from, bottom)}
}

// profiles are lines over the whole symbol, quiet zones and a little more
// included, through an aperture of so many samples: two a row at least.
func (s *Stacked) profiles(r plane.Raster, aperture float64) []plane.Profile {
	var all []plane.Profile
	for _, share := range grade.Lines(0, 1, max(grade.Scans, 2*s.Shape.Rows)) {
		across := s.top + share*(s.bottom-s.top)
		a, b := s.from.along(across), s.to.along(across)
		a, b = min(a, b), max(a, b)
		const room = 4 // X: the quiet zone and as much again
		start, end := clip(r, s.u, across, a-room*s.X, b+room*s.X)
		step := s.X / perX
		samples := make([]float32, max(int((end-start)/step), 0))
		for i := range samples {
			samples[i] = spot(r, at(s.u, start+(float64(i)+0.5)*step, across), aperture)
		}
		all = append(all, plane.Profile{Samples: samples, Step: r.StepX})
	}
	return all
}

// spot is the reflectance through an aperture of so many samples.
func spot(r plane.Raster, p plane.Point, aperture float64) float32 {
	if v, ok := r.Spot(p, aperture); ok {
		return float32(v)
	}
	return bilinear(r, p)
}
