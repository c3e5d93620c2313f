package ink

import (
	"math"
	"testing"

	"unspool/unit"
)

// bandMean is the mean reflectance over a Gaussian band, summed finely.
func bandMean(m *Model, peak, fwhm unit.Nanometres, a Amounts) float64 {
	var sum, weight float64
	sigma := float64(fwhm) / 2.3548200450309493
	for nm := unit.FirstNM; nm <= unit.LastNM; nm += 0.25 {
		w := math.Exp(-square(float64(nm-peak)/sigma) / 2)
		sum += w * m.Reflectance(nm, a)
		weight += w
	}
	return sum / weight
}

// Regression: band averages in per cent as first computed; and each against a
// fine sum over the band.
func TestBandMeans(t *testing.T) {
	m := Usual()
	for _, c := range []struct {
		a          Amounts
		peak, fwhm unit.Nanometres
		want       float64
	}{
		{magenta, 630, 18, 80.6}, {magenta, 660, 20, 85.4}, {composite, 660, 20, 1.6},
		{resin, 850, 40, 3.2}, {resin, 880, 80, 3.5}, {resin, 940, 50, 4.1},
	} {
		got := 100 * float64(m.Under(Band(c.peak, c.fwhm)).R(c.a.Y, c.a.M, c.a.C, c.a.K))
		if math.Abs(got-c.want) > 0.0501 {
			t.Errorf("%+v at %v/%v: %.3f %%, want %.1f", c.a, c.peak, float64(c.fwhm), got, c.want)
		}
	}
}

func TestBandsMatchAFineSum(t *testing.T) {
	for _, m := range []*Model{Usual(), Cautious()} {
		for _, l := range []Lamp{
			Band(633, 1), Band(630, 18), Band(660, 20), Band(675, 25), Band(700, 25), Band(720, 40),
			Band(880, 80), Band(950, 50), Band(990, 60), Band(550, 120), Band(400, 15), Band(382, 20),
		} {
			for _, a := range []Amounts{bare, yellow, magenta, cyan, composite, resin, {90, 40, 160, false}} {
				want := bandMean(m, l.peak, l.fwhm, a)
				got := float64(m.Under(l).R(a.Y, a.M, a.C, a.K))
				// The sampled band leaves out 0.1 % of its light, and wide bands over
				// steep edges are sampled coarsely.
				if math.Abs(got-want) > 0.004 {
					t.Errorf("%+v under %+v: %.4f, want %.4f", a, l, got, want)
				}
			}
		}
	}
}

// From the definition of a lamp: shares add up to 1, wavelengths stay in the
// spectrum and rise, there are at most nine.
func TestRays(t *testing.T) {
	inf := unit.Nanometres(math.Inf(1))
	for _, l := range []Lamp{
		{}, Line(660), Line(5), Line(1e9), Band(660, 20), Band(660, -3), Band(385, 40), Band(995, 80),
		Band(1100, 30), Band(200, 1), Band(600, 1e6), Band(660, inf), Band(inf, 10), Band(-inf, inf),
	} {
		rays := l.rays()
		sum, last := 0.0, unit.Nanometres(0)
		for _, r := range rays {
			if r.nm < unit.FirstNM || r.nm > unit.LastNM || r.nm <= last || !(r.share >= 0) {
				t.Errorf("%+v: ray %+v after %v", l, r, last)
			}
			sum, last = sum+r.share, r.nm
		}
		if len(rays) > maxRays || math.Abs(sum-1) > 1e-12 {
			t.Errorf("%+v: %d rays with shares of %g together", l, len(rays), sum)
		}
	}
	if l := Band(660, 20); l.Peak() != 660 || l.Width() != 20 || l == Line(660) || Band(660, -1) != Line(660) {
		t.Errorf("%+v does not tell what it was made with", l)
	}
}
