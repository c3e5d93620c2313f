package pdf417

import (
	"slices"

	"unspool/say"
	"unspool/symbol"
)

// Assembly is a symbol put together from scan lines.
type Assembly struct {
	symbol.MatrixReading
	Shape
	Level   int // error correction level, 0 to 8
	Compact bool
	// Places says for each line which codeword each of its cells is: its number, or
	// NoCodeword for a row indicator and where that is not known. A cell may have
	// been read wrong all the same: Codewords says what should be there.
	Places [][]int
	// Codewords are all codewords, mended.
	Codewords []int
}

// Assemble puts together the symbol that scan lines show. They may come in any
// order, lie at a tilt, pass from row to row and end within the symbol, as long as
// they show a start or a stop pattern and a row indicator at that end. Where lines
// disagree, the codeword with the greatest margins in all is taken. Codewords
// that no line shows are erasures.
//
// The reading is of the symbol upright. An error says what is missing.
func Assemble(lines []Line) (Assembly, error) {
	var v votes
	for _, l := range lines {
		v.line(l)
	}
	f, err := v.form()
	if err != nil {
		return Assembly{}, err
	}
	f.compact = !normal(lines, f)
	a := Assembly{Shape: f.Shape, Compact: f.compact, Places: make([][]int, len(lines))}
	b := newBallot(f.Rows * f.Columns)
	for i, l := range lines {
		a.Places[i] = f.place(l)
		for k, at := range a.Places[i] {
			if at >= 0 && l.Cells[k].Codeword >= 0 {
				b.add(at, l.Cells[k].Codeword, l.Cells[k].Margin)
			}
		}
	}
	words, erased := b.result()
	if a.MatrixReading, err = f.finish(words, erased); err != nil {
		return Assembly{}, err
	}
	a.Level, a.Codewords = f.level, words
	return a, nil
}

// normal says whether a symbol is not compact: a stop pattern was seen, or a right
// row indicator where a compact symbol has ended.
func normal(lines []Line, f form) bool {
	for _, l := range lines {
		if l.Stop.Seen() {
			return true
		}
		if k := f.Columns + 1; k < len(l.Cells) && l.Cells[0].Codeword >= 0 && l.Cells[k].Codeword >= 0 {
			if row := rowOf(l.Cells[k]); row < f.Rows && f.indicator(row, true)%30 == l.Cells[k].Codeword%30 {
				return true
			}
		}
	}
	return false
}

// rowOf is the row that a row indicator names.
func rowOf(c Cell) int { return c.Codeword/30*clusters + c.Cluster/3 }

// votes counts what row indicators say of a symbol: by kind (a third of the rows,
// level and rest of the rows, columns) how often each value was read.
type votes struct {
	said    [clusters][30]int
	columns [maxColumns + 1]int // by the length of lines that show both ends
}

func (v *votes) line(l Line) {
	n := len(l.Cells)
	if n < 2 {
		return
	}
	if l.Start.Seen() {
		v.indicator(l.Cells[0], false)
	}
	if l.Stop.Seen() {
		v.indicator(l.Cells[n-1], true)
	}
	if l.Start.Seen() && l.Stop.Seen() && n-2 >= 1 && n-2 <= maxColumns {
		v.columns[n-2]++
	}
}

func (v *votes) indicator(c Cell, right bool) {
	if c.Codeword < 0 {
		return
	}
	kind := c.Cluster / 3
	if right {
		kind = (kind + 2) % clusters
	}
	v.said[kind][c.Codeword%30]++
}

// form is what most row indicators say.
func (v *votes) form() (f form, err error) {
	columns, some := most(v.said[2][:])
	f.Columns = columns + 1
	if !some {
		f.Columns, some = most(v.columns[:])
	}
	thirds, threes := most(v.said[0][:])
	rest, rests := most(v.said[1][:])
	if !some || !threes || !rests {
		return form{}, say.Errorf("PDF417: the row indicators do not tell how many rows and columns there are; scan more of its rows, down to the last")
	}
	f.Rows, f.level = 3*thirds+rest%3+1, rest/3
	if f.Rows < minRows || f.Rows > maxRows || f.level > maxLevel || f.Rows*f.Columns > maxCodewords {
		return form{}, say.Errorf("PDF417: the row indicators tell of %d columns, %d rows and error correction level %d, which no symbol has", f.Columns, f.Rows, f.level)
	}
	return f, nil
}

