package proof

import (
	"bytes"
	"image"
	"image/draw"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"

	"unspool/demo"
	"unspool/design"
	"unspool/grade"
	"unspool/site"
	"unspool/unit"
)

// twoCards is the demo's files with two cards.
var twoCards = sync.OnceValue(func() files {
	have := files{}
	for f := range demo.Files(2) {
		data, err := f.Make()
		if err != nil {
			panic(err)
		}
		have[f.Name] = data
	}
	return have
})

// shownDemo is the first card of the demo.
func shownDemo(t *testing.T) (*Proof, []Row, *Shown) {
	t.Helper()
	pf, rows := sundhaven(t, 2, Options{Edition: grade.Ed2016})
	k, err := pf.Worker().Show(0, rows[0])
	if err != nil {
		t.Fatal(err)
	}
	return pf, rows, k
}

// What is shown is what is proved, and stays so when the worker goes on.
func TestShowIsTheProof(t *testing.T) {
	pf, rows, _ := shownDemo(t)
	w := pf.Worker()
	want, err := pf.Worker().Card(0, rows[0])
	if err != nil {
		t.Fatal(err)
	}
	k, err := w.Show(0, rows[0])
	if err != nil {
		t.Fatal(err)
	}
	before := k.On(site.Front).Panels.Clone()
	if _, err := w.Show(1, rows[1]); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(k.Card, want) {
		t.Error("the card shown is not the card proved")
	}
	if !reflect.DeepEqual(before, k.On(site.Front).Panels) || len(k.Sides) != 2 {
		t.Error("a card shown changes with the next one")
	}
}

// The edges that a line shows lie at the dots where they are drawn. Growth moves
// an edge by half of it, here at most 10 µm or an eighth of a dot; the rest is
// what blur and aperture do to close neighbours.
func TestTraceLiesOnTheBars(t *testing.T) {
	pf, _, k := shownDemo(t)
	const near = 0.35 // dots
	for code := range pf.Codes {
		for reader := range pf.Readers {
			for _, spot := range []bool{false, true} {
				tr, ok := k.Trace(code, reader, spot, LineOf)
				if !ok {
					t.Fatalf("code %d reader %d: no trace", code, reader)
				}
				if k.Card.of(code)[reader].Verdict == NotMeant {
					continue // a slot's line may miss it
				}
				if !tr.Scan.Decoded || len(tr.Elements) != len(tr.Drawn) {
					t.Fatalf("code %d reader %d: %d elements of %d (%s)", code, reader, len(tr.Elements), len(tr.Drawn), tr.Scan.Why)
				}
				for i, e := range tr.Elements {
					d := tr.Drawn[i]
					if math.Abs(e.From-d.From) > near || math.Abs(e.To-d.To) > near || e.Bar != d.Bar || e.Char != d.Char {
						t.Errorf("code %d reader %d element %d: %+v, drawn %+v", code, reader, i, e, d)
					}
				}
			}
		}
	}
}

// A sample lies where it says: the darkest are over bars and the lightest over
// spaces, also where the code is turned and the line runs against the face.
func TestTraceOfTurnedCodes(t *testing.T) {
	pf, rows, _ := shownDemo(t)
	for _, turn := range []int{0, 90, 180, 270} {
		p := *pf.Programme
		f := *p.Faces[site.Back]
		f.Elements = slices.Clone(f.Elements)
		p.Faces[site.Back] = &f
		for i := range f.Elements {
			if c := f.Elements[i].Code; c != nil {
				turned := *c
				turned.Turn = turn
				f.Elements[i].Code = &turned
				if turn%180 == 90 {
					f.Elements[i].Box.W, f.Elements[i].Box.H = f.Elements[i].Box.H, f.Elements[i].Box.W
					f.Elements[i].Box.Y, f.Elements[i].Box.H = 0, p.Card.H
				}
			}
		}
		again, err := New(&p, twoCards(), Options{Edition: grade.Ed2016, Last: pf})
		if err != nil {
			t.Fatal(err)
		}
		k, err := again.Worker().Show(0, rows[0])
		if err != nil {
			t.Fatal(err)
		}
		code := slices.IndexFunc(again.Codes, func(c CodeRef) bool { return c.Side == site.Back })
		tr, ok := k.Trace(code, len(again.Readers)-1, false, 0)
		if !ok || tr.Reverse != (turn >= 180) || tr.AlongX != (turn%180 == 0) {
			t.Fatalf("turn %d: %v, %+v", turn, ok, tr.Scan.Why)
		}
		right, n := 0, 0
		for i, r := range tr.Samples {
			at := tr.From + (float64(i)+0.5)*tr.Step
			for _, d := range tr.Drawn {
				if at > d.From+0.8 && at < d.To-0.8 {
					n++
					if d.Bar == (float64(r) < tr.Scan.GT) {
						right++
					}
				}
			}
		}
		if n == 0 || right != n {
			t.Errorf("turn %d: %d of %d samples lie on what they show", turn, right, n)
		}
	}
}

