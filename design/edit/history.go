package edit

// History is the states a file has been in, to go back and forth between. It
// keeps a bounded number of them and forgets the oldest. It is not for use by
// several goroutines at once.
type History struct {
	past, future []*Source // the nearest last
	now          *Source
	limit        int
}

// NewHistory begins with a file and keeps up to limit states to go back to, at
// least one.
func NewHistory(now *Source, limit int) *History {
	return &History{now: now, limit: max(limit, 1)}
}

// Now is the present state.
func (h *History) Now() *Source { return h.now }

// Do makes next the present state. What was undone before is forgotten. A state
// with the same text as the present one is no step.
func (h *History) Do(next *Source) {
	if next.src == h.now.src {
		return
	}
	h.past = append(h.past, h.now)
	if over := len(h.past) - h.limit; over > 0 {
		h.past = append([]*Source(nil), h.past[over:]...)
	}
	h.now, h.future = next, nil
}

// Undo goes back one step and says whether there was one.
func (h *History) Undo() bool { return h.step(&h.past, &h.future) }

// Redo takes the last Undo back and says whether there was one.
func (h *History) Redo() bool { return h.step(&h.future, &h.past) }

func (h *History) step(from, to *[]*Source) bool {
	n := len(*from)
	if n == 0 {
		return false
	}
	*to = append(*to, h.now)
	h.now, *from = (*from)[n-1], (*from)[:n-1]
	return true
}

// Steps is how many steps Undo and Redo can go.
func (h *History) Steps() (back, forth int) { return len(h.past), len(h.future) }
