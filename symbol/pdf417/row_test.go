package pdf417

import (
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"unspool/symbol"
)

// widthsOf are the element widths of a row of a grid.
func widthsOf(g symbol.Grid, y int) []float64 {
	var w []float64
	for x := range g.W {
		if x == 0 || g.At(x, y) != g.At(x-1, y) {
			w = append(w, 0)
		}
		w[len(w)-1]++
	}
	return w
}

func scaled(w []float64, by float64) []float64 {
	out := slices.Clone(w)
	for i := range out {
		out[i] *= by
	}
	return out
}

// Each row read alone gives its codewords and clusters, from either end, with
// all of its margins.
func TestRow(t *testing.T) {
	m := must(t, licence, Options{Columns: 7})
	for y := range m.H {
		for _, reversed := range []bool{false, true} {
			w := scaled(widthsOf(m.Grid, y), 2.5)
			if reversed {
				slices.Reverse(w)
			}
			l, err := Row(w)
			if err != nil || l.Reversed != reversed || len(l.Cells) != 9 || !l.Start.Seen() || !l.Stop.Seen() || math.Abs(l.X-2.5) > 1e-9 {
				t.Fatalf("row %d: %+v %v", y, l, err)
			}
			for k, c := range l.Cells {
				want := gridCell(m.Grid, modules*(k+1), y)
				at := elements * (k + 1)
				if reversed {
					at = len(w) - at - elements
				}
				if c.Codeword != want.Codeword || c.Cluster != y%3*3 || math.Abs(c.Margin-1) > 1e-9 || c.From != at || c.To != at+elements {
					t.Fatalf("row %d cell %d: %+v, want %+v", y, k, c, want)
				}
			}
		}
	}
}

// A row may stand among other elements, lack an end, and have damage within:
// what is whole is read all the same, at its place.
func TestRowInPart(t *testing.T) {
	m := must(t, licence, Options{Columns: 7})
	whole := widthsOf(m.Grid, 4)
	ideal, err := Row(whole)
	if err != nil {
		t.Fatal(err)
	}
	joined := slices.Clone(whole) // a space filled, in the third character
	at := elements*3 + 3
	joined = slices.Concat(joined[:at-1], []float64{whole[at-1] + whole[at] + whole[at+1]}, joined[at+2:])
	split := slices.Concat(whole[:elements*5], []float64{whole[elements*5] / 3, whole[elements*5] / 3, whole[elements*5] / 3}, whole[elements*5+1:])
	// The space between two characters filled: neither can be read.
	at = elements*5 - 1
	fused := slices.Concat(whole[:at-1], []float64{whole[at-1] + whole[at] + whole[at+1]}, whole[at+2:])
	for _, c := range []struct {
		name        string
		widths      []float64
		from, to    int // cells that the line has, of the ideal ones
		lost        []int
		start, stop bool
	}{
		{"among others", slices.Concat([]float64{1, 1, 4, 2, 1, 30}, whole, []float64{40, 2, 1, 1, 3}), 0, 9, nil, true, true},
		{"without stop", whole[:elements*7+3], 0, 6, nil, true, false},
		{"without start", whole[elements*4+4:], 4, 9, nil, false, true},
		{"a space filled", joined, 0, 9, []int{2}, true, true},
		{"a bar split", split, 0, 9, []int{4}, true, true},
		{"two characters fused", fused, 0, 9, []int{3, 4}, true, true},
	} {
		l, err := Row(c.widths)
		if err != nil || l.Start.Seen() != c.start || l.Stop.Seen() != c.stop || len(l.Cells) != c.to-c.from {
			t.Errorf("%s: %+v %v", c.name, l, err)
			continue
		}
		for k, cell := range l.Cells {
			want := ideal.Cells[c.from+k].Codeword
			if slices.Contains(c.lost, k) {
				want = symbol.NoCodeword
			}
			if cell.Codeword != want {
				t.Errorf("%s: cell %d is %+v, want %d", c.name, k, cell, want)
			}
		}
	}
}

