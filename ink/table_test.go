package ink

import (
	"math"
	"math/rand/v2"
	"testing"

	"unspool/unit"
)

// A table under one wavelength gives what the formula gives.
func TestTableMatchesReflectance(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, m := range []*Model{Usual(), Cautious()} {
		for range 2000 {
			nm := 380 + 620*rng.Float64()
			a := Amounts{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32()), rng.IntN(2) == 0}
			table := m.Under(Line(unit.Nanometres(nm)))
			want := m.Reflectance(unit.Nanometres(nm), a)
			if got := float64(table.R(a.Y, a.M, a.C, a.K)); math.Abs(got-want) > 1e-6 {
				t.Fatalf("%+v at %.1f nm: %.7f, want %.7f", a, nm, got, want)
			}
		}
	}
}

// Mix at whole amounts is R, at broken ones the formula, and resin averages by
// area.
func TestMix(t *testing.T) {
	m := Usual()
	table := m.Under(Band(660, 20))
	for v := 0; v < 256; v += 3 {
		y, mg, c := uint8(v), uint8(255-v), uint8(v/2)
		fy, fm, fc := float32(y)/255, float32(mg)/255, float32(c)/255
		open, shut := table.R(y, mg, c, false), table.R(y, mg, c, true)
		for _, k := range []float32{0, 0.25, 1} {
			want := (1-k)*open + k*shut
			if got := table.Mix(fy, fm, fc, k); math.Abs(float64(got-want)) > 1e-5 {
				t.Fatalf("amount %d, resin %.2f: %.6f, want %.6f", v, k, got, want)
			}
		}
	}
	line := m.Under(Line(640))
	for _, v := range []float64{0.001, 0.1234, 0.5, 0.9995} {
		want := surface + (m.card(640)-surface)*math.Pow(10, -v*m.c(640))
		if got := float64(line.Mix(0, 0, float32(v), 0)); math.Abs(got-want) > 5e-5*want {
			t.Errorf("cyan %g: %.6f, want %.6f", v, got, want)
		}
	}
	nan := float32(math.NaN())
	if table.Mix(nan, -1, nan, nan) != table.Mix(0, 0, 0, 0) || table.Mix(2, 9, 1e30, 7) != table.Mix(1, 1, 1, 1) {
		t.Error("amounts beyond 0 to 1 are not taken as the nearest end")
	}
}

// Overlay: 0.985 squared of the light below the surface, nothing in the
// ultraviolet (from memory).
func TestOverlaid(t *testing.T) {
	m := Usual()
	for _, nm := range []float64{450, 660, 940} {
		table := m.Under(Line(unit.Nanometres(nm)))
		r := table.R(0, 0, 0, false)
		want := surface + (float64(r)-surface)*0.970225
		if got := float64(table.Overlaid(r)); math.Abs(got-want) > 1e-6 {
			t.Errorf("%g nm: %.5f, want %.5f", nm, got, want)
		}
	}
	if table := m.Under(Line(380)); table.Overlaid(0.5) > 0.07 {
		t.Errorf("%.3f of the ultraviolet comes back", table.Overlaid(0.5))
	}
}

func BenchmarkUnder(b *testing.B) {
	m := Usual()
	for b.Loop() {
		m.Under(Band(660, 20))
	}
}

func BenchmarkR(b *testing.B) {
	for _, c := range []struct {
		name string
		lamp Lamp
	}{{"line", Line(660)}, {"red LED", Band(660, 20)}, {"infrared LED", Band(940, 50)}, {"wide", Band(600, 150)}} {
		b.Run(c.name, func(b *testing.B) {
			table := Usual().Under(c.lamp)
			var sum float32
			v := uint32(0)
			for b.Loop() {
				v = v*1664525 + 1013904223
				sum += table.R(uint8(v>>8), uint8(v>>16), uint8(v>>24), v&128 != 0)
			}
			sink = sum
			b.ReportMetric(float64(len(table.rays)), "rays")
		})
	}
}

func BenchmarkMix(b *testing.B) {
	table := Usual().Under(Band(660, 20))
	var sum float32
	for b.Loop() {
		sum += table.Mix(0.3, 0.7, 0.2, 0.5)
	}
	sink = sum
}

// sink keeps benchmarked results alive.
var sink float32
