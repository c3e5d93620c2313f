package qr

import (
	"strings"
	"unicode/utf8"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/eci"
)

// Options are the choices of a symbol.
type Options struct {
	Level Level
	// Least is the smallest version to use, 1 to 40; 0 is 1.
	Least int
	// Masks are the mask patterns to choose from, 0 to 7; none means all.
	Masks []int
	// Binary takes the text as bytes and names no character set. Without it a text
	// beyond ASCII is carried as UTF-8 and the symbol says so (ECI 26).
	Binary bool
	// GS1 marks the data as GS1 element strings (FNC1 in the first position), with
	// GS, 0x1D, never two in a row, at the end of those that need it.
	GS1 bool
}

// Encode makes the smallest symbol of a level that holds text, split into
// numeric, alphanumeric and byte segments so that it takes the least bits, with
// the mask of the lowest penalty. An empty text, one that is not UTF-8 and not
// Binary, one that does not fit version 40 and options out of range are errors.
func Encode(text string, o Options) (symbol.Matrix, error) {
	if err := o.sound(text); err != nil {
		return symbol.Matrix{}, err
	}
	number := eci.Default
	if !o.Binary && strings.IndexFunc(text, func(r rune) bool { return r > 0x7f }) >= 0 {
		number = eci.UTF8
	}
	version, data, err := pack(text, number, o)
	if err != nil {
		return symbol.Matrix{}, err
	}
	l := lay(version)
	words := protect(data, version, o.Level)
	mask, grid := l.best(words, o)
	var m eci.Message
	m.Append(number, []byte(text)...)
	shown, err := m.Text()
	if err != nil {
		return symbol.Matrix{}, err
	}
	s := symbol.Matrix{Grid: grid, Layout: l.layout(o.Level), Data: []byte(text), Text: shown, Spec: spec(version, o.Level, mask)}
	if o.GS1 {
		s.Spec += firstPosition
	}
	return s, nil
}

func (o Options) sound(text string) error {
	if text == "" {
		return say.Errorf("QR code needs at least one character of text")
	}
	if !o.Binary && !utf8.ValidString(text) {
		return say.Errorf("QR code: the text is not UTF-8; carry it as binary data")
	}
	if o.GS1 && strings.Contains(text, "\x1d\x1d") {
		// In alphanumeric mode they would read as a per cent sign.
		return say.Errorf("QR code: two separators (GS) stand side by side in GS1 data: leave one out")
	}
	if o.Level > H || o.Least < 0 || o.Least > versions {
		return say.Errorf("QR code: level %d or least version %d is none: levels are L, M, Q, H, versions 1 to %d", o.Level, o.Least, versions)
	}
	for _, m := range o.Masks {
		if m < 0 || m >= masks {
			return say.Errorf("QR code: mask pattern %d is none: they are 0 to %d", m, masks-1)
		}
	}
	return nil
}

// pack gives the smallest version that holds a text, and its data codewords.
func pack(text string, number int, o Options) (version int, data []int, err error) {
	for version = max(o.Least, 1); version <= versions; version++ {
		if data == nil || span(version) != span(version-1) {
			data = bitstream(split(text, span(version), o.GS1), span(version), number, o.GS1)
		}
		if len(data) <= 8*room(version, o.Level) {
			return version, codewords(data, room(version, o.Level)), nil
		}
	}
	const head = 3 // bytes that tell mode and length
	return 0, nil, say.Errorf("QR code at level %v holds %d bytes, or more where they are digits and capital letters, and these %d bytes do not fit: shorten the text or choose a lower level",
		o.Level, room(versions, o.Level)-head, len(text))
}

// bitstream is the data as bits, one an int.
func bitstream(segments []segment, span, number int, gs1 bool) []int {
	var b bitWriter
	if number != eci.Default {
		b.put(eciMode, indicatorIs)
		b.put(number, 8) // all used here are below 128
	}
	if gs1 {
		b.put(fnc1First, indicatorIs)
	}
	for _, s := range segments {
		b.put(indicator[s.mode], indicatorIs)
		b.put(len(s.data), counts[s.mode][span])
		group, base := 1, 0
		switch s.mode {
		case numeric:
			group, base = 3, 10
		case alphanumeric:
			group, base = 2, 45
		}
		for i := 0; i < len(s.data); i += group {
			part := segment{s.mode, s.data[i:min(i+group, len(s.data))]}
			v := 0
			for k := range len(part.data) {
				v = v*base + s.mode.value(part.data[k], gs1)
			}
			b.put(v, part.bits())
		}
	}
	return b.bits
}

type bitWriter struct{ bits []int }

func (b *bitWriter) put(value, bits int) {
	for i := bits - 1; i >= 0; i-- {
		b.bits = append(b.bits, value>>i&1)
	}
}

// codewords ends the bits and fills them up. ISO/IEC 18004 7.4.9, 7.4.10.
func codewords(bits []int, room int) []int {
	words := make([]int, room)
	for i, bit := range bits {
		words[i/8] |= bit << (7 - i%8)
	}
	used := (min(len(bits)+indicatorIs, 8*room) + 7) / 8
	for i := used; i < room; i++ {
		words[i] = [2]int{0xEC, 0x11}[(i-used)%2]
	}
	return words
}

// protect adds the check codewords and puts all in the order they are drawn in.
func protect(data []int, version int, level Level) []int {
	words := make([]int, total(version))
	from := 0
	for _, b := range blocks(version, level) {
		n := len(b.Codewords) - b.Check
		own := data[from : from+n]
		from += n
		for i, w := range own {
			words[b.Codewords[i]] = w
		}
		for i, w := range field.Check(own, b.Check) {
			words[b.Codewords[n+i]] = w
		}
	}
	return words
}

// best draws with each mask and keeps the one of the lowest penalty, of equals
// the first. ISO/IEC 18004 7.8.3.
func (l *layout) best(words []int, o Options) (mask int, grid symbol.Grid) {
	from := o.Masks
	if len(from) == 0 {
		from = []int{0, 1, 2, 3, 4, 5, 6, 7}
	}
	least := -1
	for _, m := range from {
		g := l.draw(words, o.Level, m)
		if len(from) == 1 {
			return m, g
		}
		if p := penalty(g); least < 0 || p < least {
			least, mask, grid = p, m, g
		}
	}
	return mask, grid
}
