package pdf417

import (
	"fmt"
	"strings"

	"unspool/symbol"
	"unspool/symbol/eci"
)

// Encode makes the symbol that carries text, in as few codewords as the modes
// allow. Text beyond ASCII is carried as UTF-8 and says so (ECI 26). Errors: an
// empty text, one that is no UTF-8 though not binary, options out of range, and
// more than the shape holds.
func Encode(text string, o Options) (symbol.Matrix, error) {
	if err := o.sound(text); err != nil {
		return symbol.Matrix{}, err
	}
	number, words := eci.Default, []int(nil)
	if !o.Binary && strings.IndexFunc(text, func(r rune) bool { return r > 0x7f }) >= 0 {
		number, words = eci.UTF8, []int{eciSet, eci.UTF8}
	}
	words = append(words, compact([]byte(text))...)
	level := o.level(len(words))
	shape, err := o.shape(1 + len(words) + checks(level))
	if err != nil {
		return symbol.Matrix{}, err
	}
	var said eci.Message
	said.Append(number, []byte(text)...)
	m := symbol.Matrix{Data: said.Data()}
	if m.Text, err = said.Text(); err != nil {
		return symbol.Matrix{}, err
	}
	f := form{Shape: shape, level: level, compact: o.Compact}
	m.Spec = f.String()
	m.Grid, m.Layout = f.draw(f.complete(words))
	return m, nil
}

// form is what a symbol looks like, whatever it carries.
type form struct {
	Shape
	level   int
	compact bool
}

func (f form) String() string {
	s := fmt.Sprintf("%d columns, %d rows, error correction level %d", f.Columns, f.Rows, f.level)
	if f.compact {
		s += ", compact"
	}
	return s
}

// complete fills data up to what the shape holds and adds the length descriptor
// and the check codewords.
func (f form) complete(data []int) []int {
	k := checks(f.level)
	n := f.Columns*f.Rows - k
	words := append(make([]int, 0, n+k), n)
	words = append(words, data...)
	for len(words) < n {
		words = append(words, toText)
	}
	return append(words, check(words, k)...)
}

// indicator is the row indicator of a row, the left or the right one: each row
// tells its own number and a third of what the symbol looks like (ISO/IEC 15438
// 5.11.3; from memory, held against zint).
func (f form) indicator(row int, right bool) int {
	cluster := row % clusters
	if right {
		cluster = (cluster + 2) % clusters
	}
	return row/clusters*30 + [clusters]int{(f.Rows - 1) / 3, f.level*3 + (f.Rows-1)%3, f.Columns - 1}[cluster]
}

// Names of a symbol's parts in its Layout.
const (
	PartStart = "start pattern"
	PartStop  = "stop pattern"
	PartLeft  = "left row indicators"
	PartRight = "right row indicators"
)

// draw lays codewords out as modules.
func (f form) draw(words []int) (symbol.Grid, symbol.Layout) {
	g := symbol.NewGrid(f.Width(f.compact), f.Rows)
	l := f.layout()
	for row := range f.Rows {
		put := func(at int, widths []uint8) {
			dark := true
			for _, w := range widths {
				for range w {
					g.Set(at, row, dark)
					at++
				}
				dark = !dark
			}
		}
		char := func(column, codeword int) {
			p := characters().patterns[row%clusters][codeword]
			put(modules*(column+1), p[:])
		}
		put(0, startWidths)
		char(0, f.indicator(row, false))
		for c := range f.Columns {
			char(1+c, words[row*f.Columns+c])
		}
		end := modules * (f.Columns + 2)
		if f.compact {
			g.Set(end, row, true)
			continue
		}
		char(1+f.Columns, f.indicator(row, true))
		put(end+modules, stopWidths)
	}
	return g, l
}

// layout says which module belongs to what.
func (f form) layout() symbol.Layout {
	w := f.Width(f.compact)
	l := symbol.Layout{Of: make([]int16, w*f.Rows)}
	var start, stop, left, right []int32
	for i := range l.Of {
		l.Of[i] = symbol.NoCodeword
		row, column := i/w, i%w/modules-2
		switch {
		case column == -2:
			start = append(start, int32(i))
		case column == -1:
			left = append(left, int32(i))
		case column < f.Columns:
			l.Of[i] = int16(row*f.Columns + column)
		case column == f.Columns && !f.compact:
			right = append(right, int32(i))
		default:
			stop = append(stop, int32(i))
		}
	}
	l.Parts = []symbol.Part{{Name: PartStart, Modules: start}, {Name: PartLeft, Modules: left}}
	if !f.compact {
		l.Parts = append(l.Parts, symbol.Part{Name: PartRight, Modules: right})
	}
	l.Parts = append(l.Parts, symbol.Part{Name: PartStop, Modules: stop})
	all := make([]int, f.Columns*f.Rows)
	for i := range all {
		all[i] = i
	}
	l.Blocks = []symbol.Block{{Codewords: all, Check: checks(f.level), Guard: guard}}
	return l
}
