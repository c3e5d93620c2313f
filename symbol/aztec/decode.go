package aztec

import (
	"unspool/say"
	"unspool/symbol"
)

// Decode is the reference decode of a grid of modules, in any turn and mirrored.
// The mode message is corrected by itself; how many of its modules were wrong is
// where the reading's Truth differs from the grid.
func Decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if !g.Sound() || g.W != g.H || g.W < 15 || g.W > (form{layers: maxLayers}).side() {
		return symbol.MatrixReading{}, say.Errorf("Aztec Code: no symbol has %d by %d modules", g.W, g.H)
	}
	return symbol.AnyTurn(g, decode)
}

func decode(g symbol.Grid) (symbol.MatrixReading, error) {
	err := say.Errorf("Aztec Code: there is no bullseye in the middle with its marks upright")
	for _, compact := range []bool{false, true} {
		f := form{compact, 1}
		if !f.stands(g) {
			continue
		}
		r, failed := f.decode(g)
		if failed == nil {
			return r, nil
		}
		err = failed
	}
	return symbol.MatrixReading{}, err
}

// stands says whether a bullseye of this form is in the middle of a grid, and its
// orientation marks are upright. A quarter of the bullseye may be damaged, and
// two of the twelve marks: with a turn or mirrored, six or more would differ.
func (f form) stands(g symbol.Grid) bool {
	want, parts := f.fixed()
	if g.W < want.W {
		return false
	}
	shift := (g.W - want.W) / 2
	wrong := func(p symbol.Part) (n int) {
		for _, m := range p.Modules {
			x, y := int(m)%want.W, int(m)/want.W
			if want.Dark[m] != g.At(x+shift, y+shift) {
				n++
			}
		}
		return n
	}
	const mostMarks = 2
	return 4*wrong(parts[0]) <= len(parts[0].Modules) && wrong(parts[1]) <= mostMarks
}

// decode reads a grid in which this form stands, whose layers are not known yet.
func (f form) decode(g symbol.Grid) (symbol.MatrixReading, error) {
	data, err := f.readMode(g)
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	if f.side() != g.W || data > f.mostData() {
		return symbol.MatrixReading{}, say.Errorf("Aztec Code: the mode message tells of %d layers and %d codewords of data, which %d modules a side do not hold", f.layers, data, g.W)
	}
	words := f.readWords(g)
	wrong, err := f.code().Correct(words, len(words)-data, nil)
	if err != nil {
		return symbol.MatrixReading{}, say.Errorf("Aztec Code: more codewords are damaged than the error correction can mend; scan it again, or print it anew")
	}
	bits, err := unstuff(words[:data], f.wordBits())
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	c, err := read(bits, f.wordBits())
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	r := symbol.MatrixReading{Data: c.Data(), Spec: f.spec(data) + c.marked, Errors: []int{wrong}, Erasures: []int{0}}
	// A character set that is not known here leaves the bytes without a text.
	r.Text, _ = c.Text()
	r.Truth, r.Layout = f.draw(words, data)
	return r, nil
}

// readMode finds the layers, and how many codewords are data.
func (f *form) readMode(g symbol.Grid) (data int, err error) {
	// The mode message lies around the middle: that of a grid of this size.
	small := form{f.compact, 1}
	shift, side := (g.W-small.side())/2, small.side()
	order := small.modeOrder()
	words := make([]int, len(order)/4)
	for i, m := range order {
		words[i/4] <<= 1
		if g.At(int(m)%side+shift, int(m)/side+shift) {
			words[i/4] |= 1
		}
	}
	if _, err := code4.Correct(words, f.modeCheck(), nil); err != nil {
		return 0, say.Errorf("Aztec Code: the mode message around the bullseye is too damaged to read")
	}
	v := 0
	for _, w := range words[:len(words)-f.modeCheck()] {
		v = v<<4 | w
	}
	if f.compact {
		f.layers, data = v>>6+1, v&63+1
	} else {
		f.layers, data = v>>11+1, v&2047+1
	}
	return data, nil
}

// readWords are the codewords as the modules have them.
func (f form) readWords(g symbol.Grid) []int {
	size := f.wordBits()
	words := make([]int, f.words())
	for i, m := range f.order() {
		if i -= f.bits() % size; i >= 0 {
			words[i/size] <<= 1
			if g.Dark[m] {
				words[i/size] |= 1
			}
		}
	}
	return words
}

// unstuff takes out of codewords the bits that only kept them from being all 0
// or all 1.
func unstuff(words []int, size int) (bits []int, err error) {
	for i, w := range words {
		keep := size
		switch w {
		case 0, 1<<size - 1:
			return nil, say.Errorf("Aztec Code codeword %d: all its bits are alike, which none of data has", i+1)
		case 1, 1<<size - 2:
			keep = size - 1
		}
		for k := range keep {
			bits = append(bits, w>>(size-1-k)&1)
		}
	}
	return bits, nil
}
