package web

import (
	"context"
	"net/http"
	"slices"

	"unspool/design/edit"
	"unspool/proof"
	"unspool/site"
)

// cureForm asks what the bench itself can do about a finding of a card or, with
// Do, to do it.
type cureForm struct {
	Revision int    `json:"revision"`
	Row      int    `json:"row"`
	ID       string `json:"id"`
	Side     string `json:"side"`
	Element  string `json:"element"`
	Reader   string `json:"reader"`
	Do       bool   `json:"do"`
	State    string `json:"state"` // what the maker says of the black resin, carbon or not carbon; else ""
}

func (b *Bench) postRemedy(r *http.Request) (any, error) {
	var to cureForm
	if err := take(r, &to); err != nil {
		return nil, err
	}
	if to.State != "" {
		return b.after(b.stateResin(to.Revision, to.State))
	}
	side, err := sideOf(to.Side)
	if err != nil {
		return nil, err
	}
	cure, err := b.cure(r.Context(), to, side)
	if err != nil || !to.Do {
		return struct {
			Remedy *remedy `json:"remedy"` // null where there is none
		}{cure}, err
	}
	if cure == nil {
		return nil, conflict{"the bench knows no remedy that cures this card and harms nothing", "lay the element out by hand"}
	}
	return b.after(b.take(to.Revision, cure))
}

// take makes the changes of a remedy in the programme, if it still is the one that
// the remedy was tried on.
func (b *Bench) take(revision int, r *remedy) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if revision != b.now.Load().revision {
		return errOld
	}
	return b.edit("", r.changes...)
}

// stateResin writes down what the ribbon's maker says of the black resin. It is a
// fact that only the user can know, so no proof is asked to bear it out.
func (b *Bench) stateResin(revision int, resin string) error {
	if resin != site.CarbonYes.String() && resin != site.CarbonNo.String() {
		return refused{"the resin is neither carbon nor not carbon", "load the page again"}
	}
	v := edit.Text(resin)
	return b.take(revision, &remedy{changes: []change{set(edit.Keys("ribbon", "resin"), &v)}})
}

// cure is the remedy that a proof of the card bears out; of several the first
// after which the fewest readings fail; nil where none is.
func (b *Bench) cure(ctx context.Context, to cureForm, side site.Side) (*remedy, error) {
	b.mu.Lock()
	s, history := b.now.Load(), b.draft.history
	var src *edit.Source
	if history != nil {
		src = history.Now()
	}
	b.mu.Unlock()
	switch {
	case to.Revision != s.revision:
		return nil, errOld
	case to.Row < 0 || to.Row >= len(s.people.rows):
		return nil, missing{"there is no such card", "choose one from the list"}
	case src == nil:
		return nil, nil
	}
	card, err := s.card(to.Row)
	if err != nil {
		return nil, err
	}
	was := s.conditionOf(card)
	for _, f := range was.findings {
		if f.ID != to.ID || f.Side != side || f.Element != to.Element || f.Reader != to.Reader {
			continue
		}
		q, ok := patientOf(s.programme, card, f)
		if !ok {
			return nil, nil
		}
		b.cures.Lock()
		defer b.cures.Unlock()
		return s.best(ctx, src, q, was, to.Row)
	}
	return nil, nil
}

// best tries the remedies on the card, the smallest first, until nothing fails.
func (s *snapshot) best(ctx context.Context, src *edit.Source, q patient, was condition, row int) (best *remedy, err error) {
	least := 0
	for _, r := range q.remedies() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		is, ok := s.tried(src, r.changes, row)
		if !ok || !was.curedBy(is, q.finding) {
			continue
		}
		if fails := is.fails(); best == nil || fails < least {
			best, least = &r, fails
		}
		if least == 0 {
			break
		}
	}
	return best, nil
}

// tried is the condition of a card after changes; ok is false where they make no
// sound programme or the card cannot be proved.
func (s *snapshot) tried(src *edit.Source, changes []change, row int) (is condition, ok bool) {
	next := src
	for _, c := range changes {
		made, err := c(next)
		if err == nil && made != nil {
			next, err = next.Apply(made)
		}
		if err != nil {
			return is, false
		}
	}
	files, err := s.files.With(next.Bytes())
	if err != nil {
		return is, false
	}
	other, err := newSnapshot(files, s)
	if err != nil {
		return is, false
	}
	card, err := other.card(row)
	if err != nil {
		return is, false
	}
	return other.conditionOf(card), true
}

// condition is all that is found of a card and what every reader makes of it.
type condition struct {
	findings []proof.Finding
	readings []proof.Reading
}

// conditionOf is a card's condition, with what is wrong with the programme
// itself.
func (s *snapshot) conditionOf(card *proof.Shown) condition {
	return condition{append(s.pf.Fixed(), card.Card.Findings...), card.Card.Readings}
}

// fails counts the readings that fail.
func (c condition) fails() (n int) {
	for _, r := range c.readings {
		if r.Verdict == proof.Fails {
			n++
		}
	}
	return n
}

// stops says whether a reader is stopped at an element.
func (c condition) stops(reader, element string) bool {
	return slices.ContainsFunc(c.findings, func(x proof.Finding) bool {
		return x.Level == proof.Stop && x.Reader == reader && x.Element == element
	})
}

// has is the level at which something alike was found; ok is false where it was
// not.
func (c condition) has(f proof.Finding) (level proof.Level, ok bool) {
	for _, x := range c.findings {
		if x.ID == f.ID && x.Side == f.Side && x.Element == f.Element && x.Reader == f.Reader {
			level, ok = max(level, x.Level), true
		}
	}
	return level, ok
}

// curedBy says whether a finding is gone in another condition of the same card
// and nothing has become worse: no reader reads less, and what is found besides
// was found before, as grave. A reader that now sees bars where it saw none may
// have less than a stop to say of them.
func (c condition) curedBy(is condition, f proof.Finding) bool {
	if _, still := is.has(f); still {
		return false
	}
	for _, x := range is.findings {
		level, before := c.has(x)
		freed := x.Reader != "" && c.stops(x.Reader, x.Element) && !is.stops(x.Reader, x.Element)
		if x.Level > proof.Note && (!before || x.Level > level) && !freed {
			return false
		}
	}
	return noneWorse(c.readings, is.readings)
}

// noneWorse says whether every reader reads every code of a card as well as
// before, or better.
func noneWorse(was, is []proof.Reading) bool {
	worse := [...]int{proof.Reads: 0, proof.Little: 1, proof.Fails: 2, proof.NotMeant: 3}
	now := map[[2]int]proof.Verdict{}
	for _, r := range is {
		now[[2]int{r.Code, r.Reader}] = r.Verdict
	}
	for _, r := range was {
		if r.Verdict != proof.NotMeant && worse[now[[2]int{r.Code, r.Reader}]] > worse[r.Verdict] {
			return false
		}
	}
	for _, r := range is {
		if r.Verdict == proof.Fails && !meantIn(was, r) {
			return false
		}
	}
	return true
}

func meantIn(readings []proof.Reading, like proof.Reading) bool {
	for _, r := range readings {
		if r.Code == like.Code && r.Reader == like.Reader {
			return r.Verdict != proof.NotMeant
		}
	}
	return false
}