// Bars that all grow alike leave edge-to-similar-edge distances alone; one edge
// moved by a quarter of a module takes half of the margin of the two sums it
// bounds, V = K/(p/34) (arithmetic).
func TestRowMargin(t *testing.T) {
	m := must(t, licence, Options{Columns: 7})
	grown := widthsOf(m.Grid, 0)
	for i := range grown {
		grown[i] += 0.4 * float64(1-2*(i%2))
	}
	l, err := Row(grown)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range l.Cells {
		// The space after a character gives to the next bar what the first took.
		if c.Codeword < 0 || c.Margin < 1-1e-9 {
			t.Errorf("%+v", c)
		}
	}
	moved := widthsOf(m.Grid, 0)
	at := elements*2 + 3
	moved[at] += 0.25
	moved[at-1] -= 0.25
	l, err = Row(moved)
	if err != nil {
		t.Fatal(err)
	}
	if c := l.Cells[1]; c.Codeword < 0 || math.Abs(c.Margin-0.5) > 1e-9 {
		t.Errorf("%+v", c)
	}
}

func TestRowRefuses(t *testing.T) {
	if _, err := Row([]float64{1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}); !errors.Is(err, symbol.ErrNoStart) {
		t.Errorf("no start: %v", err)
	}
	for _, w := range [][]float64{{0}, {1, -1, 1}, {math.NaN()}, {math.Inf(1)}} {
		if _, err := Row(w); err == nil {
			t.Errorf("%v: read", w)
		}
	}
	if _, err := Row(nil); err == nil {
		t.Error("nothing was read")
	}
}

// picture is a symbol as a camera has it: its modules are x by height dots, and
// dots that damage covers are light.
type pictured struct {
	symbol.Grid
	x, height float64
	blots     [][4]float64 // x0, y0, x1, y1
}

func (p pictured) dark(x, y float64) bool {
	for _, b := range p.blots {
		if x >= b[0] && x < b[2] && y >= b[1] && y < b[3] {
			return false
		}
	}
	i, j := int(math.Floor(x/p.x)), int(math.Floor(y/p.height))
	return i >= 0 && j >= 0 && i < p.W && j < p.H && p.At(i, j)
}

// scan is the element widths along a line through a picture, from bar to bar.
func (p pictured) scan(x0, y0, slope float64) []float64 {
	const step = 0.125
	var w []float64
	was := false
	for x := x0; x < float64(p.W)*p.x+10; x += step {
		dark := p.dark(x, y0+slope*(x-x0))
		if dark != was {
			w, was = append(w, 0), dark
		}
		if len(w) > 0 {
			w[len(w)-1] += step
		}
	}
	return w
}

// scans are lines from below the symbol to above it, at a slope.
func (p pictured) scans(slope, every float64) []Line {
	var lines []Line
	rise := math.Abs(slope) * float64(p.W) * p.x
	for y := -rise; y < float64(p.H)*p.height+rise; y += every {
		if l, err := Row(p.scan(-5, y, slope)); err == nil {
			lines = append(lines, l)
		}
	}
	return lines
}

// Lines that pass from row to row as steeply as a row's height over two
// characters put the symbol together, whole.
func TestAssembleAtATilt(t *testing.T) {
	for _, o := range []Options{{Columns: 7}, {Columns: 3}, {Columns: 1, Level: 1}, {Columns: 9, Compact: true}} {
		text := licence
		if o.Columns == 1 {
			text = "Sundhaven 42"
		}
		m := must(t, text, o)
		p := pictured{Grid: m.Grid, x: 3, height: 9}
		for _, slope := range []float64{0, 0.02, -0.05, 0.09, -0.09} {
			lines := p.scans(slope, 1)
			if o.Compact { // a line down from the left never shows a compact symbol's upper right
				lines = append(lines, p.scans(-slope, 1)...)
			}
			a, err := Assemble(lines)
			if err != nil || a.Text != m.Text || a.Spec != m.Spec || !a.Truth.Equal(m.Grid) || a.UEC() < 0.9 || math.Abs(slope) < 0.09 && a.UEC() != 1 || a.Compact != o.Compact || a.Columns != o.Columns || a.Rows != m.H {
				t.Errorf("%+v slope %v, %d lines: %s %v UEC %v", o, slope, len(lines), a.Spec, err, a.UEC())
				continue
			}
			placed, read, wrong := 0, 0, 0
			for i, l := range lines {
				for k, c := range l.Cells {
					if c.Codeword >= 0 {
						read++
						if at := a.Places[i][k]; at >= 0 {
							placed++
							if a.Codewords[at] != c.Codeword {
								wrong++
							}
						}
					}
				}
			}
			if wrong*5 > placed || slope == 0 && wrong > 0 || placed*3 < read && o.Columns > 2 {
				t.Errorf("%+v slope %v: of %d cells read %d are placed, %d of them wrong", o, slope, read, placed, wrong)
			}
		}
	}
}

