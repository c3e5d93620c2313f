package grade

import (
	"math"
	"testing"

	"unspool/plane"
	"unspool/symbol"
	"unspool/symbol/pdf417"
)

// stacked is a PDF417 symbol whose rows are lines of elements.
type stacked struct {
	grid    symbol.Grid
	columns int
}

func newStacked(t testing.TB, o pdf417.Options) stacked {
	t.Helper()
	m, err := pdf417.Encode("SUNDHAVEN FERRIES crew card SH-20417, harbour master's office, quay 3", o)
	if err != nil {
		t.Fatal(err)
	}
	return stacked{m.Grid, o.Columns}
}

// x417 is the module of the symbols here, in dots.
const x417 = 3

// line is a row as elements with 4X of quiet before and after.
func (s stacked) line(row int) painted {
	var widths []int
	for x := 0; x < s.grid.W; x++ {
		if x == 0 || s.grid.At(x, row) != s.grid.At(x-1, row) {
			widths = append(widths, 0)
		}
		widths[len(widths)-1] += x417
	}
	return paint(widths, 4*x417)
}

// lines are the profiles of every row, spoiled.
func (s stacked) lines(spoil func(row int, p *painted)) (all []plane.Profile) {
	for row := range s.grid.H {
		p := s.line(row)
		spoil(row, &p)
		all = append(all, p.profile(5))
	}
	return all
}

// spoil makes the codeword of a column unreadable: it becomes 3 2 2 2 2 2 2 2
// modules wide, whose cluster is 1, which no character has. Widths begin with the quiet zone; start and left indicator have
// eight elements each.
func (p *painted) spoil(column int) {
	at := 1 + 8 + 8 + 8*column
	copy(p.widths[at:at+8], []float64{3 * x417, 2 * x417, 2 * x417, 2 * x417, 2 * x417, 2 * x417, 2 * x417, 2 * x417})
}

// weaken moves an edge within the codeword of a column by a share of a module.
func (p *painted) weaken(column int, by float64) {
	at := 1 + 8 + 8 + 8*column
	p.widths[at+2] += by * x417
	p.widths[at+3] -= by * x417
}

func (s stacked) grade(spoil func(row int, p *painted)) Quality {
	return PDF417(s.lines(spoil), Ed2000, eight, 660)
}

func nothing(int, *painted) {}

func TestPDF417WithoutFault(t *testing.T) {
	for _, compact := range []bool{false, true} {
		s := newStacked(t, pdf417.Options{Columns: 4, Level: 4, Compact: compact})
		q := s.grade(nothing)
		if q.Value != 4 || q.Text != "4.0/08/660" || !q.Decoded || len(q.Figures) != 7 {
			t.Errorf("compact %v: %s, %s: %+v", compact, q.Text, q.Why, q.Figures)
		}
		gradeIs(t, "perfect", q, CodewordYield, 4, 1)
		gradeIs(t, "perfect", q, StartStop, 4, 4)
	}
}

// Codewords that no line can read: e erasures leave 1-e/(d-p) of the error
// correction (ISO/IEC 15415, from memory; level 4 has 32 check codewords), the
// yield is what is left of all, and the print quality of the lost ones is 0.
func TestPDF417Erasures(t *testing.T) {
	s := newStacked(t, pdf417.Options{Columns: 4, Level: 4})
	for _, lost := range []int{0, 5, 11, 12, 15, 19, 20, 23} {
		q := s.grade(func(row int, p *painted) {
			if row < lost {
				p.spoil(row % 4)
			}
			if row+s.grid.H < lost {
				p.spoil((row + 1) % 4)
			}
		})
		if !q.Decoded {
			t.Errorf("%d lost: %s", lost, q.Why)
			continue
		}
		b := q.Reading.Blocks[0]
		u := 1 - float64(lost)/float64(b.Check-b.Guard)
		gradeIs(t, "lost codewords", q, UnusedCorrection, float64(whole(u, unusedLimits)), u)
		all := float64(len(b.Codewords))
		gradeIs(t, "lost codewords", q, CodewordYield, float64(whole((all-float64(lost))/all, yieldLimits)), (all-float64(lost))/all)
	}
}

