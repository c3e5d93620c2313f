package proof

import (
	"context"
	"sync"
)

// Card is what was found of one card.
type Card struct {
	Row      int // place in the run, from 0
	Key      string
	Readings []Reading // by code, then reader
	Drawn    []Drawn   // the codes as they came out
	Matched  []Matched // the photos and pictures
	Findings []Finding
	trials   []trialCount
}

// Run proves rows in their order with the given number of workers and hands
// each card to emit, in the order of rows, from one goroutine. It stops early
// where ctx ends or emit returns an error, and returns that error.
func (pf *Proof) Run(ctx context.Context, rows []Row, workers int, emit func(Card) error) error {
	workers = max(1, min(workers, len(rows)))
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	jobs := make(chan int)
	// A card in hand takes a place until it is emitted, which bounds how many wait
	// for a slow one before them.
	places := make(chan struct{}, 16*workers)
	type done struct {
		row  int
		card Card
		err  error
	}
	cards := make(chan done, 2*workers)
	go func() {
		defer close(jobs)
		for i := range rows {
			select {
			case places <- struct{}{}:
			case <-ctx.Done():
				return
			}
			select {
			case jobs <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			w := pf.Worker()
			for i := range jobs {
				card, err := w.Card(i, rows[i])
				select {
				case cards <- done{i, card, err}:
				case <-ctx.Done():
					return
				}
			}
		})
	}
	go func() { wait.Wait(); close(cards) }()

	// Cards come back in any order; those ahead of their turn wait here.
	ahead := map[int]Card{}
	next := 0
	for d := range cards {
		if d.err != nil {
			return d.err
		}
		ahead[d.row] = d.card
		for {
			card, ok := ahead[next]
			if !ok {
				break
			}
			delete(ahead, next)
			next++
			if err := emit(card); err != nil {
				return err
			}
			<-places
		}
	}
	return ctx.Err()
}
