package pdf417

import (
	"math"
	"slices"

	"unspool/say"
	"unspool/symbol"
)

// Cell is one symbol character, or start or stop pattern, as a scan line shows
// it.
type Cell struct {
	// Its elements are From <= i < To of the widths given. Where the line crosses
	// damage or passes from one row to another they may not be eight.
	From, To int
	Cluster  int // 0, 3 or 6; NoCodeword where it was not read
	Codeword int // 0 to 928; NoCodeword where it was not read
	// Margin is its decodability V, 0 to 1: how much of the tolerance of its worst
	// edge is left. 0 where it was not read.
	Margin float64
}

// Seen says whether a start or stop pattern was found.
func (c Cell) Seen() bool { return c.To > c.From }

// Line is what one scan line shows of a symbol.
type Line struct {
	// Start and Stop are the patterns at the ends. One of them may be missing: the
	// line ran out of the symbol, or the symbol is compact and has no stop pattern.
	Start, Stop Cell
	// Cells are the characters between, in reading order, with the row indicators.
	// They begin with the left one if there is a start, and end with the right one
	// if there is a stop.
	Cells    []Cell
	Reversed bool    // the widths ran from the symbol's stop to its start
	X        float64 // mean module, in the unit of the widths
}

// Row reads one scan line, edge to similar edge (ISO/IEC 15438, from memory): a
// character's width p is divided by 17, six sums of a bar and a space are rounded
// to modules, and they name the character and its cluster.
//
// widths are of any unit, bar and space in turn, beginning with a bar, and may
// come from either end; there may be more before and after the symbol. A
// character that fits no pattern is not an error: where the next one begins is
// told by the width of those before it.
func Row(widths []float64) (Line, error) {
	if len(widths)%2 == 0 && len(widths) > 0 {
		widths = widths[:len(widths)-1] // a space at the end bounds nothing
	}
	// The bounds keep every sum and ratio of widths an ordinary number.
	const least, most = 1e-9, 1e12
	for i, w := range widths {
		if !(w >= least && w <= most) {
			return Line{}, say.Errorf("PDF417: element %d is %v wide: widths must be positive and finite", i+1, w)
		}
	}
	if l, ok := row(widths); ok {
		return l, nil
	}
	back := slices.Clone(widths)
	slices.Reverse(back)
	l, ok := row(back)
	if !ok {
		return Line{}, say.Errorf("PDF417: %v", symbol.ErrNoStart)
	}
	l.Reversed = true
	turn := func(c *Cell) {
		if c.Seen() {
			c.From, c.To = len(widths)-c.To, len(widths)-c.From
		}
	}
	turn(&l.Start)
	turn(&l.Stop)
	for i := range l.Cells {
		turn(&l.Cells[i])
	}
	return l, nil
}

// row reads widths that run from start to stop.
func row(widths []float64) (Line, bool) {
	r := ruler{widths: widths, at: make([]float64, len(widths)+1)}
	for i, w := range widths {
		r.at[i+1] = r.at[i] + w
		if i%2 == 0 {
			r.bars = append(r.bars, r.at[i])
		}
	}
	l := Line{Start: r.find(0, startWidths)}
	l.Stop = r.find(l.Start.To, stopWidths)
	var bounds []bound
	switch {
	case l.Start.Seen():
		until := r.at[len(widths)]
		if l.Stop.Seen() {
			until = r.at[l.Stop.From]
		}
		bounds = r.bounds(l.Start.To, r.width(l.Start), until)
	case l.Stop.Seen():
		bounds = r.bounds(l.Stop.From, -r.width(l.Stop), 0)
		slices.Reverse(bounds)
	default:
		return Line{}, false
	}
	l.Cells = r.cells(bounds)
	l.X = r.module(l)
	return l, true
}

// ruler is a scan line's elements, where each begins, and where the bars do.
type ruler struct{ widths, at, bars []float64 }

// width is that of the eight elements a cell begins with.
func (r ruler) width(c Cell) float64 { return symbol.Sum(r.widths[c.From : c.From+elements]) }

