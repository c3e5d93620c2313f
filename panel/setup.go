package panel

import (
	"slices"

	"unspool/ink"
	"unspool/plane"
	"unspool/site"
)

// Setup is everything that decides how one side's artwork becomes panels. It is
// immutable after New and serves any number of goroutines.
type Setup struct {
	side   site.Side
	set    []site.Panel
	black  site.Black
	sep    *ink.Separator // nil: plain complement
	grid   plane.Grid
	print  plane.Rect   // what the head can reach
	colour plane.Rect   // what a short colour panel can reach
	window []plane.Rect // left free by the overlay
	zones  []plane.Rect
	dead   []plane.Rect // rows or columns that no heater prints
	edges  []int        // columns where print, colour or a zone begins or ends, rising
	dyes   bool         // the set has a dye panel
	resin  bool         // the set has black resin
	other  bool         // the set has a metallic, white or coloured resin
}

// New prepares the separation of one side. sep may be nil for drivers that
// print the plain complement of the page.
func New(c site.Card, p site.Printer, r site.Ribbon, b site.Black, s site.Side, sep *ink.Separator) *Setup {
	lie := p.Lie[s]
	g := p.Grid(c, lie)
	u := &Setup{side: s, set: r.Set(s), black: b, sep: sep, grid: g}
	u.print = g.Rect()
	if p.Unprinted > 0 {
		u.print = plane.Rect{X0: g.DX.Ceil(p.Unprinted), Y0: g.DY.Ceil(p.Unprinted),
			X1: g.W - g.DX.Ceil(p.Unprinted), Y1: g.H - g.DY.Ceil(p.Unprinted)}.And(g.Rect())
	}
	u.colour = Reach(c, g, lie, r)
	for _, k := range c.KeepOuts {
		if k.Side == s && k.Kind.Window() {
			u.window = append(u.window, g.Box(k.Box).And(g.Rect()))
		}
	}
	for _, z := range b.Zones {
		u.zones = append(u.zones, g.Box(z).And(g.Rect()))
	}
	for _, e := range p.Dead {
		if d, ok := Line(g, lie, e); ok {
			u.dead = append(u.dead, d)
		}
	}
	for _, panel := range u.set {
		u.dyes = u.dyes || panel.Kind.Dye()
		u.resin = u.resin || panel.Kind == site.BlackResin
		u.other = u.other || panel.Kind.Resin() && panel.Kind != site.BlackResin
	}
	for _, r := range append([]plane.Rect{u.print, u.colour}, u.zones...) {
		u.edges = append(u.edges, r.X0, r.X1)
	}
	slices.Sort(u.edges)
	return u
}

// Reach is the part of a face that the colour panels reach: all of it unless
// they are short.
func Reach(c site.Card, g plane.Grid, lie site.Lie, r site.Ribbon) plane.Rect {
	all := g.Rect()
	if r.ShortFrom == 0 && r.ShortTo == 0 {
		return all
	}
	b := plane.Box{W: c.W, H: c.H}
	switch from, long := r.ShortFrom, r.ShortTo-r.ShortFrom; lie.Leads {
	case site.Left:
		b.X, b.W = from, long
	case site.Right:
		b.X, b.W = c.W-r.ShortTo, long
	case site.Top:
		b.Y, b.H = from, long
	default:
		b.Y, b.H = c.H-r.ShortTo, long
	}
	return g.Box(b).And(all)
}

// Line is the row or column of dots that a head element prints, and whether it
// lies on the face.
func Line(g plane.Grid, lie site.Lie, element int) (plane.Rect, bool) {
	if lie.AlongX() {
		y, ok := lie.Row(element, g.H)
		return plane.Rect{X0: 0, Y0: y, X1: g.W, Y1: y + 1}, ok
	}
	x, ok := lie.Row(element, g.W)
	return plane.Rect{X0: x, Y0: 0, X1: x + 1, Y1: g.H}, ok
}

// Grid is the raster of the side.
func (u *Setup) Grid() plane.Grid { return u.grid }

// Printable is what the head reaches.
func (u *Setup) Printable() plane.Rect { return u.print }

// Set is the side's panels in the order of feeding.
func (u *Setup) Set() []site.Panel { return u.set }

// Black is the black rule in force.
func (u *Setup) Black() site.Black { return u.black }

// Solid says whether everything is printed from resin: the driver's rule says
// so, or the ribbon has nothing else.
func (u *Setup) Solid() bool {
	return !u.dyes && (u.resin || u.other) || u.black.Rule == site.All && u.resin
}

// NewPanels is the side's panels with nothing printed yet. The overlay, which
// is the same whatever is printed, is laid: everywhere the head reaches but in
// the windows over stripe, chip and signature panel.
func (u *Setup) NewPanels() *Panels {
	n := u.grid.Dots()
	p := &Panels{Grid: u.grid}
	if u.dyes {
		p.Y, p.M, p.C = make([]uint8, n), make([]uint8, n), make([]uint8, n)
	}
	if u.resin {
		p.K = make([]uint8, n)
	}
	if u.other {
		p.S = make([]uint8, n)
	}
	if site.Has(u.set, site.Overlay) {
		p.O = make([]uint8, n)
		lay(p.O, u.grid, u.print, 1)
		for _, w := range append(u.window[:len(u.window):len(u.window)], u.dead...) {
			lay(p.O, u.grid, w, 0)
		}
	}
	if site.Has(u.set, site.Fluorescent) {
		p.F = make([]uint8, n)
	}
	return p
}

func lay(p []uint8, g plane.Grid, r plane.Rect, v uint8) {
	for y := r.Y0; y < r.Y1; y++ {
		for i := g.At(r.X0, y); i < g.At(r.X1, y); i++ {
			p[i] = v
		}
	}
}
