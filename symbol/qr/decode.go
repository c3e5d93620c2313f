package qr

import (
	"math/bits"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/reedsolomon"
)

// mostWrong is the share of the fixed patterns' modules that may be wrong in what
// is taken for a symbol: in one that lies another way about half of them are. Own
// judgement; the standard asks that the finder patterns be found.
const mostWrong = 1.0 / 3

// Decode is the reference decode of ISO/IEC 18004 clause 12 from a grid of
// modules, the quiet zone cut off, in any of the four turns and mirrored. It gives Latin or Japanese text by the character sets
// that the symbol names. A symbol that is part of a structured append is an error,
// for alone it is no message. FNC1 is told in Spec; separators of GS1 are GS, 0x1D.
func Decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if !g.Sound() || g.W != g.H || g.W < side(1) || g.W > side(versions) || (g.W-17)%4 != 0 {
		return symbol.MatrixReading{}, say.Errorf("%d x %d modules are no QR code: it has 21, 25, 29 ... 177 a side", g.W, g.H)
	}
	l := lay((g.W - 17) / 4)
	return symbol.AnyTurn(g, l.decode)
}

// decode reads a symbol that lies upright.
func (l *layout) decode(g symbol.Grid) (symbol.MatrixReading, error) {
	if err := l.standing(g); err != nil {
		return symbol.MatrixReading{}, err
	}
	level, mask, err := l.formatOf(g)
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	words := l.read(g, mask)
	r := symbol.MatrixReading{Layout: l.layout(level)}
	var data []int
	for i, b := range r.Blocks {
		n, err := mend(words, b)
		if err != nil {
			return symbol.MatrixReading{}, say.Errorf("QR code block %d of %d: %v", i+1, len(r.Blocks), err)
		}
		r.Errors, r.Erasures = append(r.Errors, n), append(r.Erasures, 0)
		for _, w := range b.Codewords[:len(b.Codewords)-b.Check] {
			data = append(data, words[w])
		}
	}
	c, err := parse(data, span(l.version))
	if err != nil {
		return symbol.MatrixReading{}, err
	}
	if r.Text, err = c.Text(); err != nil {
		return symbol.MatrixReading{}, err
	}
	r.Data, r.Spec, r.Truth = c.Data(), spec(l.version, level, mask)+c.fnc1, l.draw(words, level, mask)
	return r, nil
}

// standing proves that the fixed patterns are there, and that the version
// information, where there is one, agrees with the size.
func (l *layout) standing(g symbol.Grid) error {
	wrong, all := 0, 0
	for _, p := range l.parts[:l.steady] {
		for _, m := range p.Modules {
			if g.Dark[m] != l.fixed.Dark[m] {
				wrong++
			}
			all++
		}
	}
	if float64(wrong) > mostWrong*float64(all) {
		return say.Errorf("QR code: %d of %d modules of the fixed patterns are wrong", wrong, all)
	}
	if l.version < 7 {
		return nil
	}
	words := make([]int, 0, versions)
	for v := 7; v <= versions; v++ {
		words = append(words, versionWord(v))
	}
	i, ok := nearest(words, pick(g, l.info[0][:]), pick(g, l.info[1][:]))
	if !ok {
		return say.Errorf("QR code: neither copy of the version information can be read")
	}
	if v := i + 7; v != l.version {
		return say.Errorf("QR code: the version information says version %d, and %d modules a side are version %d", v, g.W, l.version)
	}
	return nil
}

// formatOf reads level and mask from the better copy of the format information.
func (l *layout) formatOf(g symbol.Grid) (level Level, mask int, err error) {
	words := make([]int, 0, 4*masks)
	for i := range 4 * masks {
		words = append(words, formatWord(Level(i/masks), i%masks))
	}
	i, ok := nearest(words, pick(g, l.format[0][:]), pick(g, l.format[1][:]))
	if !ok {
		return 0, 0, say.Errorf("QR code: neither copy of the format information can be read")
	}
	return Level(i / masks), i % masks, nil
}

// pick gathers modules as bits, the first the least.
func pick(g symbol.Grid, modules []int32) int {
	word := 0
	for bit, m := range modules {
		if g.Dark[m] {
			word |= 1 << bit
		}
	}
	return word
}

// nearest is the word that a copy comes nearest to, and false where none is
// within the three bits that both codes can correct. ISO/IEC 18004 Annexes C, D.
func nearest(words []int, copies ...int) (int, bool) {
	const mends = 3
	at, least := 0, mends+1
	for _, c := range copies {
		for i, w := range words {
			if d := bits.OnesCount(uint(c ^ w)); d < least {
				at, least = i, d
			}
		}
	}
	return at, least <= mends
}

// read takes the mask off and gathers the codewords.
func (l *layout) read(g symbol.Grid, mask int) []int {
	words := make([]int, total(l.version))
	for i, m := range l.order[:8*len(words)] {
		if g.Dark[m] != masked(mask, int(m)%g.W, int(m)/g.W) {
			words[i/8] |= 1 << (7 - i%8)
		}
	}
	return words
}

// mend corrects the codewords of one block and says how many were wrong. It
// leaves Guard check codewords unused, so that too many errors are seen.
func mend(words []int, b symbol.Block) (int, error) {
	own := make([]int, len(b.Codewords))
	for i, w := range b.Codewords {
		own[i] = words[w]
	}
	n, err := field.Correct(own, b.Check, nil)
	if err != nil {
		return 0, err
	}
	if 2*n > b.Check-b.Guard {
		return 0, reedsolomon.ErrTooMany
	}
	for i, w := range b.Codewords {
		words[w] = own[i]
	}
	return n, nil
}
