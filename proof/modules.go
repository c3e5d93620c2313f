package proof

import (
	"math"
	"slices"

	"unspool/face"
	"unspool/grade"
	"unspool/light"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
	"unspool/symbol"
	"unspool/unit"
)

// A two-dimensional code is looked at as a whole: a camera's or a verifier's one
// picture of it stands where a linear code has its lines.

// scenery is a two-dimensional code as one light shows it, looked at through any
// aperture.
type scenery struct {
	*exam
	lit  *light.Lit
	area plane.Rect   // in dots of the face
	dots plane.Raster // of the area, a value a dot; none of a multi-row code and where dots are not square
}

// under is the code as a light shows it.
func (x *exam) under(lit *light.Lit) *scenery {
	s := &scenery{exam: x, lit: lit}
	if g := x.setup.Grid(); x.c.Kind.Family == symbol.Square && g.DX == g.DY {
		s.area = x.c.Quiet.Grow(x.c.Module[0]).And(g.Rect())
		s.dots = plane.Raster{W: s.area.W(), H: s.area.H(), V: lit.Picture(x.p, s.area).R}
	}
	return s
}

// modules are the reflectances of a matrix code's modules through an aperture,
// its quiet zone included as far as the face goes.
func (s *scenery) modules(aperture unit.Length) grade.Modules {
	c, g := s.c, s.setup.Grid()
	m := grade.Modules{W: c.Lies.W, H: c.Lies.H, Quiet: c.Kind.QuietX}
	on := func(from, module, n, size int) bool {
		return from-m.Quiet*module >= 0 && from+(n+m.Quiet)*module <= size
	}
	for m.Quiet > 0 && !(on(c.Bars.X0, c.Module[0], m.W, g.W) && on(c.Bars.Y0, c.Module[1], m.H, g.H)) {
		m.Quiet--
	}
	middles := func(from, module, n int) []float64 {
		at := make([]float64, 0, n+2*m.Quiet)
		for i := -m.Quiet; i < n+m.Quiet; i++ {
			at = append(at, float64(from)+(float64(i)+0.5)*float64(module))
		}
		return at
	}
	xs, ys := middles(c.Bars.X0, c.Module[0], m.W), middles(c.Bars.Y0, c.Module[1], m.H)
	if s.dots.V == nil {
		m.R = s.lit.Spots(s.p, xs, ys, aperture)
		return m
	}
	m.R = make([]float32, 0, len(xs)*len(ys))
	for _, y := range ys {
		for _, x := range xs {
			v, _ := s.dots.Spot(plane.Point{X: x - float64(s.area.X0), Y: y - float64(s.area.Y0)}, g.DX.Dots(aperture))
			m.R = append(m.R, float32(v))
		}
	}
	return m
}

// rows are the profiles of lines over a multi-row code: through the middle of
// each row, and through more places of it where there are few.
func (s *scenery) rows(aperture unit.Length) []plane.Profile {
	var all []plane.Profile
	probe, scan := s.probe(s.lit), s.scan()
	scan.Aperture = aperture
	for _, at := range rowLines(s.c) {
		scan.At = at
		p := probe.Profile(s.p, scan)
		p.Samples = slices.Clone(p.Samples)
		all = append(all, p)
	}
	return all
}

// rowLines are the middles of lines over a multi-row code, in dots.
func rowLines(c *face.Placed) []float64 {
	from, rows, module := c.Bars.Y0, c.Lies.H, c.Module[1]
	if !c.AlongX {
		from, rows, module = c.Bars.X0, c.Lies.W, c.Module[0]
	}
	each := (tenLines + rows - 1) / rows
	var all []float64
	for row := range rows {
		for k := range each {
			all = append(all, float64(from)+(float64(row)+(float64(k)+0.5)/float64(each))*float64(module))
		}
	}
	return all
}

// quality grades a two-dimensional code at a reader's light, by ISO/IEC 15415.
// fade is a share of its contrast to take away first.
func (s *scenery) quality(fade float64) grade.Quality {
	c, g := s.c, s.setup.Grid()
	a := s.aperture()
	var q grade.Quality
	if c.Kind.Family == symbol.MultiRow {
		rows := s.rows(a.Diameter)
		for i := range rows {
			faded(rows[i].Samples, fade)
		}
		q = grade.PDF417(rows, s.edition, a, s.r.Peak)
	} else {
		m := s.modules(a.Diameter)
		faded(m.R, fade)
		q = grade.Matrix(c.Kind.Name, m, c.Kind.DecodeMatrix,
			grade.Printed(g, c.Module[0], c.Module[1], s.scene.GrowthX, s.scene.GrowthY), a, s.r.Peak)
	}
	if q.Decoded && q.Reading.Text != c.Matrix.Text {
		q.Fail(otherData)
	}
	return q
}

