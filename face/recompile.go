package face

import (
	"reflect"

	"unspool/design"
)

// earlier is a plan of an earlier state of the same programme, from which a new
// one takes what still holds. The zero value has nothing to give.
type earlier struct {
	parts []part
	plan  *Plan // nil where the raster is another, so that nothing drawn still holds
	kept  int   // parts taken over whole
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
	o.kept++
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

// font is a text's list of fonts, read anew only where no earlier part had it.
func (o *earlier) font(s *fontStore, t *design.Text) (*fontList, error) {
	for i := range o.parts {
		if p := &o.parts[i]; p.Text != nil && p.Text.Font == t.Font && p.Text.Bold == t.Bold {
			return p.font, nil
		}
	}
	return s.list(t.Font, t.Bold)
}

// takeFaces takes over what was composed of the fixed parts where all of them
// were, and says whether it did.
func (o *earlier) takeFaces(pl *Plan) bool {
	if o.plan == nil || o.kept != len(pl.parts) || o.kept != len(o.parts) {
		return false
	}
	pl.first, pl.floor, pl.base, pl.boxes = o.plan.first, o.plan.floor, o.plan.base, o.plan.boxes
	return true
}
