package ink

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Regression only: Lab under D50 and sRGB under D65 of the usual preset as
// first computed, and XYZ under D50.
func TestUsualColours(t *testing.T) {
	m := Usual()
	for _, c := range []struct {
		name string
		a    Amounts
		lab  Lab
		rgb  [3]uint8
	}{
		{"bare", bare, Lab{95.3, -0.5, 0.6}, [3]uint8{241, 242, 240}},
		{"Y", yellow, Lab{89.2, 0.0, 104.1}, [3]uint8{255, 221, 0}},
		{"M", magenta, Lab{52.3, 80.4, -20.9}, [3]uint8{227, 0, 165}},
		{"C", cyan, Lab{52.0, -36.4, -47.4}, [3]uint8{0, 144, 204}},
		{"red", red, Lab{50.6, 71.6, 66.8}, [3]uint8{225, 33, 0}},
		{"green", green, Lab{42.9, -61.8, 36.6}, [3]uint8{0, 124, 28}},
		{"blue", blue, Lab{15.3, 41.7, -65.8}, [3]uint8{38, 0, 137}},
		{"YMC", composite, Lab{9.8, 5.5, 1.2}, [3]uint8{34, 24, 25}},
		{"K", resin, Lab{10.3, 3.1, 6.4}, [3]uint8{34, 26, 19}},
		{"YMC+K", under, Lab{3.7, 0.1, 0.1}, [3]uint8{13, 13, 13}},
	} {
		s := m.reflectances(c.a, Carbon())
		got := toLab(underD50.see(s[:]), underD50.white)
		if d := math.Abs(got.L-c.lab.L) + math.Abs(got.A-c.lab.A) + math.Abs(got.B-c.lab.B); d > 0.151 {
			t.Errorf("%s: %.2f, want %.1f", c.name, got, c.lab)
		}
		if rgb := m.Eye(c.a); rgb != c.rgb {
			t.Errorf("%s: sRGB %v, want %v", c.name, rgb, c.rgb)
		}
	}
	for _, c := range []struct {
		a    Amounts
		want xyz
	}{
		{bare, xyz{84.988, 88.395, 72.299}}, {yellow, xyz{71.831, 74.485, 4.750}}, {magenta, xyz{40.667, 20.445, 27.555}},
		{cyan, xyz{13.033, 20.133, 45.978}}, {composite, xyz{1.220, 1.096, 0.831}}, {resin, xyz{1.220, 1.166, 0.601}},
	} {
		s := m.reflectances(c.a, Carbon())
		for i, got := range underD50.see(s[:]) {
			if math.Abs(got-c.want[i]) > 0.0015 {
				t.Errorf("%+v: XYZ[%d] %.4f, want %.3f", c.a, i, got, c.want[i])
			}
		}
	}
}

// From the definition of the viewers: the bare card is grey to one and white to
// the other.
func TestViewers(t *testing.T) {
	m := Usual()
	if got := CardWhite.Eye(m, bare, Carbon()); got != [3]uint8{255, 255, 255} {
		t.Errorf("the adapted eye sees the bare card as %v", got)
	}
	if got := Absolute.Eye(m, bare, Carbon()); got == [3]uint8{255, 255, 255} {
		t.Errorf("the absolute eye sees the bare card as %v", got)
	}
}

// The table is within 2 code values of the exact colour, as its doc comment
// says, whatever the resin and the viewer.
func TestEyesError(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		m *Model
		v Viewer
		r Resin
	}{{Usual(), Absolute, Carbon()}, {Usual(), CardWhite, White()}, {Cautious(), CardWhite, Coloured([3]uint8{30, 60, 200})}} {
		table := c.v.Eyes(c.m, c.r)
		worst, sum, n := 0, 0, 20000
		for i := range n {
			a := Amounts{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32()), i%4 == 0}
			if i%3 == 0 { // along the edges of the cube, where single dyes lie
				a.Y, a.M = 0, a.M&128
			}
			want := c.v.Eye(c.m, a, c.r)
			r, g, b := table.At(a.Y, a.M, a.C, a.K)
			for j, got := range [3]uint8{r, g, b} {
				d := int(got) - int(want[j])
				sum += d * d
				worst = max(worst, d, -d)
			}
		}
		if worst > 2 {
			t.Errorf("%v: off by up to %d code values", c.r, worst)
		}
		t.Logf("%v: worst %d, root mean square %.2f", c.r, worst, math.Sqrt(float64(sum)/float64(3*n)))
	}
}

func BenchmarkEyes(b *testing.B) {
	m := Usual()
	for b.Loop() {
		m.Eyes(Carbon())
	}
}

func BenchmarkEyeAt(b *testing.B) {
	table := Usual().Eyes(Carbon())
	v, sum := uint32(0), uint32(0)
	for b.Loop() {
		v = v*1664525 + 1013904223
		r, g, bl := table.At(uint8(v>>8), uint8(v>>16), uint8(v>>24), v&128 != 0)
		sum += uint32(r) + uint32(g) + uint32(bl)
	}
	sink = float32(sum)
}
