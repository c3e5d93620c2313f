package face

import (
	"reflect"
	"slices"

	"unspool/design"
	"unspool/plane"
)

// earlier is a plan of an earlier state of the same programme, from which a new
// one takes what still holds. The zero value has nothing to give.
type earlier struct {
	parts []part
	plan  *Plan // nil where the raster is another, so that nothing drawn still holds
}

// newEarlier looks at last for what the plan pl, whose raster is known, may take.
func newEarlier(last, pl *Plan) *earlier {
	if last == nil {
		return &earlier{}
	}
	pl.fonts = last.fonts
	old := &earlier{parts: last.parts}
	if last.grid == pl.grid {
		old.plan = last
	}
	return old
}

// part is the earlier part at place i where the element there is still the same.
func (o *earlier) part(i int, e *design.Element) (part, bool) {
	if o.plan == nil || i >= len(o.parts) || !reflect.DeepEqual(unplaced(*e), unplaced(*o.parts[i].Element)) {
		return part{}, false
	}
	pt := o.parts[i]
	pt.Element = e
	return pt, true
}

// unplaced is an element without its places in the programme file, which move
// when a line is added above it.
func unplaced(e design.Element) design.Element {
	e.Pos = design.Pos{}
	if e.Show != nil {
		c := *e.Show
		c.Pos = design.Pos{}
		e.Show = &c
	}
	switch {
	case e.Photo != nil:
		p := *e.Photo
		p.File.Pos = design.Pos{}
		e.Photo = &p
	case e.Text != nil:
		t := *e.Text
		t.Text.Pos = design.Pos{}
		e.Text = &t
	case e.Code != nil:
		c := *e.Code
		c.Text.Pos = design.Pos{}
		e.Code = &c
	case e.MRZ != nil:
		m := *e.MRZ
		m.Lines = slices.Clone(m.Lines)
		for _, t := range m.Templates() {
			t.Pos = design.Pos{}
		}
		e.MRZ = &m
	}
	return e
}

// artwork is a decoded picture, read anew only where no earlier part had it.
func (o *earlier) artwork(a Assets, name string) (artwork, error) {
	for i := range o.parts {
		if p := &o.parts[i]; p.Picture != nil && p.Picture.File == name {
			return p.art, nil
		}
	}
	return loadArtwork(a, name)
}

// font is an element's list of fonts, read anew only where no earlier part had it.
func (o *earlier) font(s *fontStore, e *design.Element) (*fontList, error) {
	name, bold := fontOf(e)
	for i := range o.parts {
		p := &o.parts[i]
		if was, wasBold := fontOf(p.Element); p.font != nil && was == name && wasBold == bold {
			return p.font, nil
		}
	}
	return s.list(name, bold)
}

// fontOf is the font that an element names.
func fontOf(e *design.Element) (name string, bold bool) {
	switch {
	case e.Text != nil:
		return e.Text.Font, e.Text.Bold
	case e.MRZ != nil:
		return e.MRZ.Font, false
	}
	return "", false
}

// compose is the fixed parts of pl below the one at place to, given what the
// earlier plan composed of its own below the one at place wasTo: only where a part
// has changed is it done anew. was must not be changed; nil is none.
func (o *earlier) compose(pl *Plan, to int, was *Art, wasTo int) *Art {
	if was == nil {
		a := NewArt(pl.grid)
		pl.layFixed(a, to, a.Rect())
		return a
	}
	var redo []plane.Rect
	for i := range max(to, wasTo) {
		now, before := steady(pl.parts[:to], i), steady(o.parts[:wasTo], i)
		if now.id != before.id {
			redo = before.drawn.cover(now.drawn.cover(redo))
		}
	}
	if redo = merge(redo); len(redo) == 0 {
		return was
	}
	a := was.Clone()
	for _, r := range redo {
		a.bare(r)
		pl.layFixed(a, to, r)
	}
	return a
}

// steady is the part at place i where there is one and no card changes it.
func steady(parts []part, i int) part {
	if i >= len(parts) || parts[i].varies {
		return part{}
	}
	return parts[i]
}
