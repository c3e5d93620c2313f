package grade

import (
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/aztec"
	"unspool/symbol/datamatrix"
	"unspool/symbol/qr"
)

func encodeQR(t testing.TB, text string, o qr.Options) symbol.Matrix {
	t.Helper()
	m, err := qr.Encode(text, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func gradeQR(m Modules) Quality { return Matrix("qr", m, qr.Decode, Geometry{}, eight, 660) }

// fixedGrade is the grade of fixed pattern damage.
func fixedGrade(t *testing.T, q Quality) float64 {
	t.Helper()
	f, ok := q.Figure(FixedPattern)
	if !ok {
		t.Fatalf("not graded: %s", q.Why)
	}
	return f.Grade
}

// QR Code's segments (ISO/IEC 18004 Annex G, from memory): a corner with its
// separator and quiet zone has 168 modules, 0 to 4 of them damaged make 4 to 0;
// timing patterns 0, 7, 11, 14 %, and no more than two of five neighbours;
// alignment patterns 0, 10, 20, 30 %; of the two copies of the format information
// the mean of 0 to 4 errors counts, and of the version information likewise.
func TestQRSegments(t *testing.T) {
	s := encodeQR(t, "SUNDHAVEN FERRIES 204171187", qr.Options{Level: qr.H, Least: 7})
	parts := map[string][]int32{}
	for _, p := range s.Parts {
		for _, begins := range []string{"finder pattern upper left", "timing pattern horizontal", "alignment", "format information upper left", "version information upper right"} {
			if strings.HasPrefix(p.Name, begins) {
				parts[begins] = append(parts[begins], p.Modules...)
			}
		}
	}
	q := gradeQR(shown(s.Grid, 4, 0.8, 0.05))
	if q.Value != 4 || q.Text != "4.0/08/660" {
		t.Fatalf("undamaged: %s, %s", q.Text, q.Why)
	}
	corners := 0
	for _, g := range q.Segments {
		if strings.HasPrefix(g.Name, "finder") {
			corners++
			if g.Modules != 168 {
				t.Errorf("%s has %d modules", g.Name, g.Modules)
			}
		}
	}
	if corners != 3 {
		t.Errorf("%d corners", corners)
	}
	timing, alignment := len(parts["timing pattern horizontal"]), len(parts["alignment"])
	for _, c := range []struct {
		part  string
		wrong int
		step  int
		want  float64
	}{
		{"finder pattern upper left", 1, 3, 3}, {"finder pattern upper left", 2, 3, 2}, {"finder pattern upper left", 3, 3, 1}, {"finder pattern upper left", 4, 3, 0},
		{"timing pattern horizontal", timing * 7 / 100, 9, 3}, {"timing pattern horizontal", timing*7/100 + 1, 9, 2}, {"timing pattern horizontal", timing*14/100 + 1, 6, 0},
		{"alignment", alignment / 10, 7, 3}, {"alignment", alignment/10 + 1, 7, 2}, {"alignment", alignment/5 + 1, 4, 1}, {"alignment", alignment*3/10 + 1, 3, 0},
		{"format information upper left", 1, 2, 3}, {"format information upper left", 2, 2, 3}, {"format information upper left", 3, 2, 2},
		{"version information upper right", 3, 2, 2},
	} {
		m := shown(s.Grid, 4, 0.8, 0.05)
		for k := range c.wrong {
			m.flip(int(parts[c.part][k*c.step]))
		}
		q := gradeQR(m)
		if got := fixedGrade(t, q); got != c.want {
			t.Errorf("%d wrong of %s: grade %v, want %v; %s", c.wrong, c.part, got, c.want, q.Why)
		}
	}
	// Marks in the quiet zone of a corner count, beyond its arms not.
	m := shown(s.Grid, 4, 0.8, 0.05)
	m.R[m.at(-4, 10)], m.R[m.at(11, -1)] = 0.05, 0.05
	if got := fixedGrade(t, gradeQR(m)); got != 3 {
		t.Errorf("a mark in the quiet zone: grade %v", got)
	}
}

// Three neighbours of five damaged spoil a timing pattern, however long it is.
func TestTimingInARow(t *testing.T) {
	s := encodeQR(t, "SH", qr.Options{Level: qr.H, Least: 20})
	at := slices.IndexFunc(s.Parts, func(p symbol.Part) bool { return strings.HasPrefix(p.Name, "timing") })
	m := shown(s.Grid, 4, 0.8, 0.05)
	for _, k := range []int{1, 2, 4} {
		m.flip(int(s.Parts[at].Modules[k]))
	}
	if got := fixedGrade(t, gradeQR(m)); got != 0 {
		t.Errorf("grade %v", got)
	}
}

// However a symbol lies, it has the same grades.
func TestQRAnyTurn(t *testing.T) {
	s := encodeQR(t, "SH-20417", qr.Options{Level: qr.M})
	g := s.Grid
	g.Dark[3*g.W+1] = !g.Dark[3*g.W+1] // in a finder pattern
	g.Dark[12*g.W+12] = !g.Dark[12*g.W+12]
	want := gradeQR(shown(g, 4, 0.8, 0.05))
	if want.Value != 3 {
		t.Fatalf("%s, %s", want.Text, want.Why)
	}
	for range 4 {
		g = g.Turned()
		for _, h := range []symbol.Grid{g, g.Mirrored()} {
			got := gradeQR(shown(h, 4, 0.8, 0.05))
			if !slices.EqualFunc(got.Figures, want.Figures, func(a, b Figure) bool { return a.Grade == b.Grade && a.Value == b.Value }) {
				t.Errorf("%+v, upright %+v", got.Figures, want.Figures)
			}
		}
	}
}

// frame is that of a Data Matrix symbol, of 26 x 26 modules in one region or of 32
// x 32 in two a side (ISO/IEC 16022:2006 Table 7, from memory), filled with a
// pattern of this test.
func frame(side, regions int) toy {
	s := toy{truth: symbol.NewGrid(side, side)}
	n := side / regions
	for i := range side * side {
		x, y := i%side%n, i/side%n
		dark, of := (i*7+i/side*3)%5 < 2, symbol.NoCodeword
		switch {
		case x == 0 || y == n-1:
			dark = true
		case y == 0:
			dark = x%2 == 0
		case x == n-1:
			dark = y%2 == 1
		default:
			of = i % 64
		}
		s.truth.Dark[i], s.Of = dark, append(s.Of, int16(of))
	}
	all := make([]int, 64)
	for i := range all {
		all[i] = i
	}
	s.Blocks = []symbol.Block{{Codewords: all, Check: 60}}
	return s
}

func (s toy) gradeDM(m Modules) Quality {
	return Matrix("datamatrix", m, s.decode, Geometry{}, eight, 660)
}

// Data Matrix's segments (ISO/IEC 16022:2006 Annex M; shares as read in
// github.com/bashrc2/datamatrix, ratios of transitions and the mean from memory).
func TestDataMatrixSegments(t *testing.T) {
	s := frame(26, 1)
	type marks [][2]int
	line := func(n, step int, at func(k int) [2]int) (m marks) {
		for k := range n {
			m = append(m, at(k*step))
		}
		return m
	}
	l1 := func(k int) [2]int { return [2]int{0, 2 + k} }
	l2 := func(k int) [2]int { return [2]int{2 + k, 25} }
	quiet1 := func(k int) [2]int { return [2]int{-1, 2 + k} }
	clock := func(k int) [2]int { return [2]int{3 + k, 0} }
	above := func(k int) [2]int { return [2]int{3 + k, -1} }
	for _, c := range []struct {
		name string
		at   marks
		want float64
	}{
		{"nothing", nil, 4},
		{"1 of L1's 26, 3.8 %", line(1, 1, l1), 3},
		{"2 of 26, 7.7 %", line(2, 5, l1), 3},
		{"3 of 26, 11.5 %", line(3, 5, l1), 2},
		{"4 of 26, 15.4 %", line(4, 5, l1), 1},
		{"5 of 26, 19.2 %", line(5, 4, l1), 0},
		{"3 of the quiet zone's 27, 11.1 %", line(3, 5, quiet1), 2},
		{"2 of the clock track's 26, 7.7 %", line(2, 6, clock), 4},
		{"3 of 26, 11.5 %", line(3, 6, clock), 3},
		{"5 of 26, 19.2 %", line(5, 4, clock), 2},
		{"6 of 26, 23 %", line(6, 3, clock), 1},
		{"7 of 26, 26.9 %", line(7, 3, clock), 0},
		{"three clock modules of five", marks{{3, 0}, {4, 0}, {6, 0}}, 0},
		{"one mark above the clock track: a transition more of 25", line(1, 1, above), 4},
		{"two marks above it: three more, 12 %", line(2, 5, above), 0},
		{"a mark in L1, L2 and the quiet zone of L1: 3.4 on average", append(line(1, 1, l1), append(line(1, 1, l2), quiet1(0))...), 2},
	} {
		m := shown(s.truth, 1, 0.8, 0.05)
		for _, xy := range c.at {
			k := m.at(xy[0], xy[1])
			m.R[k] = 0.85 - m.R[k]
		}
		q := s.gradeDM(m)
		if got := fixedGrade(t, q); got != c.want {
			t.Errorf("%s: grade %v, want %v; %s", c.name, got, c.want, q.Why)
		}
	}
}

// A symbol of four regions has eight tracks, each beside what follows it.
func TestDataMatrixRegions(t *testing.T) {
	s := frame(32, 2)
	q := s.gradeDM(shown(s.truth, 1, 0.8, 0.05))
	names := map[string]int{}
	for _, g := range q.Segments {
		names[g.Name]++
		if strings.HasPrefix(g.Name, "clock") && g.Modules != 32 {
			t.Errorf("%s: %d modules", g.Name, g.Modules)
		}
	}
	if q.Value != 4 || names["clock track across"] != 4 || names["clock track down"] != 4 || names["L1"] != 1 || names["QZL2"] != 1 {
		t.Errorf("%s, %s: %v", q.Text, q.Why, names)
	}
	// A gap in the solid line inside is a transition more of 15, 6.7 %; one in the
	// clock track beside it is a module of 16.
	for at, want := range map[[2]int]float64{{16, 5}: 3, {15, 5}: 4} {
		m := shown(s.truth, 1, 0.8, 0.05)
		m.flip(at[1]*32 + at[0])
		if got := fixedGrade(t, s.gradeDM(m)); got != want {
			t.Errorf("module %v: grade %v", at, got)
		}
	}
	m := shown(s.truth, 1, 0.8, 0.05)
	m.flip(5*32 + 16)
	m.flip(9*32 + 16)
	if got := fixedGrade(t, s.gradeDM(m)); got != 0 { // three transitions of 15
		t.Errorf("two gaps: grade %v", got)
	}
	for turns := range 4 {
		g := s.truth
		for range turns {
			g = g.Turned()
		}
		turned := toy{g, s.Layout}
		turned.Of = slices.Clone(s.Of)
		for i := range turned.Of { // a module belongs to a codeword wherever the frame turned to
			turned.Of[i] = 0
		}
		for x := range 32 {
			for _, y := range []int{0, 15, 16, 31} {
				turned.Of[y*32+x], turned.Of[x*32+y] = symbol.NoCodeword, symbol.NoCodeword
			}
		}
		if q := turned.gradeDM(shown(g, 1, 0.8, 0.05)); q.Value != 4 || len(q.Segments) != 12 {
			t.Errorf("turned %d times: %s, %s, %d segments", turns, q.Text, q.Why, len(q.Segments))
		}
	}
}

// Symbols of package datamatrix, square and rectangular, of one region and of
// many: undamaged they have the best grade, and t wrong codewords leave 1-2t/d of
// the error correction of their block (ISO/IEC 15415, from memory).
func TestDataMatrixSymbols(t *testing.T) {
	for _, text := range []string{"123456", "SH-20417", strings.Repeat("SH-20417 ", 6), strings.Repeat("Sundhaven ferries ", 20), strings.Repeat("Sundhaven ferries ", 40)} {
		for _, shape := range []datamatrix.Shape{datamatrix.Square, datamatrix.Rectangle} {
			s, err := datamatrix.Encode(text, datamatrix.Options{Shape: shape})
			if err != nil {
				continue // no rectangle holds the long ones
			}
			q := Matrix("datamatrix", shown(s.Grid, 1, 0.8, 0.05), datamatrix.Decode, Geometry{}, eight, 660)
			regions := 0
			for _, p := range s.Parts {
				if strings.HasPrefix(p.Name, "clock track above") {
					regions++
				}
			}
			if q.Value != 4 || len(q.Segments) != 4+2*regions {
				t.Errorf("%s: %s, %s; %d regions, %d segments", s.Spec, q.Text, q.Why, regions, len(q.Segments))
			}
			b := s.Blocks[0]
			for wrong := range b.Check / 2 {
				m := shown(s.Grid, 1, 0.8, 0.05)
				for _, c := range b.Codewords[:wrong] {
					m.flip(slices.Index(s.Of, int16(c)))
				}
				q := Matrix("datamatrix", m, datamatrix.Decode, Geometry{}, eight, 660)
				u := 1 - 2*float64(wrong)/float64(b.Check)
				gradeIs(t, s.Spec, q, UnusedCorrection, float64(whole(u, unusedLimits)), u)
			}
		}
	}
}

// Aztec Code: the bullseye, the orientation marks and, of large symbols, the
// reference grid; the mode message is none of them (own judgement).
func TestAztecPatterns(t *testing.T) {
	for text, want := range map[string][]string{
		"SH-20417": {"bullseye", "orientation marks"},
		strings.Repeat("Sundhaven ferries; ", 30): {"bullseye", "orientation marks", "reference grid"},
	} {
		s, err := aztec.Encode(text, aztec.Options{})
		if err != nil {
			t.Fatal(err)
		}
		grade := func(m Modules) Quality { return Matrix("aztec", m, aztec.Decode, Geometry{}, eight, 660) }
		q := grade(shown(s.Grid, 0, 0.8, 0.05))
		var names []string
		for _, g := range q.Segments {
			names = append(names, g.Name)
		}
		if q.Value != 4 || !slices.Equal(names, want) {
			t.Errorf("%s, %s: %v", q.Text, q.Why, names)
		}
		m := shown(s.Grid, 0, 0.8, 0.05)
		m.flip(s.H/2*s.W + s.W/2)
		if got := fixedGrade(t, grade(m)); got != 3 {
			t.Errorf("one module of the bullseye: grade %v", got)
		}
	}
}
