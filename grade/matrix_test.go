package grade

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"unspool/plane"
	"unspool/symbol"
)

// toy is a matrix symbology made for tests: a first row that is a fixed pattern,
// and below it codewords of eight modules each, in one block or several.
type toy struct {
	truth symbol.Grid
	symbol.Layout
}

// newToy makes a symbol w modules wide of n codewords in so many blocks, each with
// check codewords.
func newToy(seed uint64, w, n, blocks, check int) toy {
	rng := rand.New(rand.NewPCG(seed, 15415))
	s := toy{truth: symbol.NewGrid(w, 1+8*n/w)}
	edge := symbol.Part{Name: "edge"}
	for i := range s.truth.Dark {
		s.truth.Dark[i] = rng.IntN(2) == 0
		s.Of = append(s.Of, symbol.NoCodeword)
		if i < w {
			edge.Modules = append(edge.Modules, int32(i))
		} else {
			s.Of[i] = int16((i - w) / 8)
		}
	}
	s.Parts = []symbol.Part{edge}
	for b := range blocks {
		one := symbol.Block{Check: check}
		for c := b; c < n; c += blocks {
			one.Codewords = append(one.Codewords, c)
		}
		s.Blocks = append(s.Blocks, one)
	}
	return s
}

// decode knows the truth, and fails where a block has more wrong codewords than
// its check codewords mend.
func (s toy) decode(g symbol.Grid) (symbol.MatrixReading, error) {
	wrong := map[int]bool{}
	for i, d := range g.Dark {
		if d != s.truth.Dark[i] {
			wrong[int(s.Of[i])] = true
		}
	}
	r := symbol.MatrixReading{Layout: s.Layout, Truth: s.truth, Errors: make([]int, len(s.Blocks)), Erasures: make([]int, len(s.Blocks))}
	for b, block := range s.Blocks {
		for _, c := range block.Codewords {
			if wrong[c] {
				r.Errors[b]++
			}
		}
		if 2*r.Errors[b] > block.Check {
			return symbol.MatrixReading{}, errors.New("too many errors")
		}
	}
	return r, nil
}

// shown is a grid as modules of a light and a dark, with a quiet zone.
func shown(g symbol.Grid, quiet int, lightest, darkest float32) Modules {
	m := Modules{W: g.W, H: g.H, Quiet: quiet}
	m.R = make([]float32, (g.W+2*quiet)*(g.H+2*quiet))
	for i := range m.R {
		m.R[i] = lightest
	}
	for i, d := range g.Dark {
		if d {
			m.R[m.at(i%g.W, i/g.W)] = darkest
		}
	}
	return m
}

// flip turns module i of the symbol over.
func (m Modules) flip(i int) {
	lo, hi := extremes(m.R)
	k := m.at(i%m.W, i/m.W)
	m.R[k] = lo + hi - m.R[k]
}

// fade gives module i a modulation, on the side it is on.
func (m Modules) fade(i int, modulation float32) {
	lo, hi := extremes(m.R)
	k := m.at(i%m.W, i/m.W)
	side := float32(1)
	if m.R[k] < (lo+hi)/2 {
		side = -1
	}
	m.R[k] = (lo+hi)/2 + side*modulation*(hi-lo)/2
}

var eight = Aperture{200000, "08"}

func (s toy) grade(m Modules, g Geometry) Quality { return Matrix("toy", m, s.decode, g, eight, 660) }

// gradeIs checks one figure.
func gradeIs(t *testing.T, what string, q Quality, p Parameter, grade, value float64) {
	t.Helper()
	f, ok := q.Figure(p)
	if !ok || f.Grade != grade || math.Abs(f.Value-value) > 1e-3 {
		t.Errorf("%s: %v is %+v, want grade %v, %v", what, p, f, grade, value)
	}
	if q.Value > f.Grade || q.Text[:3] != q.text() || (q.Deciding == p) != (strings.Contains(q.Why.String(), f.Why.String())) && q.Value < 4 {
		t.Errorf("%s: grade %s decided by %v: %s", what, q.Text, q.Deciding, q.Why)
	}
}

func (q Quality) text() string { return gradeOf(q.Value, q.Aperture, q.Light).Text[:3] }

func limitRows(t *testing.T, name string) [4]float64 {
	t.Helper()
	for _, r := range table(t, "testdata/iso15415.csv") {
		if r[1] == name {
			return [4]float64(numbers(t, r[2]))
		}
	}
	t.Fatalf("no row %q", name)
	return [4]float64{}
}

