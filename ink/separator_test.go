package ink

import (
	"math"
	"math/rand/v2"
	"testing"

	"unspool/unit"
)

var (
	usualModel    = Usual()
	cautiousModel = Cautious()
	usualSep      = usualModel.Separator()
	cautiousSep   = cautiousModel.Separator()
)

// wanted is the target of an sRGB colour.
func (v *inverter) wanted(r, g, b uint8) Lab {
	return v.target(xyz{decoded[r], decoded[g], decoded[b]})
}

// printed is the colour of whole dye amounts.
func (v *inverter) printed(y, m, c uint8) Lab {
	lab, _ := v.lab(xyz{float64(y) / 255, float64(m) / 255, float64(c) / 255})
	return lab
}

// From the definition of media-relative colour with black-point compensation.
func TestBlackIsAllDyesAndWhiteIsNone(t *testing.T) {
	for _, s := range []*Separator{usualSep, cautiousSep} {
		if y, m, c, dE := s.Dyes(0, 0, 0); y != 255 || m != 255 || c != 255 || dE != 0 {
			t.Errorf("black: %d %d %d, off by %g", y, m, c, dE)
		}
		if y, m, c, dE := s.Dyes(255, 255, 255); y != 0 || m != 0 || c != 0 || dE != 0 {
			t.Errorf("white: %d %d %d, off by %g", y, m, c, dE)
		}
	}
}

// Greys lie on the way from composite black to bare card, in falling steps of
// every dye, and where the direct search puts them.
func TestGreys(t *testing.T) {
	for _, c := range []struct {
		m *Model
		s *Separator
	}{{usualModel, usualSep}, {cautiousModel, cautiousSep}} {
		v := newInverter(c.m)
		last := [3]uint8{255, 255, 255}
		start := xyz{1, 1, 1}
		for g := range 256 {
			y, m, cy, dE := c.s.Dyes(uint8(g), uint8(g), uint8(g))
			now := [3]uint8{y, m, cy}
			target := v.wanted(uint8(g), uint8(g), uint8(g))
			fy, fm, fc, _ := c.s.at(uint8(g), uint8(g), uint8(g))
			fine, _ := v.lab(xyz{float64(fy) / 255, float64(fm) / 255, float64(fc) / 255})
			if off := DeltaE2000(fine, target); off > 0.1 || dE > 0.1 {
				t.Errorf("grey %d is %.2f off, said to be %.2f", g, off, dE)
			}
			// Whole amounts of 255 move the palest greys by up to half a step of one dye.
			if off := DeltaE2000(v.printed(y, m, cy), target); off > 1.2 {
				t.Errorf("grey %d: %v is %.2f off", g, now, off)
			}
			start, _ = v.invert(target, start)
			for d := range now {
				if now[d] > last[d] || last[d]-now[d] > 4 {
					t.Errorf("grey %d: %v after %v", g, now, last)
				}
				if exact := 255 * start[d]; math.Abs(exact-float64(now[d])) > 2 {
					t.Errorf("grey %d: dye %d is %d, the direct search gives %.2f", g, d, now[d], exact)
				}
			}
			last = now
		}
	}
}

// Ramps from black to a colour and on to white, through and along the edges of
// the gamut, hold no step that the direct search does not have.
func TestRampsMatchTheDirectSearch(t *testing.T) {
	v := newInverter(usualModel)
	worst := 0.0
	for _, end := range [][3]uint8{
		{255, 0, 0}, {0, 255, 0}, {0, 0, 255}, {0, 255, 255}, {255, 0, 255}, {255, 255, 0},
		{230, 165, 128}, {90, 60, 40}, {40, 70, 160}, {255, 128, 0},
	} {
		start := xyz{1, 1, 1}
		for i := range 511 {
			var p [3]uint8
			for j, e := range end {
				if i <= 255 {
					p[j] = uint8(int(e) * i / 255)
				} else {
					p[j] = uint8(int(e) + (255-int(e))*(i-255)/255)
				}
			}
			start, _ = v.invert(v.wanted(p[0], p[1], p[2]), start)
			y, m, c, _ := usualSep.at(p[0], p[1], p[2])
			for d, got := range [3]float32{y, m, c} {
				off := math.Abs(float64(got) - 255*start[d])
				worst = max(worst, off)
				if off > 2 {
					t.Errorf("%v: dye %d is %.1f, the direct search gives %.1f", p, d, got, 255*start[d])
				}
			}
		}
	}
	t.Logf("worst %.2f of 255", worst)
}

