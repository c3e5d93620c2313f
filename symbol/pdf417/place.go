package pdf417

import (
	"math"

	"unspool/symbol"
)

// place says which codeword each cell of a line is.
func (f form) place(l Line) []int {
	at := make([]int, len(l.Cells))
	rows := f.rows(l)
	for k := range at {
		column := k - 1
		if !l.Start.Seen() {
			column = f.Columns - len(l.Cells) + 1 + k
		}
		at[k] = symbol.NoCodeword
		if rows != nil && rows[k] >= 0 && rows[k] < f.Rows && column >= 0 && column < f.Columns {
			at[k] = rows[k]*f.Columns + column
		}
	}
	return at
}

// rows says which row each cell of a line is in: NoCodeword where that is not
// known, nil where the line does not tell any.
//
// A line through a symbol is straight and begins, or ends, in the row that the
// row indicator there names. So of all straight lines from there the one is taken
// that passes the clusters that were read. Cells of other clusters are not of the
// symbol: the line passed from row to row in them.
func (f form) rows(l Line) []int {
	n := len(l.Cells)
	if n < 2 || l.Start.Seen() && l.Stop.Seen() && n != f.Columns+2 {
		return nil
	}
	var fit slant
	switch left, right := l.Start.Seen() && l.Cells[0].Codeword >= 0, l.Stop.Seen() && l.Cells[n-1].Codeword >= 0; {
	case left && right:
		fit = between(l.Cells)
	case left:
		fit = from(l.Cells, 0)
	case right:
		fit = from(l.Cells, n-1)
	}
	read := 0
	for _, c := range l.Cells {
		if c.Codeword >= 0 {
			read++
		}
	}
	// By chance a third of the cells are of the cluster expected. Were an indicator
	// read wrong, no line would pass much more of them.
	if 3*fit.met < 2*read || fit.met < 2 {
		return nil
	}
	rows := make([]int, n)
	for k, c := range l.Cells {
		if rows[k] = fit.row(k); c.Cluster/3 != rows[k]%clusters || c.Codeword < 0 {
			rows[k] = symbol.NoCodeword
		}
	}
	return rows
}

// slant is a straight line through the rows: at says how many rows down it is at
// cell 0, in the middle of a row where it is whole, step how many more at each
// cell. met is how many cells it passes in their cluster.
type slant struct {
	at, step float64
	met      int
}

func (s slant) row(k int) int { return int(math.Floor(s.at + s.step*float64(k) + 0.5)) }

// try takes another line where that passes more cells in their cluster.
func (s *slant) try(at, step float64, cells []Cell) {
	t := slant{at: at, step: step}
	for k, c := range cells {
		if row := t.row(k); c.Codeword >= 0 && row >= 0 && row%clusters == c.Cluster/3 {
			t.met++
		}
	}
	if t.met > s.met {
		*s = t
	}
}

// within are places in a row, from its middle outwards, at which a line may meet
// its row indicator.
var within = []float64{0, 0.2, -0.2, 0.4, -0.4}

// between is the best line between the rows that both ends name.
func between(cells []Cell) (best slant) {
	last := len(cells) - 1
	a, b := float64(rowOf(cells[0])), float64(rowOf(cells[last]))
	for _, da := range within {
		for _, db := range within {
			best.try(a+da, (b+db-a-da)/float64(last), cells)
		}
	}
	return best
}

// from is the best line from the row that the cell at one end names. It is no
// steeper than a row a cell: beyond, no character is within one row.
func from(cells []Cell, end int) (best slant) {
	row, last := float64(rowOf(cells[end])), len(cells)-1
	for half := range 2*last + 1 { // half rows that it rises over all cells
		for _, step := range []float64{float64(half) / 2 / float64(last), -float64(half) / 2 / float64(last)} {
			for _, d := range within {
				best.try(row+d-step*float64(end), step, cells)
			}
		}
	}
	return best
}
