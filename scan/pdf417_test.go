package scan

import (
	"testing"

	"unspool/symbol"
	"unspool/symbol/pdf417"
)

// rows is a grid whose rows are n modules high.
func rows(g symbol.Grid, n int) symbol.Grid {
	t := symbol.NewGrid(g.W, g.H*n)
	for y := range t.H {
		copy(t.Dark[y*t.W:(y+1)*t.W], g.Dark[y/n*g.W:])
	}
	return t
}

func TestPDF417AtAnyAngle(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		o    pdf417.Options
	}{{"Sundhaven 000042", pdf417.Options{}}, {"Ida Example, deck hand, Sundhaven ferries, number 000042, until 2031-05-01", pdf417.Options{Columns: 5, Level: 4}}, {"compact 42", pdf417.Options{Compact: true}}} {
		m, err := pdf417.Encode(c.text, c.o)
		if err != nil {
			t.Fatal(err)
		}
		for turn := 0.0; turn < 360; turn += 41 {
			r := shown(rows(m.Grid, 3), 3, turn, 640, 640)
			got := stacked(r)
			if len(got) != 1 || got[0].Reading.Text != c.text {
				t.Errorf("%s at %g degrees: %d found", c.text[:5], turn, len(got))
			}
		}
	}
}
