package report

import (
	"slices"
	"testing"

	"unspool/site"
	"unspool/unit"
)

func TestLampsAreTheReadersLights(t *testing.T) {
	for _, c := range []struct{ readers, want []unit.Nanometres }{
		{nil, []unit.Nanometres{660, 940}},
		{[]unit.Nanometres{880}, []unit.Nanometres{660, 880}},
		{[]unit.Nanometres{632.8}, []unit.Nanometres{633, 940}},
		{[]unit.Nanometres{940, 660, 850, 660, 660.2}, []unit.Nanometres{660, 850, 940}},
	} {
		var readers []site.Reader
		for _, nm := range c.readers {
			readers = append(readers, site.Reader{Peak: nm})
		}
		var got []unit.Nanometres
		for _, l := range Lamps(readers) {
			got = append(got, l.Peak())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("readers at %v: pictures at %v, want %v", c.readers, got, c.want)
		}
	}
}
