package web

import (
	"net/http"
	"strconv"
	"strings"

	"unspool/proof"
)

// routes is every address of the bench. What has none is not there.
func (b *Bench) routes() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", b.page)
	m.HandleFunc("GET /assets/{name}", asset)
	m.HandleFunc("POST /api/sign-in", b.signIn)
	m.Handle("GET /api/begin", answer(b.getBegin))
	m.HandleFunc("POST /api/begin/file", b.postFile)
	m.Handle("POST /api/begin/look", answer(b.postLook))
	m.Handle("POST /api/begin/preview", answer(b.postPreview))
	m.Handle("POST /api/begin", answer(b.postBegin))
	m.Handle("GET /api/bench", answer(b.getBench))
	m.Handle("GET /api/light", answer(b.getLight))
	m.Handle("GET /api/rows", answer(b.getRows))
	m.Handle("GET /api/card/{row}", answer(b.getCard))
	m.HandleFunc("GET /api/card/{row}/panels/{side}", b.getPanels)
	m.HandleFunc("GET /api/card/{row}/rule-panels/{side}/{rule}", b.getRulePanels)
	m.HandleFunc("GET /api/card/{row}/eye/{file}", b.getEye)
	m.Handle("GET /api/card/{row}/trace", answer(b.getTrace))
	m.Handle("GET /api/card/{row}/look", answer(b.getLook))
	m.Handle("GET /api/card/{row}/rules", answer(b.getRules))
	m.Handle("POST /api/black", answer(b.postBlack))
	m.Handle("POST /api/undo", answer(func(*http.Request) (any, error) { return b.after(b.undo()) }))
	m.Handle("POST /api/redo", answer(func(*http.Request) (any, error) { return b.after(b.redo()) }))
	m.Handle("GET /api/layout", answer(b.getLayout))
	m.Handle("POST /api/layout", answer(b.postLayout))
	m.Handle("POST /api/remedy", answer(b.postRemedy))
	m.Handle("POST /api/save", answer(b.postSave))
	m.Handle("GET /api/run", answer(func(*http.Request) (any, error) { return b.runForm(), nil }))
	m.Handle("POST /api/run", answer(b.postRun))
	m.Handle("GET /api/run/cards", answer(b.getRunCards))
	m.Handle("GET /api/paper/report.html", paper(b.reportPaper))
	m.Handle("GET /api/paper/ribbon.pdf", paper(b.ribbonPaper))
	m.Handle("GET /api/paper/explanation.pdf", paper(b.explanationPaper))
	m.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		fail(w, missing{"there is nothing at this address", "go back to the start of the bench"})
	})
	return m
}

// row is the row of the roster that an address names.
func (s *snapshot) row(r *http.Request) (int, error) {
	n, err := strconv.Atoi(r.PathValue("row"))
	if err != nil || n < 0 || n >= len(s.people.rows) {
		return 0, missing{"there is no such card", "choose one from the list"}
	}
	return n, nil
}

// shown is the card that an address names, proved.
func (s *snapshot) shown(r *http.Request) (*proof.Shown, error) {
	row, err := s.row(r)
	if err != nil {
		return nil, err
	}
	return s.card(row)
}

// sideShown is the card that an address names, and one of its sides.
func (s *snapshot) sideShown(r *http.Request, name string) (*proof.Shown, *proof.ShownSide, error) {
	k, err := s.shown(r)
	if err != nil {
		return nil, nil, err
	}
	side, err := on(k, name)
	return k, side, err
}

// on is the side of a card that a name says.
func on(k *proof.Shown, name string) (*proof.ShownSide, error) {
	side, err := sideOf(name)
	if err != nil {
		return nil, err
	}
	if s := k.On(side); s != nil {
		return s, nil
	}
	return nil, missing{"this side is not printed", "choose the other side"}
}

// getBench tells of the programme, or that there is none yet.
func (b *Bench) getBench(*http.Request) (any, error) {
	if b.now.Load() == nil {
		return struct {
			Begin bool `json:"begin"`
		}{true}, nil
	}
	return b.benchForm(), nil
}

// after answers a change with the bench as it now is.
func (b *Bench) after(err error) (any, error) {
	if err != nil {
		return nil, err
	}
	return b.benchForm(), nil
}

func (b *Bench) postBlack(r *http.Request) (any, error) {
	var to struct{ Side, Rule string }
	if err := take(r, &to); err != nil {
		return nil, err
	}
	side, err := sideOf(to.Side)
	if err != nil {
		return nil, err
	}
	rule, err := ruleOf(to.Rule)
	if err != nil {
		return nil, err
	}
	return b.after(b.setBlack(side, rule))
}

// maxRows is how many rows one answer lists.
const maxRows = 500

type rowForm struct {
	Row   int    `json:"row"`
	Key   string `json:"key"`
	Label string `json:"label"`
}

func (b *Bench) getRows(r *http.Request) (any, error) {
	l := b.now.Load().people
	from, n, find, err := listing(r, len(l.rows))
	if err != nil {
		return nil, err
	}
	out := struct {
		Total int       `json:"total"`
		Rows  []rowForm `json:"rows"`
	}{Rows: []rowForm{}}
	for i := range l.rows {
		if !l.has(i, find) {
			continue
		}
		if out.Total >= from && len(out.Rows) < n {
			out.Rows = append(out.Rows, rowForm{i, l.rows[i].Key, l.labels[i]})
		}
		out.Total++
	}
	return out, nil
}

// listing reads which part of a list is asked for.
func listing(r *http.Request, rows int) (from, n int, find string, err error) {
	if from, err = whole(r, "from", 0, rows); err != nil {
		return
	}
	if n, err = whole(r, "n", 100, maxRows); err != nil {
		return
	}
	find = strings.ToLower(strings.TrimSpace(r.URL.Query().Get("find")))
	return
}
