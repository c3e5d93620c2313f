// Package ribbon shows the spent ribbon: what is left on the web when a card
// has been printed from it. Every panel keeps what was printed as what is
// missing, so the web tells which panel a dot came from.
//
// A frame is one panel's stretch of web, drawn as it lies under the head seen
// from the head's side, the side away from the card: the card's leading edge is
// at the left and the feed runs to the left. Direct printing reads right from
// that side (the dye and resin face the card, the eye looks through the
// carrier); retransfer printing is mirrored.
package ribbon

import (
	"unspool/panel"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// Frame is one panel of the web after printing.
type Frame struct {
	Panel site.Panel
	Side  site.Side
	// Grid is the printed part of the frame in web directions: x along the feed
	// from the card's leading edge, y across the web.
	plane.Grid
	// Gone is how much of the panel left the web at each dot, 0 none, 255 all.
	Gone []uint8
}

// Spent is the web after one side of a card: a frame for every panel of the
// side's set, in the order of feeding.
func Spent(p *panel.Panels, set []site.Panel, s site.Side, pr site.Printer) []Frame {
	turn := newTurn(p.Grid, pr.Lie[s], pr.Process)
	frames := make([]Frame, len(set))
	for i, q := range set {
		frames[i] = Frame{Panel: q, Side: s, Grid: turn.to, Gone: make([]uint8, p.Dots())}
		src, solid := source(p, q.Kind)
		if src == nil {
			continue
		}
		turn.copy(frames[i].Gone, src, solid)
	}
	return frames
}

// Laid is what a panel of kind k lays on each dot of the face, 0 none to 255
// full; all 0 where the side has no such panel.
func Laid(p *panel.Panels, k site.PanelKind) []uint8 {
	out := make([]uint8, p.Dots())
	src, solid := source(p, k)
	for i, v := range src {
		if solid && v != 0 {
			v = 255
		}
		out[i] = v
	}
	return out
}

// source is the plane that a panel printed, and whether it is all or nothing.
func source(p *panel.Panels, k site.PanelKind) (plane []uint8, solid bool) {
	switch k {
	case site.Yellow:
		return p.Y, false
	case site.Magenta:
		return p.M, false
	case site.Cyan:
		return p.C, false
	case site.BlackResin:
		return p.K, true
	case site.Overlay:
		return p.O, true
	case site.Fluorescent:
		return p.F, true
	}
	return p.S, true
}

// turn carries a dot of the face to the web.
type turn struct {
	from, to plane.Grid
	alongX   bool // the feed runs along the face's x
	flipFeed bool // the web's x runs against the face's feed direction
	flipHead bool // the web's y runs against the face's other direction
}

// newTurn finds how a face lies on the web. The leading edge comes to the left.
// Seen from the head's side a direct print is the face turned but not mirrored;
// that settles the other direction.
func newTurn(g plane.Grid, lie site.Lie, process site.Process) turn {
	t := turn{from: g, to: g, alongX: lie.AlongX()}
	if !t.alongX {
		t.to = plane.Grid{W: g.H, H: g.W, DX: g.DY, DY: g.DX}
	}
	t.flipFeed = lie.Leads == site.Right || lie.Leads == site.Bottom
	// Left leading: upright. Right: half a turn. Top leading: a quarter turn
	// anticlockwise, x runs up the web. Bottom: a quarter turn clockwise.
	t.flipHead = lie.Leads == site.Right || lie.Leads == site.Top
	if process == site.Retransfer {
		t.flipHead = !t.flipHead
	}
	return t
}

func (t turn) copy(dst, src []uint8, solid bool) {
	for y := range t.from.H {
		for x := range t.from.W {
			v := src[y*t.from.W+x]
			if solid && v != 0 {
				v = 255
			}
			dst[t.index(x, y)] = v
		}
	}
}

func (t turn) index(x, y int) int {
	f, h := x, y
	if !t.alongX {
		f, h = y, x
	}
	if t.flipFeed {
		f = t.to.W - 1 - f
	}
	if t.flipHead {
		h = t.to.H - 1 - h
	}
	return h*t.to.W + f
}

// Run is what a whole run takes from the spool.
type Run struct {
	Sets   int   // panel sets: one a printed side, or one for both where the set has a tail
	Frames int   // panels
	Rolls  int   // rolls begun; 0 where the yield is not known
	Left   int   // sets left on the last roll
	Cost   int64 // price of the sets used, in hundredths; 0 where it is not known
	Web    unit.Length
}

// Need is what printing cards cards takes, with front and back printed or not.
// A panel set is used whether it carries ink or not (common practice, no
// source).
func Need(r site.Ribbon, cards int, front, back bool) Run {
	n := Run{Sets: cards}
	if front && back && r.BackAgain {
		n.Sets = 2 * cards
	}
	if !front && !back {
		n.Sets = 0
	}
	n.Frames = n.Sets * len(r.Panels)
	n.Web = unit.Length(n.Frames) * r.Pitch
	if r.Yield > 0 {
		n.Rolls = (n.Sets + r.Yield - 1) / r.Yield
		n.Left = n.Rolls*r.Yield - n.Sets
		n.Cost = (int64(n.Sets)*r.Price + int64(r.Yield)/2) / int64(r.Yield)
	}
	return n
}
