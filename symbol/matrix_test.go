package symbol

import (
	"errors"
	"math/rand/v2"
	"testing"
)

// However a grid lies, the reading lies as it does: the same modules belong to
// the same codewords and parts.
func TestAnyTurnLiesAsGiven(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	g := NewGrid(5, 3)
	of := make([]int16, 15)
	for i := range g.Dark {
		g.Dark[i], of[i] = rng.IntN(2) == 0, int16(i)
	}
	decode := func(h Grid) (MatrixReading, error) {
		if !h.Equal(g) {
			return MatrixReading{}, errors.New("not upright")
		}
		return MatrixReading{Truth: h, Layout: Layout{Of: of, Parts: []Part{{"corner", []int32{0, 14}}}}}, nil
	}
	for _, mirrored := range []bool{false, true} {
		for turn := range 4 {
			given := g
			if mirrored {
				given = given.Mirrored()
			}
			for range turn {
				given = given.Turned()
			}
			r, err := AnyTurn(given, decode)
			if err != nil {
				t.Fatalf("turn %d, mirrored %v: %v", turn, mirrored, err)
			}
			if r.Turn != turn || r.Mirrored != mirrored || !r.Truth.Equal(given) {
				t.Errorf("turn %d, mirrored %v: %+v", turn, mirrored, r)
			}
			for i := range g.Dark {
				one := NewGrid(5, 3)
				one.Dark[i] = true
				if mirrored {
					one = one.Mirrored()
				}
				for range turn {
					one = one.Turned()
				}
				for k, dark := range one.Dark {
					if dark && r.Of[k] != int16(i) {
						t.Errorf("turn %d, mirrored %v: module %d went to %d", turn, mirrored, i, k)
					}
					if dark && (i == 0 && r.Parts[0].Modules[0] != int32(k) || i == 14 && r.Parts[0].Modules[1] != int32(k)) {
						t.Errorf("turn %d, mirrored %v: the part's module %d is not %d", turn, mirrored, i, k)
					}
				}
			}
		}
	}
	if _, err := AnyTurn(NewGrid(5, 3), decode); err == nil {
		t.Error("a grid that never decodes was read")
	}
}

// 1-(e+2t)/(d-p) of the worst block (ISO/IEC 15415, from memory).
func TestUEC(t *testing.T) {
	for _, c := range []struct {
		check, guard, errors, erasures int
		want                           float64
	}{{10, 0, 0, 0, 1}, {10, 0, 2, 1, 0.5}, {10, 2, 2, 0, 0.5}, {10, 0, 6, 0, 0}, {2, 2, 0, 0, 1}, {2, 2, 1, 0, 0}} {
		r := MatrixReading{Layout: Layout{Blocks: []Block{{Check: 40}, {Check: c.check, Guard: c.guard}}}, Errors: []int{0, c.errors}, Erasures: []int{0, c.erasures}}
		if got := r.UEC(); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}
