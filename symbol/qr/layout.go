package qr

import (
	"fmt"

	"unspool/symbol"
)

// layout is what every symbol of one version has in common.
type layout struct {
	version int
	fixed   symbol.Grid   // the fixed patterns and the version information
	known   []bool        // modules of a fixed pattern or of information
	of      []int16       // codeword of each module
	order   []int32       // modules that carry bits, first bit first
	parts   []symbol.Part // all that are no data
	steady  int           // how many parts look alike in every symbol of the version
	format  [2][15]int32  // modules of the format information, least bit first
	info    [2][18]int32  // modules of the version information, least bit first
}

// lay makes the layout of a version. ISO/IEC 18004 6.3 and 7.7.
func lay(version int) *layout {
	n := side(version)
	l := &layout{version: version, fixed: symbol.NewGrid(n, n), known: make([]bool, n*n), of: make([]int16, n*n)}
	l.finders()
	l.alignment()
	l.timing()
	if version >= 7 {
		l.versions()
	}
	l.steady = len(l.parts)
	l.formats()
	l.fill()
	return l
}

// take gives a module to a part, and says whether it was free.
func (l *layout) take(p *symbol.Part, x, y int, dark bool) {
	i := y*l.fixed.W + x
	if l.known[i] {
		return
	}
	l.known[i], l.fixed.Dark[i] = true, dark
	p.Modules = append(p.Modules, int32(i))
}

// finders lays the three finder patterns, each with its separator.
func (l *layout) finders() {
	far := l.fixed.W - 4
	for _, f := range []struct {
		name string
		x, y int // its centre
	}{{"upper left", 3, 3}, {"upper right", far, 3}, {"lower left", 3, far}} {
		p := symbol.Part{Name: "finder pattern " + f.name}
		for y := max(f.y-4, 0); y <= min(f.y+4, l.fixed.H-1); y++ {
			for x := max(f.x-4, 0); x <= min(f.x+4, l.fixed.W-1); x++ {
				ring := max(abs(x-f.x), abs(y-f.y))
				l.take(&p, x, y, ring != 2 && ring != 4)
			}
		}
		l.parts = append(l.parts, p)
	}
}

// alignment lays the alignment patterns where no finder pattern is.
func (l *layout) alignment() {
	at := centres(l.version)
	for _, cy := range at {
		for _, cx := range at {
			if l.known[cy*l.fixed.W+cx] {
				continue
			}
			p := symbol.Part{Name: fmt.Sprintf("alignment pattern at column %d, row %d", cx, cy)}
			for y := cy - 2; y <= cy+2; y++ {
				for x := cx - 2; x <= cx+2; x++ {
					l.take(&p, x, y, max(abs(x-cx), abs(y-cy)) != 1)
				}
			}
			l.parts = append(l.parts, p)
		}
	}
}

// timing lays the timing patterns in what the finder and alignment patterns leave
// of row and column 6, and the module that is always dark.
func (l *layout) timing() {
	across, down := symbol.Part{Name: "timing pattern horizontal"}, symbol.Part{Name: "timing pattern vertical"}
	for i := range l.fixed.W {
		l.take(&across, i, 6, i%2 == 0)
		l.take(&down, 6, i, i%2 == 0)
	}
	dark := symbol.Part{Name: "dark module"}
	l.take(&dark, 8, l.fixed.H-8, true)
	l.parts = append(l.parts, across, down, dark)
}

// formats lays both copies of the format information. ISO/IEC 18004 Figure 25.
func (l *layout) formats() {
	n := l.fixed.W
	parts := [2]symbol.Part{{Name: "format information upper left"}, {Name: "format information split"}}
	for bit := range 15 {
		at := [2][2]int{{8, bit}, {n - 1 - bit, 8}}
		switch {
		case bit == 6 || bit == 7:
			at[0] = [2]int{8, bit + 1} // beyond the timing pattern
		case bit == 8:
			at[0] = [2]int{7, 8}
		case bit > 8:
			at[0] = [2]int{14 - bit, 8}
		}
		if bit >= 8 {
			at[1] = [2]int{8, n - 15 + bit}
		}
		for i, xy := range at {
			l.take(&parts[i], xy[0], xy[1], false)
			l.format[i][bit] = int32(xy[1]*n + xy[0])
		}
	}
	l.parts = append(l.parts, parts[0], parts[1])
}

// versions lays both copies of the version information. ISO/IEC 18004 7.10.
func (l *layout) versions() {
	n, word := l.fixed.W, versionWord(l.version)
	parts := [2]symbol.Part{{Name: "version information upper right"}, {Name: "version information lower left"}}
	for bit := range 18 {
		a, b, dark := n-11+bit%3, bit/3, word>>bit&1 == 1
		l.take(&parts[0], a, b, dark)
		l.take(&parts[1], b, a, dark)
		l.info[0][bit], l.info[1][bit] = int32(b*n+a), int32(a*n+b)
	}
	l.parts = append(l.parts, parts[0], parts[1])
}

// fill finds the order of the modules that are left: in columns two modules
// wide, from the right, up and down in turn, past the vertical timing pattern.
// ISO/IEC 18004 7.7.3.
func (l *layout) fill() {
	n := l.fixed.W
	words := total(l.version)
	for i := range l.of {
		l.of[i] = symbol.NoCodeword
	}
	up := true
	for right := n - 1; right > 0; right -= 2 {
		if right == 6 {
			right--
		}
		for i := range n {
			y := i
			if up {
				y = n - 1 - i
			}
			for _, x := range [2]int{right, right - 1} {
				m := y*n + x
				if l.known[m] {
					continue
				}
				if word := len(l.order) / 8; word < words {
					l.of[m] = int16(word)
				}
				l.order = append(l.order, int32(m))
			}
		}
		up = !up
	}
}

func abs(a int) int { return max(a, -a) }

// masked says whether a mask pattern is set at a module. ISO/IEC 18004 Table 10.
func masked(mask, x, y int) bool {
	switch mask {
	case 0:
		return (x+y)%2 == 0
	case 1:
		return y%2 == 0
	case 2:
		return x%3 == 0
	case 3:
		return (x+y)%3 == 0
	case 4:
		return (x/3+y/2)%2 == 0
	case 5:
		return x*y%2+x*y%3 == 0
	case 6:
		return (x*y%2+x*y%3)%2 == 0
	default:
		return ((x+y)%2+x*y%3)%2 == 0
	}
}

// draw is the symbol of codewords. The bits that are left over are 0.
func (l *layout) draw(words []int, level Level, mask int) symbol.Grid {
	n := l.fixed.W
	g := symbol.NewGrid(n, n)
	copy(g.Dark, l.fixed.Dark)
	for i, m := range l.order {
		bit := i/8 < len(words) && words[i/8]>>(7-i%8)&1 == 1
		g.Dark[m] = bit != masked(mask, int(m)%n, int(m)/n)
	}
	word := formatWord(level, mask)
	for _, modules := range l.format {
		for bit, m := range modules {
			g.Dark[m] = word>>bit&1 == 1
		}
	}
	return g
}

// layout is what a grader is told.
func (l *layout) layout(level Level) symbol.Layout {
	return symbol.Layout{Of: l.of, Parts: l.parts, Blocks: blocks(l.version, level)}
}
