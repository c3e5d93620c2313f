package face

import (
	"unspool/code"
	"unspool/design"
	"unspool/plane"
	"unspool/unit"
)

// Trial is what a text would be as a code that nobody has drawn.
type Trial struct {
	X int // dots of a narrow element or a module
	// Text is what the symbol carries, check characters included.
	Text string
	// Need is the room that the symbol takes with its quiet zones, Room what its box
	// has: along the symbol and across it. A linear one needs no room across.
	Need, Room [2]unit.Length
}

// Fits says whether the box has the room.
func (t Trial) Fits() bool { return t.Need[0] <= t.Room[0] && t.Need[1] <= t.Room[1] }

// Try works out what a text would take as a code of kind k in the place of c, with
// narrow elements of x dots or, where none of those can be drawn, the next number
// of dots that can. Of the ratios it takes the least legal one. The error is that
// of the symbology.
func Try(k code.Kind, o code.Options, c *design.Code, text string, g plane.Grid, box plane.Box, x int) (Trial, error) {
	place := *c
	place.Kind, place.Options = k.Name, o
	if !k.Family.Linear() {
		return tryMatrix(k, &place, text, g, g.Box(box), x)
	}
	l, err := k.Encode(text, o)
	if err != nil {
		return Trial{}, err
	}
	r := runOf(&place, g, g.Box(box))
	t := Trial{X: x, Text: l.Text, Room: [2]unit.Length{r.pitch.Span(r.room), 0}}
	for t.X <= maxAuto {
		if sizes := code.Sizes(k, r.pitch, t.X); len(sizes) > 0 {
			t.Need[0] = r.pitch.Span(needs(k, l, sizes[0]))
			return t, nil
		}
		t.X++
	}
	_, err = code.PickSize(k, l, r.pitch, x, 0)
	return Trial{}, err
}

func tryMatrix(k code.Kind, c *design.Code, text string, g plane.Grid, box plane.Rect, x int) (Trial, error) {
	n := groundOf(c, k, g, box)
	for x < maxAuto && !n.even(x) {
		x++
	}
	m, err := k.Fit(text, c.Options, func(w, h int) int {
		if a, d := n.needs(w, h/k.RowX, x); a > n.w || d > n.h {
			return 0
		}
		return 1
	})
	if err != nil {
		return Trial{}, err
	}
	across, down := n.needs(m.W, m.H, x)
	first, second := g.DX, g.DY
	if n.turn%2 == 1 {
		first, second = second, first
	}
	return Trial{X: x, Text: m.Text,
		Need: [2]unit.Length{first.Span(across), second.Span(down)},
		Room: [2]unit.Length{first.Span(n.w), second.Span(n.h)}}, nil
}