// The limits are those of the rows of testdata/iso15415.csv.
func TestMatrixThresholds(t *testing.T) {
	for name, limits := range map[string][4]float64{"module modulation": moduleLimits, "axial nonuniformity (max)": axialLimits,
		"grid nonuniformity (max, X)": gridLimits, "unused error correction": unusedLimits,
		"data matrix fixed pattern (max)": plainShares, "codeword yield": yieldLimits} {
		for i, v := range limitRows(t, name) {
			near(t, name, limits[i], v, 1e-12)
			if got := whole(v, limits); got != 4-i {
				t.Errorf("%s %v on the threshold: grade %d", name, v, got)
			}
		}
	}
	for i, v := range limitRows(t, "data matrix clock track (below)") {
		if below, on := whole(v-1e-4, clockShares), whole(v, clockShares); below != 4-i || on != 3-i {
			t.Errorf("a share of %v: grade %d, just below %d", v, on, below)
		}
	}
}

// A symbol as it should be has the best grade in everything.
func TestMatrixWithoutFault(t *testing.T) {
	s := newToy(1, 40, 200, 2, 40)
	q := s.grade(shown(s.truth, 1, 0.8, 0.05), Geometry{})
	if q.Value != 4 || q.Letter != "A" || q.Text != "4.0/08/660" || q.Edition != "ISO/IEC 15415:2011" || !q.Decoded || len(q.Figures) != 8 || q.Uniformity < 0.999 {
		t.Errorf("%+v", q)
	}
	gradeIs(t, "perfect", q, Contrast, 4, 0.75)
	gradeIs(t, "perfect", q, Modulation, 4, 1)
	near(t, "GT", q.GT, 0.425, 1e-6)
}

// Known numbers of wrong modules, each in a codeword of its own: 1-2t/d of the
// worst block, and its grade (trade tables of ISO/IEC 15415: unused error
// correction 0.62, 0.50, 0.37, 0.25). Reflectance margin comes to the same, as it
// takes wrong codewords for errors at every grade; modulation does not see which
// side a module is on.
func TestFlippedModulesCostErrorCorrection(t *testing.T) {
	s := newToy(2, 40, 200, 2, 100)
	for _, c := range []struct {
		flips int
		grade float64
	}{{0, 4}, {1, 4}, {19, 4}, {20, 3}, {25, 3}, {26, 2}, {31, 2}, {32, 1}, {37, 1}, {38, 0}, {50, 0}} {
		m := shown(s.truth, 1, 0.8, 0.05)
		for k := range c.flips {
			m.flip(40 + 16*k + k%8) // codeword 2k, of the first block
		}
		q := s.grade(m, Geometry{})
		u := 1 - 2*float64(c.flips)/100
		gradeIs(t, "flips", q, UnusedCorrection, c.grade, u)
		if f, _ := q.Figure(Margin); f.Grade != c.grade {
			t.Errorf("%d flips: reflectance margin %+v", c.flips, f)
		}
		gradeIs(t, "flips", q, Modulation, 4, 1)
		if q.Value != c.grade {
			t.Errorf("%d flips: %s, %s", c.flips, q.Text, q.Why)
		}
	}
	m := shown(s.truth, 1, 0.8, 0.05)
	for k := range 51 {
		m.flip(40 + 16*k)
	}
	q := s.grade(m, Geometry{})
	if q.Decoded || q.Value != 0 || q.Deciding != Decode || !strings.Contains(q.Why.String(), "too many errors") {
		t.Errorf("51 flips: %s, %s", q.Text, q.Why)
	}
}

// Codewords of weak modules, with the error correction laid over them. Worked out
// by hand from the rule: the best of min(grade, grade of the error correction left
// when all codewords below it are errors).
func TestModulationOverlay(t *testing.T) {
	s := newToy(3, 40, 200, 1, 100)
	for _, c := range []struct {
		name       string
		weak       int
		modulation float32
		grade      float64
		left       float64
	}{
		{"all on 0.50", 200, 0.50, 4, 1},
		{"all below 0.50", 200, 0.49, 3, 1},
		{"all on 0.40", 200, 0.40, 3, 1},
		{"all on 0.30", 200, 0.30, 2, 1},
		{"all on 0.20", 200, 0.20, 1, 1},
		{"all below 0.20", 200, 0.19, 0, 0},
		{"19 at 0.45 are made good", 19, 0.45, 4, 0.62},
		{"20 at 0.45 leave 0.60 for A, everything for B", 20, 0.45, 3, 0.60},
		{"30 at 0.35 leave 0.40 for A and B", 30, 0.35, 2, 0.40},
		{"30 at 0.05 leave 0.40 for every grade", 30, 0.05, 2, 0.40},
		{"36 at 0.05 leave 0.28", 36, 0.05, 1, 0.28},
		{"40 at 0.05 leave 0.20", 40, 0.05, 0, 0.20},
	} {
		m := shown(s.truth, 1, 0.8, 0.05)
		for k := range c.weak {
			for i := range 8 { // one module is as bad as all of a codeword
				if i == k%8 || k%2 == 0 {
					m.fade(40+8*k+i, c.modulation)
				}
			}
		}
		q := s.grade(m, Geometry{})
		gradeIs(t, c.name, q, Modulation, c.grade, c.left)
		if f, _ := q.Figure(Margin); f.Grade != c.grade {
			t.Errorf("%s: reflectance margin %+v", c.name, f)
		}
		near(t, "contrast uniformity", q.Uniformity, float64(c.modulation), 1e-3)
	}
}

