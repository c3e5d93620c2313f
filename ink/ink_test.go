package ink

import (
	"math"
	"testing"

	"unspool/unit"
)

// Corners of the dye cube, and resin.
var (
	bare      = Amounts{}
	yellow    = Amounts{Y: 255}
	magenta   = Amounts{M: 255}
	cyan      = Amounts{C: 255}
	red       = Amounts{Y: 255, M: 255}
	green     = Amounts{Y: 255, C: 255}
	blue      = Amounts{M: 255, C: 255}
	composite = Amounts{Y: 255, M: 255, C: 255}
	resin     = Amounts{K: true}
	under     = Amounts{Y: 255, M: 255, C: 255, K: true}
)

// pcs is the print contrast signal (RL - RD) / RL against the bare card.
func pcs(m *Model, nm unit.Nanometres, a Amounts) float64 {
	light := m.Reflectance(nm, bare)
	return (light - m.Reflectance(nm, a)) / light
}

// Regression only: reflectance in per cent and visual density of the usual
// preset as first computed, to the digits then written down.
func TestUsualReflectance(t *testing.T) {
	m := Usual()
	at := []unit.Nanometres{630, 650, 660, 670, 780, 850, 880, 940}
	for _, c := range []struct {
		name    string
		a       Amounts
		r       []float64
		density float64
	}{
		{"bare", bare, []float64{88.1, 88.0, 87.9, 87.8, 87.2, 86.8, 86.6, 86.2}, 0.05},
		{"Y", yellow, []float64{87.3, 87.4, 87.4, 87.4, 87.1, 86.7, 86.6, 86.2}, 0.10},
		{"M", magenta, []float64{81.4, 84.8, 85.5, 85.9, 87.0, 86.7, 86.6, 86.2}, 0.58},
		{"C", cyan, []float64{1.1, 1.2, 1.5, 2.1, 83.6, 86.2, 86.3, 86.2}, 0.81},
		{"red", red, []float64{80.7, 84.3, 85.0, 85.5, 86.9, 86.7, 86.5, 86.2}, 0.59},
		{"green", green, []float64{1.1, 1.2, 1.5, 2.1, 83.5, 86.2, 86.3, 86.1}, 0.95},
		{"blue", blue, []float64{1.1, 1.2, 1.4, 2.1, 83.4, 86.2, 86.3, 86.1}, 1.80},
		{"YMC", composite, []float64{1.1, 1.2, 1.4, 2.1, 83.3, 86.2, 86.3, 86.1}, 1.93},
		{"K", resin, []float64{1.5, 1.7, 1.7, 1.8, 2.6, 3.2, 3.5, 4.1}, 1.91},
		{"YMC+K", under, []float64{0.4, 0.4, 0.4, 0.4, 2.5, 3.2, 3.5, 4.1}, 2.39},
	} {
		for i, nm := range at {
			if got := 100 * m.Reflectance(nm, c.a); math.Abs(got-c.r[i]) > 0.0501 {
				t.Errorf("%s at %v: %.3f %%, want %.1f", c.name, nm, got, c.r[i])
			}
		}
		if got := m.VisualDensity(c.a); math.Abs(got-c.density) > 0.00501 {
			t.Errorf("%s: visual density %.4f, want %.2f", c.name, got, c.density)
		}
	}
}

// Regression only: densities near the dye peaks, scale factors, greys, and the
// least cyan for a print contrast signal of 0.75.
func TestUsualDensities(t *testing.T) {
	m := Usual()
	for _, c := range []struct {
		a    Amounts
		want [3]float64 // at 450, 540, 640 nm
	}{
		{yellow, [3]float64{1.74, 0.10, 0.06}},
		{magenta, [3]float64{0.37, 1.85, 0.08}},
		{cyan, [3]float64{0.24, 0.56, 1.96}},
		{composite, [3]float64{2.07, 2.17, 1.97}},
		{resin, [3]float64{2.15, 1.98, 1.79}},
	} {
		for i, nm := range []unit.Nanometres{450, 540, 640} {
			if got := -math.Log10(m.Reflectance(nm, c.a)); math.Abs(got-c.want[i]) > 0.0101 {
				t.Errorf("%+v at %v: density %.3f, want %.2f", c.a, nm, got, c.want[i])
			}
		}
	}
	for _, c := range []struct {
		d    dye
		want float64
	}{{usualYellow, 1.0269}, {usualMagenta, 1.339}, {usualCyan, 1.3754}} {
		if got := c.d.norm(); math.Abs(got-c.want) > 6e-4 {
			t.Errorf("scale %.4f, want %.4f", got, c.want)
		}
	}
	for _, c := range []struct{ nm, amount float64 }{{630, 0.293}, {650, 0.299}, {660, 0.319}, {670, 0.356}} {
		below, above := uint8(255*c.amount), uint8(255*c.amount)+2
		nm := unit.Nanometres(c.nm)
		if pcs(m, nm, Amounts{C: below}) > 0.75 || pcs(m, nm, Amounts{C: above}) < 0.75 {
			t.Errorf("%v: contrast 0.75 is not reached at cyan %.3f", nm, c.amount)
		}
	}
}

