package grade_test

import (
	"math"
	"testing"

	"unspool/grade"
	"unspool/ink"
	"unspool/light"
	"unspool/panel"
	"unspool/plane"
	"unspool/symbol"
	"unspool/symbol/qr"
	"unspool/unit"
)

// printedMatrix is a card with a matrix symbol of modules of x dots.
type printedMatrix struct {
	panels *panel.Panels
	grid   symbol.Grid
	x      int
}

// corner is the first dot of the symbol, both ways.
const corner = 30

func printMatrix(g symbol.Grid, pitch unit.Pitch, x int, dye [4]uint8) printedMatrix {
	size := plane.Grid{W: g.W*x + 2*corner, H: g.H*x + 2*corner, DX: pitch, DY: pitch}
	n := size.Dots()
	p := &panel.Panels{Grid: size, Y: make([]uint8, n), M: make([]uint8, n), C: make([]uint8, n), K: make([]uint8, n)}
	for i, dark := range g.Dark {
		for d := range x * x {
			at := size.At(corner+i%g.W*x+d%x, corner+i/g.W*x+d/x)
			if dark {
				p.Y[at], p.M[at], p.C[at], p.K[at] = dye[0], dye[1], dye[2], dye[3]
			}
		}
	}
	return printedMatrix{p, g, x}
}

// middles are where the modules' middles lie, the quiet ones too.
func (s printedMatrix) middles(n, quiet int) (at []float64) {
	for i := -quiet; i < n+quiet; i++ {
		at = append(at, corner+(float64(i)+0.5)*float64(s.x))
	}
	return at
}

func (s printedMatrix) grade(l *light.Lit, peak unit.Nanometres) grade.Quality {
	const quiet = 4
	a := grade.MatrixAperture(s.panels.DX.Span(s.x))
	m := grade.Modules{W: s.grid.W, H: s.grid.H, Quiet: quiet, R: l.Spots(s.panels, s.middles(s.grid.W, quiet), s.middles(s.grid.H, quiet), a.Diameter)}
	return grade.Matrix("qr", m, qr.Decode, grade.Printed(s.panels.Grid, s.x, s.x, 0, 0), a, peak)
}

func someQR(t testing.TB) symbol.Grid {
	t.Helper()
	m, err := qr.Encode("SH-20417", qr.Options{Level: qr.M})
	if err != nil {
		t.Fatal(err)
	}
	return m.Grid
}

// Red and infrared light give two grades: resin, which is carbon, has the best in
// both, composite black none in infrared (common practice, no source).
func TestWhichLightGradesWhichModules(t *testing.T) {
	for name, want := range map[string][2]bool{"resin": {true, true}, "composite black": {true, false}, "red": {false, false}, "blue": {true, false}} {
		s := printMatrix(someQR(t), 300, 4, inks[name])
		for i, nm := range []unit.Nanometres{660, 940} {
			q := s.grade(assumed(ink.Usual()).Under(ink.Line(nm)), nm)
			if (q.Value >= 1.5) != want[i] || !want[i] && q.Value != 0 || q.Light != nm {
				t.Errorf("%s at %v: %s, %s", name, nm, q.Text, q.Why)
			}
		}
	}
}

// Growth that grows, spread that spreads: the grade never rises, and comes down.
func TestWorseMatrixPrintingNeverHelps(t *testing.T) {
	for _, name := range []string{"resin", "composite black"} {
		s := printMatrix(someQR(t), 300, 3, inks[name])
		for what, scene := range map[string]light.Scene{
			"growth": {GrowthX: 15 * um, GrowthY: 15 * um},
			"loss":   {GrowthX: -15 * um, GrowthY: -15 * um},
			"spread": {SpreadDye: 15 * um, SpreadResin: 15 * um},
		} {
			before := grade.Quality{Grade: grade.Grade{Value: 5}}
			for i := range 13 {
				k := unit.Length(i)
				sc := light.Scene{Model: ink.Usual(), GrowthX: k * scene.GrowthX, GrowthY: k * scene.GrowthY,
					SpreadDye: max(k*scene.SpreadDye, 10*um), SpreadResin: max(k*scene.SpreadResin, 10*um)}
				q := s.grade(sc.Under(ink.Line(660)), 660)
				if q.Value > before.Value {
					t.Errorf("%s, %s step %d: grade rises from %s (%s) to %s (%s)", name, what, i, before.Text, before.Why, q.Text, q.Why)
				}
				before = q
			}
			if before.Value >= 3 {
				t.Errorf("%s, %s: still %s at the end", name, what, before.Text)
			}
		}
	}
}

