package pdf417

import (
	"unicode/utf8"

	"unspool/say"
)

// Limits of a symbol, ISO/IEC 15438 5.1 (from memory; zint has the same).
const (
	minRows, maxRows = 3, 90
	maxColumns       = 30
	maxCodewords     = 928
	maxLevel         = 8
)

// Shape is how a symbol's codewords are laid out, row indicators not counted.
type Shape struct {
	Columns int // 1 to 30
	Rows    int // 3 to 90
}

// Width is that of the whole symbol in modules, without quiet zones.
func (s Shape) Width(compact bool) int {
	if compact {
		return modules*(s.Columns+2) + 1
	}
	return modules*(s.Columns+4) + 1
}

// Shapes are the shapes that have room for so many codewords, length descriptor
// and check codewords included, the narrowest first. Each has the fewest rows
// that hold them. There are none above 928 codewords.
func Shapes(codewords int) []Shape {
	var all []Shape
	for columns := 1; columns <= maxColumns; columns++ {
		rows := max(minRows, (codewords+columns-1)/columns)
		if rows <= maxRows && rows*columns <= maxCodewords {
			all = append(all, Shape{columns, rows})
		}
	}
	return all
}

// checks is how many check codewords an error correction level has.
func checks(level int) int { return 2 << level }

// recommended is the least error correction level for so many data codewords,
// ISO/IEC 15438 Annex E (read second-hand in zint's source).
func recommended(data int) int {
	switch {
	case data <= 40:
		return 2
	case data <= 160:
		return 3
	case data <= 320:
		return 4
	}
	return 5
}

// Least asks for error correction level 0, which detects errors and mends none.
const Least = -1

// Options are the choices that a symbol leaves to who draws it.
type Options struct {
	// Columns is 1 to 30; 0 takes those that make the symbol about twice as wide as
	// high with rows of three modules (common practice, no source).
	Columns int
	// Rows is the fewest rows wanted, 3 to 90; 0 leaves it to the data.
	Rows int
	// Level is the error correction level, 1 to 8, or Least for 0. 0 stands for the
	// least that ISO/IEC 15438 Annex E recommends for so much data, or as much as
	// there is room for.
	Level int
	// Compact leaves out the right row indicators and all but one bar of the stop
	// pattern: for places where a symbol is not likely to be damaged.
	Compact bool
	// Binary takes the text as bytes and names no character set.
	Binary bool
}

// sound refuses options out of range, and texts that no symbol carries.
func (o Options) sound(text string) error {
	// A codeword holds at most 44/15 characters. Beyond that the search for the
	// shortest row of codewords would only take memory.
	const most = maxCodewords * 44 / 15
	switch {
	case text == "":
		return say.Errorf("PDF417 needs at least one character of text")
	case len(text) > most:
		return say.Errorf("PDF417 cannot carry %d bytes: shorten the data to at most %d", len(text), most)
	case !o.Binary && !utf8.ValidString(text):
		return say.Errorf("PDF417: the text is not UTF-8; carry it as binary data")
	case o.Columns < 0 || o.Columns > maxColumns:
		return say.Errorf("PDF417 has 1 to %d columns, not %d", maxColumns, o.Columns)
	case o.Rows != 0 && (o.Rows < minRows || o.Rows > maxRows):
		return say.Errorf("PDF417 has %d to %d rows, not %d", minRows, maxRows, o.Rows)
	case o.Level < Least || o.Level > maxLevel:
		return say.Errorf("PDF417 has error correction levels 0 to %d, not %d", maxLevel, o.Level)
	}
	return nil
}

// level settles the error correction level for data codewords, length descriptor
// not counted.
func (o Options) level(data int) int {
	switch o.Level {
	case Least:
		return 0
	case 0:
		level := recommended(data)
		for level > 0 && 1+data+checks(level) > maxCodewords {
			level--
		}
		return level
	}
	return o.Level
}

// shape settles the shape for so many codewords in all.
func (o Options) shape(codewords int) (Shape, error) {
	shapes := Shapes(max(codewords, o.Rows*o.Columns))
	if o.Columns == 0 {
		shapes = Shapes(codewords)
	}
	best, found := Shape{}, false
	for _, s := range shapes {
		s.Rows = max(s.Rows, o.Rows)
		if s.Rows*s.Columns > maxCodewords || o.Columns != 0 && s.Columns != o.Columns {
			continue
		}
		if !found || lean(s, o.Compact) < lean(best, o.Compact) {
			best, found = s, true
		}
	}
	if !found {
		return Shape{}, say.Errorf("PDF417: %d codewords do not fit in %s: shorten the data, lower the error correction level or allow more columns", codewords, o.room())
	}
	return best, nil
}

// room says in words what there was room for.
func (o Options) room() say.Text {
	if o.Columns == 0 {
		return say.F("a symbol, which has at most %d", maxCodewords)
	}
	return say.F("%d columns, which hold at most %d", o.Columns, min(maxRows, maxCodewords/o.Columns)*o.Columns)
}

// lean is how far a shape is from twice as wide as high, as a ratio of at least 1.
func lean(s Shape, compact bool) float64 {
	r := float64(s.Width(compact)) / float64(2*3*s.Rows)
	return max(r, 1/r)
}