func TestUsualGreys(t *testing.T) {
	m := Usual()
	for _, c := range []struct{ t, r660, density float64 }{
		{0.1, 56.6, 0.27}, {0.25, 29.3, 0.58}, {0.5, 10.0, 1.08}, {0.75, 3.6, 1.55}, {1, 1.4, 1.93},
	} {
		// A step of 1/255 either way of the wanted amount brackets the values.
		v := uint8(math.Round(255 * c.t))
		a := Amounts{v, v, v, false}
		if got := 100 * m.Reflectance(660, a); math.Abs(got-c.r660) > 0.05+0.012*c.r660 {
			t.Errorf("grey %.2f: %.2f %% at 660 nm, want %.1f", c.t, got, c.r660)
		}
		if got := m.VisualDensity(a); math.Abs(got-c.density) > 0.011 {
			t.Errorf("grey %.2f: visual density %.3f, want %.2f", c.t, got, c.density)
		}
		if got := m.Reflectance(880, a); got < 0.8625 {
			t.Errorf("grey %.2f: %.4f at 880 nm", c.t, got)
		}
	}
}

// Common practice, no source: composite black is dark to red readers and gone
// in the infrared, resin is dark to both, red bars vanish in red light.
func TestReadersSeeWhatTheTradeKnows(t *testing.T) {
	m := Usual()
	for _, c := range []struct {
		name   string
		nm     unit.Nanometres
		a      Amounts
		lo, hi float64
	}{
		{"composite black", 660, composite, 0.9, 1},
		{"composite black", 880, composite, -0.01, 0.1},
		{"composite black", 940, composite, -0.01, 0.1},
		{"resin black", 660, resin, 0.9, 1},
		{"resin black", 880, resin, 0.9, 1},
		{"resin black", 940, resin, 0.9, 1},
		{"resin over dyes", 940, under, 0.9, 1},
		{"red", 660, red, 0, 0.15},
		{"yellow", 660, yellow, 0, 0.15},
		{"magenta", 660, magenta, 0, 0.15},
		{"cyan", 660, cyan, 0.75, 1},
		{"green", 660, green, 0.75, 1},
		{"blue", 660, blue, 0.75, 1},
	} {
		if got := pcs(m, c.nm, c.a); got < c.lo || got > c.hi {
			t.Errorf("%s at %v: contrast %.3f, want %.2f to %.2f", c.name, c.nm, got, c.lo, c.hi)
		}
	}
}

// The lesson of the cautious preset, from memory: composite black passes at
// 650 nm, is weak at 670 and fails from about 680 nm on. The per cent values
// are regression only.
func TestCautious(t *testing.T) {
	m := Cautious()
	for _, c := range []struct{ nm, r float64 }{{630, 1.8}, {650, 2.2}, {660, 6.2}, {670, 19.9}, {680, 48.4}, {700, 80.6}} {
		if got := 100 * m.Reflectance(unit.Nanometres(c.nm), cyan); math.Abs(got-c.r) > 0.0501 {
			t.Errorf("cyan at %g nm: %.3f %%, want %.1f", c.nm, got, c.r)
		}
	}
	for _, c := range []struct{ nm, lo, hi float64 }{{650, 0.95, 1}, {670, 0.75, 0.8}, {680, 0, 0.5}, {700, 0, 0.15}} {
		if got := pcs(m, unit.Nanometres(c.nm), composite); got < c.lo || got > c.hi {
			t.Errorf("composite black at %g nm: contrast %.3f, want %.2f to %.2f", c.nm, got, c.lo, c.hi)
		}
	}
}

// From the definitions: the ends of the spectrum hold beyond it, more dye is
// never lighter, and nothing leaves 0 to 1.
func TestReflectanceStaysInBounds(t *testing.T) {
	for _, m := range []*Model{Usual(), Cautious()} {
		if m.Reflectance(100, red) != m.Reflectance(unit.FirstNM, red) || m.Reflectance(2000, red) != m.Reflectance(unit.LastNM, red) {
			t.Error("beyond the spectrum the nearest end does not hold")
		}
		for nm := unit.FirstNM; nm <= unit.LastNM; nm += 5 {
			last := 1.0
			for v := 0; v < 256; v += 5 {
				r := m.Reflectance(nm, Amounts{Y: uint8(v), M: uint8(v), C: uint8(v)})
				if r > last || r < surface || r > 1 {
					t.Fatalf("%v, amount %d: %g after %g", nm, v, r, last)
				}
				last = r
			}
		}
	}
}
