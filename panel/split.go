package panel

import (
	"unspool/face"
	"unspool/ink"
	"unspool/plane"
	"unspool/site"
)

// Count is what a separation did to the dots of one element.
type Count struct {
	Dots  int // dots the element owns
	Resin int // of these, printed from black resin
	Dye   int // of these, given any dye
	// Where is the smallest rectangle of its resin dots.
	Where plane.Rect
	// DeltaE is the sum, over its dots printed from dye alone, of the CIEDE2000
	// difference between what was asked for and what the dyes can give; MaxDeltaE
	// the largest. Both are 0 where the driver does not match colours.
	DeltaE    float64
	MaxDeltaE float32
}

// Add adds o to c.
func (c *Count) Add(o Count) {
	c.Dots += o.Dots
	c.Resin += o.Resin
	c.Dye += o.Dye
	c.DeltaE += o.DeltaE
	c.MaxDeltaE = max(c.MaxDeltaE, o.MaxDeltaE)
	c.Where = c.Where.Or(o.Where)
}

// Split separates the dots of a in r into dst and adds up, for every owner (0
// the bare card, 1 + an element's index), what became of its dots. counts may
// be nil. A Solid setup is split whole, whatever r says.
func (u *Setup) Split(dst *Panels, a *face.Art, r plane.Rect, counts []Count) {
	if u.Solid() {
		u.splitSolid(dst, a, counts)
		return
	}
	r = r.And(u.grid.Rect())
	s := splitter{Setup: u, dst: dst, art: a, counts: counts, last: -1}
	for y := r.Y0; y < r.Y1; y++ {
		s.row(y, r.X0, r.X1)
	}
	u.overlay(dst, r)
	u.blank(dst, r)
}

// splitter holds the last colour looked up: neighbouring dots often share it.
type splitter struct {
	*Setup
	dst    *Panels
	art    *face.Art
	counts []Count

	last     int // packed RGB of the colour in y, m, c
	y, m, c  uint8
	deltaE   float32
	painting bool // the dots of this row lie where the colour panels reach
}

func (s *splitter) row(y, x0, x1 int) {
	inPrint := y >= s.print.Y0 && y < s.print.Y1
	inColour := y >= s.colour.Y0 && y < s.colour.Y1
	for x := x0; x < x1; x++ {
		i := y*s.grid.W + x
		if !inPrint || x < s.print.X0 || x >= s.print.X1 {
			s.clear(i)
			s.count(i, false, false, 0)
			continue
		}
		s.painting = s.dyes && inColour && x >= s.colour.X0 && x < s.colour.X1
		s.dot(i, x, y)
	}
}

func (s *splitter) clear(i int) {
	for _, p := range s.dst.all() {
		if p != nil {
			p[i] = 0
		}
	}
}

// dot separates one dot: first resin, then what dye is left to lay.
func (s *splitter) dot(i, x, y int) {
	a, mark := s.art, s.art.Mark[i]
	k := s.resin && takes(s.black, a, i, s.inZone(x, y))
	page := a.Page
	if s.black.Rule == site.Objects && !k && mark&face.Touched != 0 {
		page = a.Under // the driver took the object out of the page
	}
	laid, deltaE := false, float32(0)
	if s.painting && (!k || s.black.KeepDyes) {
		s.lookUp(page[3*i], page[3*i+1], page[3*i+2])
		s.dst.Y[i], s.dst.M[i], s.dst.C[i] = s.y, s.m, s.c
		laid, deltaE = s.y|s.m|s.c != 0, s.deltaE
	} else if s.dyes {
		s.dst.Y[i], s.dst.M[i], s.dst.C[i] = 0, 0, 0
	}
	set(s.dst.K, i, k)
	set(s.dst.F, i, mark&face.Fluor != 0)
	set(s.dst.S, i, mark&face.Special != 0 || mark&face.Resin != 0 && !s.resin)
	s.count(i, k, laid, deltaE)
}

