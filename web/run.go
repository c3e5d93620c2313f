package web

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"time"

	"unspool/proof"
)

// runState says how far the proof of the whole roster is.
type runState string

// States of a run.
const (
	idle    runState = "idle"
	running runState = "running"
	stopped runState = "stopped"
	done    runState = "done"
)

// run is one proof of the whole roster. Of each card it keeps a byte for each
// code at each reader and one for its gravest finding; the rest goes into the
// tally.
type run struct {
	revision int
	pf       *proof.Proof
	people   *people
	cancel   context.CancelFunc

	mu       sync.Mutex
	going    *sync.Cond // waits while stopped
	state    runState
	ended    bool // it cannot go on
	fault    string
	verdicts []byte // cards by cells, in the letters of cellLetters
	levels   []proof.Level
	done     int
	tally    *proof.Tally
	// since and counted give the rate: the cards since it last began to go on.
	since   time.Time
	counted int
}

// cellLetters are the letters of the API for a proof.Verdict.
var cellLetters = [...]byte{proof.NotMeant: '-', proof.Reads: 'r', proof.Little: 'l', proof.Fails: 'f'}

// startRun proves the roster from its first card.
func (b *Bench) startRun() {
	b.runs.Lock()
	defer b.runs.Unlock()
	b.run.end()
	s := b.now.Load()
	ctx, cancel := context.WithCancel(context.Background())
	cells := len(s.pf.Codes) * len(s.pf.Readers)
	r := &run{revision: s.revision, pf: s.pf, people: s.people, cancel: cancel, state: running, verdicts: make([]byte, 0, cells*len(s.people.rows)),
		levels: make([]proof.Level, 0, len(s.people.rows)), tally: s.pf.Tally(), since: time.Now()}
	r.going = sync.NewCond(&r.mu)
	r.tally.Note(s.pf.Fixed()...)
	context.AfterFunc(ctx, func() {
		r.mu.Lock()
		defer r.mu.Unlock()
		r.going.Broadcast()
	})
	b.run = r
	go func() {
		err := s.pf.Run(ctx, s.people.rows, runtime.GOMAXPROCS(0), func(c proof.Card) error { return r.add(ctx, c) })
		r.over(err)
		cancel()
	}()
}

// add takes one card. While the run is stopped it waits, and with it the
// workers.
func (r *run) add(ctx context.Context, c proof.Card) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.state == stopped && ctx.Err() == nil {
		r.going.Wait()
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	at, readers := len(r.verdicts), len(r.pf.Readers)
	r.verdicts = append(r.verdicts, slices.Repeat([]byte{cellLetters[proof.NotMeant]}, len(r.pf.Codes)*readers)...)
	for _, x := range c.Readings {
		r.verdicts[at+x.Code*readers+x.Reader] = cellLetters[x.Verdict]
	}
	level := proof.Note
	for _, f := range c.Findings {
		level = max(level, f.Level)
	}
	r.levels = append(r.levels, level)
	r.tally.Add(c)
	r.done++
	r.counted++
	return nil
}

// over says that the run goes no further.
func (r *run) over(err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.ended = true
	switch {
	case err == nil:
		r.state = done
	default:
		r.state = stopped
		if r.done < len(r.people.rows) && !isCancel(err) {
			r.fault = err.Error()
		}
	}
}

func isCancel(err error) bool { return err == context.Canceled }

// endRun ends the run, if there is one of another state of the programme than
// the one given; nil ends any.
func (b *Bench) endRun(but *snapshot) {
	b.runs.Lock()
	defer b.runs.Unlock()
	if b.run != nil && (but == nil || b.run.revision != but.revision) {
		b.run.end()
	}
}

// end ends a run for good. What came of it so far stays.
func (r *run) end() {
	if r == nil {
		return
	}
	r.cancel()
	r.mu.Lock()
	defer r.mu.Unlock()
	r.ended = true
	if r.state == running {
		r.state = stopped
	}
}

// pause stops the run or lets it go on.
func (r *run) pause(stop bool) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	switch {
	case stop && r.state == running:
		r.state = stopped
	case !stop && r.state == stopped && r.ended:
		return conflict{"this run cannot go on: the programme has changed since, or a file could not be read", "start it again"}
	case !stop && r.state == stopped:
		r.state, r.since, r.counted = running, time.Now(), 0
		r.going.Broadcast()
	}
	return nil
}

// rate is how many cards a second are proved, and how many seconds are left;
// ok is false where that is not known yet.
func (r *run) rate(now time.Time) (rate, left float64, ok bool) {
	passed := now.Sub(r.since).Seconds()
	if r.state != running || r.counted < 2 || passed <= 0 {
		return 0, 0, false
	}
	rate = float64(r.counted) / passed
	return rate, float64(len(r.people.rows)-r.done) / rate, true
}
