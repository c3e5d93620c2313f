package web

import (
	"unspool/design"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// room is what an element may take up on its side: what the head reaches, clear
// of keep-outs and other elements. What it lies on or over already, such as a
// ground, does not hold it back.
type room struct {
	box        plane.Box
	reach      plane.Box
	neighbours []plane.Box
}

// roomOf is the room round an element.
func roomOf(p *design.Programme, side site.Side, element int) room {
	u := p.Printer.Unprinted
	r := room{box: p.Faces[side].Elements[element].Box, reach: plane.Box{X: u, Y: u, W: p.Card.W - 2*u, H: p.Card.H - 2*u}}
	add := func(b plane.Box) {
		if !overlap(b, r.box) {
			r.neighbours = append(r.neighbours, b)
		}
	}
	for i := range p.Faces[side].Elements {
		if i != element {
			add(p.Faces[side].Elements[i].Box)
		}
	}
	for _, k := range p.Card.KeepOuts {
		if k.Side == side {
			add(k.Box)
		}
	}
	return r
}

// overlap says whether two boxes share more than an edge. A line has no width
// and still lies in what it crosses.
func overlap(a, b plane.Box) bool {
	return a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H
}

// A span is where a box lies in one direction.
type span struct{ from, to unit.Length }

func across(b plane.Box) span { return span{b.X, b.X + b.W} }
func down(b plane.Box) span   { return span{b.Y, b.Y + b.H} }

func (s span) meets(o span) bool { return s.from < o.to && o.from < s.to }

// free is how far the box may reach in one direction, the other given.
func (r room) free(along, beside func(plane.Box) span) span {
	own, f := along(r.box), along(r.reach)
	for _, n := range r.neighbours {
		if !beside(n).meets(beside(r.box)) {
			continue
		}
		if at := along(n); at.to <= own.from {
			f.from = max(f.from, at.to)
		} else if at.from >= own.to {
			f.to = min(f.to, at.from)
		}
	}
	return f
}

// Steps that a new length is rounded up to, the first that there is room for.
var roundings = [...]unit.Length{unit.Millimetre / 10, unit.Millimetre / 100}

// grown is the box made longer in one direction, to at least need: as little as
// can be written, and kept where its content is aligned. ok is false where there
// is no room.
func (r room) grown(alongX bool, need unit.Length, align design.Align) (b plane.Box, ok bool) {
	own, free := across(r.box), r.free(across, down)
	if !alongX {
		own, free = down(r.box), r.free(down, across)
	}
	for _, step := range roundings {
		length := (need + step - 1) / step * step
		if length > free.to-free.from {
			continue
		}
		from := own.from
		switch more := length - (own.to - own.from); align {
		case design.Middle:
			from -= more / 2 / roundings[1] * roundings[1]
		case design.End:
			from -= more
		}
		from = max(min(from, free.to-length), free.from)
		b = r.box
		if alongX {
			b.X, b.W = from, length
		} else {
			b.Y, b.H = from, length
		}
		return b, true
	}
	return b, false
}

// inside is the box moved by as little as brings it within what the head
// reaches, and how far that is; ok is false where it does not fit or would come
// to lie on something.
func (r room) inside() (b plane.Box, by unit.Length, ok bool) {
	b = r.box
	if b.W > r.reach.W || b.H > r.reach.H {
		return b, 0, false
	}
	b.X = max(min(b.X, r.reach.X+r.reach.W-b.W), r.reach.X)
	b.Y = max(min(b.Y, r.reach.Y+r.reach.H-b.H), r.reach.Y)
	for _, n := range r.neighbours {
		if overlap(n, b) {
			return b, 0, false
		}
	}
	by = max(b.X-r.box.X, r.box.X-b.X, b.Y-r.box.Y, r.box.Y-b.Y)
	return b, by, by > 0
}
