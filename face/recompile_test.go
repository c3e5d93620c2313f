package face

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"unspool/code"
	"unspool/design"
	"unspool/site"
	"unspool/unit"
)

// A plan and a work that take over what still holds compose what is made afresh,
// through a chain of changes for one person after another: another order, boxes,
// sizes, conditions, texts, more and fewer elements, another raster, and the same
// elements further down in the file.
func TestRecompileIsCompile(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 8))
	a, people, elements, pitch := cardFiles(t), crew(), card(), unit.Pitch(300)
	last := compile(t, programme(300, 300, elements...), a)
	work, who, taken := last.Work(), people[0], 0
	for step := range 30 {
		elements = changed(rnd, elements, step)
		if step%14 == 13 {
			pitch = 900 - pitch
		}
		if rnd.IntN(3) == 0 {
			who = people[rnd.IntN(len(people))]
		}
		p := programme(300, pitch, elements...)
		for k := range elements {
			elements[k].Pos.Line += step % 2
		}
		fresh := compile(t, p, a)
		again, err := Recompile(p, site.Front, a, last)
		if err != nil {
			t.Fatal(err)
		}
		if again.base == last.base {
			taken++
		}
		work = again.WorkAfter(work)
		one, two := compose(t, fresh.Work(), who), compose(t, work, who)
		if d := sameArt(one.Art, two.Art); d != "" || !slices.Equal(one.Dirty, two.Dirty) {
			t.Fatalf("step %d: %s differs", step, d)
		}
		if d := sameArt(fresh.base, again.base); d != "" {
			t.Fatalf("step %d: %s of the base differs", step, d)
		}
		if !slices.EqualFunc(one.Codes, two.Codes, samePlaced) || !slices.EqualFunc(one.Notes, two.Notes, sameNote) || !slices.Equal(one.Texts, two.Texts) {
			t.Fatalf("step %d: other codes, texts or notes", step)
		}
		last = again
	}
	if taken < 5 || taken > 25 {
		t.Errorf("the base was taken over whole %d times", taken)
	}
}

func sameNote(a, b Note) bool { return reflect.DeepEqual(a, b) }

func samePlaced(a, b Placed) bool {
	same := a.Kind.Name == b.Kind.Name
	a.Kind, b.Kind = code.Kind{}, code.Kind{} // holds functions, which nothing equals
	return same && reflect.DeepEqual(a, b)
}

// changed is a card with one change made to it.
func changed(rnd *rand.Rand, elements []design.Element, step int) []design.Element {
	e := slices.Clone(elements)
	i, j := 1+rnd.IntN(len(e)-1), 1+rnd.IntN(len(e)-1)
	switch rnd.IntN(8) {
	case 0:
		e[i], e[j] = e[j], e[i]
	case 1:
		e[i].Show = &design.Condition{Field: "role", Equals: "Deck", Not: rnd.IntN(2) == 0, Pos: design.Pos{Line: step}}
	case 2:
		e = append(slices.Delete(e, i, i+1), words("step", 4, 4, [4]float64{3, 3, 30, 5}))
	case 3:
		e = slices.Insert(e, j, e[i])
	case 4:
		if len(e) > 6 {
			e = slices.Delete(e, i, i+1)
		}
	case 5:
		e[i].Send = []design.Send{design.ByRule, design.ToResin, design.ToDye}[rnd.IntN(3)]
	default:
		e[i].Box.X += mm(4*rnd.Float64() - 2)
		e[i].Box.H += mm(0.3 * float64(rnd.IntN(2)))
	}
	return e
}

func BenchmarkRecompile(b *testing.B) {
	a, p := cardFiles(b), programme(300, 300, card()...)
	last := compile(b, p, a)
	for b.Loop() {
		if _, err := Recompile(p, site.Front, a, last); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMove composes a card whose code or photo has moved by a dot since the
// last one.
func BenchmarkMove(b *testing.B) {
	a, who := cardFiles(b), crew()[0]
	for _, i := range []int{3, 4, 9} {
		e := card()
		b.Run(e[i].Name, func(b *testing.B) {
			last := compile(b, programme(300, 300, e...), a)
			work := last.Work()
			for n := 0; b.Loop(); n++ {
				e = slices.Clone(e)
				e[i].Box.X += mm(25.4 / 300 * float64(1-n%2*2))
				var err error
				if last, err = Recompile(programme(300, 300, e...), site.Front, a, last); err != nil {
					b.Fatal(err)
				}
				work = last.WorkAfter(work)
				compose(b, work, who)
			}
		})
	}
}
