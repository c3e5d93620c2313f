package web

import (
	"net/http"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"unspool/proof"
)

// until asks how far the run is until it is far enough.
func until(t *testing.T, b *Bench, far func(runForm) bool) runForm {
	t.Helper()
	for end := time.Now().Add(5 * time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if f := get[runForm](t, b, "/api/run"); far(f) {
			return f
		}
	}
	t.Fatal("the run does not get on")
	return runForm{}
}

type do struct {
	Do string `json:"do"`
}

// A run that is stopped stays where it is and goes on from there; its counts are
// those of the cards it lists.
func TestRunStopsAndGoesOn(t *testing.T) {
	b := bench(t)
	f := post[runForm](t, b, "/api/run", do{"start"})
	if f.State != running || f.Total != cards {
		t.Fatalf("%+v", f)
	}
	until(t, b, func(f runForm) bool { return f.Done >= 5 })
	at := post[runForm](t, b, "/api/run", do{"stop"})
	time.Sleep(200 * time.Millisecond)
	if now := get[runForm](t, b, "/api/run"); at.State != stopped || now.Done != at.Done || now.Done >= cards || now.Rate != nil {
		t.Errorf("stopped at %d, now at %d", at.Done, now.Done)
	}
	if f = post[runForm](t, b, "/api/run", do{"resume"}); f.State != running {
		t.Errorf("%+v", f)
	}
	if f = until(t, b, func(f runForm) bool { return f.State != running }); f.State != done || f.Done != cards {
		t.Fatalf("%+v", f)
	}
	for _, c := range f.Summary.Cells {
		if n := c.Counts.Reads + c.Counts.Little + c.Counts.Fails + c.Counts.None; n != cards {
			t.Errorf("cell %d, %d has %d cards", c.Code, c.Reader, n)
		}
	}
	type list struct {
		Total int
		Cards []runCardForm
	}
	all := get[list](t, b, "/api/run/cards?n=500")
	if all.Total != cards || len(all.Cards) != cards || all.Cards[7].Row != 7 || len(all.Cards[7].Verdicts) != 6 {
		t.Fatalf("%d of %d cards", len(all.Cards), all.Total)
	}
	reads := 0
	for _, c := range all.Cards {
		reads += strings.Count(c.Verdicts[:1], "r")
	}
	if reads != f.Summary.Cells[0].Counts.Reads {
		t.Errorf("%d cards read by the clock, %d counted", reads, f.Summary.Cells[0].Counts.Reads)
	}
	some := get[list](t, b, "/api/run/cards?find="+strings.ToUpper(all.Cards[9].Key))
	if some.Total != 1 || some.Cards[0].Row != 9 {
		t.Errorf("%+v", some)
	}
	if bad := get[list](t, b, "/api/run/cards?reader=0"); bad.Total != f.Summary.Cells[0].Counts.Fails+f.Summary.Cells[0].Counts.Little {
		t.Errorf("%d cards that the clock does not simply read", bad.Total)
	}
	if stop := get[list](t, b, "/api/run/cards?level=stop"); stop.Total != f.Summary.Stopped {
		t.Errorf("%d cards with a stop, %d counted", stop.Total, f.Summary.Stopped)
	}
}

// A change ends the run of what was before; it does not go on.
func TestChangeEndsRun(t *testing.T) {
	b := bench(t)
	post[runForm](t, b, "/api/run", do{"start"})
	form := post[benchForm](t, b, "/api/black", map[string]string{"side": "front", "rule": "exact"})
	f := get[runForm](t, b, "/api/run")
	if f.State != stopped || f.Revision == form.Revision {
		t.Errorf("%+v after revision %d", f, form.Revision)
	}
	if w := ask(b, request(http.MethodPost, "/api/run", `{"do":"resume"}`)); w.StatusCode != http.StatusConflict {
		t.Errorf("resume: %d", w.StatusCode)
	}
	if f = post[runForm](t, b, "/api/run", do{"start"}); f.State != running || f.Revision != form.Revision {
		t.Errorf("%+v", f)
	}
}

// Requests are answered together while a run goes on and the programme changes;
// the race detector looks on.
func TestManyAtOnce(t *testing.T) {
	b := bench(t)
	var all sync.WaitGroup
	post[runForm](t, b, "/api/run", do{"start"})
	for _, target := range []string{"/api/card/0", "/api/card/1/panels/front", "/api/card/0/rules", "/api/card/1/trace?code=0&reader=0", "/api/run", "/api/run/cards?find=1", "/api/bench", "/api/card/2/eye/front.png"} {
		all.Go(func() {
			for range 4 {
				if w := ask(b, request(http.MethodGet, target, "")); w.StatusCode != http.StatusOK {
					t.Errorf("%s: %d", target, w.StatusCode)
				}
			}
		})
	}
	all.Go(func() {
		for _, rule := range []string{"exact", "none", "dark"} {
			ask(b, request(http.MethodPost, "/api/black", `{"side":"front","rule":"`+rule+`"}`))
			ask(b, request(http.MethodPost, "/api/undo", `{}`))
			ask(b, request(http.MethodPost, "/api/run", `{"do":"start"}`))
			ask(b, request(http.MethodPost, "/api/run", `{"do":"stop"}`))
			ask(b, request(http.MethodPost, "/api/run", `{"do":"resume"}`))
		}
	})
	all.Wait()
}

// The results of 20,000 cards, with the roster they are found by, take less than
// 60 MB.
func TestRunOfTwentyThousandIsSmall(t *testing.T) {
	const many, most = 20_000, 60 << 20
	b := bench(t)
	s := b.now.Load()
	k, err := s.card(0)
	if err != nil {
		t.Fatal(err)
	}
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := heap()
	rows := make([]proof.Row, many)
	for i := range rows {
		rows[i] = s.people.rows[i%cards]
		rows[i].Key = strings.Clone(rows[i].Key)
	}
	r := &run{pf: s.pf, people: newPeople(s.programme, rows), state: running, tally: s.pf.Tally()}
	for i := range many {
		c := k.Card
		c.Row = i
		c.Findings = append(c.Findings, proof.Finding{ID: "photo-in-resin", Level: proof.Stop, Row: i, Element: "portrait"})
		if err := r.add(t.Context(), c); err != nil {
			t.Fatal(err)
		}
	}
	after := heap()
	runtime.KeepAlive(r)
	used := int64(after) - int64(before)
	t.Logf("%.1f MB", float64(used)/(1<<20))
	if used > most || r.done != many {
		t.Errorf("%d cards take %d bytes", r.done, used)
	}
}
