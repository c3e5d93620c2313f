package grade

import (
	"math"

	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
	"unspool/unit"
)

// Modules are the reflectances of the middles of a matrix symbol's modules, each
// through the aperture, with those of the quiet zone around them.
type Modules struct {
	W, H  int // of the symbol, without its quiet zone
	Quiet int // rings of quiet modules around it
	// R is the reflectance of each module, row by row, the quiet ones too:
	// (W+2 Quiet) x (H+2 Quiet) of them. Absolute, 0 to 1.
	R []float32
}

// mostModules is how many modules a side may have, far beyond any symbology.
const mostModules = 1 << 12

// unfit says what keeps modules from being a symbol's.
func (m Modules) unfit() say.Text {
	w, h := m.W+2*m.Quiet, m.H+2*m.Quiet
	if m.W < 1 || m.H < 1 || m.Quiet < 0 || w > mostModules || h > mostModules || len(m.R) != w*h {
		return say.F("%d reflectances are no symbol of %d x %d modules with %d quiet ones on either side", len(m.R), m.W, m.H, m.Quiet)
	}
	for i, v := range m.R {
		if !(v >= -1 && v <= 4) {
			return say.F("the reflectance of module (%d, %d) is %v, which is none", i%w-m.Quiet, i/w-m.Quiet, v)
		}
	}
	return say.Text{}
}

// at is where the module (x, y) of the symbol lies in R.
func (m Modules) at(x, y int) int { return (y+m.Quiet)*(m.W+2*m.Quiet) + x + m.Quiet }

// Grid is the symbol as the global threshold (Rmax+Rmin)/2 shows it, the quiet
// zone left out: a module at the threshold or below is dark. Of reflectances
// that are none of a symbol it is empty.
func (m Modules) Grid() symbol.Grid {
	if !m.unfit().IsZero() {
		return symbol.Grid{}
	}
	lo, hi := extremes(m.R)
	threshold := (lo + hi) / 2
	g := symbol.NewGrid(m.W, m.H)
	for y := range m.H {
		for x := range m.W {
			g.Set(x, y, m.R[m.at(x, y)] <= threshold)
		}
	}
	return g
}

// Geometry is how a matrix symbol's modules lie.
type Geometry struct {
	AN float64 // axial nonuniformity: |X-Y| by their mean, of the mean spacings along the two axes
	GN float64 // grid nonuniformity: how far from an even grid a module lies at most, in X
	// GrowthX and GrowthY are by how much wider dark is than drawn, along either
	// axis, in X. Reported, not graded: so it is since the edition of 2011 (from
	// memory).
	GrowthX, GrowthY float64
}

// Printed is the geometry of a symbol whose modules are x by y dots of a head:
// they lie where the dots do, exactly. The growth is that of a mark in all.
func Printed(g plane.Grid, x, y int, growthX, growthY unit.Length) Geometry {
	w, h := g.DX.MM(float64(x)), g.DY.MM(float64(y))
	if !(w > 0 && h > 0) || math.IsInf(w+h, 0) {
		return Geometry{}
	}
	return Geometry{AN: axial(w, h), GrowthX: growthX.MM() / w, GrowthY: growthY.MM() / h}
}

func axial(x, y float64) float64 { return math.Abs(x-y) / ((x + y) / 2) }

// Lattice is where the middles of a symbol's modules were found on a raster, in
// samples.
type Lattice struct {
	W, H int           // modules
	At   []plane.Point // row by row
}

// axes fits an even grid to the lattice by least squares: module (x, y) would be
// at origin + x right + y down. Neither axis has a length where there is but one
// module along it.
func (l Lattice) axes() (origin, right, down plane.Point, ok bool) {
	if l.W < 1 || l.H < 1 || l.W > mostModules || l.H > mostModules || len(l.At) != l.W*l.H {
		return
	}
	midX, midY := float64(l.W-1)/2, float64(l.H-1)/2
	for i, p := range l.At {
		x, y := float64(i%l.W)-midX, float64(i/l.W)-midY
		origin.X += p.X
		origin.Y += p.Y
		right.X += x * p.X
		right.Y += x * p.Y
		down.X += y * p.X
		down.Y += y * p.Y
	}
	spread := func(n int) float64 { return float64(n) * (float64(n)*float64(n) - 1) / 12 } // sum of squares from the middle
	n, across, along := float64(len(l.At)), spread(l.W)*float64(l.H), spread(l.H)*float64(l.W)
	right, down = by(right, across), by(down, along)
	origin = plane.Point{X: origin.X/n - midX*right.X - midY*down.X, Y: origin.Y/n - midX*right.Y - midY*down.Y}
	sum := origin.X + origin.Y + right.X + right.Y + down.X + down.Y
	return origin, right, down, !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

func by(p plane.Point, v float64) plane.Point {
	if v == 0 {
		return plane.Point{}
	}
	return plane.Point{X: p.X / v, Y: p.Y / v}
}

// Geometry is the AN and GN of a lattice; ok is false where it is none. The even
// grid that GN is taken from is the one that fits best (own judgement: the
// clause was not seen).
func (l Lattice) Geometry() (g Geometry, ok bool) {
	origin, right, down, ok := l.axes()
	x, y := math.Hypot(right.X, right.Y), math.Hypot(down.X, down.Y)
	if !ok || x == 0 || y == 0 {
		return Geometry{}, false
	}
	worst := 0.0
	for i, p := range l.At {
		u, v := float64(i%l.W), float64(i/l.W)
		worst = max(worst, math.Hypot(p.X-origin.X-u*right.X-v*down.X, p.Y-origin.Y-u*right.Y-v*down.Y))
	}
	return Geometry{AN: axial(x, y), GN: worst / ((x + y) / 2)}, true
}

// Modules are the reflectances of the lattice's modules on a raster, each the
// mean of a circle of the given diameter in samples, with so many rings of quiet
// ones, which lie where the outermost modules lead. ok is false where one of them
// is not on the raster.
func (l Lattice) Modules(r plane.Raster, quiet int, diameter float64) (m Modules, ok bool) {
	_, right, down, ok := l.axes()
	if !ok || quiet < 0 || l.W+2*quiet > mostModules || l.H+2*quiet > mostModules {
		return Modules{}, false
	}
	m = Modules{W: l.W, H: l.H, Quiet: quiet, R: make([]float32, 0, (l.W+2*quiet)*(l.H+2*quiet))}
	for y := -quiet; y < l.H+quiet; y++ {
		for x := -quiet; x < l.W+quiet; x++ {
			i, j := min(max(x, 0), l.W-1), min(max(y, 0), l.H-1)
			p, u, v := l.At[j*l.W+i], float64(x-i), float64(y-j)
			p = plane.Point{X: p.X + u*right.X + v*down.X, Y: p.Y + u*right.Y + v*down.Y}
			if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(r.W) && p.Y <= float64(r.H)) {
				return Modules{}, false
			}
			reflectance, ok := r.Spot(p, diameter)
			if !ok {
				return Modules{}, false
			}
			m.R = append(m.R, float32(reflectance))
		}
	}
	return m, true
}
