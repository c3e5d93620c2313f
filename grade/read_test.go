package grade

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"unspool/code"
	"unspool/plane"
)

// join lays lines end to end.
func join(lines ...painted) (p painted) {
	for _, l := range lines {
		p.widths = append(p.widths, l.widths...)
		p.levels = append(p.levels, l.levels...)
	}
	return p
}

// A reader reads what a grade refuses: light that falls off to a fifth, and
// narrow elements that do not reach the global threshold.
func TestReaderToleratesMore(t *testing.T) {
	for _, name := range names {
		d := draw(t, name, texts[name], 3)
		uneven := d.line().profile(7)
		for i := range uneven.Samples {
			uneven.Samples[i] *= float32(1 - 0.75*float64(i)/float64(len(uneven.Samples)))
		}
		grey := d.line()
		grey.levels[10] = 0.40 // below GT 0.44
		for what, p := range map[string]plane.Profile{"uneven light": uneven, "a grey space": grey.profile(7)} {
			if s := Measure(p, d.kind, code.Options{}, Ed2016); s.Grade != 0 {
				t.Errorf("%s, %s: grade %v", name, what, s.Grade)
			}
			if r, ok, why := Read(p, d.kind, code.Options{}); !ok || r.Text != d.text {
				t.Errorf("%s, %s: %q %s", name, what, r.Text, why)
			}
		}
	}
}

// Too little contrast for any reader: composite black under infrared light
// differs from bare card by a thousandth.
func TestReaderNeedsContrast(t *testing.T) {
	d := draw(t, "code39", "SH-20417", 3)
	for bars, want := range map[float64]bool{0.849: false, 0.70: false, 0.60: true} {
		line := d.line()
		for i, l := range line.levels {
			if l == dark {
				line.levels[i] = bars
			}
		}
		_, ok, why := Read(line.profile(5), d.kind, code.Options{})
		if ok != want || !ok && !strings.Contains(why.String(), "light and dark differ by") {
			t.Errorf("bars of %v: %v %q", bars, ok, why)
		}
		// A dark place beside the symbol is no contrast of the symbol.
		line = join(painted{[]float64{40}, []float64{dark}}, line)
		if _, ok, why := Read(line.profile(5), d.kind, code.Options{}); ok != want || why.IsZero() && !ok {
			t.Errorf("bars of %v beside the slot: %v %q", bars, ok, why)
		}
	}
}

func TestReaderNeedsHalfTheQuietZone(t *testing.T) {
	d := draw(t, "code39", "SH-20417", 3)
	for quiet, want := range map[float64]bool{12: false, 18: true} {
		line := d.line()
		line.widths[0] = quiet
		line = join(painted{[]float64{30, 4}, []float64{light, dark}}, line)
		_, ok, why := Read(line.profile(5), d.kind, code.Options{})
		if ok != want || !ok && why.IsZero() {
			t.Errorf("quiet zone of %v dots: %v %q", quiet, ok, why)
		}
	}
}

// A swipe over the whole card crosses pictures, marks and two codes.
func TestFindAlongASwipe(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	noise := painted{[]float64{60}, []float64{light}}
	for range 60 {
		noise.widths = append(noise.widths, 1+4*rng.Float64())
		noise.levels = append(noise.levels, rng.Float64())
	}
	a, b := draw(t, "code39", "SH-20417", 3), draw(t, "code128", "Store 1187", 2)
	p := join(noise, a.line(), painted{[]float64{12}, []float64{dark}}, b.line(), noise).profile(5)
	kinds := code.Linear()
	all := FindAll(p, kinds)
	if len(all) != 2 || all[0].Reading.Text != a.text || all[1].Reading.Text != b.text {
		t.Fatalf("found %d: %+v", len(all), all)
	}
	if all[0].To >= all[1].From || all[0].Contrast < 0.5 {
		t.Errorf("%+v", all)
	}
	for _, d := range []drawn{a, b} {
		f, ok := Find(p, d.kind, code.Options{})
		if !ok || f.Reading.Text != d.text || f.QuietLeft < 10 || f.QuietRight < 10 {
			t.Errorf("%s: %v %+v", d.kind.Name, ok, f)
		}
	}
	k, _ := code.ByName("codabar")
	if f, ok := Find(p, k, code.Options{}); ok {
		t.Errorf("a Codabar that is not there: %+v", f)
	}
}

// Noise holds no symbol: lines of random elements with quiet zones, among them as
// many as each symbology of a fixed length has.
func TestNoiseIsNoSymbol(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	found := map[string]int{}
	for n := range 4000 {
		line := painted{[]float64{40}, []float64{light}}
		for i := range [...]int{69, 59, 43, 33, 61, 37, 73, 67}[n%8] {
			line.widths = append(line.widths, float64(1+rng.IntN(4)))
			line.levels = append(line.levels, [2]float64{dark, light}[i%2])
		}
		line = join(line, painted{[]float64{40}, []float64{light}})
		for _, f := range FindAll(line.profile(3), code.Linear()) {
			found[f.Kind.Name]++
		}
	}
	if len(found) > 0 {
		t.Errorf("found in noise: %v", found)
	}
}

func FuzzMeasureAndRead(f *testing.F) {
	for i, name := range names {
		d := draw(f, name, texts[name], 2)
		var b []byte
		for i, v := range d.line().profile(3).Samples {
			if i%4 == 0 { // short seeds change faster
				b = append(b, byte(255*v))
			}
		}
		f.Add(b, uint8(i), float32(1)/255)
	}
	f.Add([]byte{}, uint8(0), float32(0))
	f.Add([]byte{0, 255, 0, 255}, uint8(1), float32(math.NaN()))
	f.Add([]byte{0, 255, 0, 255}, uint8(2), float32(math.Inf(-1)))
	f.Fuzz(func(t *testing.T, b []byte, kind uint8, unit float32) {
		k := code.Linear()[int(kind)%len(names)]
		p := plane.Profile{Samples: make([]float32, len(b))}
		for i, v := range b {
			p.Samples[i] = unit * float32(v)
		}
		s := Measure(p, k, code.Options{}, Ed2016)
		if !(s.Grade >= 0 && s.Grade <= 4) || s.Why.IsZero() || s.Grade > 0 && !s.Decoded {
			t.Errorf("grade %v, decoded %v, %q", s.Grade, s.Decoded, s.Why)
		}
		for _, v := range []float64{s.ECmin, s.MOD, s.Defects, s.PCS, s.BarGain, s.QuietLeft, s.QuietRight, s.Reading.Decodability} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("a measure is %v: %+v", v, s)
			}
		}
		for i, e := range s.Elements {
			if !(e.From <= e.To) || i > 0 && e.From != s.Elements[i-1].To {
				t.Errorf("element %d: %+v", i, e)
			}
		}
		if _, ok, why := Read(p, k, code.Options{}); ok == (!why.IsZero()) {
			t.Errorf("read %v, %q", ok, why)
		}
		FindAll(p, code.Linear())
	})
}

func BenchmarkMeasure(b *testing.B) {
	d := draw(b, "code39", "SH-20417", 3)
	p := d.line().profile(9)
	b.ReportAllocs()
	for b.Loop() {
		if s := Measure(p, d.kind, code.Options{}, Ed2016); s.Grade != 4 {
			b.Fatal(s.Why)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	d := draw(b, "code39", "SH-20417", 3)
	p := d.line().profile(9)
	b.ReportAllocs()
	for b.Loop() {
		if _, ok, why := Read(p, d.kind, code.Options{}); !ok {
			b.Fatal(why)
		}
	}
}
