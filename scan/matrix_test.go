package scan

import (
	"testing"

	"unspool/symbol/aztec"
	"unspool/symbol/datamatrix"
)

func TestDataMatrixAtAnyAngle(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"123456", "Sundhaven 000042 Ida Example", "Ida Example, deck hand, Sundhaven ferries, number 000042, until 2031-05-01; keys 7 and 9; 0123456789"} {
		for _, o := range []datamatrix.Options{{}, {Shape: datamatrix.Rectangle}} {
			m, err := datamatrix.Encode(text, o)
			if err != nil {
				continue
			}
			for turn := 0.0; turn < 360; turn += 59 {
				for _, side := range []float64{3, 5} {
					r := shown(m.Grid, side, turn, 400, 400)
					got := dataMatrices(r, twoTone(r, 6), datamatrix.Decode)
					if len(got) != 1 || got[0].Reading.Text != text {
						t.Errorf("%s, %d x %d modules of %g at %g degrees: %d found", text[:5], m.W, m.H, side, turn, len(got))
					}
				}
			}
		}
	}
}

func TestAztecAtAnyAngle(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"123456", "Sundhaven 000042 Ida Example", "Ida Example, deck hand, Sundhaven ferries, number 000042, until 2031-05-01; keys 7 and 9; 0123456789 and on for a symbol of more layers yet, so that lines of the grid come into it"} {
		m, err := aztec.Encode(text, aztec.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for turn := 0.0; turn < 360; turn += 59 {
			for _, side := range []float64{3, 5} {
				r := shown(m.Grid, side, turn, 400, 400)
				got := aztecs(r, twoTone(r, 6), aztec.Decode)
				if len(got) != 1 || got[0].Reading.Text != text {
					t.Errorf("%s, %d modules of %g at %g degrees: %d found", text[:5], m.W, side, turn, len(got))
				}
			}
		}
	}
}
