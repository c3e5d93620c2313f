package grade

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"unspool/code"
	"unspool/plane"
	"unspool/symbol"
)

func TestEverySymbologyDecodes(t *testing.T) {
	for _, name := range names {
		for x := 2; x <= 5; x++ {
			d := draw(t, name, texts[name], x)
			for _, size := range code.Sizes(d.kind, 300, x) {
				l, err := d.kind.Encode(texts[name], code.Options{})
				if err != nil {
					t.Fatal(err)
				}
				d.widths = widthsOf(t, l, size)
				p := d.line().profile(9)
				s := Measure(p, d.kind, code.Options{}, Ed2016)
				if !s.Decoded || s.Reading.Text != d.text || s.Grade != 4 {
					t.Fatalf("%s at %d dots: %q, grade %v: %s", name, x, s.Reading.Text, s.Grade, s.Why)
				}
				near(t, name+" X", s.Reading.X, float64(x*perDot), 0.05)
				near(t, name+" bar gain", s.BarGain, 0, 0.01)
				if len(s.Elements) != len(d.widths) || s.Edges != len(d.widths)+1 {
					t.Errorf("%s: %d elements, %d edges", name, len(s.Elements), s.Edges)
				}
				for i, e := range s.Elements {
					if w := float64(d.widths[i] * perDot); e.Bar != (i%2 == 0) || math.Abs(e.To-e.From-w) > 0.1 || e.Margin < 0.97 {
						t.Fatalf("%s element %d: %+v, drawn %v wide", name, i, e, w)
					}
				}
				if r, ok, why := Read(p, d.kind, code.Options{}); !ok || r.Text != d.text {
					t.Errorf("%s at %d dots: the reader says %q, %s", name, x, r.Text, why)
				}
			}
		}
	}
}

// A symbol is the same from both ends.
func TestReversal(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, name := range names {
		d := draw(t, name, texts[name], 3)
		for range 20 {
			line := d.line()
			for i := range line.levels {
				line.levels[i] += 0.1 * rng.Float64()
			}
			for i := 1; i < len(line.widths)-1; i++ {
				line.widths[i] += 0.4 * rng.Float64()
			}
			p := line.profile(7)
			q := plane.Profile{Samples: slices.Clone(p.Samples), Step: p.Step}
			slices.Reverse(q.Samples)
			a, b := Measure(p, d.kind, code.Options{}, Ed2016), Measure(q, d.kind, code.Options{}, Ed2016)
			if a.Grades != b.Grades || a.Reading.Text != b.Reading.Text || a.Why.String() != b.Why.String() {
				t.Errorf("%s: %v %q, from the other end %v %q", name, a.Grades, a.Why, b.Grades, b.Why)
			}
			near(t, "quiet zone", a.QuietLeft, b.QuietRight, 1e-9)
			near(t, "MOD", a.MOD, b.MOD, 1e-9)
			near(t, "Defects", a.Defects, b.Defects, 1e-9)
		}
	}
}

// Damage of one kind never raises the grade as it grows.
func TestDamageNeverHelps(t *testing.T) {
	damages := []struct {
		name string
		do   func(p []float32, amount float64)
	}{
		{"contrast lost", func(p []float32, a float64) {
			for i, v := range p {
				p[i] = v + float32(a)*(0.8-v)
			}
		}},
		{"blur", func(p []float32, a float64) {
			q := slices.Clone(p)
			r := int(40 * a)
			for i := range p {
				sum := float32(0)
				for j := -r; j <= r; j++ {
					sum += q[min(max(i+j, 0), len(q)-1)]
				}
				p[i] = sum / float32(2*r+1)
			}
		}},
		{"noise", func(p []float32, a float64) {
			rng := rand.New(rand.NewPCG(7, 7))
			for i := range p {
				p[i] += float32(0.5 * a * (rng.Float64() - 0.5))
			}
		}},
		{"uneven light", func(p []float32, a float64) {
			for i := range p {
				p[i] *= float32(1 - a*float64(i)/float64(len(p)))
			}
		}},
	}
	for _, name := range names {
		d := draw(t, name, texts[name], 3)
		for _, damage := range damages {
			before, first := 5.0, 0.0
			for a := 0.0; a <= 1; a += 1.0 / 16 {
				p := d.line().profile(7)
				damage.do(p.Samples, a)
				g := Measure(p, d.kind, code.Options{}, Ed2016).Grade
				if g > before {
					t.Errorf("%s, %s %.2f: the grade rises from %v to %v", name, damage.name, a, before, g)
				}
				if a == 0 {
					first = g
				}
				before = g
			}
			if before >= first {
				t.Errorf("%s, %s: no loss from %v", name, damage.name, first)
			}
		}
	}
}

