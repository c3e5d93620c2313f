package proof

import (
	"context"
	"errors"
	"reflect"
	"testing"

	"unspool/grade"
	"unspool/site"
)

// Lighting every line by itself gives what lighting alike lines once gives.
func TestAlikeLinesAreGradedOnce(t *testing.T) {
	pf, rows := sundhaven(t, 6, Options{Edition: grade.Ed2016})
	quick, slow := pf.Worker(), pf.Worker()
	slow.sight.apart = true
	for i, r := range rows {
		a, err := quick.Card(i, r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := slow.Card(i, r)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(a, b) {
			t.Errorf("row %d: lines graded once and apart differ", i)
		}
		if len(a.Readings) != 6 {
			t.Errorf("row %d: %d readings, want two codes at three readers", i, len(a.Readings))
		}
	}
}

// The run comes out the same whatever the number of workers, and in its order;
// a worker that has proved other cards before sees a card as a new one does.
func TestRunDoesNotDependOnWorkers(t *testing.T) {
	pf, rows := sundhaven(t, 12, Options{Edition: grade.Ed2016, Advice: true})
	var one, three []Card
	run := func(workers int, to *[]Card) *Summary {
		tally := pf.Tally()
		err := pf.Run(context.Background(), rows, workers, func(c Card) error {
			*to = append(*to, c)
			tally.Add(c)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return tally.Summary()
	}
	a, b := run(1, &one), run(3, &three)
	if !reflect.DeepEqual(one, three) {
		t.Error("cards differ")
	}
	a.Programme, b.Programme = nil, nil
	if !reflect.DeepEqual(a, b) {
		t.Error("summaries differ")
	}
	for i, c := range one {
		if c.Row != i {
			t.Fatalf("card %d comes as number %d", c.Row, i)
		}
		alone, err := pf.Worker().Card(i, rows[i])
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(alone, c) {
			t.Errorf("row %d proved alone differs", i)
		}
	}
}

func TestRunStops(t *testing.T) {
	pf, rows := sundhaven(t, 6, Options{})
	full := errors.New("disk full")
	n := 0
	err := pf.Run(context.Background(), rows, 2, func(Card) error {
		if n++; n == 2 {
			return full
		}
		return nil
	})
	if !errors.Is(err, full) || n != 2 {
		t.Errorf("%v after %d cards", err, n)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if err := pf.Run(ctx, rows, 2, func(Card) error { return nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// Common practice, no source: a black mixed from dyes passes in red light and
// fails in infrared, resin passes both, red bars fail in red light.
func TestWhatEveryTrainerTeaches(t *testing.T) {
	readers := `readers:
  - {name: clock, kind: slot, light: 940,`
	for _, c := range []struct {
		name          string
		rule, colour  string
		red, i88, i94 Verdict
	}{
		{"resin", "objects", "black", Reads, Reads, Reads},
		{"composite", "none", "black", Reads, Fails, Fails},
		{"red bars", "none", `"#f82810"`, Fails, Fails, Fails},
		{"blue bars", "none", `"#101090"`, Reads, Fails, Fails},
	} {
		p := edit(t, "{rule: objects, dyes: leave}", c.rule, "x: 3,", "x: 3, colour: "+c.colour+",", readers,
			"readers:\n  - {name: deep, kind: hand, light: 880, width: 80, accepts: [code39]}\n  - {name: clock, kind: slot, light: 940,")
		got := map[string]Verdict{}
		for reader, r := range verdicts(t, p) {
			got[reader] = r.Verdict
		}
		if want := (map[string]Verdict{"hand": c.red, "deep": c.i88, "clock": c.i94}); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, want %v", c.name, got, want)
		}
	}
}

// The advice finds what the three set-ups of the demo teach.
func TestAdviceFindsTheRightRule(t *testing.T) {
	pf, rows := sundhaven(t, 20, Options{Advice: true})
	tally := pf.Tally()
	if err := pf.Run(context.Background(), rows, 2, func(c Card) error { tally.Add(c); return nil }); err != nil {
		t.Fatal(err)
	}
	want := map[site.Rule]bool{site.NoRule: false, site.Exact: false, site.Dark: false, site.Objects: true, site.Zones: true, site.All: false}
	got := map[site.Rule]bool{}
	for _, a := range tally.Summary().Advice {
		got[a.Black.Rule] = a.Good
		if a.Current != (a.Black.Rule == site.Objects) {
			t.Errorf("%v: current %v", a.Black.Rule, a.Current)
		}
		t.Logf("%-8v %s", a.Black.Rule, a.Sentence())
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
