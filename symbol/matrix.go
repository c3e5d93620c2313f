package symbol

import "slices"

// Grid is a rectangle of modules, row by row from the top left; true is dark.
type Grid struct {
	W, H int // modules
	Dark []bool
}

// NewGrid is a light grid.
func NewGrid(w, h int) Grid { return Grid{w, h, make([]bool, w*h)} }

// At is the module x from the left and y from the top.
func (g Grid) At(x, y int) bool { return g.Dark[y*g.W+x] }

// Set makes a module dark or light.
func (g Grid) Set(x, y int, dark bool) { g.Dark[y*g.W+x] = dark }

// Sound says whether a grid has as many modules as its sides say, and some.
func (g Grid) Sound() bool {
	const most = 1 << 12 // modules a side, far beyond any symbology
	return g.W > 0 && g.H > 0 && g.W <= most && g.H <= most && len(g.Dark) == g.W*g.H
}

// Turned is the grid a quarter turn clockwise.
func (g Grid) Turned() Grid {
	t := NewGrid(g.H, g.W)
	for y := range g.H {
		for x := range g.W {
			t.Set(g.H-1-y, x, g.At(x, y))
		}
	}
	return t
}

// Mirrored is the grid with its rows and columns exchanged: what a symbol looks
// like from behind, up to a turn.
func (g Grid) Mirrored() Grid {
	t := NewGrid(g.H, g.W)
	for y := range g.H {
		for x := range g.W {
			t.Set(y, x, g.At(x, y))
		}
	}
	return t
}

// Equal says whether two grids have the same modules.
func (g Grid) Equal(h Grid) bool { return g.W == h.W && g.H == h.H && slices.Equal(g.Dark, h.Dark) }

// Matrix is a two-dimensional symbol before it has a size.
type Matrix struct {
	Grid
	Layout
	// Data is what the symbol carries, as bytes, and Text the same as text.
	Data []byte
	Text string
	Spec string // what the standard calls this one: "version 2-M, mask 3"
}

// Layout says what each module of a symbol is for, so that a grader can tell
// what damage there costs.
type Layout struct {
	// Of is the codeword that each module belongs to, in the order of the grid;
	// NoCodeword for fixed patterns and modules that carry nothing.
	Of     []int16
	Parts  []Part  // the fixed patterns
	Blocks []Block // the codewords as the error correction groups them
}

// NoCodeword marks a module that belongs to no codeword.
const NoCodeword = -1

// Part is a fixed pattern of a symbol: its name in the standard, and its modules
// as indices of the grid.
type Part struct {
	Name    string
	Modules []int32
}

// Block is a group of codewords with its own error correction.
type Block struct {
	Codewords []int // their numbers, data first and then check
	Check     int   // how many of them are check codewords: d
	// Guard is how many check codewords are kept to detect errors instead of
	// correcting them: p.
	Guard int
}

// MatrixReading is what the reference decode of a grid of modules gave.
type MatrixReading struct {
	Data []byte
	Text string
	Spec string
	Layout
	// Truth is the symbol as it should be, all errors corrected, the way round that
	// it was given in: where it differs from the grid, a module is wrong.
	Truth    Grid
	Errors   []int // t of each block: codewords that were wrong
	Erasures []int // e of each block: codewords that could not be read at all
	Turn     int   // quarter turns clockwise that the symbol stands turned by
	Mirrored bool
}

// UEC is the unused error correction of the worst block, 0 to 1: 1-(e+2t)/(d-p)
// (ISO/IEC 15415, from memory). A block without any has 1 while it has no error.
func (r MatrixReading) UEC() float64 {
	worst := 1.0
	for i, b := range r.Blocks {
		used := r.Errors[i]*2 + r.Erasures[i]
		switch room := b.Check - b.Guard; {
		case room > 0:
			worst = min(worst, 1-float64(used)/float64(room))
		case used > 0:
			worst = 0
		}
	}
	return max(worst, 0)
}

// AnyTurn decodes a grid in whichever of the four turns, and mirrored, it reads.
// What it gives lies as the grid does. Of the errors it keeps the first.
func AnyTurn(g Grid, decode func(Grid) (MatrixReading, error)) (MatrixReading, error) {
	var first error
	for _, mirrored := range []bool{false, true} {
		for turn := range 4 {
			r, err := decode(upright(g, turn, mirrored))
			if err == nil {
				r.lie(turn, mirrored)
				return r, nil
			}
			if first == nil {
				first = err
			}
		}
	}
	return MatrixReading{}, first
}

// upright takes back a turn and a mirror.
func upright(g Grid, turn int, mirrored bool) Grid {
	for range (4 - turn) % 4 {
		g = g.Turned()
	}
	if mirrored {
		g = g.Mirrored()
	}
	return g
}

// lie turns a reading of an upright grid as the grid that was given lies.
func (r *MatrixReading) lie(turn int, mirrored bool) {
	r.Turn, r.Mirrored = turn, mirrored
	at := make([]int32, r.Truth.W*r.Truth.H) // for each module of the new grid, that of the old one
	for i := range at {
		at[i] = int32(i)
	}
	w, h := r.Truth.W, r.Truth.H
	if mirrored {
		at, w, h = moved(at, w, h, func(x, y int) (int, int) { return y, x }), h, w
	}
	for range turn {
		high := h
		at, w, h = moved(at, w, h, func(x, y int) (int, int) { return high - 1 - y, x }), h, w
	}
	truth, of, to := NewGrid(w, h), make([]int16, len(r.Of)), make([]int32, len(at))
	for i, from := range at {
		truth.Dark[i], of[i], to[from] = r.Truth.Dark[from], r.Of[from], int32(i)
	}
	r.Truth, r.Of = truth, of
	parts := make([]Part, len(r.Parts))
	for i, p := range r.Parts {
		parts[i] = Part{p.Name, make([]int32, len(p.Modules))}
		for k, m := range p.Modules {
			parts[i].Modules[k] = to[m]
		}
	}
	r.Parts = parts
}

// moved lays the modules of a w x h grid anew, its sides exchanged.
func moved(at []int32, w, h int, to func(x, y int) (int, int)) []int32 {
	out := make([]int32, len(at))
	for y := range h {
		for x := range w {
			nx, ny := to(x, y)
			out[ny*h+nx] = at[y*w+x]
		}
	}
	return out
}
