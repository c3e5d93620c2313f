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
	layers []ownLayer // by part, for those that are drawn for each person
	seen   []seen     // by part, on the face as it is
	shown  []*layer   // by part; nil where the part is hidden
	dirty  []plane.Rect
	redo   []plane.Rect // what this card changes
	// portrait is shown instead of everybody's photo; nil shows their own.
	portrait *picture.Image
	photo    decoded
	out      Composed

	raster fill.Raster
	scaler picture.Scaler
	setter *setter
}

// ownLayer is a part drawn for the person in hand.
type ownLayer struct {
	layer
	id *identity // of the part; nil where nothing is drawn yet
	of source
}

// seen is what the face shows of a part.
type seen struct {
	id    *identity // nil where it is not shown
	rects []plane.Rect
}

// Work makes the buffers for one goroutine.
func (pl *Plan) Work() *Work {
	w := newWork(pl)
	w.art = pl.base.Clone()
	w.size()
	for i := range pl.parts {
		if pt := &pl.parts[i]; !pt.varies {
			w.seen[i] = seen{pt.id, pt.drawn.cover(nil)}
		}
	}
	return w
}

// WorkAfter is Work with the buffers of another Work, which must not be used any
// more: what that drew and what still holds is not drawn again. It is meant for
// the plan of an earlier state of the same programme. A nil last is none.
func (pl *Plan) WorkAfter(last *Work) *Work {
	if last == nil || last.pl.grid != pl.grid || last.portrait != nil {
		return pl.Work()
	}
	w := last
	if w.pl.fonts != pl.fonts {
		w.setter = newSetter(pl.fonts)
	}
	w.pl = pl
	for i := len(pl.parts); i < len(w.seen); i++ {
		w.redo = append(w.redo, w.seen[i].rects...)
	}
	w.size()
	return w
}

// size makes room for as many parts as the plan has.
func (w *Work) size() {
	n := len(w.pl.parts)
	w.layers = append(w.layers, make([]ownLayer, max(0, n-len(w.layers)))...)[:n]
	w.seen = append(w.seen, make([]seen, max(0, n-len(w.seen)))...)[:n]
	w.shown = resize(w.shown, n)
}

// ShowPortrait makes every photo show this picture instead of the person's own.
func (w *Work) ShowPortrait(data []byte) (err error) {
	w.portrait, err = picture.Decode(data)
	for i := range w.layers {
		w.layers[i].id = nil
	}
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
	w.dirty = append(w.dirty[:0], w.pl.boxes...)
	for i := range w.pl.parts {
		pt := &w.pl.parts[i]
		l, same := w.layerOf(pt, person)
		w.shown[i] = l
		w.see(&w.seen[i], pt, l, same)
		if pt.varies {
			w.dirty = l.cover(w.dirty)
		}
	}
	w.dirty = merge(w.dirty)
	w.recompose()
	w.gather()
	return &w.out, nil
}

// layerOf is the part's layer for a person, nil where it is hidden, and whether
// it is the one that it was on the last card that showed it.
func (w *Work) layerOf(pt *part, person design.Person) (l *layer, same bool) {
	if !holds(pt.Show, person) {
		return nil, false
	}
	if pt.drawn != nil {
		return pt.drawn, true
	}
	own, of := &w.layers[pt.index], w.source(pt, person)
	if own.id == pt.id && own.of.is(of) {
		return &own.layer, true
	}
	own.id, own.of = pt.id, of
	w.draw(&own.layer, pt, of)
	return &own.layer, false
}

// see takes down what is now seen of a part. Where it is not what it was, both
// places have to be composed anew.
func (w *Work) see(s *seen, pt *part, l *layer, same bool) {
	if l == nil && s.id == nil || l != nil && s.id == pt.id && same {
		return
	}
	w.redo = append(w.redo, s.rects...)
	s.id, s.rects = nil, l.cover(s.rects[:0])
	if l != nil {
		s.id = pt.id
	}
	w.redo = append(w.redo, s.rects...)
}

// recompose composes anew what this card changes on the face.
func (w *Work) recompose() {
	w.redo = merge(w.redo)
	for _, r := range w.redo {
		w.art.copy(w.pl.floor, r)
		for i := w.pl.first; i < len(w.pl.parts); i++ {
			if w.shown[i] != nil {
				w.shown[i].lay(w.art, r)
			}
		}
	}
	w.redo, w.out.Redone = w.out.Redone[:0], w.redo
}

// gather fills in what Compose gives back.
func (w *Work) gather() {
	o := &w.out
	o.Art, o.Dirty = w.art, w.dirty
	o.Codes, o.Texts, o.Zones, o.Notes = o.Codes[:0], o.Texts[:0], o.Zones[:0], o.Notes[:0]
	for _, l := range w.shown {
		if l != nil {
			o.Codes = append(o.Codes, l.codes...)
			o.Texts = append(o.Texts, l.texts...)
			o.Zones = append(o.Zones, l.zones...)
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

// draw renders a part.
func (w *Work) draw(l *layer, pt *part, of source) {
	l.reset()
	switch {
	case pt.Picture != nil:
		w.drawPicture(l, pt)
	case pt.Photo != nil:
		w.drawPhoto(l, pt, of)
	case pt.Text != nil:
		w.drawText(l, pt, of.text)
	case pt.Code != nil:
		w.drawCode(l, pt, of.text)
	case pt.MRZ != nil:
		w.drawZone(l, pt, of)
	case pt.Shape != nil:
		w.drawShape(l, pt)
	}
}