// What is sampled out of a raster through the lattice of a symbol that lies at an
// angle of none has the grades of what the light model shows at its modules.
func TestRasterLeadsToTheSameGrade(t *testing.T) {
	const perDot, quiet = 8, 4
	s := printMatrix(someQR(t), 300, 3, inks["resin"])
	lit := assumed(ink.Usual()).Under(ink.Line(660))
	want := s.grade(lit, 660)
	raster := lit.Raster(s.panels, s.panels.Rect(), perDot, 0)
	l := grade.Lattice{W: s.grid.W, H: s.grid.H}
	for _, y := range s.middles(s.grid.H, 0) {
		for _, x := range s.middles(s.grid.W, 0) {
			l.At = append(l.At, plane.Point{X: x * perDot, Y: y * perDot})
		}
	}
	a := want.Aperture
	m, ok := l.Modules(raster, quiet, s.panels.DX.Dots(a.Diameter)*perDot)
	g, also := l.Geometry()
	if !ok || !also {
		t.Fatal("no modules")
	}
	got := grade.Matrix("qr", m, qr.Decode, g, a, 660)
	for i, f := range got.Figures {
		if w := want.Figures[i]; f.Grade != w.Grade || math.Abs(f.Value-w.Value) > 0.02 {
			t.Errorf("%+v, the light model says %+v", f, w)
		}
	}
}

// No reflectances make a panic, or a grade without a reading.
func FuzzMatrix(f *testing.F) {
	f.Add([]byte{1, 2, 3}, uint8(21), uint8(4))
	f.Add([]byte{0, 255}, uint8(25), uint8(0))
	f.Fuzz(func(t *testing.T, r []byte, side, quiet uint8) {
		w := int(side) + 2*int(quiet%8)
		m := grade.Modules{W: int(side), H: int(side), Quiet: int(quiet % 8), R: make([]float32, w*w)}
		for i := range m.R {
			if len(r) > 0 {
				m.R[i] = float32(r[i%len(r)]) / 200
			}
		}
		for _, name := range []string{"qr", "datamatrix", "other"} {
			q := grade.Matrix(name, m, qr.Decode, grade.Geometry{}, grade.Aperture{}, 660)
			if !(q.Value >= 0 && q.Value <= 4) || q.Why.IsZero() || q.Value > 0 && !q.Decoded {
				t.Errorf("%s: %+v", name, q)
			}
		}
	})
}

// The same of lines that may be those of PDF417.
func FuzzPDF417(f *testing.F) {
	f.Add([]byte{8, 1, 1, 1, 1, 1, 1, 3, 2, 2, 2, 2, 2, 2, 2, 3}, uint8(3))
	f.Fuzz(func(t *testing.T, widths []byte, lines uint8) {
		var p plane.Profile
		for i, w := range widths[:min(len(widths), 400)] {
			for range w % 32 {
				p.Samples = append(p.Samples, 0.05+0.8*float32(i%2))
			}
		}
		q := grade.PDF417([]plane.Profile{p, p, {}}[:lines%4%3], grade.Ed2000, grade.Aperture{}, 660)
		if !(q.Value >= 0 && q.Value <= 4) || q.Why.IsZero() || q.Value > 0 && !q.Decoded {
			t.Errorf("%+v", q)
		}
		for _, f := range q.Figures {
			if math.IsNaN(f.Value) || math.IsInf(f.Value, 0) || !(f.Grade >= 0 && f.Grade <= 4) {
				t.Errorf("%+v", f)
			}
		}
	})
}
