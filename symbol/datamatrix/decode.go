package datamatrix

import (
	"unspool/say"
	"unspool/symbol"
)

// mostWrong is the share of the fixed patterns' modules that may be wrong in what
// is taken for a symbol: in one that lies another way about half of them are. Own
// judgement; the standard asks that the L be found.
const mostWrong = 1.0 / 3

// Decode is the reference decode of ISO/IEC 16022 clause 9 from a grid of modules,
// the quiet zone cut off, in any of the four turns and mirrored. A symbol that is
// part of a structured append is an error, for alone it is no message, and so is
// one that programs a reader. FNC1 is told in Spec; separators of GS1 are GS, 0x1D.
func Decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if !g.Sound() {
		return symbol.MatrixReading{}, say.Errorf("%d x %d modules are no Data Matrix", g.H, g.W)
	}
	s, ok := sizeOf(g.H, g.W)
	if !ok {
		s, ok = sizeOf(g.W, g.H)
	}
	if !ok {
		return symbol.MatrixReading{}, say.Errorf("%d x %d modules are no size of Data Matrix", g.H, g.W)
	}
	l := lay(s)
	return symbol.AnyTurn(g, l.decode)
}

// decode reads a symbol that lies upright.
func (l *layout) decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if err := l.standing(g); err != nil {
		return symbol.MatrixReading{}, err
	}
	words := make([]int, l.data+l.check)
	for i, m := range l.bits {
		if g.Dark[m] {
			words[i/8] |= 1 << (7 - i%8)
		}
	}
	r := symbol.MatrixReading{Layout: l.layout()}
	for i, b := range r.Blocks {
		own := make([]int, len(b.Codewords))
		for k, w := range b.Codewords {
			own[k] = words[w]
		}
		n, err := field.Correct(own, b.Check, nil)
		if err != nil {
			return symbol.MatrixReading{}, say.Errorf("Data Matrix block %d of %d: %v", i+1, len(r.Blocks), err)
		}
		for k, w := range b.Codewords {
			words[w] = own[k]
		}
		r.Errors, r.Erasures = append(r.Errors, n), append(r.Erasures, 0)
	}
	c, err := parse(words[:l.size.data])
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	if r.Text, err = c.Text(); err != nil {
		return symbol.MatrixReading{}, err
	}
	r.Data, r.Spec, r.Truth = c.Data(), l.size.String()+c.fnc1, l.draw(words)
	return r, nil
}

// standing proves that the fixed patterns are there.
func (l *layout) standing(g symbol.Grid) error {
	if g.W != l.w {
		return say.Errorf("Data Matrix of %v modules does not lie so", l.size)
	}
	wrong, all := 0, 0
	for _, p := range l.parts {
		for _, m := range p.Modules {
			if g.Dark[m] != l.fixed.Dark[m] {
				wrong++
			}
			all++
		}
	}
	if float64(wrong) > mostWrong*float64(all) {
		return say.Errorf("Data Matrix: %d of %d modules of the finder and clock tracks are wrong", wrong, all)
	}
	return nil
}
