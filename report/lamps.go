package report

import (
	"math"
	"slices"

	"unspool/ink"
	"unspool/proof"
	"unspool/site"
	"unspool/unit"
)

// Lamps are the lights that pictures of cards are drawn in, by wavelength: those
// of the site's readers, to a nanometre, and a common red (660 nm) or infrared
// one (940 nm) where no reader has any.
func Lamps(readers []site.Reader) []proof.Lamp {
	var peaks []unit.Nanometres
	for _, r := range readers {
		peaks = append(peaks, unit.Nanometres(math.Round(float64(r.Peak))))
	}
	if !slices.ContainsFunc(peaks, unit.Nanometres.Infrared) {
		peaks = append(peaks, 940)
	}
	if !slices.ContainsFunc(peaks, func(nm unit.Nanometres) bool { return !nm.Infrared() }) {
		peaks = append(peaks, 660)
	}
	slices.Sort(peaks)
	var out []proof.Lamp
	for _, nm := range slices.Compact(peaks) {
		out = append(out, proof.Lamp{Name: nm.String(), Lamp: ink.Line(nm)})
	}
	return out
}