// find looks for a start or stop pattern from element from on.
func (r ruler) find(from int, widths []uint8) Cell {
	want := pattern(widths[:elements]).edges()
	for i := from + from%2; i+elements <= len(r.widths); i += 2 {
		if got, margin, ok := edgesOf(r.widths[i : i+elements]); ok && got == want {
			return Cell{i, min(i+len(widths), len(r.widths)), symbol.NoCodeword, symbol.NoCodeword, margin}
		}
	}
	return Cell{Cluster: symbol.NoCodeword, Codeword: symbol.NoCodeword}
}

// edgesOf rounds the six sums of eight elements to modules and says how much of
// the tolerance is left: V = K/(p/34), K the least distance of a sum from a
// threshold (ISO/IEC 15416, from memory).
func edgesOf(w []float64) (e edges, margin float64, ok bool) {
	p := symbol.Sum(w)
	margin = 1
	for i := range e {
		sum := (w[i] + w[i+1]) * modules / p
		j := math.Floor(sum + 0.5) // (j-0.5)p/17 <= e < (j+0.5)p/17
		if !(j >= 2 && j <= modules) {
			return e, 0, false
		}
		e[i] = uint8(j)
		margin = min(margin, 2*min(j+0.5-sum, sum-(j-0.5)))
	}
	return e, max(margin, 0), true
}

// bound is where a character begins or ends: at an element, and whether an edge
// is really there, or only should be.
type bound struct {
	at    float64
	i     int
	sharp bool
}

// bounds goes on from an edge, character by character, as far as until. p is the
// width of the character before, negative to go back.
func (r ruler) bounds(i int, p, until float64) []bound {
	all := []bound{{r.at[i], i, true}}
	forward := math.Copysign(1, p)
	const most = maxColumns + 2
	for len(all) <= most {
		last := all[len(all)-1]
		next := bound{at: last.at + p}
		// What is left must be a character, but for half a module.
		if (until-next.at)*forward < -math.Abs(p)/modules/2 {
			break
		}
		next.i = r.nearest(next.at)
		const slack = 0.8 // modules that a character may differ from the one before
		if off := r.at[next.i] - next.at; math.Abs(off) <= slack*math.Abs(p)/modules && next.i != last.i {
			next.at, next.sharp = r.at[next.i], true
			if last.sharp {
				p = next.at - last.at
			}
		}
		all = append(all, next)
	}
	return all
}

// nearest is the element of the bar that begins nearest to a place.
func (r ruler) nearest(at float64) int {
	k, _ := slices.BinarySearch(r.bars, at)
	if k == len(r.bars) || k > 0 && at-r.bars[k-1] < r.bars[k]-at {
		k--
	}
	return 2 * k
}

// cells reads the characters between bounds.
func (r ruler) cells(bounds []bound) []Cell {
	var all []Cell
	for k := 1; k < len(bounds); k++ {
		a, b := bounds[k-1], bounds[k]
		c := Cell{From: a.i, To: b.i, Cluster: symbol.NoCodeword, Codeword: symbol.NoCodeword}
		if a.sharp && b.sharp && b.i-a.i == elements {
			if e, margin, ok := edgesOf(r.widths[a.i:b.i]); ok {
				if is, known := characters().of[e]; known {
					c.Cluster, c.Codeword, c.Margin = int(is.cluster)*3, int(is.codeword), margin
				}
			}
		}
		all = append(all, c)
	}
	return all
}

// module is the mean module of what was read.
func (r ruler) module(l Line) float64 {
	sum, n := 0.0, 0
	add := func(c Cell) {
		sum += r.width(c)
		n += modules
	}
	for _, c := range []Cell{l.Start, l.Stop} {
		if c.Seen() {
			add(c)
		}
	}
	for _, c := range l.Cells {
		if c.Codeword != symbol.NoCodeword {
			add(c)
		}
	}
	return sum / float64(n)
}
