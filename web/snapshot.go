package web

import (
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"unspool/design"
	"unspool/folder"
	"unspool/proof"
)

// snapshot is one state of the programme, made ready. It never changes.
type snapshot struct {
	revision  int
	light     int // the revision since which the ribbon's inks are the same
	files     *folder.Folder
	programme *design.Programme
	pf        *proof.Proof
	people    *people
	cards     *shelf
	past      past
}

// past is the card that an earlier state of the programme showed last, for a page
// that holds its picture and only wants what has changed. Nil where there is none.
type past struct {
	revision, row int
	shown         *proof.Shown
}

// newSnapshot makes a state of the programme ready, with what still holds of the
// one before it; nil where there is none.
func newSnapshot(files *folder.Folder, old *snapshot) (*snapshot, error) {
	p := files.Programme
	s := &snapshot{revision: 1, files: files, programme: p}
	var last *proof.Proof
	if old != nil {
		s.revision = old.revision + 1
		if !anew(files, old) {
			last = old.pf
		}
		if last != nil && sameTexts(p, old.programme) {
			s.people = old.people
		}
	}
	var err error
	if s.pf, err = proof.New(p, files, proofOptions(last)); err != nil {
		return nil, err
	}
	if s.light = s.revision; old != nil && reflect.DeepEqual(lightOf(s.pf), lightOf(old.pf)) {
		s.light = old.light
	}
	if s.people == nil {
		s.people = newPeople(p, files.Rows())
	}
	s.cards = newShelf(nil)
	return s, nil
}

// anew says whether the files were read again, so that nothing made of the old ones
// holds: pictures may be others under the same names.
func anew(files *folder.Folder, old *snapshot) bool { return files.Roster != old.files.Roster }

// follow goes on from the state that this one takes the place of on the bench:
// with the card that a page holds and a worker that knows that card.
func (s *snapshot) follow(old *snapshot) {
	s.past = old.shownLast()
	if w := old.cards.giveUp(); w != nil {
		s.cards = newShelf(s.pf.WorkerAfter(w))
	}
}

// shownLast is the card looked at last that was proved, be it in an earlier
// state.
func (s *snapshot) shownLast() past {
	h := s.cards
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, k := range slices.Backward(h.kept) {
		if shown := k.shown.Load(); shown != nil {
			return past{s.revision, k.row, shown}
		}
	}
	return s.past
}

// since is what a page that holds the card of a revision has of it; nil where
// that is not known any more.
func (s *snapshot) since(revision int, now *proof.Shown) *proof.Shown {
	switch {
	case revision == s.revision:
		return now
	case revision == s.past.revision && now.Card.Row == s.past.row:
		return s.past.shown
	}
	return nil
}

// ahead proves the card that was looked at last in an earlier state, since the
// page will ask for it as soon as it knows of this one.
func (s *snapshot) ahead() {
	if s.past.shown != nil {
		s.card(s.past.row) // whoever asks is told of an error
	}
}

// people are the cards of the roster with what they are found by.
type people struct {
	rows   []proof.Row
	labels []string // what a person calls the card
	sought []string // key and label in lower case
}

func newPeople(p *design.Programme, rows []proof.Row) *people {
	l := &people{rows: rows, labels: make([]string, len(rows)), sought: make([]string, len(rows))}
	name := firstText(p)
	for i, r := range rows {
		if l.labels[i] = r.Key; name != nil {
			if text := strings.TrimSpace(name.Expand(r.Person)); text != "" {
				l.labels[i] = text
			}
		}
		l.sought[i] = strings.ToLower(r.Key + "\n" + l.labels[i])
	}
	return l
}

// firstText is the first text that differs from card to card: in most programmes
// the holder's name. Nil where there is none.
func firstText(p *design.Programme) *design.Template {
	for _, f := range p.Faces {
		if f == nil {
			continue
		}
		for i := range f.Elements {
			if t := f.Elements[i].Text; t != nil && !t.Text.Fixed() {
				return &t.Text
			}
		}
	}
	return nil
}

// has says whether row i is one that is looked for.
func (l *people) has(i int, find string) bool {
	return find == "" || strings.Contains(l.sought[i], find)
}

// shelf keeps the last few cards that were looked at, each proved once however
// many requests ask for it.
type shelf struct {
	desk chan *proof.Worker // as many as work at a time; nil where none was made yet
	mu   sync.Mutex
	kept []*kept // the one looked at last is the last
}

// shelfCards is how many cards are kept: a card has some 25 MB.
const shelfCards = 4

type kept struct {
	row   int
	once  sync.Once
	shown atomic.Pointer[proof.Shown] // nil until it is proved
	err   error
}

// newShelf is an empty shelf with a worker for it, nil where none was made yet.
func newShelf(w *proof.Worker) *shelf {
	h := &shelf{desk: make(chan *proof.Worker, runtime.GOMAXPROCS(0))}
	for range cap(h.desk) {
		h.desk <- w
		w = nil
	}
	return h
}

// giveUp hands out a worker that is not at work, if there is one, and leaves nil
// in its place.
func (h *shelf) giveUp() (w *proof.Worker) {
	for range cap(h.desk) {
		select {
		case next := <-h.desk:
			if w == nil {
				w, next = next, nil
			}
			h.desk <- next
		default:
		}
	}
	return w
}

// card is the card of a row of the roster, proved.
func (s *snapshot) card(row int) (*proof.Shown, error) {
	k := s.cards.take(row)
	k.once.Do(func() {
		w := <-s.cards.desk
		defer func() { s.cards.desk <- w }()
		if w == nil {
			w = s.pf.Worker()
		}
		var shown *proof.Shown
		if shown, k.err = w.Show(row, s.people.rows[row]); k.err == nil {
			k.shown.Store(shown)
		}
	})
	if k.err != nil {
		s.cards.drop(k)
	}
	return k.shown.Load(), k.err
}

func (h *shelf) take(row int) *kept {
	h.mu.Lock()
	defer h.mu.Unlock()
	if i := slices.IndexFunc(h.kept, func(k *kept) bool { return k.row == row }); i >= 0 {
		k := h.kept[i]
		h.kept = append(slices.Delete(h.kept, i, i+1), k)
		return k
	}
	if len(h.kept) >= shelfCards {
		h.kept = slices.Delete(h.kept, 0, 1)
	}
	k := &kept{row: row}
	h.kept = append(h.kept, k)
	return k
}

func (h *shelf) drop(k *kept) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.kept = slices.DeleteFunc(h.kept, func(o *kept) bool { return o == k })
}
