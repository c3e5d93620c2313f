package proof

import (
	"fmt"
	"math"
	"testing"

	"unspool/design"
	"unspool/symbol"
)

func sighted(t *testing.T, kind, black, more string) *Shown {
	t.Helper()
	p, err := design.Parse("programme.yaml", fmt.Appendf(nil, matrixCard, black, kind, "20, 12, 45, 30", more, kind, kind))
	if err != nil {
		t.Fatal(err)
	}
	pf, err := New(p, assets(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	k, err := pf.Worker().Show(0, Row{Person: p.Person(somebody())})
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// In resin every module is on its side of the threshold, however the code is
// turned, through either aperture; it belongs to a codeword or to one fixed
// pattern at most.
func TestLook(t *testing.T) {
	for _, kind := range []string{"qr", "datamatrix", "aztec", "pdf417"} {
		for _, turn := range []string{"", ", turn: 90", ", turn: 180", ", turn: 270"} {
			k := sighted(t, kind, "objects", turn)
			for reader, nm := range []float64{660, 940} {
				for _, spot := range []bool{false, true} {
					l, ok := k.Look(0, reader, spot)
					if !ok || !l.Read || !l.Quality.Decoded || float64(l.Peak) != nm || l.Spot != spot {
						t.Fatalf("%s%s: %v, read %v (%v)", kind, turn, ok, l.Read, l.Why)
					}
					r := k.Card.of(0)[reader]
					if l.Quality.Grade != r.Grade {
						t.Errorf("%s%s: grade %s, in the proof %s", kind, turn, l.Quality.Text, r.Grade.Text)
					}
					checkSighting(t, kind+turn, &l)
				}
			}
		}
	}
}

func checkSighting(t *testing.T, what string, l *Sighting) {
	t.Helper()
	n := l.Truth.W * l.Truth.H
	if l.At.W() != l.Truth.W*l.Module[0] || l.At.H() != l.Truth.H*l.Module[1] || len(l.Of) != n {
		t.Fatalf("%s: %v of %d x %d modules of %v", what, l.At, l.Truth.W, l.Truth.H, l.Module)
	}
	uses := make([]int, n)
	for i := range n {
		if l.Wrong(i) {
			t.Errorf("%s: module %d sends back %.2f, threshold %.2f", what, i, l.Reflectance(i), l.GT)
		}
		if l.Of[i] != symbol.NoCodeword {
			uses[i]++
		}
	}
	for _, p := range l.Parts {
		for _, i := range p.Modules {
			uses[i]++
		}
	}
	for i, u := range uses {
		if u > 1 {
			t.Fatalf("%s: module %d is of %d things", what, i, u)
		}
	}
}

// Mixed from dyes a code is there in red light and gone in infrared; the modules
// still are where they were.
func TestLookAtDye(t *testing.T) {
	k := sighted(t, "datamatrix", "none", "")
	red, _ := k.Look(0, 0, false)
	infrared, ok := k.Look(0, 1, false)
	if !ok || !red.Read || infrared.Read || infrared.Quality.Value != 0 || infrared.Rmax-infrared.Rmin > 0.1 || !red.Truth.Equal(infrared.Truth) {
		t.Errorf("red %v %s, infrared %v %s, %.2f to %.2f", red.Read, red.Quality.Text, infrared.Read, infrared.Quality.Text, infrared.Rmin, infrared.Rmax)
	}
	if math.Abs(red.GT-(red.Rmin+red.Rmax)/2) > 1e-6 {
		t.Errorf("threshold %v of %v to %v", red.GT, red.Rmin, red.Rmax)
	}
}

// What is no two-dimensional code of the card is not looked at.
func TestLookAtNothing(t *testing.T) {
	k := sighted(t, "qr", "objects", "")
	for _, at := range [][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 3}} {
		if _, ok := k.Look(at[0], at[1], false); ok {
			t.Errorf("code %d at reader %d is looked at", at[0], at[1])
		}
	}
	_, _, bars := shownDemo(t)
	if _, ok := bars.Look(0, 0, false); ok {
		t.Error("bars are looked at as modules")
	}
}