// The card under every rule is the card of a programme with that rule.
func TestRulesAreProgrammes(t *testing.T) {
	pf, rows, k := shownDemo(t)
	ruled := k.Rules(site.Front)
	if len(ruled) != len(site.Rules) || k.Rules(site.Back) != nil {
		t.Fatalf("%d rules on the front, %d on the back", len(ruled), len(k.Rules(site.Back)))
	}
	for i, rule := range site.Rules {
		b, ok := pf.Rule(site.Front, rule)
		if !ok || !reflect.DeepEqual(ruled[i].Black, b) || ruled[i].Current != (rule == site.Objects) {
			t.Errorf("%v: %+v", rule, ruled[i].Black)
		}
		p := *pf.Programme
		p.Black[site.Front] = b
		again, err := New(&p, twoCards(), Options{Edition: grade.Ed2016, Last: pf})
		if err != nil {
			t.Fatal(err)
		}
		other, err := again.Worker().Show(0, rows[0])
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(k.Under(site.Front, rule), other.On(site.Front).Panels) {
			t.Errorf("%v: other panels than a programme with the rule has", rule)
		}
		if !reflect.DeepEqual(ruled[i].Readings, other.Card.of(0)) {
			t.Errorf("%v: other readings than a programme with the rule has", rule)
		}
	}
}

// A proof that takes over from an earlier one, on a worker that goes on from it,
// is the proof made afresh: through a chain of changes of the layout, the black
// rule, the inks, the printer and the readers, of one card and another.
func TestShowAfterChanges(t *testing.T) {
	pf, rows := sundhaven(t, 2, Options{Edition: grade.Ed2016})
	rnd, p, files := rand.New(rand.NewPCG(3, 1)), pf.Programme, twoCards()
	worker := pf.Worker()
	before, err := worker.Show(0, rows[0])
	if err != nil {
		t.Fatal(err)
	}
	row := 0
	for step := range 14 {
		what := []string{"box", "box", "order", "send", "twin", "rule", "dye", "inks", "growth", "reader", "card"}[rnd.IntN(11)]
		if p = changedOne(rnd, p, what); what == "card" {
			row = 1 - row
		}
		fresh, err := New(p, files, Options{Edition: grade.Ed2016})
		if err != nil {
			t.Fatal(err)
		}
		if pf, err = New(p, files, Options{Edition: grade.Ed2016, Last: pf}); err != nil {
			t.Fatal(err)
		}
		want, err := fresh.Worker().Show(row, rows[row])
		if err != nil {
			t.Fatal(err)
		}
		worker = pf.WorkerAfter(worker)
		got, err := worker.Show(row, rows[row])
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(want.Card, got.Card) {
			t.Fatalf("step %d, %s: the card is not the one proved afresh", step, what)
		}
		for i := range want.Sides {
			one, two, old := &want.Sides[i], &got.Sides[i], &before.Sides[i]
			if !reflect.DeepEqual(one.Panels, two.Panels) || !slices.Equal(one.Owner, two.Owner) || !one.art.Equal(two.art) {
				t.Fatalf("step %d, %s: the %s is not the one separated afresh", step, what, one.Side)
			}
			picture := old.Eye(old.Panels)
			if r := two.Differs(old); !r.Empty() {
				part := two.EyeIn(two.Panels, r)
				draw.Draw(picture, image.Rect(r.X0, r.Y0, r.X1, r.Y1), part, image.Point{}, draw.Src)
			}
			if !bytes.Equal(picture.Pix, two.Eye(two.Panels).Pix) {
				t.Fatalf("step %d, %s: the %s differs where it is said to look the same", step, what, one.Side)
			}
		}
		before = got
	}
}

// changedOne is a programme with one change of a kind.
func changedOne(rnd *rand.Rand, was *design.Programme, what string) *design.Programme {
	p, side := *was, rnd.IntN(2)
	f := *p.Faces[side]
	f.Elements = slices.Clone(f.Elements)
	i, j := rnd.IntN(len(f.Elements)), rnd.IntN(len(f.Elements))
	switch what {
	case "box":
		f.Elements[i].Box.X += unit.MM(3*rnd.Float64() - 1.5)
		f.Elements[i].Box.W -= unit.MM(rnd.Float64())
	case "order":
		f.Elements[i], f.Elements[j] = f.Elements[j], f.Elements[i]
	case "send":
		f.Elements[i].Send = []design.Send{design.ToResin, design.ToDye, design.ByRule}[rnd.IntN(3)]
	case "twin":
		f.Elements = slices.Insert(f.Elements, j, f.Elements[i])
	case "rule":
		p.Black[site.Front].Rule = []site.Rule{site.NoRule, site.Exact, site.Dark, site.Objects}[rnd.IntN(4)]
	case "dye":
		p.Dye = 1 - p.Dye
	case "inks":
		p.Ribbon.Ink.Preset = []string{"usual", "cautious"}[rnd.IntN(2)]
	case "growth":
		p.Printer.GrowthAlong = unit.Length(rnd.IntN(40_000))
	case "reader":
		p.Readers = slices.Clone(p.Readers)
		p.Readers[1].Peak = unit.Nanometres(640 + rnd.IntN(60))
	}
	p.Faces[side] = &f
	return &p
}

// A character is named where it begins along the face, once.
func TestTraceNamesCharactersOnce(t *testing.T) {
	pf, _, k := shownDemo(t)
	tr, ok := k.Trace(0, 0, false, LineOf)
	if !ok {
		t.Fatal("no trace")
	}
	var got []string
	for _, e := range tr.Elements {
		if e.Char != "" {
			got = append(got, e.Char)
		}
	}
	want := []string{"start"}
	for _, c := range k.Card.Drawn[0].Text {
		want = append(want, string(c))
	}
	if want = append(want, "stop"); !slices.Equal(got, want) {
		t.Errorf("%s: %q, want %q", pf.Codes[0].Name, got, want)
	}
}
