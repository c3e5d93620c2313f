package face

import (
	"unspool/design"
	"unspool/face/fill"
	"unspool/face/picture"
	"unspool/plane"
)

// Work holds the buffers with which one goroutine composes cards of a plan.
type Work struct {
	pl     *Plan
	art    *Art
	layers []layer      // by part, for those that are drawn for each person
	shown  []*layer     // by part; nil where the part is hidden
	drawn  []plane.Rect // what this card's elements drew
	last   []plane.Rect // what the last card's did
	dirty  []plane.Rect
	// portrait is shown instead of everybody's photo; nil shows their own.
	portrait *picture.Image
	redo     []plane.Rect
	out      Composed

	raster fill.Raster
	scaler picture.Scaler
	setter *setter
}

// Work makes the buffers for one goroutine.
func (pl *Plan) Work() *Work {
	w := newWork(pl)
	w.art = pl.base.clone()
	w.layers = make([]layer, len(pl.parts))
	w.shown = make([]*layer, len(pl.parts))
	return w
}

// ShowPortrait makes every photo show this picture instead of the person's own.
func (w *Work) ShowPortrait(data []byte) (err error) {
	w.portrait, err = picture.Decode(data)
	return err
}

func newWork(pl *Plan) *Work { return &Work{pl: pl, setter: newSetter(pl.fonts)} }

// Compose makes the face of one person's card. What is wrong with the person's
// data comes as notes, not as an error. The result is valid until the next
// Compose of the same Work.
func (w *Work) Compose(person design.Person) (*Composed, error) {
	if person == nil {
		person = nobody{}
	}
	pl := w.pl
	w.dirty = append(w.dirty[:0], pl.boxes...)
	w.drawn = w.drawn[:0]
	for i := range pl.parts {
		pt := &pl.parts[i]
		w.shown[i] = w.layerOf(pt, person)
		if w.shown[i] == nil || !pt.varies {
			continue
		}
		for k := range w.shown[i].coats {
			w.drawn = append(w.drawn, w.shown[i].coats[k].rect)
		}
	}
	w.dirty = merge(append(w.dirty, w.drawn...))
	w.recompose()
	w.gather()
	return &w.out, nil
}

// layerOf is the part's layer for a person, nil where it is hidden.
func (w *Work) layerOf(pt *part, person design.Person) *layer {
	if !holds(pt.Show, person) {
		return nil
	}
	if pt.drawn != nil {
		return pt.drawn
	}
	l := &w.layers[pt.index]
	w.draw(l, pt, person)
	return l
}

// recompose composes anew what this card or the last one changed.
func (w *Work) recompose() {
	pl := w.pl
	w.redo = merge(append(append(w.redo[:0], w.drawn...), w.last...))
	for _, r := range w.redo {
		w.art.copy(pl.floor, r)
		for i := pl.first; i < len(pl.parts); i++ {
			if w.shown[i] != nil {
				w.shown[i].lay(w.art, r)
			}
		}
	}
	w.last = append(w.last[:0], w.drawn...)
}

// gather fills in what Compose gives back.
func (w *Work) gather() {
	o := &w.out
	o.Art, o.Dirty = w.art, w.dirty
	o.Codes, o.Texts, o.Notes = o.Codes[:0], o.Texts[:0], o.Notes[:0]
	for _, l := range w.shown {
		if l != nil {
			o.Codes = append(o.Codes, l.codes...)
			o.Texts = append(o.Texts, l.texts...)
			o.Notes = append(o.Notes, l.notes...)
		}
	}
}

// merge joins rectangles that overlap until none do, in place; empty ones go. The
// order is that of the first of each.
func merge(rects []plane.Rect) []plane.Rect {
	out := rects[:0]
	for _, r := range rects {
		if r.Empty() {
			continue
		}
		for i := 0; i < len(out); i++ {
			if !out[i].And(r).Empty() {
				r = r.Or(out[i])
				out = append(out[:i], out[i+1:]...)
				i = -1
			}
		}
		out = append(out, r)
	}
	return out
}

// draw renders a part for a person.
func (w *Work) draw(l *layer, pt *part, person design.Person) {
	l.reset()
	switch {
	case pt.Picture != nil:
		w.drawPicture(l, pt)
	case pt.Photo != nil:
		w.drawPhoto(l, pt, person)
	case pt.Text != nil:
		w.drawText(l, pt, person)
	case pt.Code != nil:
		w.drawCode(l, pt, person)
	case pt.Shape != nil:
		w.drawShape(l, pt)
	}
}
