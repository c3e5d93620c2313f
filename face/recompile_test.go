package face

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"unspool/design"
	"unspool/site"
)

// A plan that takes over what still holds composes what a plan made afresh does,
// through a chain of changes: another order, boxes, texts, pictures, raster, and
// the same elements further down in the file.
func TestRecompileIsCompile(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 8))
	a, elements, pitch := cardFiles(t), card(), 300
	last := compile(t, programme(300, 300, elements...), a)
	taken := 0
	for step := range 7 {
		elements = slices.Clone(elements)
		i, j := 1+rnd.IntN(len(elements)-1), 1+rnd.IntN(len(elements)-1)
		moved := false
		switch step {
		case 0:
			elements[i], elements[j] = elements[j], elements[i]
		case 1:
			elements[i].Box.X += mm(0.7)
		case 2:
			elements[i].Show = &design.Condition{Field: "role", Pos: design.Pos{Line: step}}
		case 3:
			moved = true
		case 4:
			elements = slices.Delete(elements, i, i+1)
			elements = append(elements, words("step", 4, 4, [4]float64{3, 3, 30, 5}))
		case 5:
			pitch = 900 - pitch
		}
		p := programme(300, 300, elements...)
		if pitch == 600 {
			p = programme(300, 600, elements...)
		}
		for k := range elements {
			if moved {
				elements[k].Pos.Line += 2
			}
		}
		fresh := compile(t, p, a)
		again, err := Recompile(p, site.Front, a, last)
		if err != nil {
			t.Fatal(err)
		}
		if again.base == last.base {
			taken++
		}
		for _, who := range crew()[:1] {
			one, two := compose(t, fresh.Work(), who), compose(t, again.Work(), who)
			if d := sameArt(one.Art, two.Art); d != "" || len(one.Codes) != len(two.Codes) || !reflect.DeepEqual(one.Notes, two.Notes) || !slices.Equal(one.Texts, two.Texts) {
				t.Fatalf("step %d: %s differs", step, d)
			}
		}
		last = again
	}
	if taken == 0 || taken == 7 {
		t.Errorf("the faces were taken over whole %d times", taken)
	}
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
