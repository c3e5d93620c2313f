package pdf417

import (
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
