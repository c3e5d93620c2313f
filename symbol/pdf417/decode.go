package pdf417

import (
	"unspool/say"
	"unspool/symbol"
)

// Decode is the reference decode of a grid of modules, one row of modules for
// each row of the symbol, in any turn and mirrored. Damaged characters are errors
// or, where the modules fit no character of their row's cluster, erasures; more of
// them than can be mended are an error.
func Decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if !g.Sound() {
		return symbol.MatrixReading{}, say.Errorf("PDF417: a grid of %d by %d modules with %d in all is none", g.W, g.H, len(g.Dark))
	}
	return symbol.AnyTurn(g, decode)
}

func decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if g.W%modules != 1 || g.W < modules*3+1 || g.W > modules*(maxColumns+4)+1 || g.H < minRows || g.H > maxRows {
		return symbol.MatrixReading{}, say.Errorf("PDF417: no symbol has %d modules in a row and %d rows", g.W, g.H)
	}
	if !resembles(g, 0, startWidths) {
		return symbol.MatrixReading{}, say.Errorf("PDF417: %v", symbol.ErrNoStart)
	}
	cells := gridCells(g)
	f := form{Shape: Shape{Rows: g.H}}
	f.compact = isCompact(g, cells)
	f.Columns = g.W/modules - 4
	if f.compact {
		f.Columns = g.W/modules - 2
	}
	if f.Columns < 1 || f.Columns > maxColumns || f.Rows*f.Columns > maxCodewords {
		return symbol.MatrixReading{}, say.Errorf("PDF417: no symbol has %d columns and %d rows", f.Columns, f.Rows)
	}
	var err error
	if f.level, err = f.agreed(cells); err != nil {
		return symbol.MatrixReading{}, err
	}
	words, erased := make([]int, f.Rows*f.Columns), []int(nil)
	for at := range words {
		row := at / f.Columns
		c := cells[row][at%f.Columns+1]
		if c.Codeword < 0 || c.Cluster/3 != row%clusters {
			erased = append(erased, at)
			continue
		}
		words[at] = c.Codeword
	}
	return f.finish(words, erased)
}

// resembles says whether a pattern stands at a column of most rows: three of four
// modules at least are as it has them.
func resembles(g symbol.Grid, at int, widths []uint8) bool {
	wrong, all := 0, 0
	for y := range g.H {
		x, dark := at, true
		for _, w := range widths {
			for range w {
				if g.At(x, y) != dark {
					wrong++
				}
				x++
				all++
			}
			dark = !dark
		}
	}
	return 4*wrong < all
}

// gridCells reads all characters after the start pattern.
func gridCells(g symbol.Grid) [][]Cell {
	rows := make([][]Cell, g.H)
	for y := range rows {
		for x := modules; x+modules <= g.W; x += modules {
			rows[y] = append(rows[y], gridCell(g, x, y))
		}
	}
	return rows
}

func gridCell(g symbol.Grid, x, y int) Cell {
	none := Cell{Cluster: symbol.NoCodeword, Codeword: symbol.NoCodeword}
	var p pattern
	i, dark := 0, true
	for at := x; at < x+modules; at++ {
		if g.At(at, y) != dark {
			dark = !dark
			if i++; i == elements || at == x {
				return none
			}
		}
		p[i]++
	}
	if i != elements-1 {
		return none
	}
	is, known := characters().of[p.edges()]
	if !known {
		return none
	}
	return Cell{Cluster: int(is.cluster) * 3, Codeword: int(is.codeword)}
}

// isCompact tells the two forms apart that have this width: by the columns that
// left row indicators tell of, and if they are all damaged, by the stop pattern.
func isCompact(g symbol.Grid, cells [][]Cell) bool {
	var v votes
	for y, row := range cells {
		if c := row[0]; c.Cluster == y%clusters*3 {
			v.indicator(c, false)
		}
	}
	normal := g.W/modules - 4
	if columns, some := most(v.said[2][:]); some && (columns+1 == normal || columns+1 == normal+2) {
		return columns+1 != normal
	}
	return normal < 1 || !resembles(g, g.W-modules-1, stopWidths)
}

// agreed is the error correction level that most row indicators name, or -1 where
// none is left that does. Indicators that mostly name other rows than theirs
// belong to a symbol that does not lie this way.
func (f form) agreed(cells [][]Cell) (int, error) {
	var v votes
	right, wrong := 0, 0
	for y, row := range cells {
		for _, end := range []struct {
			at    int
			right bool
		}{{0, false}, {f.Columns + 1, true}} {
			if end.right && f.compact || row[end.at].Codeword < 0 {
				continue
			}
			if rowOf(row[end.at]) != y {
				wrong++
				continue
			}
			right++
			v.indicator(row[end.at], end.right)
		}
	}
	if wrong > right {
		return 0, say.Errorf("PDF417: the row indicators do not count the rows")
	}
	for value := range v.said[1] {
		if value%3 != (f.Rows-1)%3 || value/3 > maxLevel {
			v.said[1][value] = 0
		}
	}
	if value, some := most(v.said[1][:]); some {
		return value / 3, nil
	}
	return -1, nil
}

// finish corrects words, in place, and reads what they carry. Where the level is
// not known, -1, it becomes the highest that corrects them.
func (f *form) finish(words, erased []int) (symbol.MatrixReading, error) {
	wrong, err := f.mend(words, erased)
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	n, room := words[0], len(words)-checks(f.level)
	if n < 1 || n > room {
		return symbol.MatrixReading{}, say.Errorf("PDF417: the length descriptor says %d codewords where there are %d of data", n, room)
	}
	c, err := read(words[1:n])
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	r := symbol.MatrixReading{Data: c.Data(), Spec: f.String(), Errors: []int{wrong}, Erasures: []int{len(erased)}}
	// A character set that is not known here leaves the bytes without a text.
	r.Text, _ = c.Text()
	r.Truth, r.Layout = f.draw(words)
	return r, nil
}

// mend tries the highest levels first: a symbol's check codewords have those of
// all lower levels among their roots.
func (f *form) mend(words, erased []int) (wrong int, err error) {
	low, high := f.level, f.level
	if f.level < 0 {
		low, high = 0, maxLevel
	}
	err = errTooMany
	for f.level = high; f.level >= low; f.level-- {
		if checks(f.level) >= len(words) {
			continue
		}
		if wrong, err = correct(words, checks(f.level), erased); err == nil {
			return wrong, nil
		}
	}
	return 0, err
}