// Yield by the share of codewords the lines show (from memory: 71, 64, 57, 50 %):
// more lines than rows, some of them with nothing to read between their ends.
func TestPDF417Yield(t *testing.T) {
	s := newStacked(t, pdf417.Options{Columns: 4, Level: 4})
	good := s.lines(nothing)
	bad := s.lines(func(_ int, p *painted) {
		for c := range 4 {
			p.spoil(c)
		}
	})
	for _, c := range []struct {
		of, bad int
		grade   float64
	}{{100, 29, 4}, {100, 30, 3}, {100, 36, 3}, {100, 37, 2}, {100, 43, 2}, {100, 44, 1}, {100, 50, 1}, {100, 51, 0}} {
		var lines []plane.Profile
		for i := range c.of - c.bad {
			lines = append(lines, good[i%len(good)])
		}
		for i := range c.bad {
			lines = append(lines, bad[i%len(bad)])
		}
		q := PDF417(lines, Ed2000, eight, 660)
		gradeIs(t, "yield", q, CodewordYield, c.grade, float64(c.of-c.bad)/float64(c.of))
	}
}

// An edge of a codeword moved by a fifth of a module leaves 60 % of its tolerance,
// half a module either way: grade 3 (ISO/IEC 15416). So few codewords are made
// good by the error correction, all of them not; nor the indicators of a row and
// the rows beside it.
func TestPDF417CodewordPrintQuality(t *testing.T) {
	s := newStacked(t, pdf417.Options{Columns: 4, Level: 4})
	few := s.grade(func(row int, p *painted) {
		if row < 5 {
			p.weaken(row%4, 0.2)
		}
	})
	if f, _ := few.Figure(Decodability); f.Grade != 4 {
		t.Errorf("five weak codewords: %+v", f)
	}
	all := s.grade(func(row int, p *painted) {
		for c := range 4 {
			p.weaken(c, 0.2)
		}
	})
	if f, _ := all.Figure(Decodability); f.Grade != 3 || all.Deciding != Decodability {
		t.Errorf("all codewords weak: %+v, %s", f, all.Why)
	}
	indicators := s.grade(func(row int, p *painted) {
		p.weaken(-1, 0.2)
		p.weaken(4, 0.2)
	})
	if f, _ := indicators.Figure(Decodability); f.Grade != 3 {
		t.Errorf("all row indicators weak: %+v", f)
	}
	// The best line counts.
	lines := append(s.lines(nothing), s.lines(func(_ int, p *painted) {
		for c := range 4 {
			p.weaken(c, 0.2)
		}
	})...)
	q := PDF417(lines, Ed2000, eight, 660)
	if f, _ := q.Figure(Decodability); f.Grade != 4 {
		t.Errorf("every codeword well on one line: %+v", f)
	}
}

// What spoils the ends spoils the first figure alone.
func TestPDF417StartStop(t *testing.T) {
	s := newStacked(t, pdf417.Options{Columns: 4, Level: 4})
	q := s.grade(func(_ int, p *painted) { p.widths[0] = 1.5 * x417 })
	if q.Deciding != StartStop || q.Value != 0 {
		t.Errorf("quiet zone of 1.5X: %s, %s", q.Text, q.Why)
	}
	gradeIs(t, "no quiet zone", q, CodewordYield, 4, 1)
	q = s.grade(func(row int, p *painted) {
		if row%2 == 0 {
			p.widths[0] = 1.5 * x417
		}
	})
	if f, _ := q.Figure(StartStop); math.Abs(f.Grade-2) > 0.3 || f.Grade != q.Value {
		t.Errorf("every other line without quiet zone: %+v, %s", f, q.Text)
	}
	q = s.grade(func(_ int, p *painted) { p.levels[2] = 0.45 }) // a space of the start pattern
	if f, _ := q.Figure(StartStop); f.Grade > 2 || q.Deciding != StartStop {
		t.Errorf("a pale start pattern: %+v, %s", f, q.Why)
	}
}

func TestPDF417Nothing(t *testing.T) {
	for name, lines := range map[string][]plane.Profile{"no lines": nil, "empty lines": make([]plane.Profile, 3),
		"grey": {{Samples: []float32{0.5, 0.5, 0.5, 0.5}}}, "no number": {{Samples: []float32{0, 1, float32(math.NaN()), 0}}}, "one bar": {{Samples: []float32{1, 1, 0, 0, 1, 1}}}} {
		q := PDF417(lines, Ed2000, eight, 660)
		if q.Value != 0 || q.Decoded || q.Deciding != Decode || q.Why.IsZero() {
			t.Errorf("%s: %s, %s", name, q.Text, q.Why)
		}
	}
}

func BenchmarkPDF417(b *testing.B) {
	s := newStacked(b, pdf417.Options{Columns: 4, Level: 4})
	lines := s.lines(nothing)
	b.ReportAllocs()
	for b.Loop() {
		if q := PDF417(lines, Ed2000, eight, 660); q.Value != 4 {
			b.Fatal(q.Why)
		}
	}
}
