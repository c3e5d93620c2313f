package code

import (
	"unspool/symbol"
	"unspool/symbol/pdf417"
)

// Fit makes the two-dimensional symbol for text in the form that comes out
// largest: room says how many dots a module may have in a symbol of so many
// modules, and 0 where it has none. Only PDF417 has forms to choose from, unless
// its columns are stated. Of forms alike it takes the one that the symbology
// prefers.
func (k Kind) Fit(text string, o Options, room func(w, h int) int) (symbol.Matrix, error) {
	first, err := k.EncodeMatrix(text, o)
	if err != nil || k.Family != symbol.MultiRow || o.Columns != 0 {
		return first, err
	}
	best, most := first, room(first.W, k.RowX*first.H)
	// The codewords that fill up a row count too: a form of as many or fewer may
	// hold the data, and encoding tells.
	for _, s := range pdf417.Shapes(len(first.Blocks[0].Codewords)) {
		if room(s.Width(o.Compact), k.RowX*s.Rows) <= most {
			continue
		}
		o.Columns = s.Columns
		m, err := k.EncodeMatrix(text, o)
		if err != nil {
			continue
		}
		if n := room(m.W, k.RowX*m.H); n > most {
			best, most = m, n
		}
	}
	return best, nil
}
