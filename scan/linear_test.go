package scan

import (
	"math"
	"testing"

	"unspool/code"
)

// A clean symbol is found at every angle, with its place, X and the bars' ends.
func TestLinearsAtAnyAngle(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ kind, text string }{
		{"code39", "S004217"}, {"code128", "Sundhaven 42"}, {"itf", "00123456"}, {"codabar", "A40156B"},
	} {
		for turn := 0.0; turn < 360; turn += 29 {
			r := drawn(t, c.kind, c.text, 3, 60, turn, 640, 640)
			got := Linears(r, code.Linear())
			if len(got) != 1 || got[0].Reading.Text != c.text || got[0].Kind.Name != c.kind {
				t.Errorf("%s at %g degrees: %v", c.kind, turn, texts(got))
				continue
			}
			if l := got[0]; math.Abs(l.X-3) > 0.1 || math.Abs(between(l.Corners[0], l.Corners[1]).length()-60) > 4 {
				t.Errorf("%s at %g degrees: X %.2f, bars %.1f high", c.kind, turn, l.X, between(l.Corners[0], l.Corners[1]).length())
			}
			// The first bar's end lies where the turn puts it.
			want := turn
			if a := angle(got[0]); math.Abs(math.Remainder(a-want, 360)) > 1.5 {
				t.Errorf("%s at %g degrees: runs at %.1f", c.kind, turn, a)
			}
		}
	}
}

// angle is the way a symbol runs, in degrees.
func angle(l Linear) float64 {
	d := between(l.Corners[0], l.Corners[3])
	return math.Atan2(d.y, d.x) * 180 / math.Pi
}

func texts(all []Linear) (out []string) {
	for _, l := range all {
		out = append(out, l.Kind.Name+" "+l.Reading.Text)
	}
	return out
}
