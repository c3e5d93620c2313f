// Package ink knows what light a card sends back: white card stock, the three
// diffusing dyes, the resin panel and the clear overlay, at any wavelength from
// 380 to 1000 nm; what the eye makes of it; and, the other way round, which
// dyes give a colour.
//
// A reflectance is absolute, 0 to 1, where 1 is the perfect diffuser, as a head
// with 45:0 geometry measures it. Light passes the dyes twice, so the densities
// are reflection densities and simply add:
//
//	R(l) = RS + (Rw(l) - RS) * 10^-(y*DY(l) + m*DM(l) + c*DC(l) + k*DK(l))
//
// with y, m, c from 0 to 1 and k 0 or 1. RS is what the glossy surface sends
// back before any dye is reached, Rw the bare card.
//
// Every number of the presets is from memory: an engineering fit to how such
// dyes and pigments usually behave, not a measurement of anyone's ribbon. Who
// has measured a ribbon gives its dye table to Custom. The package is pure and
// its values never change once made, so all of them may be shared.
package ink

import (
	"math"

	"unspool/unit"
)

// surface is RS, the first-surface residue seen by a 45:0 head on a glossy
// card. From memory.
const surface = 0.004

// spectrum is one quantity by wavelength.
type spectrum func(unit.Nanometres) float64

// Model is the colour of one kind of card and ribbon by wavelength. It is
// immutable and safe for concurrent use.
type Model struct {
	card     spectrum // Rw: reflectance of the bare card
	y, m, c  spectrum // reflection density of each dye at full amount
	k        spectrum // reflection density of the carbon resin
	from, to unit.Nanometres
	eye      visible
}

// Amounts is what one dot received: dye amounts, 255 = full, and resin or not.
type Amounts struct {
	Y, M, C uint8
	K       bool
}

// newModel completes a model whose spectra are set.
func newModel(m Model) *Model {
	m.eye = sampleVisible(&m)
	return &m
}

// Known is the range of wavelengths the dyes were stated for. Inside 380 to
// 1000 nm but outside this range Custom has extended the table, so a claim made
// there rests on an assumption. The presets know all of it.
func (m *Model) Known() (from, to unit.Nanometres) { return m.from, m.to }

// Reflectance is that of a dot under light of one wavelength, 0 to 1 absolute;
// the resin is carbon. Wavelengths beyond 380 to 1000 nm are taken as the
// nearest end.
func (m *Model) Reflectance(nm unit.Nanometres, a Amounts) float64 {
	nm = clip(nm)
	t := transmitted(float64(a.Y)/255*m.y(nm) + float64(a.M)/255*m.m(nm) + float64(a.C)/255*m.c(nm))
	if a.K {
		t *= transmitted(m.k(nm))
	}
	return surface + (m.card(nm)-surface)*t
}

// transmitted is the share of light left by a density.
func transmitted(density float64) float64 { return math.Exp(-math.Ln10 * density) }

// clip keeps a wavelength in the spectrum that Unspool computes.
func clip(nm unit.Nanometres) unit.Nanometres {
	return min(max(nm, unit.FirstNM), unit.LastNM)
}
