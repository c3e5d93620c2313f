package web

import (
	"runtime"
	"slices"
	"strings"
	"sync"

	"unspool/design"
	"unspool/folder"
	"unspool/proof"
)

// snapshot is one state of the programme, made ready. It never changes.
type snapshot struct {
	revision  int
	files     *folder.Folder
	programme *design.Programme
	pf        *proof.Proof
	people    *people
	cards     shelf
}

// newSnapshot makes a state of the programme ready, with what still holds of the
// one before it; nil where there is none.
func newSnapshot(files *folder.Folder, old *snapshot) (*snapshot, error) {
	p := files.Programme
	s := &snapshot{revision: 1, files: files, programme: p}
	var last *proof.Proof
	if old != nil {
		s.revision, last = old.revision+1, old.pf
		if files.Roster == old.files.Roster && sameTexts(p, old.programme) {
			s.people = old.people
		}
	}
	var err error
	if s.pf, err = proof.New(p, files, proofOptions(last)); err != nil {
		return nil, err
	}
	if s.people == nil {
		s.people = newPeople(p, files.Rows())
	}
	s.cards.desk = make(chan *proof.Worker, runtime.GOMAXPROCS(0))
	for range cap(s.cards.desk) {
		s.cards.desk <- nil
	}
	return s, nil
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
	shown *proof.Shown
	err   error
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
		k.shown, k.err = w.Show(row, s.people.rows[row])
	})
	if k.err != nil {
		s.cards.drop(k)
	}
	return k.shown, k.err
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