// scanOf is what a grading of a two-dimensional code says of contrast, in the
// form that causes are looked for in.
func scanOf(q *grade.Quality) grade.Scan {
	s := grade.Scan{Rmin: q.Rmin, Rmax: q.Rmax, GT: q.GT, SC: q.Rmax - q.Rmin, Decoded: q.Decoded, Grade: q.Value, Why: q.Why}
	if q.Rmax > 0 {
		s.PCS = s.SC / s.Rmax
	}
	return s
}

// look reads a two-dimensional code as the reader does, through its own spot.
func (s *scenery) look() seen {
	c := s.c
	from, to := c.Bars.Y0, c.Bars.Y1
	if !c.AlongX {
		from, to = c.Bars.X0, c.Bars.X1
	}
	out := seen{lines: []float64{float64(from+to) / 2}}
	var r symbol.MatrixReading
	var ok bool
	if c.Kind.Family == symbol.MultiRow {
		r, ok, out.why = grade.ReadRows(s.rows(s.r.Spot))
	} else {
		r, ok, out.why = grade.ReadModules(s.modules(s.r.Spot), c.Kind.DecodeMatrix)
	}
	switch {
	case ok && r.Text == c.Matrix.Text:
		out.good, out.text = 1, r.Text
	case ok:
		out.why = otherData
	}
	out.fails = out.good == 0
	return out
}

// refuseMatrix is what a reader turns down of a two-dimensional code besides what
// it turns down of any; the zero Cause where nothing.
func (x *exam) refuseMatrix() Cause {
	if x.r.Kind == site.Slot {
		return Cause{"wrong-kind", say.F("a slot looks at one line, and %s needs the whole symbol", x.c.Kind.Title), say.Data(x.c.Kind.Title), say.Words("a linear code"), 1}
	}
	for _, k := range x.keepOuts {
		if !holed(k) {
			continue
		}
		if r := x.setup.Grid().Box(k.Box).And(x.c.Bars); !r.Empty() {
			return Cause{"code-cut", say.F("the %s lies over it", k.Kind), say.F("under the %s", k.Kind), say.Words("clear of it"), 1}
		}
	}
	return Cause{}
}

// matrixRoom is how much room a two-dimensional code needs with modules of so
// many dots.
func (x *exam) matrixRoom(pitch unit.Pitch, dots int) say.Text {
	c := x.c
	w, h := c.Matrix.W+2*c.Kind.QuietX, c.Kind.RowX*c.Matrix.H+2*c.Kind.QuietX
	return say.F(", which takes %d dots and room of %.1f by %.1f mm with the quiet zone", dots, pitch.MM(float64(w*dots)), pitch.MM(float64(h*dots)))
}

// clearAround is how far, in X, the quiet zone round a two-dimensional code is
// free of dots darker than threshold, and what the nearest of them belongs to.
func (x *exam) clearAround(threshold float32) (free, need float64, by int) {
	g, c := x.p.Grid, x.c
	mm := along(c, g).Span(c.Size.X).MM()
	need = float64(c.Kind.QuietX)
	free, by = need, noOwner
	for _, zone := range c.Quiet.Without([]plane.Rect{c.Bars}) {
		in := zone.And(g.Rect())
		if in != zone {
			cut := min(float64(c.Bars.X0)*g.DX.MM(1), float64(g.W-c.Bars.X1)*g.DX.MM(1), float64(c.Bars.Y0)*g.DY.MM(1), float64(g.H-c.Bars.Y1)*g.DY.MM(1)) / mm
			if cut < free {
				free, by = max(cut, 0), edgeOwner
			}
		}
		for i := range dotsOf(g, in) {
			if x.lit.dot(x.p, i) >= threshold {
				continue
			}
			px, py := i%g.W, i/g.W
			dx, dy := max(c.Bars.X0-px-1, px-c.Bars.X1, 0), max(c.Bars.Y0-py-1, py-c.Bars.Y1, 0)
			if d := math.Max(g.DX.MM(float64(dx)), g.DY.MM(float64(dy))) / mm; d < free {
				free, by = d, int(x.art.Owner[i])
			}
		}
	}
	for i, k := range x.keepOuts {
		if hole := g.Box(k.Box); holed(k) && !hole.And(c.Quiet).Empty() {
			dx, dy := max(c.Bars.X0-hole.X1, hole.X0-c.Bars.X1, 0), max(c.Bars.Y0-hole.Y1, hole.Y0-c.Bars.Y1, 0)
			if d := math.Max(g.DX.MM(float64(dx)), g.DY.MM(float64(dy))) / mm; d < free {
				free, by = d, holeOwner-i
			}
		}
	}
	return free, need, by
}

// faded moves reflectances towards the lightest of them by a share.
func faded(v []float32, share float64) {
	if share == 0 {
		return
	}
	top := float32(0)
	for _, r := range v {
		top = max(top, r)
	}
	for i, r := range v {
		v[i] = r + float32(share)*(top-r)
	}
}