// Colours that dyes make come back as themselves: dyes to colour to sRGB code
// values to dyes to colour.
func TestInGamutRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, c := range []struct {
		m *Model
		s *Separator
	}{{usualModel, usualSep}, {cautiousModel, cautiousSep}} {
		v := newInverter(c.m)
		var sum, worst float64
		n := 0
		for range 40000 {
			rgb, ok := v.codes(xyz{rng.Float64(), rng.Float64(), rng.Float64()})
			if !ok {
				continue
			}
			y, m, cy, _ := c.s.Dyes(rgb[0], rgb[1], rgb[2])
			off := DeltaE2000(v.printed(y, m, cy), v.wanted(rgb[0], rgb[1], rgb[2]))
			sum, worst, n = sum+off, max(worst, off), n+1
		}
		t.Logf("%d colours: mean %.3f, worst %.2f", n, sum/float64(n), worst)
		if n < 5000 || sum/float64(n) > 0.5 || worst > 4 {
			t.Errorf("%d colours: mean %.3f, worst %.2f", n, sum/float64(n), worst)
		}
	}
}

// codes is the sRGB value whose target is the colour of the dyes, if there is one.
func (v *inverter) codes(dyes xyz) (rgb [3]uint8, ok bool) {
	c, _ := v.forward(dyes)
	for j := range c {
		c[j] = rgbWhite[j] * (c[j] - v.black[j]) / (v.card[j] - v.black[j])
	}
	for i, l := range xyzToRGB.times(c) {
		if l < 0 || l > 1 {
			return rgb, false
		}
		rgb[i] = byteOf(Encode(l))
	}
	return rgb, true
}

// The search ends no worse than the best of a grid over all dyes, wherever the
// target lies: it does not stick in a local minimum.
func TestInvertFindsTheNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	v := newInverter(usualModel)
	const n = 12
	var grid [(n + 1) * (n + 1) * (n + 1)]xyz
	var labs [len(grid)]Lab
	for i := range grid {
		grid[i] = xyz{float64(i/((n+1)*(n+1))) / n, float64(i/(n+1)%(n+1)) / n, float64(i%(n+1)) / n}
		labs[i], _ = v.lab(grid[i])
	}
	for range 200 {
		r, g, b := uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32())
		target := v.wanted(r, g, b)
		w := weigh(target)
		best := math.Inf(1)
		for _, p := range labs {
			d := w.turn(p.L-target.L, p.A-target.A, p.B-target.B)
			best = min(best, d[0]*d[0]+d[1]*d[1]+d[2]*d[2])
		}
		y, m, c, _ := usualSep.at(r, g, b)
		got, _ := v.invert(target, xyz{float64(y) / 255, float64(m) / 255, float64(c) / 255})
		if f := v.fit(&w, got); f.sum > best*1.001+1e-6 {
			t.Errorf("%d %d %d: misfit %.4f, a grid point has %.4f", r, g, b, f.sum, best)
		}
	}
}

// The derivative against differences.
func TestSlope(t *testing.T) {
	v := newInverter(cautiousModel)
	for _, at := range []xyz{{0.2, 0.5, 0.7}, {0.9, 0.9, 0.9}, {0.01, 0.3, 0.02}} {
		_, slope := v.lab(at)
		for d := range 3 {
			const h = 1e-6
			lo, hi := at, at
			lo[d], hi[d] = at[d]-h, at[d]+h
			p, _ := v.lab(lo)
			q, _ := v.lab(hi)
			for j, want := range [3]float64{(q.L - p.L) / (2 * h), (q.A - p.A) / (2 * h), (q.B - p.B) / (2 * h)} {
				if math.Abs(slope[j][d]-want) > 1e-3*(1+math.Abs(want)) {
					t.Errorf("%v: slope[%d][%d] %.4f, want %.4f", at, j, d, slope[j][d], want)
				}
			}
		}
	}
}

