package web

import (
	"context"
	"net/http"
	"path"
	"runtime"
	"strconv"

	"unspool/proof"
	"unspool/report"
)

// reportPolicy is what the report may load once it is opened. It is one file: its
// styles, pictures and letters are in it, and it runs nothing.
const reportPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// paper is a handler that gives a file to keep: its name and what is in it.
type paper func(r *http.Request) (name string, data []byte, err error)

// paperKinds are the kinds of paper.
var paperKinds = map[string]string{".html": kinds[".html"], ".pdf": "application/pdf"}

// ServeHTTP sends the file, to be saved and not shown in place of the bench.
func (p paper) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name, data, err := p(r)
	if err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Security-Policy", reportPolicy)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	sendBytes(w, http.StatusOK, paperKinds[path.Ext(name)], data)
}

// whose is whose card a paper shows.
type whose struct {
	row  int  // of the roster; -1 an invented person
	real bool // with their photo and whole codes
}

// whoseCard reads whose card a paper is to show: an invented person's, unless
// real=1 asks for the one of a row.
func (s *snapshot) whoseCard(r *http.Request) (whose, error) {
	q := r.URL.Query()
	switch q.Get("real") {
	case "":
		return whose{row: -1}, nil
	case "1":
	default:
		return whose{}, refused{"real is 1 or left out", "load the page again"}
	}
	row, err := strconv.Atoi(q.Get("row"))
	if err != nil || row < 0 || row >= len(s.people.rows) {
		return whose{}, missing{"there is no such card", "choose the card that is to be shown"}
	}
	return whose{row, true}, nil
}

// file names a paper after the card it shows.
func (o whose) file(name, ext string) string {
	if o.real {
		name += "-card-" + strconv.Itoa(o.row+1)
	}
	return name + ext
}

// card is the row to draw and a viewer that draws it.
func (o whose) card(b *Bench, pf *proof.Proof, l *people) (proof.Row, *proof.Viewer, error) {
	look := proof.ViewOptions{Lamps: report.Lamps(pf.Readers)}
	var row proof.Row
	if o.real {
		row = l.rows[o.row]
	} else {
		row = proof.Row{Person: pf.Programme.Invented(l.rows[0].Person)}
		look.Broken, look.Portrait = true, b.options.Portrait()
	}
	v, err := pf.Viewer(look)
	return row, v, err
}

// samples draws the card as a sample of a report; none where the roster is empty.
func (o whose) samples(b *Bench, pf *proof.Proof, l *people) ([]report.Sample, error) {
	if len(l.rows) == 0 {
		return nil, nil
	}
	row, v, err := o.card(b, pf, l)
	if err != nil {
		return nil, err
	}
	views, err := v.View(row)
	title := "An invented person, with codes broken on purpose"
	if o.real {
		title = "Card of row " + strconv.Itoa(o.row+1)
	}
	return []report.Sample{{Row: o.row, Title: title, Views: views}}, err
}

// reportPaper is the report of the run that was proved, with an invented person
// in its pictures.
func (b *Bench) reportPaper(*http.Request) (string, []byte, error) {
	b.papers.Lock()
	defer b.papers.Unlock()
	run := b.current()
	sum := run.outcome()
	if sum == nil {
		return "", nil, conflict{"there is no report yet", "prove the whole run first"}
	}
	samples, err := whose{row: -1}.samples(b, run.pf, run.people)
	if err != nil {
		return "", nil, err
	}
	page, err := report.HTML(report.Input{Summary: sum, Samples: samples, Invented: true, Command: "unspool serve"})
	return "report.html", page, err
}

// outcome is what the proof of the whole roster came to; nil before it is done.
func (r *run) outcome() *proof.Summary {
	if r == nil {
		return nil
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.state != done {
		return nil
	}
	return r.tally.Summary()
}

// ribbonPaper is the spent ribbon of a card at its own size, by the programme as
// it stands on the bench.
func (b *Bench) ribbonPaper(r *http.Request) (string, []byte, error) {
	b.papers.Lock()
	defer b.papers.Unlock()
	s := b.now.Load()
	o, err := s.whoseCard(r)
	if err != nil {
		return "", nil, err
	}
	samples, err := o.samples(b, s.pf, s.people)
	if err != nil {
		return "", nil, err
	}
	web, err := report.RibbonPDF(report.Input{Summary: s.pf.Tally().Summary(), Samples: samples, Invented: !o.real})
	return o.file("ribbon", ".pdf"), web, err
}

// explanationPaper is the page that explains black on a card to somebody who has
// never heard of it, by the programme as it stands on the bench.
func (b *Bench) explanationPaper(r *http.Request) (string, []byte, error) {
	b.papers.Lock()
	defer b.papers.Unlock()
	s := b.now.Load()
	o, err := s.whoseCard(r)
	if err != nil {
		return "", nil, err
	}
	if len(s.people.rows) == 0 {
		return "", nil, missing{"the roster is empty", "put a person into it"}
	}
	row, v, err := o.card(b, s.pf, s.people)
	if err != nil {
		return "", nil, err
	}
	tried, err := s.rulesTried(r.Context())
	if err != nil {
		return "", nil, err
	}
	e, ok, err := report.Explain(s.pf, tried, v, row)
	if err != nil {
		return "", nil, err
	}
	if !ok {
		return "", nil, missing{"there is nothing to explain: no side has both dyes and black resin", "put a ribbon with both on the bench"}
	}
	e.Invented = !o.real
	page, err := report.ExplanationPDF(e)
	return o.file("explanation", ".pdf"), page, err
}

// triedCards is on how many cards every black rule is tried for a page that
// recommends one: the whole of a small run, and of a large one as many as can be
// waited for.
const triedCards = 100

// rulesTried is the outcome of every black rule on cards spread over the run.
func (s *snapshot) rulesTried(ctx context.Context) (*proof.Summary, error) {
	o := proofOptions(s.pf)
	o.Advice = true
	pf, err := proof.New(s.programme, s.files, o)
	if err != nil {
		return nil, err
	}
	n := min(len(s.people.rows), triedCards)
	some := make([]proof.Row, n)
	for i := range some {
		some[i] = s.people.rows[i*len(s.people.rows)/n]
	}
	tally := pf.Tally()
	err = pf.Run(ctx, some, runtime.GOMAXPROCS(0), func(c proof.Card) error {
		tally.Add(c)
		return nil
	})
	return tally.Summary(), err
}
