package web

import (
	"net/http"
	"strings"
	"time"

	"unspool/proof"
)

type runForm struct {
	State    runState     `json:"state"`
	Revision int          `json:"revision"`
	Done     int          `json:"done"`
	Total    int          `json:"total"`
	Rate     *number      `json:"rate"` // cards a second; null where it is not known yet
	Left     *number      `json:"left"` // seconds
	Fault    string       `json:"fault,omitempty"`
	Summary  *summaryForm `json:"summary,omitempty"`
}

type summaryForm struct {
	Cells   []cellForm  `json:"cells"`
	Groups  []groupForm `json:"groups"`
	Stopped int         `json:"stopped"`
}

type cellForm struct {
	Code     int        `json:"code"`
	Reader   int        `json:"reader"`
	Counts   countsForm `json:"counts"`
	Lowest   number     `json:"lowest"`
	WorstRow int        `json:"worstRow"`
}

type countsForm struct {
	Reads  int `json:"reads"`
	Little int `json:"little"`
	Fails  int `json:"fails"`
	None   int `json:"none"`
}

type groupForm struct {
	findingForm
	Cards int   `json:"cards"`
	Rows  []int `json:"rows"`
}

func (b *Bench) current() *run {
	b.runs.Lock()
	defer b.runs.Unlock()
	return b.run
}

// runForm says how far the run is and what came of it so far.
func (b *Bench) runForm() runForm {
	r := b.current()
	if r == nil {
		s := b.now.Load()
		return runForm{State: idle, Revision: s.revision, Total: len(s.people.rows)}
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	f := runForm{State: r.state, Revision: r.revision, Done: r.done, Total: len(r.people.rows), Fault: r.fault}
	if rate, left, ok := r.rate(time.Now()); ok {
		a, z := number(rate), number(left)
		f.Rate, f.Left = &a, &z
	}
	f.Summary = summaryOf(r.tally.Summary())
	return f
}

func summaryOf(s *proof.Summary) *summaryForm {
	f := &summaryForm{Cells: []cellForm{}, Groups: []groupForm{}, Stopped: s.Stopped}
	for _, c := range s.Cells {
		f.Cells = append(f.Cells, cellForm{c.Code, c.Reader, countsForm{c.Verdicts[proof.Reads], c.Verdicts[proof.Little], c.Verdicts[proof.Fails], c.Verdicts[proof.NotMeant]},
			number(c.Lowest), c.WorstRow})
	}
	for _, g := range s.Groups {
		f.Groups = append(f.Groups, groupForm{findingOf(g.Finding), g.Cards, append([]int{}, g.Rows...)})
	}
	return f
}

func (b *Bench) postRun(r *http.Request) (any, error) {
	var to struct{ Do string }
	if err := take(r, &to); err != nil {
		return nil, err
	}
	switch now := b.current(); {
	case to.Do == "start":
		b.startRun()
	case to.Do != "stop" && to.Do != "resume":
		return nil, refused{"a run can be started, stopped and resumed", "load the page again"}
	case now == nil:
		return nil, conflict{"no run was started", "start one"}
	default:
		if err := now.pause(to.Do == "stop"); err != nil {
			return nil, err
		}
	}
	return b.runForm(), nil
}

type runCardForm struct {
	Row      int    `json:"row"`
	Key      string `json:"key"`
	Verdicts string `json:"verdicts"`
	Level    string `json:"level"`
}

// wanted is what a list of cards is narrowed to.
type wanted struct {
	find   string
	reader int // index; -1 any: only cards that this reader does not simply read
	level  string
}

func (b *Bench) getRunCards(r *http.Request) (any, error) {
	run := b.current()
	out := struct {
		Total int           `json:"total"`
		Cards []runCardForm `json:"cards"`
	}{Cards: []runCardForm{}}
	if run == nil {
		return out, nil
	}
	from, n, find, err := listing(r, len(run.people.rows))
	if err != nil {
		return nil, err
	}
	want := wanted{find: find, reader: -1, level: r.URL.Query().Get("level")}
	if r.URL.Query().Get("reader") != "" {
		if want.reader, err = whole(r, "reader", 0, len(run.pf.Readers)-1); err != nil {
			return nil, err
		}
	}
	run.mu.Lock()
	defer run.mu.Unlock()
	for i := range run.done {
		if !run.shows(i, want) {
			continue
		}
		if out.Total >= from && len(out.Cards) < n {
			out.Cards = append(out.Cards, runCardForm{i, run.people.rows[i].Key, string(run.cells(i)), run.levels[i].String()})
		}
		out.Total++
	}
	return out, nil
}

// cells are the letters of one card.
func (r *run) cells(i int) []byte {
	n := len(r.pf.Codes) * len(r.pf.Readers)
	return r.verdicts[i*n : (i+1)*n]
}

// shows says whether a card is one of those wanted.
func (r *run) shows(i int, w wanted) bool {
	if w.level != "" && r.levels[i].String() != w.level || !r.people.has(i, w.find) {
		return false
	}
	if w.reader < 0 {
		return true
	}
	cells := string(r.cells(i))
	for c := w.reader; c < len(cells); c += len(r.pf.Readers) {
		if strings.ContainsRune("lf", rune(cells[c])) {
			return true
		}
	}
	return false
}
