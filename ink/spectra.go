package ink

import "unspool/unit"

// Spectra is a model written out by wavelength, in steps of 1 nm from FirstNM to
// LastNM, for whoever lights dots without this package. With y, m and c from 0
// to 1 a dot without resin reflects
//
//	base = Surface + (Card - Surface) * 10^-(y*Y + m*M + c*C)
//
// and one under a film of resin
//
//	Surface + Body + Through * (base - Surface)
//
// and the clear overlay makes of any r
//
//	Surface + Clear * (r - Surface).
//
// That is what a Table gives under a lamp of that one wavelength.
type Spectra struct {
	From, Step unit.Nanometres
	Surface    float64   // what the glossy surface sends back
	Card       []float64 // reflectance of the bare card
	Y, M, C    []float64 // reflection density of each dye at full amount
	Resin      Film      // of the black panel
	Special    Film      // of the metallic, white or coloured panel
	Clear      []float64 // share of light left by the overlay, both ways
}

// Film is a layer of resin by wavelength: Body is what it reflects itself,
// Through the share of light that reaches what lies below and comes back.
type Film struct{ Body, Through []float64 }

// Spectra writes the model out with the resins of a ribbon.
func (m *Model) Spectra(resin, special Resin) Spectra {
	n := int(unit.LastNM-unit.FirstNM) + 1
	s := Spectra{From: unit.FirstNM, Step: 1, Surface: surface, Card: make([]float64, n),
		Y: make([]float64, n), M: make([]float64, n), C: make([]float64, n), Clear: make([]float64, n),
		Resin: m.film(resin, n), Special: m.film(special, n)}
	for i := range n {
		nm := unit.FirstNM + unit.Nanometres(i)
		s.Card[i], s.Clear[i] = m.card(nm), overlay(nm)
		s.Y[i], s.M[i], s.C[i] = m.y(nm), m.m(nm), m.c(nm)
	}
	return s
}

func (m *Model) film(r Resin, n int) Film {
	f := Film{Body: make([]float64, n), Through: make([]float64, n)}
	at := m.films(r)
	for i := range n {
		v := at(unit.FirstNM + unit.Nanometres(i))
		f.Body[i], f.Through[i] = v.body, v.through
	}
	return f
}