// A measured table may hold dyes that cannot make greys; the separator still
// answers with numbers, and says how far off they are.
func TestSeparatorOfPoorDyes(t *testing.T) {
	table := DyeTable{NM: []unit.Nanometres{380, 700, 1000}}
	table.Y, table.M, table.C = []float64{1, 1, 0}, []float64{1, 1, 0}, []float64{0.5, 0, 0}
	m, err := Custom(table)
	if err != nil {
		t.Fatal(err)
	}
	s := m.Separator()
	for _, n := range s.nodes {
		for _, v := range []float32{n.y, n.m, n.c} {
			if !(v >= 0 && v <= 255) || !(n.dE >= 0 && n.dE < 200) {
				t.Fatalf("node %+v", n)
			}
		}
	}
	if _, _, _, dE := s.Dyes(255, 0, 0); dE < Visible {
		t.Errorf("red from grey dyes is said to be off by %.1f only", dE)
	}
}

func TestRow(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	rgb := make([]uint8, 3*400+2)
	for i := range rgb {
		rgb[i] = uint8(rng.Uint32())
		if i >= 3 && i/3%4 != 0 { // runs of equal dots
			rgb[i] = rgb[i-3]
		}
	}
	y, m, c := make([]uint8, 450), make([]uint8, 400), make([]uint8, 420)
	got := usualSep.Row(y, m, c, rgb)
	var want Misfit
	for i := range 400 {
		wy, wm, wc, dE := usualSep.Dyes(rgb[3*i], rgb[3*i+1], rgb[3*i+2])
		if y[i] != wy || m[i] != wm || c[i] != wc {
			t.Fatalf("dot %d: %d %d %d, want %d %d %d", i, y[i], m[i], c[i], wy, wm, wc)
		}
		one := Misfit{Dots: 1, Sum: float64(dE), Worst: dE}
		if dE >= Visible {
			one.Over = 1
		}
		want.Add(one)
	}
	if got != want || got.Dots != 400 || got.Over == 0 || got.Mean() != got.Sum/400 {
		t.Errorf("%+v, want %+v", got, want)
	}
	if f := usualSep.Row(nil, m, c, rgb); f != (Misfit{}) || f.Mean() != 0 {
		t.Errorf("no room for Y, yet %+v", f)
	}
}

func TestPlainDyes(t *testing.T) {
	if y, m, c := PlainDyes(10, 20, 30); y != 225 || m != 235 || c != 245 {
		t.Errorf("%d %d %d", y, m, c)
	}
}

func BenchmarkSeparator(b *testing.B) {
	m := Usual()
	for b.Loop() {
		m.Separator()
	}
}

func BenchmarkRow(b *testing.B) {
	const dots = 1011
	rng := rand.New(rand.NewPCG(11, 12))
	noise, photo := make([]uint8, 3*dots), make([]uint8, 3*dots)
	for i := range noise {
		noise[i] = uint8(rng.Uint32())
		photo[i] = uint8(120 + 60*math.Sin(float64(i/3)/90+float64(i%3)) + 4*rng.Float64())
	}
	y, m, c := make([]uint8, dots), make([]uint8, dots), make([]uint8, dots)
	for _, in := range []struct {
		name string
		rgb  []uint8
	}{{"noise", noise}, {"photo", photo}, {"blank", make([]uint8, 3*dots)}} {
		b.Run(in.name, func(b *testing.B) {
			for b.Loop() {
				usualSep.Row(y, m, c, in.rgb)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*dots), "ns/dot")
		})
	}
}