// Weak modules and wrong ones: margin counts both, modulation only the weak.
func TestMarginCountsWrongModules(t *testing.T) {
	s := newToy(4, 40, 200, 1, 100)
	m := shown(s.truth, 1, 0.8, 0.05)
	for k := range 15 {
		m.flip(40 + 8*k)
		m.fade(40+8*(k+100), 0.35)
	}
	q := s.grade(m, Geometry{})
	gradeIs(t, "weak and wrong", q, Modulation, 4, 0.70)
	gradeIs(t, "weak and wrong", q, Margin, 2, 0.40) // 30 below A and B, 15 below C
	gradeIs(t, "weak and wrong", q, UnusedCorrection, 4, 0.70)
}

func TestContrastAndGeometry(t *testing.T) {
	s := newToy(5, 40, 200, 1, 100)
	for i, sc := range contrastLimits {
		for _, c := range []struct{ v, grade float64 }{{sc + 1e-3, float64(4 - i)}, {sc - 1e-3, float64(3 - i)}} {
			q := s.grade(shown(s.truth, 1, 0.05+float32(c.v), 0.05), Geometry{})
			gradeIs(t, "contrast", q, Contrast, c.grade, c.v)
		}
	}
	for i := range 4 {
		q := s.grade(shown(s.truth, 1, 0.8, 0.05), Geometry{AN: axialLimits[i]})
		gradeIs(t, "AN", q, AxialUniformity, float64(4-i), axialLimits[i])
		q = s.grade(shown(s.truth, 1, 0.8, 0.05), Geometry{AN: axialLimits[i] + 1e-3})
		gradeIs(t, "AN", q, AxialUniformity, float64(3-i), axialLimits[i]+1e-3)
		q = s.grade(shown(s.truth, 1, 0.8, 0.05), Geometry{GN: gridLimits[i] + 1e-3})
		gradeIs(t, "GN", q, GridUniformity, float64(3-i), gridLimits[i]+1e-3)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1)} {
		if q := s.grade(shown(s.truth, 1, 0.8, 0.05), Geometry{GN: bad}); q.Value != 0 || q.Deciding != GridUniformity {
			t.Errorf("GN %v: %s", bad, q.Text)
		}
	}
}

// Shares of a fixed pattern of 100 modules: 0, 9, 13, 17 % (see plainShares).
func TestFixedPatternShares(t *testing.T) {
	s := newToy(6, 100, 100, 1, 60)
	for _, c := range []struct {
		wrong int
		grade float64
	}{{0, 4}, {1, 3}, {9, 3}, {10, 2}, {13, 2}, {14, 1}, {17, 1}, {18, 0}} {
		m := shown(s.truth, 1, 0.8, 0.05)
		for k := range c.wrong {
			m.flip(5 * k)
		}
		q := s.grade(m, Geometry{})
		gradeIs(t, "fixed pattern", q, FixedPattern, c.grade, map[bool]float64{true: float64(c.wrong) / 100}[c.grade < 4])
		if len(q.Segments) != 1 || float64(q.Segments[0].Grade) != c.grade || q.Segments[0].Modules != 100 {
			t.Errorf("%d wrong: %+v", c.wrong, q.Segments)
		}
	}
	// Twelve weak ones, of modulation 0.35: damage of 12 % for A and B, none for C.
	m := shown(s.truth, 1, 0.8, 0.05)
	for k := range 12 {
		m.fade(5*k, 0.35)
	}
	gradeIs(t, "weak fixed pattern", s.grade(m, Geometry{}), FixedPattern, 2, 0.12)
}

