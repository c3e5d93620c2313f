// Package aztec draws and reads Aztec Code (ISO/IEC 24778), compact and full.
//
// A symbol is square, around a bullseye. Next to it stand orientation marks and
// the mode message, which says how many layers of data lie around and how many
// codewords carry data; full symbols have a reference grid besides. All figures
// are from memory, held against zint and zxing-cpp.
package aztec

import (
	"fmt"

	"unspool/symbol"
	"unspool/symbol/reedsolomon"
)

// Limits of layers.
const (
	maxLayers        = 32
	maxCompactLayers = 4
)

// form is what a symbol looks like, whatever it carries.
type form struct {
	compact bool
	layers  int
}

// wordBits is the size of a codeword.
func (f form) wordBits() int {
	switch {
	case f.layers <= 2:
		return 6
	case f.layers <= 8:
		return 8
	case f.layers <= 22:
		return 10
	}
	return 12
}

// Codes of the codewords, by their bits, and of the mode message.
var (
	code4  = reedsolomon.Field(1<<4, 0x13, 1)
	code6  = reedsolomon.Field(1<<6, 0x43, 1)
	code8  = reedsolomon.Field(1<<8, 0x12D, 1)
	code10 = reedsolomon.Field(1<<10, 0x409, 1)
	code12 = reedsolomon.Field(1<<12, 0x1069, 1)
)

func (f form) code() *reedsolomon.Code {
	switch f.wordBits() {
	case 6:
		return code6
	case 8:
		return code8
	case 10:
		return code10
	}
	return code12
}

// bits are those of all layers.
func (f form) bits() int {
	if f.compact {
		return (88 + 16*f.layers) * f.layers
	}
	return (112 + 16*f.layers) * f.layers
}

// words are the codewords of a symbol, data and check.
func (f form) words() int { return f.bits() / f.wordBits() }

// mostData is how many codewords of data the mode message can tell of and that
// leave the fewest check codewords there may be.
func (f form) mostData() int {
	if f.compact {
		return min(64, f.words()-minCheck)
	}
	return min(2048, f.words()-minCheck)
}

// minCheck is the fewest check codewords there may be: three besides the share.
const minCheck = 3

// core is half the side of what the orientation marks are the corners of.
func (f form) core() int {
	if f.compact {
		return 5
	}
	return 7
}

// inner is the side without the reference grid.
func (f form) inner() int {
	if f.compact {
		return 11 + 4*f.layers
	}
	return 14 + 4*f.layers
}

// gridStep is the distance between lines of the reference grid, and gridPitch how
// many modules lie between two.
const (
	gridStep  = 16
	gridPitch = gridStep - 1
)

// side is that of the symbol in modules.
func (f form) side() int {
	if f.compact {
		return f.inner()
	}
	return f.inner() + 1 + 2*((f.inner()/2-1)/gridPitch)
}

// at turns a place along a side without the reference grid into one with it.
func (f form) at(i int) int {
	if f.compact {
		return i
	}
	middle, half := f.side()/2, f.inner()/2
	if i < half {
		off := half - 1 - i
		return middle - 1 - off - off/gridPitch
	}
	off := i - half
	return middle + 1 + off + off/gridPitch
}

// order is the module of each bit of the layers: from the outermost inwards, each
// begun at the top left, down the left side, along the bottom, up and back, two
// modules abreast.
func (f form) order() []int32 {
	all := make([]int32, 0, f.bits())
	n, side := f.inner(), f.side()
	for layer := range f.layers {
		length := (f.layers-layer)*4 + 9
		if !f.compact {
			length += 3
		}
		near := func(k int) int { return f.at(2*layer + k) }
		far := func(k int) int { return f.at(n - 1 - 2*layer - k) }
		for _, side4 := range []func(along, across int) (x, y int){
			func(j, k int) (int, int) { return near(k), near(j) },
			func(j, k int) (int, int) { return near(j), far(k) },
			func(j, k int) (int, int) { return far(k), far(j) },
			func(j, k int) (int, int) { return far(j), near(k) },
		} {
			for j := range length {
				for k := range 2 {
					x, y := side4(j, k)
					all = append(all, int32(y*side+x))
				}
			}
		}
	}
	return all
}

