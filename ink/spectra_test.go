package ink

import (
	"math"
	"testing"

	"unspool/unit"
)

// reflect is the formula of the doc comment of Spectra.
func (s Spectra) reflect(nm int, y, m, c uint8, film *Film, clear bool) float64 {
	i := nm - int(s.From)
	d := float64(y)/255*s.Y[i] + float64(m)/255*s.M[i] + float64(c)/255*s.C[i]
	r := s.Surface + (s.Card[i]-s.Surface)*math.Pow(10, -d)
	if film != nil {
		r = s.Surface + film.Body[i] + film.Through[i]*(r-s.Surface)
	}
	if clear {
		r = s.Surface + s.Clear[i]*(r-s.Surface)
	}
	return r
}

// What is written out is the engine: the same dot under the same line of light.
func TestSpectraAreTheModel(t *testing.T) {
	for _, resin := range []Resin{Carbon(), NotCarbon(), White(), Metallic(), Gold(), Coloured([3]uint8{200, 30, 40})} {
		for _, m := range []*Model{Usual(), Cautious()} {
			s := m.Spectra(Carbon(), resin)
			if n := int(unit.LastNM-unit.FirstNM) + 1; len(s.Card) != n || len(s.Special.Body) != n || len(s.Clear) != n {
				t.Fatalf("%d wavelengths, want %d", len(s.Card), n)
			}
			for nm := 380; nm <= 1000; nm += 20 {
				k, special := m.Under(Line(unit.Nanometres(nm))), m.UnderResin(Line(unit.Nanometres(nm)), resin)
				for i := range 64 {
					y, mg, c := uint8(i&3*85), uint8(i>>2&3*85), uint8(i>>4*85)
					for _, v := range []struct {
						film *Film
						want float32
					}{{nil, k.R(y, mg, c, false)}, {&s.Resin, k.R(y, mg, c, true)}, {&s.Special, special.R(y, mg, c, true)}} {
						if got := s.reflect(nm, y, mg, c, v.film, false); math.Abs(got-float64(v.want)) > 1e-5 {
							t.Fatalf("%v %d nm %d,%d,%d: %v, want %v", resin, nm, y, mg, c, got, v.want)
						}
						if got, want := s.reflect(nm, y, mg, c, v.film, true), k.Overlaid(v.want); math.Abs(got-float64(want)) > 1e-5 {
							t.Fatalf("%v %d nm %d,%d,%d overlaid: %v, want %v", resin, nm, y, mg, c, got, want)
						}
					}
				}
			}
		}
	}
}
