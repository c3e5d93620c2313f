package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"unspool/ink"
	"unspool/plane"
	"unspool/unit"
)

// A raster shows what profiles show, along x and along y.
func TestRasterIsThatOfProfiles(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 30 {
		p := scribble(rng, 300, 600)
		l := usual.Under(ink.Line(unit.Nanometres(660 + 280*rng.IntN(2))))
		aperture := unit.Length(100+rng.IntN(200)) * um
		rect := plane.Rect{X0: 2, Y0: 3, X1: 12, Y1: 11}
		per := PerDot(p.DX)
		r := l.Raster(p, rect, per, aperture)
		if !r.Sound() || r.W != 10*per || r.H != 8*per {
			t.Fatalf("raster of %d x %d samples", r.W, r.H)
		}
		for y := 0; y < r.H; y += 3 {
			line := l.Profile(p, Scan{AlongX: true, From: 2, To: 12, At: 3 + (float64(y)+0.5)/float64(per), Aperture: aperture}).Samples
			for x, v := range line {
				if math.Abs(float64(v-r.V[y*r.W+x])) > 1e-3 {
					t.Fatalf("sample (%d, %d): %v, the profile has %v", x, y, r.V[y*r.W+x], v)
				}
			}
		}
	}
}

// A profile along y shows what a raster shows too, up to how finely the
// aperture is cut along and across.
func TestRasterAcross(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 7))
	for range 20 {
		p := scribble(rng, 300, 300)
		l := usual.Under(ink.Line(660))
		per := PerDot(p.DX)
		r := l.Raster(p, plane.Rect{X0: 3, Y0: 3, X1: 10, Y1: 10}, per, 200*um)
		for x := 0; x < r.W; x += 7 {
			line := l.Profile(p, Scan{From: 3, To: 10, At: 3 + (float64(x)+0.5)/float64(per), Aperture: 200 * um}).Samples
			for y, v := range line {
				if math.Abs(float64(v-r.V[y*r.W+x])) > 0.02 {
					t.Fatalf("sample (%d, %d): %v, the profile along y has %v", x, y, r.V[y*r.W+x], v)
				}
			}
		}
	}
}

// Spots at odd places lie between the samples of a profile.
func TestSpots(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	p := scribble(rng, 300, 300)
	l := usual.Under(ink.Line(660))
	xs, ys := []float64{2.31, 4.7, 4.9, 8.05}, []float64{3.3, 7.9}
	got := l.Spots(p, xs, ys, 150*um)
	for j, y := range ys {
		for i, x := range xs {
			one := l.Profile(p, Scan{AlongX: true, From: x - 0.0625, To: x + 0.0625, At: y, Aperture: 150 * um}).Samples
			if len(one) != 1 || math.Abs(float64(one[0]-got[j*len(xs)+i])) > 1e-2 {
				t.Errorf("at (%v, %v): %v, alone %v", x, y, got[j*len(xs)+i], one)
			}
		}
	}
	for _, bad := range [][]float64{nil, {math.NaN()}, {math.Inf(1)}, {1, 1e12}} {
		if v := l.Spots(p, bad, ys, 150*um); v != nil {
			t.Errorf("%v: %v", bad, v)
		}
	}
	if r := l.Raster(p, plane.Rect{}, 4, 150*um); r.Sound() {
		t.Error("a raster of nothing")
	}
}

// The middles of 58 x 58 modules of 3 dots: a symbol of 50 x 50 in its quiet
// zone of 4.
func BenchmarkSpots(b *testing.B) {
	rng := rand.New(rand.NewPCG(5, 9))
	p := face(1011, 638, 300, 300)
	for y := range 50 {
		for x := range 50 {
			if rng.IntN(2) == 0 {
				paint(p, plane.Rect{X0: 112 + 3*x, Y0: 112 + 3*y, X1: 115 + 3*x, Y1: 115 + 3*y}, [4]uint8{0, 0, 0, 1})
			}
		}
	}
	var at []float64
	for i := range 58 {
		at = append(at, 101.5+3*float64(i))
	}
	l := usual.Under(ink.Line(660))
	b.ReportAllocs()
	for b.Loop() {
		l.Spots(p, at, at, 203*um)
	}
}