// modeOrder is the module of each bit of the mode message: clockwise around the
// bullseye from the top left.
func (f form) modeOrder() (all []int32) {
	middle, core, side := f.side()/2, f.core(), f.side()
	places := []int{-5, -4, -3, -2, -1, 1, 2, 3, 4, 5}
	if f.compact {
		places = []int{-3, -2, -1, 0, 1, 2, 3}
	}
	add := func(x, y int) { all = append(all, int32((middle+y)*side+middle+x)) }
	for _, p := range places {
		add(p, -core)
	}
	for _, p := range places {
		add(core, p)
	}
	for _, p := range places {
		add(-p, core)
	}
	for _, p := range places {
		add(-core, -p)
	}
	return all
}

// Names of a symbol's parts in its Layout.
const (
	PartBullseye    = "bullseye"
	PartOrientation = "orientation marks"
	PartMode        = "mode message"
	PartGrid        = "reference grid"
)

// fixed draws the fixed patterns, and says which modules they are.
func (f form) fixed() (symbol.Grid, []symbol.Part) {
	side, core := f.side(), f.core()
	g := symbol.NewGrid(side, side)
	var eye, marks, lines []int32
	for i := range g.Dark {
		x, y := i%side-side/2, i/side-side/2
		ring := max(x, -x, y, -y)
		switch {
		case ring < core:
			eye = append(eye, int32(i))
			g.Dark[i] = ring%2 == 0
		case ring == core && min(max(x, -x), max(y, -y)) >= core-1:
			marks = append(marks, int32(i))
			g.Dark[i] = x < 0 && y < 0 || x == core && y < 0 || x == core && y == core-1
		case !f.compact && (x%gridStep == 0 || y%gridStep == 0):
			lines = append(lines, int32(i))
			// Dark and light in turn from the middle, which is dark.
			g.Dark[i] = (x+y)%2 == 0
		}
	}
	parts := []symbol.Part{{Name: PartBullseye, Modules: eye}, {Name: PartOrientation, Modules: marks}, {Name: PartMode, Modules: f.modeOrder()}}
	if !f.compact {
		parts = append(parts, symbol.Part{Name: PartGrid, Modules: lines})
	}
	return g, parts
}

// draw lays codewords out, of which the first data carry data.
func (f form) draw(words []int, data int) (symbol.Grid, symbol.Layout) {
	g, parts := f.fixed()
	l := symbol.Layout{Of: make([]int16, len(g.Dark)), Parts: parts}
	for i := range l.Of {
		l.Of[i] = symbol.NoCodeword
	}
	size := f.wordBits()
	for i, m := range f.order() {
		if i -= f.bits() % size; i >= 0 { // the first bits are spare
			l.Of[m] = int16(i / size)
			g.Dark[m] = words[i/size]>>(size-1-i%size)&1 == 1
		}
	}
	mode := f.mode(data)
	for i, m := range f.modeOrder() {
		g.Dark[m] = mode[i/4]>>(3-i%4)&1 == 1
	}
	all := make([]int, len(words))
	for i := range all {
		all[i] = i
	}
	l.Blocks = []symbol.Block{{Codewords: all, Check: len(words) - data}}
	return g, l
}

// modeCheck are the check words of the mode message.
func (f form) modeCheck() int {
	if f.compact {
		return 5
	}
	return 6
}

// mode is the mode message, words of four bits: layers and codewords of data, one
// less each.
func (f form) mode(data int) []int {
	v, n := (f.layers-1)<<11|(data-1), 4
	if f.compact {
		v, n = (f.layers-1)<<6|(data-1), 2
	}
	words := make([]int, n)
	for i := range words {
		words[i] = v >> (4 * (n - 1 - i)) & 15
	}
	return append(words, code4.Check(words, f.modeCheck())...)
}

// spec is what the standard calls the symbol.
func (f form) spec(data int) string {
	kind := "full"
	if f.compact {
		kind = "compact"
	}
	layers := "layers"
	if f.layers == 1 {
		layers = "layer"
	}
	return fmt.Sprintf("%s, %d %s, %d of %d codewords for error correction", kind, f.layers, layers, f.words()-data, f.words())
}
