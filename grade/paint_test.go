package grade

import (
	"testing"

	"unspool/code"
	"unspool/plane"
	"unspool/symbol"
	"unspool/unit"
)

// perDot is how many samples the test profiles have a dot.
const perDot = 8

// painted is a line of elements with a reflectance each, quiet zones included,
// from which a profile can be drawn.
type painted struct {
	widths []float64 // in dots
	levels []float64
}

// light and dark are bare card and resin, about.
const (
	light = 0.85
	dark  = 0.03
)

// paint makes the line of a symbol: quiet dots of light on either side.
func paint(widths []int, quiet int) painted {
	p := painted{[]float64{float64(quiet)}, []float64{light}}
	for i, w := range widths {
		p.widths = append(p.widths, float64(w))
		p.levels = append(p.levels, [2]float64{dark, light}[i%2])
	}
	p.widths = append(p.widths, float64(quiet))
	p.levels = append(p.levels, light)
	return p
}

// profile samples the line as an aperture of the given width in samples sees
// it: each sample is the mean of that much of the line.
func (p painted) profile(aperture int) plane.Profile {
	length := 0.0
	for _, w := range p.widths {
		length += w * perDot
	}
	fine := make([]float64, int(length))
	at := 0.0
	for i, w := range p.widths {
		end := at + w*perDot
		for j := int(at); j < len(fine) && float64(j) < end; j++ {
			fine[j] += p.levels[i] * (min(end, float64(j+1)) - max(at, float64(j)))
		}
		at = end
	}
	out := make([]float32, len(fine))
	for i := range out {
		sum, n := 0.0, 0
		for j := max(0, i-aperture/2); j <= min(len(fine)-1, i+aperture/2); j++ {
			sum += fine[j]
			n++
		}
		out[i] = float32(sum / float64(n))
	}
	return plane.Profile{Samples: out, Step: unit.Pitch(300).Span(1) / perDot}
}

// drawn is a symbol and the element widths it is drawn with.
type drawn struct {
	kind   code.Kind
	text   string
	x      int
	widths []int
}

func draw(t testing.TB, name, text string, x int) drawn {
	t.Helper()
	k, ok := code.ByName(name)
	if !ok {
		t.Fatalf("no symbology %q", name)
	}
	l, err := k.Encode(text, code.Options{})
	if err != nil {
		t.Fatal(err)
	}
	size, err := code.PickSize(k, l, 300, x, 0)
	if err != nil {
		t.Fatal(err)
	}
	return drawn{k, l.Text, x, widthsOf(t, l, size)}
}

func widthsOf(t testing.TB, l symbol.Logical, s symbol.Size) []int {
	t.Helper()
	w, err := l.Widths(s)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// line is the symbol with a little more than its quiet zones.
func (d drawn) line() painted { return paint(d.widths, (d.kind.QuietX+1)*d.x) }

// sample texts of every symbology.
var texts = map[string]string{
	"code39": "SH-20417", "code128": "Store 1187", "itf": "00417702", "codabar": "A31117013206375B",
	"code93": "SH-20417", "gs1-128": "(01)09521234543213(21)A7", "isbt128": "=G12349865432100",
	"ean13": "451234567890", "ean8": "9501234", "upca": "41234567890", "upce": "0012345",
}

// names in a fixed order.
var names = []string{"code39", "code128", "itf", "codabar", "code93", "gs1-128", "isbt128", "ean13", "ean8", "upca", "upce"}
