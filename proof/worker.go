package proof

import (
	"slices"

	"unspool/face"
	"unspool/light"
	"unspool/panel"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
)

// Worker proves cards one after another with buffers of its own: use one a
// goroutine.
type Worker struct {
	pf    *Proof
	sides []*sideWork
	sight sight
}

// sideWork is a side with the buffers to prove one card of it.
type sideWork struct {
	*side
	work    *face.Work
	panels  *panel.Panels
	repeat  *panel.Repeat // into panels
	scratch *panel.Panels // of a trial of another black rule
	made    *face.Composed
	codes   []face.Placed
	counts  []panel.Count // of the card in hand, by owner
	// whole: any part of the face may change from one card to the next, as it does
	// where the programme is changed between them.
	whole   bool
	counted bool       // counts are those of the face as it was composed last
	shown   *ShownSide // the last one
	asShown bool       // the face is as it was then
	// What no card changes: the separation outside dirty, and how many of its
	// photo dots each trial would send to resin.
	dirty      []plane.Rect
	settled    bool
	fixed      []panel.Count
	photoFixed []int
}

// Worker makes the buffers of one goroutine.
func (pf *Proof) Worker() *Worker { return pf.WorkerAfter(nil) }

// WorkerAfter is Worker with the buffers of a worker of an earlier state of the
// programme, which must not be used any more: what still holds of the card that
// it showed last is not made again. A nil last is none.
func (pf *Proof) WorkerAfter(last *Worker) *Worker {
	w := &Worker{pf: pf, sight: sight{edition: pf.options.Edition, probes: map[*light.Lit]*light.Probe{}}}
	for _, d := range pf.sides {
		if d == nil {
			continue
		}
		w.sides = append(w.sides, d.newWork(last.of(d.Side)))
		for _, l := range d.lit {
			for _, lit := range [...]*light.Lit{l.usual, l.grown} {
				if w.sight.probes[lit] = last.probe(lit); w.sight.probes[lit] == nil {
					w.sight.probes[lit] = lit.Probe()
				}
			}
		}
	}
	return w
}

// of is a side's work, nil where there is none.
func (w *Worker) of(s site.Side) *sideWork {
	if w == nil {
		return nil
	}
	if i := slices.IndexFunc(w.sides, func(d *sideWork) bool { return d.Side == s }); i >= 0 {
		return w.sides[i]
	}
	return nil
}

func (w *Worker) probe(l *light.Lit) *light.Probe {
	if w == nil {
		return nil
	}
	return w.sight.probes[l]
}

// newWork makes the buffers of a side, or takes over what it can of old.
func (d *side) newWork(old *sideWork) *sideWork {
	n := len(d.face.Elements) + 1
	s := &sideWork{side: d, counts: make([]panel.Count, n), fixed: make([]panel.Count, n), photoFixed: make([]int, len(d.trials))}
	if len(d.trials) > 0 {
		s.scratch = d.setup.NewPanels()
	}
	if old == nil {
		old = &sideWork{side: &side{}}
	}
	s.work, s.shown, s.asShown = d.plan.WorkAfter(old.work), old.shown, old.asShown
	if old.setup == d.setup && old.whole {
		s.panels, s.repeat, s.whole, s.settled, s.dirty = old.panels, old.repeat, true, old.settled, old.dirty
		s.counted = old.counted
		copy(s.counts, old.counts)
		return s
	}
	s.panels = d.setup.NewPanels()
	s.repeat = d.setup.Repeat(s.panels)
	return s
}

// Card proves one card. A bad card is a card with findings; an error means that
// the machine failed, such as a photo folder that went away.
func (w *Worker) Card(i int, row Row) (Card, error) {
	card := Card{Row: i, Key: row.Key, Findings: slices.Clone(row.Found)}
	for _, s := range w.sides {
		made, err := s.work.Compose(row.Person)
		if err != nil {
			return card, err
		}
		s.separate(made)
	}
	f := &finder{worker: w, card: &card, person: row.Person}
	for _, s := range w.sides {
		w.readSide(s, &card)
	}
	for _, s := range w.sides {
		f.side(s)
		for i := range s.codes {
			card.Drawn = append(card.Drawn, w.pf.drawn(s, &s.codes[i]))
		}
		card.Matched = append(card.Matched, s.matched()...)
		if w.pf.options.Advice {
			card.trials = append(card.trials, w.try(s, &card)...)
		}
	}
	f.missed()
	if row.Margins {
		w.margins(f)
	}
	slices.SortStableFunc(card.Findings, func(a, b Finding) int { return int(b.Level) - int(a.Level) })
	return card, nil
}

