package datamatrix

import (
	"fmt"
	"slices"

	"unspool/symbol"
)

// layout is what every symbol of one size has in common.
type layout struct {
	size
	fixed symbol.Grid // the finder, the clock tracks and what is always dark
	of    []int16
	parts []symbol.Part
	bits  []int32 // module of each bit of the codewords, the highest bit first
}

func lay(s size) *layout {
	l := &layout{size: s, fixed: symbol.NewGrid(s.w, s.h), of: make([]int16, s.w*s.h), bits: make([]int32, 8*(s.data+s.check))}
	for i := range l.of {
		l.of[i] = symbol.NoCodeword
	}
	l.frame()
	l.place()
	for i, m := range l.bits {
		l.of[m] = int16(i / 8)
	}
	return l
}

// frame lays the finder pattern and the clock tracks of each region, the first
// and last row and column of it: solid on the left and below, alternating above
// and on the right. What lies on the symbol's own left and lower edge is the L,
// named L1 and L2 as the standard grades them; the rest is named by its region,
// counted from the upper left. ISO/IEC 16022 5.8 and Annex M.
func (l *layout) frame() {
	left, below := symbol.Part{Name: "L1, finder left"}, symbol.Part{Name: "L2, finder below"}
	var inner []symbol.Part
	h, w := l.h/l.down, l.w/l.across
	for region := range l.down * l.across {
		top, start := region/l.across*h, region%l.across*w
		parts := [4]symbol.Part{}
		for i, name := range [...]string{"clock track above region", "clock track right of region", "bar left of region", "bar below region"} {
			parts[i].Name = fmt.Sprintf("%s %d", name, region+1)
		}
		bar, floor := &parts[2], &parts[3]
		if start == 0 {
			bar = &left
		}
		if top+h == l.h {
			floor = &below
		}
		for y := range h {
			if y == h-1 && start > 0 {
				bar = floor
			}
			l.mark(bar, start, top+y, true)
			if 0 < y && y < h-1 {
				l.mark(&parts[1], start+w-1, top+y, y%2 == 1)
			}
		}
		for x := 1; x < w; x++ {
			l.mark(&parts[0], start+x, top, x%2 == 0)
			l.mark(floor, start+x, top+h-1, true)
		}
		for _, p := range parts {
			if len(p.Modules) > 0 {
				inner = append(inner, p)
			}
		}
	}
	l.parts = append([]symbol.Part{left, below}, inner...)
}

func (l *layout) mark(p *symbol.Part, x, y int, dark bool) {
	l.fixed.Set(x, y, dark)
	p.Modules = append(p.Modules, int32(y*l.w+x))
}

// place finds the module of each bit: codewords lie in L-shaped groups of eight
// along diagonals of the data regions taken together. ISO/IEC 16022 Annex F.
func (l *layout) place() {
	p := placement{l, l.h - 2*l.down, l.w - 2*l.across, nil, 0}
	p.taken = make([]bool, p.rows*p.columns)
	row, column := 4, 0
	for row < p.rows || column < p.columns {
		p.corners(row, column)
		for { // up and to the right
			p.utah(row, column)
			if row, column = row-2, column+2; row < 0 || column >= p.columns {
				break
			}
		}
		row, column = row+1, column+3
		for { // down and to the left
			p.utah(row, column)
			if row, column = row+2, column-2; row >= p.rows || column < 0 {
				break
			}
		}
		row, column = row+3, column+1
	}
	if !p.taken[len(p.taken)-1] { // the last corner is left over: a pattern of its own
		l.fixed.Dark[p.module(p.rows-1, p.columns-1)] = true
		l.fixed.Dark[p.module(p.rows-2, p.columns-2)] = true
	}
}

// placement is the state of place: the data regions as one matrix.
type placement struct {
	*layout
	rows, columns int
	taken         []bool
	word          int
}

// shape is where the eight bits of a codeword lie, the highest first, as rows and
// columns: those of utah from its last bit, those of a corner from the start of
// the matrix or, negative, from its end.
type shape [8][2]int

// The shapes. ISO/IEC 16022 Annex F (from memory, proved against an independent
// encoder).
var (
	utah   = shape{{-2, -2}, {-2, -1}, {-1, -2}, {-1, -1}, {-1, 0}, {0, -2}, {0, -1}, {0, 0}}
	corner = [4]shape{
		{{-1, 0}, {-1, 1}, {-1, 2}, {0, -2}, {0, -1}, {1, -1}, {2, -1}, {3, -1}},
		{{-3, 0}, {-2, 0}, {-1, 0}, {0, -4}, {0, -3}, {0, -2}, {0, -1}, {1, -1}},
		{{-3, 0}, {-2, 0}, {-1, 0}, {0, -2}, {0, -1}, {1, -1}, {2, -1}, {3, -1}},
		{{-1, 0}, {-1, -1}, {0, -3}, {0, -2}, {0, -1}, {1, -3}, {1, -2}, {1, -1}},
	}
)

// corners places the codeword whose group a corner of the matrix breaks up.
func (p *placement) corners(row, column int) {
	switch {
	case row == p.rows && column == 0:
		p.corner(corner[0])
	case row == p.rows-2 && column == 0 && p.columns%4 != 0:
		p.corner(corner[1])
	case row == p.rows-2 && column == 0 && p.columns%8 == 4:
		p.corner(corner[2])
	case row == p.rows+4 && column == 2 && p.columns%8 == 0:
		p.corner(corner[3])
	}
}

func (p *placement) corner(s shape) {
	for bit, at := range s {
		p.set(bit, (at[0]+p.rows)%p.rows, (at[1]+p.columns)%p.columns)
	}
	p.word++
}

// utah places the next codeword, unless its place is taken, whole or around the
// edges, where it goes on shifted on the other side.
func (p *placement) utah(row, column int) {
	if row < 0 || row >= p.rows || column < 0 || column >= p.columns || p.taken[row*p.columns+column] {
		return
	}
	for bit, at := range utah {
		y, x := row+at[0], column+at[1]
		if y < 0 {
			y, x = y+p.rows, x+4-(p.rows+4)%8
		}
		if x < 0 {
			x, y = x+p.columns, y+4-(p.columns+4)%8
		}
		p.set(bit, y, x)
	}
	p.word++
}

func (p *placement) set(bit, y, x int) {
	p.taken[y*p.columns+x] = true
	p.bits[8*p.word+bit] = p.module(y, x)
}

// module is the place in the symbol of a place in the matrix.
func (p *placement) module(y, x int) int32 {
	h, w := p.rows/p.down, p.columns/p.across // of a region
	return int32((y/h*(h+2)+1+y%h)*p.w + x/w*(w+2) + 1 + x%w)
}

// draw is the symbol of codewords.
func (l *layout) draw(words []int) symbol.Grid {
	g := symbol.Grid{W: l.w, H: l.h, Dark: slices.Clone(l.fixed.Dark)}
	for i, m := range l.bits {
		g.Dark[m] = words[i/8]>>(7-i%8)&1 == 1
	}
	return g
}

// layout is what a grader is told.
func (l *layout) layout() symbol.Layout {
	return symbol.Layout{Of: l.of, Parts: l.parts, Blocks: l.codewords()}
}
