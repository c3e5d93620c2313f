package ink

import (
	"math"

	"unspool/unit"
)

// band is one absorption band of a dye: a split Gaussian with its own width on
// the short and on the long side.
type band struct {
	centre, short, long unit.Nanometres
	height              float64
}

func (b band) at(nm unit.Nanometres) float64 {
	s := b.long
	if nm < b.centre {
		s = b.short
	}
	return b.height * math.Exp(-square(float64((nm-b.centre)/s))/2)
}

// tail is the slow decay of absorption beyond a dye's last band.
type tail struct {
	from   unit.Nanometres
	height float64
	length unit.Nanometres // to 1/e
	eased  bool            // rises from nothing over the first 20 nm
}

func (t tail) at(nm unit.Nanometres) float64 {
	if nm <= t.from {
		return 0
	}
	past := float64(nm - t.from)
	v := t.height * math.Exp(-past/float64(t.length))
	if t.eased {
		v *= -math.Expm1(-square(past / 20))
	}
	return v
}

// dye is the shape of a dye's density, scaled to dmax at its highest point
// within peak.
type dye struct {
	dmax  float64
	bands []band
	tail  tail
	peak  [2]unit.Nanometres
}

func (d dye) shape(nm unit.Nanometres) float64 {
	s := d.tail.at(nm)
	for _, b := range d.bands {
		s += b.at(nm)
	}
	return s
}

// norm is the highest value of the shape within peak, searched in steps of 1 nm.
func (d dye) norm() float64 {
	n := 0.0
	for nm := d.peak[0]; nm <= d.peak[1]; nm++ {
		n = max(n, d.shape(nm))
	}
	return n
}

func (d dye) density() spectrum {
	scale := d.dmax / d.norm()
	return func(nm unit.Nanometres) float64 { return scale * d.shape(nm) }
}

// The dyes of the presets. All values from memory: peaks near 446, 536 and
// 637 nm, half-height widths near 100 nm, and the unwanted side absorptions
// (magenta in the blue, cyan in the blue and green) that dyes of these classes
// usually show.
var (
	usualYellow = dye{
		dmax:  1.80,
		bands: []band{{444, 38, 31, 1}, {486, 22, 24, 0.14}, {350, 30, 30, 0.35}},
		tail:  tail{445, 0.030, 70, true},
		peak:  [2]unit.Nanometres{420, 480},
	}
	usualMagenta = dye{
		dmax:  1.95,
		bands: []band{{546, 30, 27, 1}, {514, 30, 28, 0.50}, {380, 45, 45, 0.30}, {450, 60, 60, 0.07}},
		tail:  tail{560, 0.060, 50, true},
		peak:  [2]unit.Nanometres{500, 570},
	}
	usualCyan = dye{
		dmax:  2.10,
		bands: []band{{660, 40, 36, 1}, {612, 40, 34, 0.66}, {555, 45, 40, 0.18}, {385, 42, 40, 0.22}, {460, 70, 70, 0.05}},
		tail:  tail{690, 0.060, 45, true},
		peak:  [2]unit.Nanometres{600, 690},
	}
	// cautiousCyan is a panel of anthraquinone dye alone: two peaks, and an edge
	// so early that light from about 670 nm on begins to pass.
	cautiousCyan = dye{
		dmax:  1.85,
		bands: []band{{646, 20, 17, 1}, {600, 26, 24, 0.88}, {560, 30, 30, 0.25}, {385, 40, 40, 0.20}},
		tail:  tail{665, 0.04, 40, false},
		peak:  [2]unit.Nanometres{600, 680},
	}
)

// Usual is the preset for a common dye ribbon on white PVC. Values from memory.
func Usual() *Model { return preset(usualCyan) }

// Cautious is Usual with a twin-peaked cyan that lets deep red pass: composite
// black still reads at 650 nm, hardly at 670 and no longer from about 680 nm
// on. A card that passes here does not hang on the make of the cyan. Values
// from memory.
func Cautious() *Model { return preset(cautiousCyan) }

func preset(cyan dye) *Model {
	return newModel(Model{
		card: whitePVC,
		y:    usualYellow.density(),
		m:    usualMagenta.density(),
		c:    cyan.density(),
		k:    carbonDensity,
		from: unit.FirstNM,
		to:   unit.LastNM,
	})
}

// whitePVC is Rw, card stock filled with rutile: a steep edge near 400 nm, a
// plateau, a slight droop into the near infrared. From memory.
func whitePVC(nm unit.Nanometres) float64 {
	l := float64(nm)
	return 0.035 + 0.850*rise(l, 402, 6.5) - 0.00006*max(0, l-560)
}

// carbonDensity is DK: nearly flat, slowly weaker into the near infrared. From
// memory.
func carbonDensity(nm unit.Nanometres) float64 { return 2.1 * math.Pow(550/float64(nm), 0.8) }

// rise is a smooth step from 0 to 1 at a wavelength; width is that of the
// logistic curve.
func rise(l, at, width float64) float64 { return 1 / (1 + math.Exp(-(l-at)/width)) }
