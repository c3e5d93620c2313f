package face

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"unspool/design"
	"unspool/plane"
	"unspool/unit"
)

// sameArt says where two faces differ first, "" where they are the same.
func sameArt(a, b *Art) string {
	switch {
	case a.Grid != b.Grid:
		return "grid"
	case !bytes.Equal(a.Page, b.Page):
		return "page"
	case !bytes.Equal(a.Under, b.Under):
		return "under"
	case !slices.Equal(a.Class, b.Class):
		return "class"
	case !slices.Equal(a.Owner, b.Owner):
		return "owner"
	case !slices.Equal(a.Mark, b.Mark):
		return "mark"
	}
	return ""
}

// scratch composes a card on a bare face, layer after layer, with buffers that
// nothing was composed with before.
func scratch(pl *Plan, p design.Person) *Art {
	w := pl.Work()
	a := NewArt(pl.grid)
	for i := range pl.parts {
		if l, _ := w.layerOf(&pl.parts[i], p); l != nil {
			l.lay(a, a.Rect())
		}
	}
	return a
}

// shuffled is the card of every element, in another order and with some elements
// shown for some people only.
func shuffled(rnd *rand.Rand) []design.Element {
	e := card()
	rnd.Shuffle(len(e)-1, func(i, j int) { e[i+1], e[j+1] = e[j+1], e[i+1] })
	sends := []design.Send{design.ByRule, design.ByRule, design.ToResin, design.ToDye, design.ToFluor, design.ToSpecial}
	for i := range e {
		if rnd.IntN(3) == 0 {
			e[i].Show = &design.Condition{Field: "role", Equals: []string{"", "Deck", "Master"}[rnd.IntN(3)], Not: rnd.IntN(2) == 0}
		}
		if rnd.IntN(3) == 0 {
			e[i].Send = sends[rnd.IntN(len(sends))]
		}
		e[i].Box.X += unit.Length(rnd.IntN(4_000_000))
	}
	return e
}

func TestComposeIsAsFromScratch(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	a, people := cardFiles(t), crew()
	for range 6 {
		pl := compile(t, programme(300, 300, shuffled(rnd)...), a)
		w := pl.Work()
		for range 8 {
			p := people[rnd.IntN(len(people))]
			c := compose(t, w, p)
			if diff := sameArt(c.Art, scratch(pl, p)); diff != "" {
				t.Fatalf("%s: the %s differs", p.Field("name"), diff)
			}
			rest := c.Art.Clone()
			for i, r := range c.Dirty {
				rest.copy(pl.Base(), r)
				for _, s := range c.Dirty[i+1:] {
					if !r.And(s).Empty() || !r.In(pl.grid.Rect()) {
						t.Fatalf("dirty %v and %v", r, s)
					}
				}
			}
			if diff := sameArt(rest, pl.Base()); diff != "" {
				t.Fatalf("%s: the %s differs from the base outside the dirty parts", p.Field("name"), diff)
			}
		}
	}
}

func TestSameBytesFromAnyGoroutine(t *testing.T) {
	pl := compile(t, programme(300, 600, card()...), cardFiles(t))
	people := crew()
	var want []*Art
	for _, p := range people {
		want = append(want, compose(t, pl.Work(), p).Art)
	}
	var wait sync.WaitGroup
	for g := range 3 {
		wait.Go(func() {
			w := pl.Work()
			for i := range people {
				i = (i*(g+1) + g) % len(people)
				if c, err := w.Compose(people[i]); err != nil || sameArt(c.Art, want[i]) != "" {
					t.Errorf("goroutine %d, person %d: %v differs, %v", g, i, sameArt(c.Art, want[i]), err)
				}
			}
		})
	}
	wait.Wait()
}

// The dirty parts of ordinary cards are the same, so that what is computed beside
// them for one card holds for the next.
func TestDirtyIsSteady(t *testing.T) {
	w := compile(t, programme(300, 300, card()...), cardFiles(t)).Work()
	var first []plane.Rect
	for i, p := range crew()[:4] {
		c := compose(t, w, p)
		if i == 0 {
			first = slices.Clone(c.Dirty)
		}
		if !slices.Equal(first, c.Dirty) {
			t.Errorf("%s: %v, not %v", p.Field("name"), c.Dirty, first)
		}
	}
}

func TestMerge(t *testing.T) {
	r := func(x0, y0, x1, y1 int) plane.Rect { return plane.Rect{X0: x0, Y0: y0, X1: x1, Y1: y1} }
	for _, c := range []struct{ in, want []plane.Rect }{
		{nil, nil},
		{[]plane.Rect{{}, r(0, 0, 2, 2), {}}, []plane.Rect{r(0, 0, 2, 2)}},
		{[]plane.Rect{r(0, 0, 2, 2), r(2, 0, 4, 2)}, []plane.Rect{r(0, 0, 2, 2), r(2, 0, 4, 2)}},
		{[]plane.Rect{r(0, 0, 2, 2), r(5, 5, 6, 6), r(1, 1, 4, 3)}, []plane.Rect{r(5, 5, 6, 6), r(0, 0, 4, 3)}},
		{[]plane.Rect{r(0, 0, 3, 1), r(0, 2, 3, 3), r(1, 0, 2, 3)}, []plane.Rect{r(0, 0, 3, 3)}},
	} {
		if got := merge(slices.Clone(c.in)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, not %v", c.in, got, c.want)
		}
	}
}

func BenchmarkCompose(b *testing.B) {
	w := compile(b, programme(300, 300, card()...), cardFiles(b)).Work()
	people := crew()[:3]
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if _, err := w.Compose(people[i%3]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// Decoding the same photos alone, for the ratio.
func BenchmarkDecodeAlone(b *testing.B) {
	a := cardFiles(b)
	i := 0
	for b.Loop() {
		if _, err := jpeg.Decode(bytes.NewReader(a.data[fmt.Sprintf("photos/%d.jpg", i%3)])); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// The card without its photo, to see what the rest costs.
func BenchmarkComposeNoPhoto(b *testing.B) {
	w := compile(b, programme(300, 300, slices.DeleteFunc(card(), func(e design.Element) bool { return e.Photo != nil })...), cardFiles(b)).Work()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.Compose(crew()[0]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompile(b *testing.B) {
	p, a := programme(300, 300, card()...), cardFiles(b)
	for b.Loop() {
		compile(b, p, a)
	}
}
