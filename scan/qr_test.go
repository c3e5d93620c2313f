package scan

import (
	"testing"

	"unspool/symbol/qr"
)

func TestQRAtAnyAngle(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"01234567", "https://sundhaven.example/c/000042?k=8fJ2kQ", "BEGIN:VCARD\nVERSION:3.0\nN:Example;Ida\nORG:Sundhaven\nTEL:+00 0000 0000\nEND:VCARD and some more text to fill it up to a larger symbol of its kind"} {
		m, err := qr.Encode(text, qr.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for turn := 0.0; turn < 360; turn += 37 {
			for _, side := range []float64{2.6, 4} {
				r := shown(m.Grid, side, turn, 400, 400)
				got := qrs(r, twoTone(r, 6), qr.Decode)
				if len(got) != 1 || got[0].Reading.Text != text {
					t.Errorf("%s, %d modules of %g at %g degrees: %d found", text[:5], m.W, side, turn, len(got))
				}
			}
		}
	}
}