func set(p []uint8, i int, on bool) {
	if p == nil {
		return
	}
	p[i] = 0
	if on {
		p[i] = 1
	}
}

func (s *splitter) lookUp(r, g, b uint8) {
	if rgb := int(r)<<16 | int(g)<<8 | int(b); rgb != s.last {
		s.last = rgb
		if s.sep == nil {
			s.y, s.m, s.c = ink.PlainDyes(r, g, b)
		} else {
			s.y, s.m, s.c, s.deltaE = s.sep.Dyes(r, g, b)
		}
	}
}

func (s *splitter) count(i int, k, dye bool, deltaE float32) {
	if s.counts == nil {
		return
	}
	c := &s.counts[s.art.Owner[i]]
	c.Dots++
	if dye {
		c.Dye++
	}
	if k {
		c.Resin++
		x, y := i%s.grid.W, i/s.grid.W
		c.Where = c.Where.Or(plane.Rect{X0: x, Y0: y, X1: x + 1, Y1: y + 1})
		return
	}
	c.DeltaE += float64(deltaE)
	c.MaxDeltaE = max(c.MaxDeltaE, deltaE)
}

func (u *Setup) inZone(x, y int) bool {
	if u.black.Rule != site.Zones {
		return false
	}
	for _, z := range u.zones {
		if x >= z.X0 && x < z.X1 && y >= z.Y0 && y < z.Y1 {
			return !u.black.Outside
		}
	}
	return u.black.Outside
}

// takes is the black rule: whether the dot i goes to resin. What was sent by
// hand goes there whatever the rule says.
func takes(b site.Black, a *face.Art, i int, inZone bool) bool {
	switch mark := a.Mark[i]; {
	case mark&face.Resin != 0:
		return true
	case mark&(face.Dye|face.Fluor|face.Special) != 0:
		return false
	case b.Rule == site.Objects:
		return mark&face.Object != 0
	}
	p := a.Page[3*i : 3*i+3 : 3*i+3]
	switch b.Rule {
	case site.Exact:
		return p[0]|p[1]|p[2] == 0
	case site.Dark:
		return max(p[0], p[1], p[2]) <= b.Limit
	case site.Zones:
		return inZone && max(p[0], p[1], p[2]) <= b.Limit
	}
	return false
}

// blank takes out what a dead head element cannot print.
func (u *Setup) blank(dst *Panels, r plane.Rect) {
	for _, d := range u.dead {
		dst.Clear(d.And(r))
	}
}

// overlay lays the clear panel everywhere the head reaches but in the windows
// over stripe, chip and signature panel.
func (u *Setup) overlay(dst *Panels, r plane.Rect) {
	if dst.O == nil {
		return
	}
	u.fill(dst.O, r, 0)
	u.fill(dst.O, r.And(u.print), 1)
	for _, w := range u.window {
		u.fill(dst.O, r.And(w), 0)
	}
}

func (u *Setup) fill(p []uint8, r plane.Rect, v uint8) {
	for y := r.Y0; y < r.Y1; y++ {
		row := p[y*u.grid.W+r.X0 : y*u.grid.W+r.X1]
		for x := range row {
			row[x] = v
		}
	}
}

// PhotoResin counts, without separating anything, the photo dots in r that
// would go to resin: what a trial of another rule needs to know of the photos.
// A Solid setup halftones the photo, so there every dot that is not white
// counts.
func (u *Setup) PhotoResin(a *face.Art, r plane.Rect) (n int) {
	if !u.resin {
		return 0
	}
	r, solid := r.And(u.print), u.Solid()
	for y := r.Y0; y < r.Y1; y++ {
		for x := r.X0; x < r.X1; x++ {
			i := y*u.grid.W + x
			if a.Class[i] != face.Photo {
				continue
			}
			if solid && min(a.Page[3*i], a.Page[3*i+1], a.Page[3*i+2]) < 255 || !solid && takes(u.black, a, i, u.inZone(x, y)) {
				n++
			}
		}
	}
	return n
}
