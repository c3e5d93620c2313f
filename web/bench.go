// Package web is the bench: the proof of a programme as a page in a browser, and
// what that page asks of it. Nothing leaves the machine, and nobody but the page
// itself is answered.
package web

import (
	"net/http"
	"sync"
	"sync/atomic"

	"unspool/design/edit"
	"unspool/folder"
	"unspool/grade"
	"unspool/proof"
	"unspool/site"
)

// Options say what is on the bench and who may come to it.
type Options struct {
	Folder *folder.Folder
	// Fresh is a folder in which a programme is to be begun; then Folder is nil.
	Fresh *folder.Fresh
	// Hosts are the values of the Host header that are answered, with the port:
	// "127.0.0.1:8080". A request for any other host comes from a page that
	// pretends to be this one.
	Hosts []string
	// Secure says that the bench is reached over TLS.
	Secure bool
	// Passphrase is asked for before anything is shown; empty asks for none, which
	// is for loopback only.
	Passphrase string
	// Portrait gives the photo of the invented person whom papers to hand on show,
	// as JPEG or PNG. It is asked for only when one is drawn.
	Portrait func() []byte
	// Fault is told of faults in Unspool itself, in words without any data of
	// cards; nil tells nobody.
	Fault func(string)
}

// maxPast bounds how many changes can be undone.
const maxPast = 200

// Bench is a programme on the bench. It serves any number of requests at a time:
// what they look at are snapshots that never change.
type Bench struct {
	options Options
	now     atomic.Pointer[snapshot] // nil until a programme is begun
	door    *door                    // nil where no passphrase is asked for

	mu    sync.Mutex // of what follows; held while a change is made, never while a card is proved
	draft draft

	trials sync.Mutex // of tried; held while a card of a programme to be begun is proved
	tried  *snapshot  // the last such programme; nil before the first

	papers sync.Mutex // held while a paper to hand on is drawn: one at a time

	cures sync.Mutex // held while remedies are tried on a card: one finding at a time

	runs sync.Mutex // of run
	run  *run       // nil before the first
}

// New puts a programme, or a folder to begin one in, on the bench. An error names
// the element or file of the programme at fault.
func New(o Options) (*Bench, error) {
	b := &Bench{options: o}
	if o.Fresh == nil {
		s, err := newSnapshot(o.Folder, nil)
		if err != nil {
			return nil, err
		}
		b.open(s)
	}
	var err error
	if o.Passphrase != "" {
		if b.door, err = newDoor(o.Passphrase); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// open puts the first state of a programme on the bench.
func (b *Bench) open(s *snapshot) {
	b.draft = newDraft(s.files.Source)
	b.now.Store(s)
}

// Close ends a run that is going on.
func (b *Bench) Close() { b.endRun(nil) }

// Handler answers the page.
func (b *Bench) Handler() http.Handler { return b.guard(b.ready(b.routes())) }

// put puts another state of the programme on the bench. A run of the old
// state is ended.
func (b *Bench) put(to *folder.Folder) error {
	old := b.now.Load()
	s, err := newSnapshot(to, old)
	if err != nil {
		return err
	}
	if !anew(to, old) {
		s.follow(old)
	}
	b.now.Store(s)
	b.endRun(s)
	go s.ahead()
	return nil
}

// setBlack sets the black rule of a side in the programme on the bench.
func (b *Bench) setBlack(side site.Side, rule site.Rule) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	s := b.now.Load()
	black, ok := s.pf.Rule(side, rule)
	if !ok {
		return refused{"this side has no black rule to choose", "a side has one where its panels hold both dyes and black resin"}
	}
	if s.programme.Black[side].Rule == rule {
		return nil
	}
	return b.edit("", always(edit.SetBlack{Side: side, Rule: black}))
}

// edition of ISO/IEC 15416 whose grades are shown.
const edition = grade.Ed2016

// proofOptions are those of every proof on the bench.
func proofOptions(last *proof.Proof) proof.Options {
	return proof.Options{Edition: edition, Last: last}
}
