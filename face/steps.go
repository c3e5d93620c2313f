package face

import (
	"unspool/design"
	"unspool/plane"
)

// Step is an X that a code may have, and the room that the code then takes.
type Step struct {
	X    int // dots
	Need int // dots along the code, quiet zones included
	// Across is that of a two-dimensional code in the other direction; 0 of a linear
	// one, whose bars may have any height.
	Across int
}

// Steps lists what X a code laid as p could have on a face, rising from the
// smallest that is chosen automatically, up to the first that needs more room
// than the face has. With the ratio left open it is the smallest legal one that
// counts, as where X is chosen automatically. A PDF417 may take another form in
// another box; the steps are those of the form it has.
func (p *Placed) Steps(c *design.Code, g plane.Grid) (all []Step) {
	most, wide := g.W, g.H
	if !p.AlongX {
		most, wide = g.H, g.W
	}
	for x := leastAuto; x <= maxAuto; x++ {
		s, ok := p.step(c, g, x)
		if !ok {
			continue
		}
		if all = append(all, s); s.Need > most || s.Across > wide {
			return all
		}
	}
	return all
}

// step is the room that the code takes at X dots; ok is false where it cannot
// have that X.
func (p *Placed) step(c *design.Code, g plane.Grid, x int) (s Step, ok bool) {
	if p.Matrix != nil {
		n := groundOf(c, p.Kind, g, plane.Rect{})
		s.X = x
		s.Need, s.Across = n.needs(p.Matrix.W, p.Matrix.H, x)
		return s, n.even(x)
	}
	pitch := g.DX
	if !p.AlongX {
		pitch = g.DY
	}
	for _, size := range candidates(p.Kind, p.Logical, c, pitch, x) {
		size.Reduce = c.Reduce
		if need := needs(p.Kind, p.Logical, size); c.Reduce < x && (!ok || need < s.Need) {
			s, ok = Step{X: x, Need: need}, true
		}
	}
	return s, ok
}
