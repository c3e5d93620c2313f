package ink

import (
	"math"

	"unspool/unit"
)

// Lamp is the light a dot is seen under: one wavelength, or a Gaussian band as
// light-emitting diodes have. Lamps can be compared with ==.
type Lamp struct{ peak, fwhm unit.Nanometres }

// Line is light of one wavelength, such as a laser's.
func Line(nm unit.Nanometres) Lamp { return Lamp{peak: nm} }

// Band is light with a peak and a full width at half maximum. What of it lies
// beyond 380 to 1000 nm is left out; a width of 0 or less is a line.
func Band(peak, fwhm unit.Nanometres) Lamp { return Lamp{peak, max(fwhm, 0)} }

// Peak is the wavelength the lamp was made with.
func (l Lamp) Peak() unit.Nanometres { return l.peak }

// Width is the full width at half maximum, 0 for a line.
func (l Lamp) Width() unit.Nanometres { return l.fwhm }

// ray is one wavelength of a lamp and its share of the light.
type ray struct {
	nm    unit.Nanometres
	share float64
}

// maxRays is enough for any band: evenly spaced samples integrate a Gaussian
// almost exactly once they lie closer than its deviation.
const maxRays = 9

// reach is how far from the peak a band is sampled, in full widths at half
// maximum: 3.3 standard deviations, which leaves out 0.1 % of the light.
const reach = 1.4

// sigmas is the number of standard deviations in a full width at half maximum.
var sigmas = 2 * math.Sqrt(2*math.Ln2)

// rays splits the lamp into at most maxRays wavelengths whose shares add up to 1.
func (l Lamp) rays() []ray {
	first, last := clip(l.peak-reach*l.fwhm), clip(l.peak+reach*l.fwhm)
	if !(first < last) {
		return []ray{{clip(l.peak), 1}}
	}
	rays := make([]ray, maxRays)
	for i := range rays {
		nm := first + (last-first)*unit.Nanometres(i)/(maxRays-1)
		share := math.Exp(-square(float64((nm-l.peak)/l.fwhm)*sigmas) / 2)
		if i == 0 || i == maxRays-1 {
			share /= 2 // trapezoid rule
		}
		rays[i] = ray{nm, share}
	}
	return normal(rays)
}

// fewRays is the three-point Gauss-Hermite rule for the same band, exact where
// the reflectance is a polynomial of degree five across it. ok is false where
// a ray would leave the spectrum or the lamp is a line.
func (l Lamp) fewRays() (rays []ray, ok bool) {
	step := l.fwhm * unit.Nanometres(math.Sqrt(3)/sigmas)
	if !(step > 0) || l.peak-step < unit.FirstNM || l.peak+step > unit.LastNM {
		return nil, false
	}
	return []ray{{l.peak - step, 1. / 6}, {l.peak, 2. / 3}, {l.peak + step, 1. / 6}}, true
}

// normal scales the shares to a sum of 1. A band so far out that none of its
// light is left in the spectrum keeps its ray nearest to the peak.
func normal(rays []ray) []ray {
	sum, best := 0.0, rays[0]
	for _, r := range rays {
		sum += r.share
		if r.share > best.share {
			best = r
		}
	}
	if !(sum > 1e-300) {
		return []ray{{best.nm, 1}}
	}
	for i := range rays {
		rays[i].share /= sum
	}
	return rays
}
