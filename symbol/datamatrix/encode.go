package datamatrix

import (
	"strings"
	"unicode/utf8"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/eci"
)

// Shape is which sizes a symbol may have.
type Shape uint8

// The shapes. Auto takes the one of fewer modules, and of equals the square one.
const (
	Auto Shape = iota
	Square
	Rectangle
)

// Options are the choices of a symbol.
type Options struct {
	Shape Shape
	// Rows and Columns ask for one size; both 0 is the smallest that fits.
	Rows, Columns int
	// Binary takes the text as bytes and names no character set. Without it a text
	// beyond ASCII is carried as UTF-8 and the symbol says so (ECI 26).
	Binary bool
	// GS1 marks the data as GS1 element strings (FNC1 in the first position), with
	// GS, 0x1D, at the end of those that need it.
	GS1 bool
}

// Encode makes the smallest symbol that holds text, in the encodation schemes
// that take the fewest codewords. An empty text, one that is not UTF-8 and not
// Binary, one that does not fit and options that no size has are errors.
func Encode(text string, o Options) (symbol.Matrix, error) {
	if text == "" {
		return symbol.Matrix{}, say.Errorf("Data Matrix needs at least one character of text")
	}
	if !o.Binary && !utf8.ValidString(text) {
		return symbol.Matrix{}, say.Errorf("Data Matrix: the text is not UTF-8; carry it as binary data")
	}
	if o.Shape > Rectangle {
		return symbol.Matrix{}, say.Errorf("Data Matrix: shape %d is none", o.Shape)
	}
	sizes := o.fitting()
	if len(sizes) == 0 {
		return symbol.Matrix{}, say.Errorf("Data Matrix has no size of %d x %d modules and that shape: square ones are 10 x 10 to 144 x 144, rectangular ones 8 x 18, 8 x 32, 12 x 26, 12 x 36, 16 x 36 and 16 x 48", o.Rows, o.Columns)
	}
	number := eci.Default
	if !o.Binary && strings.IndexFunc(text, func(r rune) bool { return r > 0x7f }) >= 0 {
		number = eci.UTF8
	}
	s, data, err := pack(text, number, o.GS1, sizes)
	if err != nil {
		return symbol.Matrix{}, err
	}
	var m eci.Message
	m.Append(number, []byte(text)...)
	shown, err := m.Text()
	if err != nil {
		return symbol.Matrix{}, err
	}
	l := lay(s)
	made := symbol.Matrix{Grid: l.draw(s.protect(data)), Layout: l.layout(), Data: []byte(text), Text: shown, Spec: s.String()}
	if o.GS1 {
		made.Spec += firstPosition
	}
	return made, nil
}

// The two messages that a codeword stands for the head and the end of: those of
// ISO/IEC 15434 in formats 05 and 06. ISO/IEC 16022 5.2.4.7.
const (
	head05    = "[)>\x1e05\x1d"
	head06    = "[)>\x1e06\x1d"
	macroTail = "\x1e\x04"
)

// head is the codewords that stand before the data, and what data they leave.
func head(text string, number int, gs1 bool) (words []int, rest string) {
	if gs1 {
		words = append(words, fnc1)
	}
	if number != eci.Default {
		return append(words, eciWord, number+1), text // all used here are below 127
	}
	for _, m := range []struct {
		head string
		word int
	}{{head05, macro05}, {head06, macro06}} {
		if inner, ok := strings.CutPrefix(text, m.head); ok && !gs1 {
			if inner, ok = strings.CutSuffix(inner, macroTail); ok {
				return []int{m.word}, inner
			}
		}
	}
	return words, text
}

// pack gives the smallest size that holds a text, and its data codewords.
func pack(text string, number int, gs1 bool, sizes []size) (size, []int, error) {
	words, rest := head(text, number, gs1)
	p := newPlan(rest, gs1)
	for _, s := range sizes {
		room := s.data - len(words)
		// No codeword carries more than two characters.
		if len(rest) > 2*room || !p.solve(room) {
			continue
		}
		return s, padded(append(words, p.words(len(words))...), s.data), nil
	}
	last := sizes[len(sizes)-1]
	return size{}, nil, say.Errorf("Data Matrix of %v modules has %d codewords, each of one character or two digits, and these %d bytes do not fit: shorten the text or choose a larger size", last, last.data, len(text))
}

// padded fills codewords up. ISO/IEC 16022 5.2.3.
func padded(words []int, to int) []int {
	for first := len(words); len(words) < to; {
		if len(words) == first {
			words = append(words, pad)
		} else {
			words = append(words, randomized(pad, len(words)+1, 253))
		}
	}
	return words
}

// writer makes codewords of steps.
type writer struct {
	words   []int
	before  int   // codewords that stand before these
	waiting []int // values of C40, Text, X12 or EDIFACT, or bytes of Base 256
}

// words are the codewords of the path, of which so many stand before.
func (p *plan) words(before int) []int {
	w := &writer{before: before}
	steps, to := p.path()
	at := 0
	for i, s := range steps {
		from := modeOf[s.from]
		switch {
		case s.back > 0:
			w.data(p.data[at:at+int(s.back)], from, p.gs1)
			at += int(s.back)
		case from == ascii:
			w.words = append(w.words, latch[modeOf[to[i]]])
		default:
			w.leave(from, s)
		}
	}
	return w.words
}

func (w *writer) data(s string, m mode, gs1 bool) {
	switch {
	case len(s) == 2:
		w.words = append(w.words, pairs+int(s[0]-'0')*10+int(s[1]-'0'))
	case m == ascii:
		w.words = append(w.words, asciiWords(s[0], gs1)...)
	case m == base256:
		w.waiting = append(w.waiting, int(s[0]))
	case m == edifact:
		w.waiting = append(w.waiting, int(s[0])&0x3F)
		if len(w.waiting) == 4 {
			w.sixBits()
		}
	default:
		w.waiting = append(w.waiting, m.values(s[0], gs1)...)
		w.triples()
	}
}

// triples writes each three values that wait as two codewords.
func (w *writer) triples() {
	for len(w.waiting) >= 3 {
		v := w.waiting[0]*1600 + w.waiting[1]*40 + w.waiting[2] + 1
		w.words = append(w.words, v>>8, v&0xFF)
		w.waiting = w.waiting[3:]
	}
}

// sixBits writes the values of EDIFACT that wait, to the next whole codeword.
func (w *writer) sixBits() {
	v, bits := 0, 0
	for _, x := range w.waiting {
		v, bits = v<<6|x, bits+6
	}
	n := (bits + 7) / 8
	v <<= 8*n - bits
	for i := n - 1; i >= 0; i-- {
		w.words = append(w.words, v>>(8*i)&0xFF)
	}
	w.waiting = nil
}

// leave goes back to ASCII.
func (w *writer) leave(m mode, s step) {
	switch {
	case m == base256:
		length := []int{len(w.waiting)}
		if n := len(w.waiting); s.toEnd {
			length = []int{0}
		} else if n > shortField {
			length = []int{n/250 + 249, n % 250}
		}
		for _, v := range append(length, w.waiting...) {
			w.words = append(w.words, randomized(v, w.before+len(w.words)+1, 255))
		}
		w.waiting = nil
	case s.silent:
	case m == edifact:
		w.waiting = append(w.waiting, unlatchEDIFACT)
		w.sixBits()
	case len(w.waiting) == 2:
		w.waiting = append(w.waiting, shift1)
		w.triples()
	default:
		w.words = append(w.words, unlatch)
	}
}