// separate brings the panels up to date with the face just composed. What no
// card changes is separated once; where the part that changes is not the same
// as before, all of it is done again.
func (s *sideWork) separate(made *face.Composed) {
	s.made, s.codes = made, made.Codes
	s.asShown = s.asShown && len(made.Redone) == 0
	dirty := made.Dirty
	if s.whole {
		dirty = []plane.Rect{s.panels.Rect()}
	}
	if !s.settled || !slices.Equal(s.dirty, dirty) {
		s.settle(made, dirty)
	}
	if s.whole && s.counted && len(made.Redone) == 0 {
		return
	}
	s.counted = true
	copy(s.counts, s.fixed)
	for _, r := range s.dirty {
		s.repeat.Split(made.Art, r, s.counts)
	}
}

// settle separates what no card changes.
func (s *sideWork) settle(made *face.Composed, dirty []plane.Rect) {
	s.settled, s.counted = true, false
	s.dirty = slices.Clone(dirty)
	s.repeat.Forget()
	clear(s.fixed)
	clear(s.photoFixed)
	for _, r := range s.panels.Rect().Without(s.dirty) {
		s.setup.Split(s.panels, made.Art, r, s.fixed)
		for i, t := range s.trials {
			s.photoFixed[i] += t.setup.PhotoResin(made.Art, r)
		}
	}
}

// readSide judges every code of the side at every reader. A code that could not
// be drawn is read by nobody.
func (w *Worker) readSide(s *sideWork, card *Card) {
	for i := range s.codes {
		card.Readings = append(card.Readings, w.judgeCode(s, &s.codes[i], s.panels)...)
	}
	for _, n := range s.made.Notes {
		if n.Kind != face.CodeRefused {
			continue
		}
		code := w.pf.codeIndex(s.Side, n.Element)
		for i := range w.pf.readers {
			r := Reading{Code: code, Reader: i}
			if w.pf.meant(&w.pf.readers[i], code) {
				r.Verdict = Fails
				r.Cause = Cause{"cannot-carry", cannotCarry, say.Words("refused"), say.Words("what the symbology carries"), 1}
			}
			card.Readings = append(card.Readings, r)
		}
	}
}

// judgeCode judges one code at every reader.
func (w *Worker) judgeCode(s *sideWork, c *face.Placed, p *panel.Panels) []Reading {
	out := make([]Reading, len(w.pf.readers))
	code := w.pf.codeIndex(s.Side, c.Element)
	for i := range w.pf.readers {
		if r := &w.pf.readers[i]; w.pf.meant(r, code) {
			x := exam{s.side, &w.sight, s.made.Art, p, c, r, s.lit[i]}
			out[i] = x.judge()
		}
		out[i].Code, out[i].Reader = code, i
	}
	return out
}

// meant says whether a reader is to read a code. It is where the reader takes
// the symbology and, for a slot, no other such code lies on the side the slot
// looks at; and where it takes no code of the card at all, since it then ought
// to take one of them.
func (pf *Proof) meant(r *reader, code int) bool {
	own := pf.Codes[code]
	takes := func(c CodeRef) bool { return pf.takes(r, c) }
	looks := func(c CodeRef) bool { return takes(c) && c.Side == r.Track.Side }
	switch {
	case !slices.ContainsFunc(pf.Codes, takes):
		return true
	case r.Kind == site.Slot && slices.ContainsFunc(pf.Codes, looks):
		return looks(own)
	}
	return takes(own)
}

// takes says whether a reader is set to the symbology of a code.
func (pf *Proof) takes(r *reader, c CodeRef) bool {
	kind := pf.element(c).Code.Kind
	return slices.ContainsFunc(r.Accepts, func(a site.Accept) bool { return a.Kind == kind })
}

// side is a printed side's work.
func (w *Worker) side(s site.Side) *sideWork { return w.of(s) }

func (pf *Proof) codeIndex(s site.Side, element int) int {
	return slices.IndexFunc(pf.Codes, func(c CodeRef) bool { return c.Side == s && c.Element == element })
}