// Each fault is named by the parameter that it spoils.
func TestWhy(t *testing.T) {
	d := draw(t, "code39", "SH-20417", 3)
	level := func(from, to float64) func(*painted) {
		return func(p *painted) {
			for i, l := range p.levels {
				if l == from {
					p.levels[i] = to
				}
			}
		}
	}
	for _, c := range []struct {
		name     string
		spoil    func(*painted)
		deciding Parameter
		grade    float64
		why      string
	}{
		{"nothing", func(*painted) {}, Decode, 4, "every parameter has its best grade"},
		{"bars are bare card", level(dark, light), Decode, 0, "no Code 39 decodes: the line shows no bars"},
		{"pale bars", level(dark, 0.50), MinReflectance, 0, "the bars are too light: lowest reflectance 50.0 %, highest 85.0 %"},
		{"grey ground", level(light, 0.40), Contrast, 1, "symbol contrast 37.0 %"},
		{"dim", func(p *painted) { level(light, 0.16)(p); level(dark, 0.02)(p) }, MinEdge, 0, "minimum edge contrast 14.0 %"},
		{"one grey space", func(p *painted) { p.levels[10] = 0.5 }, Modulation, 2, "modulation 0.57"},
		{"narrow bars grow", func(p *painted) {
			for i := 1; i < len(p.widths)-1; i++ {
				p.widths[i] += [2]float64{-1, 1}[i%2]
			}
		}, Decodability, 3, "decodability 0.55"},
		{"a void in the quiet zone", func(p *painted) {
			p.widths = append([]float64{20, 3}, p.widths...)
			p.levels = append([]float64{light, 0.6}, p.levels...)
			p.widths[2] = 10
		}, Defects, 0, "defects 0.30"},
		{"a mark in the quiet zone", func(p *painted) {
			p.widths = append([]float64{20, 2}, p.widths...)
			p.levels = append([]float64{light, dark}, p.levels...)
			p.widths[2] = 18
		}, QuietZone, 0, "quiet zone 6.0X on one side, 11.0X on the other, where Code 39 asks for 10X"},
		{"cut at the quiet zone", func(p *painted) { p.widths[0] = 27 }, QuietZone, 0, "quiet zone 9.0X on one side"},
		{"cut off", func(p *painted) { p.widths, p.levels = p.widths[4:], p.levels[4:] }, Decode, 0, "no Code 39 decodes"},
	} {
		line := d.line()
		c.spoil(&line)
		s := Measure(line.profile(5), d.kind, code.Options{}, Ed2000)
		if s.Deciding != c.deciding || !strings.Contains(s.Why.String(), c.why) {
			t.Errorf("%s: %v, grade %v, %q; want %v, %v, %q", c.name, s.Deciding, s.Grade, s.Why, c.deciding, c.grade, c.why)
		} else if s.Grade != c.grade {
			t.Errorf("%s: grade %v, want %v", c.name, s.Grade, c.grade)
		}
	}
}