// Blots take codewords away; what they cover is erased, and counted so.
func TestAssembleDamaged(t *testing.T) {
	m := must(t, licence, Options{Columns: 7, Level: 5})
	for _, c := range []struct {
		name  string
		blots [][4]float64
	}{
		{"a hole", [][4]float64{{200, 60, 320, 130}}},
		{"the left end", [][4]float64{{0, 0, 90, 150}}},
		{"the right end", [][4]float64{{float64(m.W)*3 - 100, 40, 1e4, 1e4}}},
		{"a streak", [][4]float64{{0, 100, 1e4, 118}}},
	} {
		p := pictured{m.Grid, 3, 9, c.blots}
		a, err := Assemble(p.scans(0.03, 1))
		if err != nil || a.Text != licence || !a.Truth.Equal(m.Grid) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		t.Logf("%s: %d errors, %d erasures, UEC %.2f", c.name, a.Errors[0], a.Erasures[0], a.UEC())
		if a.Errors[0] > 2 {
			t.Errorf("%s: %d errors", c.name, a.Errors[0])
		}
	}
	// All the left of a symbol's upper half, and the right of its lower.
	p := pictured{m.Grid, 3, 9, [][4]float64{{0, 0, 300, 1e4}, {0, 0, 1e4, 180}}}
	if _, err := Assemble(p.scans(0.03, 1)); err == nil {
		t.Error("a symbol mostly gone was read")
	}
}

func TestAssembleRefuses(t *testing.T) {
	if _, err := Assemble(nil); err == nil {
		t.Error("no lines were read")
	}
	m := must(t, licence, Options{Columns: 7})
	l, err := Row(widthsOf(m.Grid, 1)[:elements*5])
	if err != nil {
		t.Fatal(err)
	}
	const want = "PDF417: the row indicators do not tell how many rows and columns there are; scan more of its rows, down to the last"
	if _, err := Assemble([]Line{l, l}); err == nil || err.Error() != want {
		t.Errorf("%v", err)
	}
}

func FuzzRow(f *testing.F) {
	m := must(f, "PDF417", Options{Columns: 2})
	for y := range m.H {
		var b []byte
		for _, w := range widthsOf(m.Grid, y) {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(w))
		}
		f.Add(b, uint64(y))
	}
	f.Fuzz(func(t *testing.T, data []byte, seed uint64) {
		var w []float64
		for ; len(data) >= 8; data = data[8:] {
			w = append(w, math.Float64frombits(binary.LittleEndian.Uint64(data)))
		}
		l, err := Row(w)
		if err != nil {
			return
		}
		for _, c := range l.Cells {
			if c.From < 0 || c.To > len(w) || c.From > c.To || !(c.Margin >= 0 && c.Margin <= 1) || c.Codeword >= prime || (c.Codeword < 0) != (c.Cluster < 0) {
				t.Fatalf("%+v", c)
			}
		}
		if !(l.X > 0) || math.IsInf(l.X, 0) || len(l.Cells) > maxColumns+2 {
			t.Fatalf("%+v", l)
		}
		// Lines of sound rows among it, so that there is something to put together.
		lines := []Line{l}
		r := rand.New(rand.NewPCG(seed, 1))
		for y := range m.H {
			if sound, err := Row(widthsOf(m.Grid, y)); err == nil && r.IntN(3) > 0 {
				lines = append(lines, sound, l)
			}
		}
		if a, err := Assemble(lines); err == nil && (len(a.Places) != len(lines) || len(a.Codewords) != a.Rows*a.Columns) {
			t.Fatalf("%+v", a)
		}
	})
}

func BenchmarkRow(b *testing.B) {
	w := widthsOf(must(b, licence, Options{Columns: 7}).Grid, 3)
	for b.Loop() {
		if _, err := Row(w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAssemble(b *testing.B) {
	p := pictured{Grid: must(b, licence, Options{Columns: 7}).Grid, x: 3, height: 9}
	lines := p.scans(0.03, 1)
	for b.Loop() {
		if _, err := Assemble(lines); err != nil {
			b.Fatal(err)
		}
	}
}
