package panel

import (
	"math"

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
	// DeltaE is the sum, over its dots not in resin, of the CIEDE2000 difference
	// between what was asked for and what the dyes can give; MaxDeltaE the
	// largest. Both are 0 where the driver does not match colours.
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
// be nil. Splitting a face in pieces gives what splitting it whole gives.
func (u *Setup) Split(dst *Panels, a *face.Art, r plane.Rect, counts []Count) {
	r = r.And(u.grid.Rect())
	s := splitter{Setup: u, all: u.Solid(), dst: dst, art: a, last: -1}
	if s.all && s.tone(r) {
		s.halftone(r, counts)
	} else {
		for y := r.Y0; y < r.Y1; y++ {
			s.row(y, r.X0, r.X1)
			s.tell(counts)
		}
	}
	for _, d := range u.dead {
		dst.Clear(d.And(r))
	}
}

// splitter holds what goes on from dot to dot: the last colour looked up, for
// neighbouring dots often share it, and the counts of the row in hand.
type splitter struct {
	*Setup
	all   bool // Solid
	dst   *Panels
	art   *face.Art
	tally []ownCount

	last    int // packed RGB of the colour in y, m, c
	y, m, c uint8
	deltaE  float32
}

// ownCount is the count of one owner. A row has few of them.
type ownCount struct {
	owner uint16
	Count
}

// tell adds the counts of the row to counts and forgets them.
func (s *splitter) tell(counts []Count) {
	if counts != nil {
		for i := range s.tally {
			counts[s.tally[i].owner].Add(s.tally[i].Count)
		}
	}
	s.tally = s.tally[:0]
}

// of is the row's count of an owner; valid until that of a new one is asked for.
func (s *splitter) of(owner uint16) *Count {
	for i := len(s.tally) - 1; i >= 0; i-- {
		if s.tally[i].owner == owner {
			return &s.tally[i].Count
		}
	}
	s.tally = append(s.tally, ownCount{owner: owner})
	return &s.tally[len(s.tally)-1].Count
}

// dot is what the panels lay on one dot.
type dot struct {
	y, m, c uint8
	k, f, s uint8 // 1 yes, 0 no
	deltaE  float32
}

// row separates a stretch of a row. Between two edges the same panels reach all
// dots.
func (s *splitter) row(y, x0, x1 int) {
	edge := 0
	for x := x0; x < x1; {
		for edge < len(s.edges) && s.edges[edge] <= x {
			edge++
		}
		end := x1
		if edge < len(s.edges) {
			end = min(end, s.edges[edge])
		}
		i := y*s.grid.W + x
		s.stretch(i, i+end-x, reach{
			print:  inside(s.print, x, y),
			colour: s.dyes && inside(s.colour, x, y),
			zone:   s.inZone(x, y),
		}, plane.Rect{X0: x, Y0: y, X1: end, Y1: y + 1})
		x = end
	}
}

// reach is what reaches a stretch of dots.
type reach struct{ print, colour, zone bool }

func inside(r plane.Rect, x, y int) bool { return x >= r.X0 && x < r.X1 && y >= r.Y0 && y < r.Y1 }

// stretch separates the dots from i to j. A dot that looks to the driver as the
// one before it comes out as that did.
func (s *splitter) stretch(i, j int, to reach, where plane.Rect) {
	var d dot
	var c *Count
	owner := -1
	first, last := -1, -1 // dots of the owner in resin
	for x := i; x < j; x++ {
		if o := int(s.art.Owner[x]); o != owner {
			if first >= 0 {
				c.within(where, first-i, last-i)
				first = -1
			}
			c, owner = s.of(uint16(o)), o
			s.decide(&d, x, to)
		} else if s.art.Class[x] == face.Photo || !s.like(x) { // a photo seldom repeats itself
			s.decide(&d, x, to)
		}
		s.lay(x, &d)
		c.Dots++
		if d.y|d.m|d.c != 0 {
			c.Dye++
		}
		if d.k != 0 {
			c.Resin++
			if last = x; first < 0 {
				first = x
			}
			continue
		}
		c.DeltaE += float64(d.deltaE)
		c.MaxDeltaE = max(c.MaxDeltaE, d.deltaE)
	}
	if first >= 0 {
		c.within(where, first-i, last-i)
	}
}

// within widens the place of an owner's resin by dots a to b of a stretch.
func (c *Count) within(where plane.Rect, a, b int) {
	c.Where = c.Where.Or(plane.Rect{X0: where.X0 + a, Y0: where.Y0, X1: where.X0 + b + 1, Y1: where.Y1})
}

// like says whether the driver can see no difference between a dot and the one
// before it, of the same owner.
func (s *splitter) like(i int) bool {
	a := s.art
	p, u := a.Page[3*i-3:3*i+3:3*i+3], a.Under[3*i-3:3*i+3:3*i+3]
	return p[0] == p[3] && p[1] == p[4] && p[2] == p[5] && a.Mark[i] == a.Mark[i-1] &&
		u[0] == u[3] && u[1] == u[4] && u[2] == u[5]
}

// decide separates one dot into d: first resin, then what dye is left to lay.
// It fills d byte by byte, for copying so small a struct whole stalls the
// processor at every dot of a photo.
func (s *splitter) decide(d *dot, i int, to reach) {
	a, mark := s.art, s.art.Mark[i]
	switch {
	case !to.print:
		*d = dot{}
		return
	case s.all:
		*d = s.cut(i)
		return
	}
	k := s.resin && s.takes(a, i, to.zone)
	d.k = bit(k)
	d.f = bit(mark&face.Fluor != 0)
	d.s = bit(mark&face.Special != 0 || mark&face.Resin != 0 && !s.resin)
	page := a.Page
	if s.black.Rule == site.Objects && !k && mark&face.Touched != 0 {
		page = a.Under // the driver took the object out of the page
	}
	if to.colour && (!k || s.black.KeepDyes) {
		s.lookUp(page[3*i], page[3*i+1], page[3*i+2])
		d.y, d.m, d.c, d.deltaE = s.y, s.m, s.c, s.deltaE
	} else {
		d.y, d.m, d.c, d.deltaE = 0, 0, 0, 0
	}
}

func bit(on bool) uint8 {
	if on {
		return 1
	}
	return 0
}

func (s *splitter) lookUp(r, g, b uint8) {
	if rgb := int(r)<<16 | int(g)<<8 | int(b); rgb != s.last {
		s.last = rgb
		if s.sep == nil {
			s.y, s.m, s.c = ink.PlainDyes(r, g, b)
		} else {
			s.y, s.m, s.c, s.deltaE = s.sep.Dyes(r, g, b)
			s.deltaE = short(s.deltaE)
		}
	}
}

// short cuts a colour difference to so few digits that sums of a whole face are
// exact, and so the same in whatever order and pieces it is separated.
func short(deltaE float32) float32 { return float32(math.Round(float64(deltaE)*(1<<16)) / (1 << 16)) }

// lay writes one dot.
func (s *splitter) lay(i int, d *dot) {
	p := s.dst
	if p.Y != nil {
		p.Y[i], p.M[i], p.C[i] = d.y, d.m, d.c
	}
	if p.K != nil {
		p.K[i] = d.k
	}
	if p.F != nil {
		p.F[i] = d.f
	}
	if p.S != nil {
		p.S[i] = d.s
	}
}

func (u *Setup) inZone(x, y int) bool {
	if u.black.Rule != site.Zones {
		return false
	}
	for _, z := range u.zones {
		if inside(z, x, y) {
			return !u.black.Outside
		}
	}
	return u.black.Outside
}

// takes is the black rule: whether the dot i goes to resin. What was sent by
// hand goes there whatever the rule says.
func (u *Setup) takes(a *face.Art, i int, inZone bool) bool {
	switch mark := a.Mark[i]; {
	case mark&face.Resin != 0:
		return true
	case mark&face.Dye != 0:
		return false
	case u.black.Rule == site.Objects:
		return mark&face.Object != 0
	}
	p := a.Page[3*i : 3*i+3 : 3*i+3]
	switch u.black.Rule {
	case site.Exact:
		return p[0]|p[1]|p[2] == 0
	case site.Dark:
		return max(p[0], p[1], p[2]) <= u.black.Limit
	case site.Zones:
		return inZone && max(p[0], p[1], p[2]) <= u.black.Limit
	}
	return false
}

// PhotoResin counts, without separating anything, the photo dots in r that
// would go to resin: what a trial of another rule needs to know of the photos.
// Where everything is resin the photo is halftoned, so there every dot of it
// that is not white counts.
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
			if solid && min(a.Page[3*i], a.Page[3*i+1], a.Page[3*i+2]) < 255 || !solid && u.takes(a, i, u.inZone(x, y)) {
				n++
			}
		}
	}
	return n
}