// A quiet zone is as long as the profile shows light, and a void in it counts
// only where the symbology asks for it.
func TestQuietZoneOnly(t *testing.T) {
	d := draw(t, "code39", "SH-20417", 3)
	line := d.line()
	line.widths = append([]float64{30, 3}, line.widths...)
	line.levels = append([]float64{light, 0.6}, line.levels...)
	s := Measure(line.profile(5), d.kind, code.Options{}, Ed2000)
	if s.Defects > 1e-6 || s.Grade != 4 {
		t.Errorf("a void beyond the quiet zone: defects %v, grade %v", s.Defects, s.Grade)
	}
	near(t, "left quiet zone", s.QuietLeft, 22, 0.05)
}

// Ripple within an element: its highest peak less its lowest valley, not the
// largest single swing.
func TestRipple(t *testing.T) {
	for _, c := range []struct {
		name    string
		bar     bool
		samples []float32
		want    float64
	}{
		{"one peak", false, []float32{.4, .8, .9, .8, .4}, 0},
		{"plateau", false, []float32{.4, .8, .8, .8, .4}, 0},
		{"two peaks", false, []float32{.4, .8, .6, .9, .4}, .3},
		{"staircase of peaks", false, []float32{.4, .6, .5, .8, .7, .9, .4}, .4},
		{"bar with a void", true, []float32{.4, .1, .3, .05, .4}, .25},
		{"bar without", true, []float32{.4, .1, .05, .05, .4}, 0},
		{"quiet zone falling at its end", false, []float32{.5, .7, .9, .9, .4}, 0},
	} {
		tr := trace{samples: c.samples}
		near(t, c.name, tr.unevenness(0, float64(len(c.samples)-1), c.bar), c.want, 1e-6)
	}
}

func TestWrongCheckCharacter(t *testing.T) {
	d := draw(t, "code39", "SH-20417A", 3)
	o := code.Options{Check: code.Mod43, Given: true}
	p := d.line().profile(5)
	s := Measure(p, d.kind, o, Ed2000)
	if s.Reading.Check != symbol.CheckBad || s.Grade != 0 || !strings.Contains(s.Why.String(), "check character") {
		t.Errorf("%+v", s)
	}
	if _, ok, why := Read(p, d.kind, o); ok || !strings.Contains(why.String(), "check character") {
		t.Errorf("the reader takes it: %s", why)
	}
}

func TestNoProfile(t *testing.T) {
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	k, _ := code.ByName("itf")
	for _, samples := range [][]float32{nil, {}, {1}, {1, 0}, {0, nan, 1, 0}, {inf, 0, 1}, {0, 0, 0, 0}, {1, 0, 1, 0, 1}} {
		p := plane.Profile{Samples: samples}
		s := Measure(p, k, code.Options{}, Ed2000)
		_, ok, why := Read(p, k, code.Options{})
		if s.Grade != 0 || s.Why.IsZero() || s.Decoded || ok || why.IsZero() {
			t.Errorf("%v: grade %v %q, read %v %q", samples, s.Grade, s.Why, ok, why)
		}
	}
}

func TestSymbolGrade(t *testing.T) {
	scan := func(g float64, text string) Scan {
		return Scan{Grade: g, Decoded: text != "", Reading: symbol.Reading{Text: text}}
	}
	for _, c := range []struct {
		scans []Scan
		want  string
		value float64
	}{
		{nil, "0.0/10/660", 0},
		{[]Scan{scan(4, "A"), scan(0, ""), scan(4, "A")}, "2.7/10/660", 2.7},
		{[]Scan{scan(4, "A"), scan(4, "B")}, "0.0/10/660", 0}, // different data: from memory
		{[]Scan{scan(2.5, "A"), scan(2.4, "A")}, "2.5/10/660", 2.5},
	} {
		if g := Symbol(c.scans, Aperture{Ref: "10"}, 660); g.Text != c.want || g.Value != c.value {
			t.Errorf("%+v, want %s", g, c.want)
		}
	}
}

func TestLines(t *testing.T) {
	at := Lines(100, 200, 10)
	if len(at) != 10 || math.Abs(at[0]-114) > 1e-9 || math.Abs(at[9]-186) > 1e-9 {
		t.Errorf("%v", at)
	}
}