// most is the value with most votes, the least of equals, and whether there are
// any.
func most(votes []int) (int, bool) {
	best := 0
	for v, n := range votes {
		if n > votes[best] {
			best = v
		}
	}
	return best, votes[best] > 0
}

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

// rows says which row each cell of a line is in, or nil where the line does not
// tell.
func (f form) rows(l Line) []int {
	n := len(l.Cells)
	if n == 0 || l.Start.Seen() && l.Stop.Seen() && n != f.Columns+2 {
		return nil
	}
	left := l.Start.Seen() && l.Cells[0].Codeword >= 0
	right := l.Stop.Seen() && l.Cells[n-1].Codeword >= 0
	switch {
	case left && right && n > 1:
		return between(l.Cells)
	case left:
		return follow(l.Cells, rowOf(l.Cells[0]))
	case right:
		back := slices.Clone(l.Cells)
		slices.Reverse(back)
		rows := follow(back, rowOf(back[0]))
		slices.Reverse(rows)
		return rows
	}
	return nil
}

// between gives the rows of a line whose both ends tell theirs. It lies straight
// between them, but for the rounding to rows, and each cell's cluster says which
// of three rows it is in. Were an indicator read wrong, the clusters would not
// follow that line.
func between(cells []Cell) []int {
	n := len(cells)
	a, b := float64(rowOf(cells[0])), float64(rowOf(cells[n-1]))
	rows, off, read := make([]int, n), 0.0, 0
	for k, c := range cells {
		rows[k] = symbol.NoCodeword
		if c.Codeword < 0 {
			continue
		}
		straight := a + (b-a)*float64(k)/float64(n-1)
		row := nearestRow(straight, c.Cluster/3)
		rows[k] = row
		off += max(straight-float64(row), float64(row)-straight)
		read++
	}
	// By chance a cell would be three quarters of a row off; a straight line's
	// rounding makes it a quarter.
	if off > 0.5*float64(read) {
		return nil
	}
	return rows
}

// nearestRow is the row of a cluster that is nearest to a place between rows.
func nearestRow(at float64, cluster int) int {
	row := int(at+0.5) - 1
	for row%clusters != cluster || row < 0 {
		row++
	}
	return row
}

// follow gives the rows of a line of which one end is known, stepping to the next
// row or back to the one before as clusters change.
func follow(cells []Cell, row int) []int {
	rows := slices.Repeat([]int{symbol.NoCodeword}, len(cells))
	for k, c := range cells {
		if c.Codeword < 0 {
			continue
		}
		switch (c.Cluster/3 - row%clusters + clusters) % clusters {
		case 1:
			row++
		case 2:
			row--
		}
		if row < 0 {
			return rows // it left the symbol
		}
		rows[k] = row
	}
	return rows
}

// ballot weighs what was read of each codeword.
type ballot [][]vote

type vote struct {
	codeword int
	weight   float64
}

func newBallot(n int) ballot { return make(ballot, n) }

// faint is what a reading without any margin still weighs.
const faint = 0.01

func (b ballot) add(at, codeword int, margin float64) {
	for i := range b[at] {
		if b[at][i].codeword == codeword {
			b[at][i].weight += margin + faint
			return
		}
	}
	b[at] = append(b[at], vote{codeword, margin + faint})
}

// result is the weightiest reading of each codeword. Without one, or with two of
// the same weight, it is an erasure.
func (b ballot) result() (words, erased []int) {
	words = make([]int, len(b))
	for at, all := range b {
		best, even := vote{}, true
		for _, v := range all {
			switch {
			case v.weight > best.weight:
				best, even = v, false
			case v.weight == best.weight:
				even = true
			}
		}
		if words[at] = best.codeword; even {
			erased = append(erased, at)
		}
	}
	return words, erased
}
