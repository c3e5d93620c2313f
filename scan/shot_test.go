package scan

import (
	"math"
	"strings"
	"testing"

	"unspool/code"
	"unspool/grade"
	"unspool/plane"
	"unspool/symbol/qr"
	"unspool/unit"
)

// pixels are the sRGB values of a raster of reflectances (IEC 61966-2-1).
func pixels(r plane.Raster, light func(i int, v float64) float64) []uint8 {
	var rgb []uint8
	for i, v := range r.V {
		l := light(i, float64(v))
		s := 1.055*math.Pow(max(l, 0), 1/2.4) - 0.055
		if l <= 0.0031308 {
			s = 12.92 * l
		}
		p := uint8(min(max(255*s, 0), 255) + 0.5)
		rgb = append(rgb, p, p, p)
	}
	return rgb
}

func plain(_ int, v float64) float64 { return v }

// card is a QR symbol of seven samples a module at 1200 to the inch.
func card(t testing.TB) plane.Raster {
	t.Helper()
	m, err := qr.Encode("Sundhaven 42", qr.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return shown(m.Grid, 7, 12, 330, 330)
}

const inch1200 = unit.Inch / 1200

// Each thing that a picture must be is missed alone, and named; then there is a
// reading all the same.
func TestDoubts(t *testing.T) {
	r := card(t)
	small := half(half(r))
	for _, c := range []struct {
		name  string
		r     plane.Raster
		light func(int, float64) float64
		about About
		want  string
	}{
		{"nothing", r, plain, About{Pixel: inch1200}, ""},
		{"little compression", r, plain, About{Pixel: inch1200, Quality: 95}, ""},
		{"no scale", r, plain, About{}, "its scale is not known"},
		{"coarse", half(r), plain, About{Pixel: 2 * inch1200}, "X is 3.5 pixels"},
		{"compressed", r, plain, About{Pixel: inch1200, Quality: 75}, "JPEG quality 75"},
		{"too light", r, func(_ int, v float64) float64 { return 1.3 * v }, About{Pixel: inch1200}, "as light as a pixel can be"},
		{"too dark", r, func(_ int, v float64) float64 { return v - 0.06 }, About{Pixel: inch1200}, "as dark as a pixel can be"},
		{"uneven", r, func(i int, v float64) float64 { return v * (1 - 0.6*float64(i%r.W)/float64(r.W)) }, About{Pixel: inch1200}, "its light is uneven by"},
	} {
		s, err := NewShot(pixels(c.r, c.light), c.r.W, c.r.H, c.about)
		if err != nil {
			t.Fatal(err)
		}
		got := s.Judge(Options{Kinds: code.All(), Light: 660})
		if len(got) != 1 || got[0].Text != "Sundhaven 42" {
			t.Fatalf("%s: read %d", c.name, len(got))
		}
		if c.want == "" && len(got[0].Doubts) > 0 || c.want != "" && (len(got[0].Doubts) != 1 || !strings.Contains(got[0].Doubts[0].String(), c.want)) {
			t.Errorf("%s: %v, want %q", c.name, got[0].Doubts, c.want)
		}
	}
	if small.W != r.W/4 {
		t.Errorf("a quarter of %d is %d", r.W, small.W)
	}
}

// Reflectance by two patches, by a stated pair, and assumed: against what was
// painted.
func TestCalibration(t *testing.T) {
	r := plane.Raster{W: 90, H: 60, V: make([]float32, 90*60)}
	for i := range r.V { // a third each of white, middle and black
		r.V[i] = []float32{0.8, 0.3, 0.04}[i%90/30]
	}
	dimmed := func(_ int, v float64) float64 { return 0.7*v + 0.02 } // dim light, and some stray
	patch := func(x int) plane.Rect { return plane.Rect{X0: x + 5, Y0: 5, X1: x + 25, Y1: 55} }
	for _, c := range []struct {
		name    string
		ref     Reference
		want    [3]float64
		assumed bool
	}{
		{"patches", Reference{White: Level{0.8, patch(0)}, Black: Level{0.04, patch(60)}}, [3]float64{0.8, 0.3, 0.04}, false},
		// Light 1 is 0.9, light 0 is 0.1: of 0.58, 0.23 and 0.048 by hand.
		{"pair", Reference{White: Level{R: 0.9}, Black: Level{R: 0.1}}, [3]float64{0.564, 0.284, 0.1384}, false},
		{"assumed", Reference{}, [3]float64{0.85, 0.337, 0.070}, true},
	} {
		s, err := NewShot(pixels(r, dimmed), r.W, r.H, About{Reference: c.ref})
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range c.want {
			if got := s.V[30*90+30*i+15]; math.Abs(float64(got)-want) > 0.006 {
				t.Errorf("%s: part %d is %.3f, want %.3f", c.name, i, got, want)
			}
		}
		if s.Assumed != c.assumed || s.Words.IsZero() {
			t.Errorf("%s: assumed %v, %q", c.name, s.Assumed, s.Words)
		}
	}
	for _, bad := range []Reference{
		{White: Level{R: 0.5}, Black: Level{R: 0.48}}, {White: Level{R: math.NaN()}, Black: Level{R: 0.1}}, {White: Level{R: 9}, Black: Level{R: 0.1}},
		{White: Level{0.8, plane.Rect{X1: 900, Y1: 9}}, Black: Level{R: 0.04}}, {White: Level{0.8, plane.Rect{X0: -5, X1: 5, Y1: 9}}, Black: Level{R: 0.04}},
		{White: Level{0.8, patch(60)}, Black: Level{0.04, patch(0)}},
	} {
		if _, err := NewShot(pixels(r, plain), r.W, r.H, About{Reference: bad}); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
	if _, err := NewShot(make([]uint8, 10), 90, 60, About{}); err == nil {
		t.Error("ten bytes are taken for a picture")
	}
}

// Several symbols of a picture are all found, each once; kinds narrow the search.
func TestSeveralSymbols(t *testing.T) {
	t.Parallel()
	r := plane.Raster{W: 900, H: 900, V: make([]float32, 900*900)}
	for i := range r.V {
		r.V[i] = 0.85
	}
	paste := func(from plane.Raster, x0, y0 int) {
		for y := range from.H {
			copy(r.V[(y0+y)*r.W+x0:], from.V[y*from.W:(y+1)*from.W])
		}
	}
	paste(drawn(t, "code39", "S004217", 3, 60, 15, 520, 220), 20, 20)
	paste(drawn(t, "code128", "IDA", 3, 60, -80, 130, 420), 650, 20)
	paste(drawn(t, "code128", "IDA", 3, 60, 0, 330, 120), 20, 260)
	paste(drawn(t, "code128", "IDA", 3, 60, 0, 330, 120), 20, 400) // the same once more
	paste(card(t), 30, 550)
	all := Find(r, code.All())
	_, got := all.texts()
	if len(all.Linear) != 4 || len(all.Matrix) != 1 || len(all.Stacked) != 0 {
		t.Errorf("found %q", got)
	}
	for name, want := range map[string]int{"code128": 3, "code39": 1, "qr": 1, "aztec": 0, "pdf417": 0} {
		k, _ := code.ByName(name)
		kinds, texts := Find(r, []code.Kind{k}).texts()
		if len(texts) != want || want > 0 && kinds[0] != name {
			t.Errorf("of %s alone found %q", name, texts)
		}
	}
	if kinds, _ := Find(r, nil).texts(); len(kinds) > 0 {
		t.Errorf("of no kind found %q", kinds)
	}
}

// A symbol of a picture has the grade that its exact profile or its exact modules
// have, whatever its angle, within 0.2.
func TestSameGradeAsExact(t *testing.T) {
	t.Parallel()
	const x = 8.0 // samples
	k, _ := code.ByName("code39")
	a := grade.ApertureOf(unit.Length(x * float64(inch1200)))
	for _, turn := range []float64{0, 7, 90, 133, 211} {
		r := drawn(t, "code39", "42", x, 160, turn, 900, 900)
		s := Shot{Raster: r, ends: make([]uint8, len(r.V))}
		s.StepX, s.StepY = inch1200, inch1200
		got := s.Judge(Options{Kinds: []code.Kind{k}, Edition: grade.Ed2016, Light: 660})
		if len(got) != 1 || len(got[0].Doubts) > 0 {
			t.Fatalf("turned %g: found %v", turn, got)
		}
		exact := grade.Measure(exactBars(t, k, "42", x, float64(a.Diameter)/float64(inch1200)), k, code.Options{}, grade.Ed2016)
		if math.Abs(got[0].Grade.Value-exact.Grade) > 0.2 || math.Abs(got[0].Scans[0].Reading.Decodability-exact.Reading.Decodability) > 0.05 {
			t.Errorf("turned %g: %s decodability %.2f, exact %.1f %.2f", turn, got[0].Grade.Text, got[0].Scans[0].Reading.Decodability, exact.Grade, exact.Reading.Decodability)
		}
	}
	m, err := qr.Encode("Sundhaven 42", qr.Options{})
	if err != nil {
		t.Fatal(err)
	}
	exact := grade.Modules{W: m.W, H: m.H, Quiet: 4}
	for y := -4; y < m.H+4; y++ {
		for u := -4; u < m.W+4; u++ {
			v := float32(0.85)
			if u >= 0 && y >= 0 && u < m.W && y < m.H && m.At(u, y) {
				v = 0.05
			}
			exact.R = append(exact.R, v)
		}
	}
	want := grade.Matrix("qr", exact, qr.Decode, grade.Geometry{}, a, 660)
	for _, turn := range []float64{0, 7, 45, 133, 270} {
		r := shown(m.Grid, 7, turn, 330, 330)
		s := Shot{Raster: r, ends: make([]uint8, len(r.V))}
		s.StepX, s.StepY = inch1200, inch1200
		got := s.Judge(Options{Kinds: code.All(), Light: 660})
		if len(got) != 1 || len(got[0].Doubts) > 0 || math.Abs(got[0].Grade.Value-want.Grade.Value) > 0.2 {
			t.Errorf("turned %g: %+v, exact %.1f", turn, got, want.Grade.Value)
		}
	}
}

// exactBars is the profile across bars of 0.05 on 0.85 through a round aperture of
// so many samples, by the area of its parts.
func exactBars(t *testing.T, k code.Kind, text string, x, aperture float64) plane.Profile {
	t.Helper()
	l, err := k.Encode(text, code.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := code.PickSize(k, l, 300, int(x), 0)
	if err != nil {
		t.Fatal(err)
	}
	widths, err := l.Widths(s)
	if err != nil {
		t.Fatal(err)
	}
	quiet := 12 * x
	under := func(v float64) float64 { // share of the aperture left of v from its middle
		u := min(max(v/(aperture/2), -1), 1)
		return (u*math.Sqrt(1-u*u) + math.Asin(u) + math.Pi/2) / math.Pi
	}
	var p plane.Profile
	const step = 0.25 // of a sample, as in Step
	for c := 0.0; c < 2*quiet+float64(l.Width(s)); c += step {
		dark, at := 0.0, quiet
		for i, w := range widths {
			if i%2 == 0 {
				dark += under(at+float64(w)-c) - under(at-c)
			}
			at += float64(w)
		}
		p.Samples = append(p.Samples, float32(0.85-0.8*dark))
	}
	p.Step = inch1200 / 4
	return p
}

// Whatever a raster holds, the search ends without a panic, and what it finds
// lies on the raster.
func FuzzFind(f *testing.F) {
	f.Add(uint16(80), uint16(60), []byte{0, 255, 255, 0, 7})
	f.Add(uint16(41), uint16(200), []byte{0, 255})
	f.Add(uint16(1), uint16(1), []byte{})
	f.Fuzz(func(t *testing.T, w, h uint16, data []byte) {
		w, h = w%256, h%256
		r := plane.Raster{W: int(w), H: int(h), V: make([]float32, int(w)*int(h))}
		for i := range r.V {
			if len(data) > 0 {
				r.V[i] = float32(data[i%len(data)])/200 - 0.1
			}
		}
		for _, m := range Find(r, code.All()).Matrix {
			for _, p := range m.Corners {
				if !(p.X > -20 && p.Y > -20 && p.X < float64(w)+20 && p.Y < float64(h)+20) {
					t.Errorf("a corner at %v", p)
				}
			}
		}
	})
}

// One photo-sized picture with a symbol in it.
func BenchmarkFind(b *testing.B) {
	r := drawn(b, "code39", "S004217", 5, 150, 11, 1900, 1320)
	for b.Loop() {
		if len(Find(r, code.All()).Linear) != 1 {
			b.Fatal("not found")
		}
	}
}