// Nothing that is no symbol is graded or makes a panic.
func TestNoModules(t *testing.T) {
	s := newToy(7, 40, 200, 2, 40)
	nan := shown(s.truth, 1, 0.8, 0.05)
	nan.R[7] = float32(math.NaN())
	for _, m := range []Modules{{}, {W: 3, H: 3, R: make([]float32, 8)}, {W: -3, H: -3, R: make([]float32, 9)}, {W: 1, H: 1, Quiet: -1}, {W: 1 << 30, H: 1 << 30}, nan} {
		q := s.grade(m, Geometry{})
		if q.Value != 0 || q.Why.IsZero() || q.Decoded || q.Text != "0.0/08/660" || m.Grid().Sound() {
			t.Errorf("%d x %d: %+v", m.W, m.H, q)
		}
	}
	even := shown(s.truth, 1, 0.5, 0.5)
	if q := Matrix("toy", even, func(symbol.Grid) (symbol.MatrixReading, error) { return s.decode(s.truth) }, Geometry{}, eight, 660); q.Value != 0 {
		t.Errorf("an even grey: %+v", q)
	}
	// Readings of another symbol, or that contradict themselves.
	other := newToy(7, 20, 200, 2, 40)
	for i, spoil := range []func(r *symbol.MatrixReading){
		func(r *symbol.MatrixReading) { *r = symbol.MatrixReading{} },
		func(r *symbol.MatrixReading) { r.Truth = other.truth },
		func(r *symbol.MatrixReading) { r.Of = r.Of[1:] },
		func(r *symbol.MatrixReading) { r.Errors = nil },
		func(r *symbol.MatrixReading) { r.Parts = []symbol.Part{{Name: "far", Modules: []int32{1 << 20}}} },
		func(r *symbol.MatrixReading) { r.Blocks = []symbol.Block{{Codewords: []int{-1}}, {}} },
	} {
		q := Matrix("toy", shown(s.truth, 1, 0.8, 0.05), func(g symbol.Grid) (symbol.MatrixReading, error) {
			r, err := s.decode(g)
			spoil(&r)
			return r, err
		}, Geometry{}, eight, 660)
		if q.Decoded || q.Value != 0 || !strings.Contains(q.Why.String(), "reading") {
			t.Errorf("reading %d: %s %s", i, q.Text, q.Why)
		}
	}
}

// A lattice stretched, and one with a module out of place: AN and GN by arithmetic.
func TestLattice(t *testing.T) {
	l := Lattice{W: 21, H: 11}
	turn := 0.3
	for i := range 21 * 11 {
		x, y := 9.7*float64(i%21), 10.3*float64(i/21)
		l.At = append(l.At, plane.Point{X: 80 + x*math.Cos(turn) - y*math.Sin(turn), Y: 60 + x*math.Sin(turn) + y*math.Cos(turn)})
	}
	g, ok := l.Geometry()
	if !ok {
		t.Fatal("no geometry")
	}
	near(t, "AN", g.AN, 0.06, 1e-9)
	near(t, "GN", g.GN, 0, 1e-9)
	l.At[115].X += 4 // the middle one: the fit hardly follows
	g, _ = l.Geometry()
	near(t, "GN", g.GN, 0.4*(1-1.0/231), 1e-6)
	raster := plane.Raster{W: 400, H: 300, V: make([]float32, 400*300)}
	if m, ok := l.Modules(raster, 2, 8); !ok || m.W != 21 || m.H != 11 || m.Quiet != 2 || !m.unfit().IsZero() {
		t.Errorf("%d x %d modules, %v", m.W, m.H, ok)
	}
	for _, bad := range []Lattice{{}, {W: 2, H: 2, At: l.At[:3]}, {W: 1, H: 3, At: l.At[:3]}, {W: 2, H: 1, At: []plane.Point{{X: math.NaN()}, {}}}} {
		if g, ok := bad.Geometry(); ok {
			t.Errorf("%+v: %+v", bad, g)
		}
	}
	if _, ok := l.Modules(raster, 20, 8); ok {
		t.Error("a quiet zone beyond the raster")
	}
}

// On a head of 300 x 600 dots to the inch a module of 3 x 6 dots is square; one of
// 3 x 5 has AN (6-5)/5.5.
func TestPrintedGeometry(t *testing.T) {
	g := plane.Grid{W: 10, H: 10, DX: 300, DY: 600}
	near(t, "AN", Printed(g, 3, 6, 0, 0).AN, 0, 1e-12)
	near(t, "AN", Printed(g, 3, 5, 0, 0).AN, 1/5.5, 1e-12)
	near(t, "growth", Printed(g, 3, 6, 25400, 50800).GrowthX, 0.1, 1e-9)
	near(t, "growth", Printed(g, 3, 6, 25400, 50800).GrowthY, 0.2, 1e-9)
	if got := Printed(plane.Grid{}, 3, 3, 0, 0); got != (Geometry{}) {
		t.Errorf("of no grid: %+v", got)
	}
}

func BenchmarkMatrix(b *testing.B) {
	s := newToy(1, 50, 300, 4, 30) // 50 x 49 modules
	m := shown(s.truth, 4, 0.8, 0.05)
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range m.R {
		m.R[i] += 0.05 * rng.Float32()
	}
	b.ReportAllocs()
	for b.Loop() {
		if q := s.grade(m, Geometry{}); q.Value != 4 {
			b.Fatal(q.Why)
		}
	}
}
