package aztec

import (
	"strings"
	"unicode/utf8"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/eci"
)

// Options are the choices that a symbol leaves to who draws it.
type Options struct {
	// Check is the share of the codewords that is kept for error correction at
	// least, in per cent, 5 to 95, besides three codewords; 0 is 23, as ISO/IEC 24778
	// recommends (from memory).
	Check int
	// Layers is how many layers of data there are: 1 to 4 in a compact symbol, 1 to
	// 32 in a full one. 0 takes the smallest symbol that holds the data.
	Layers int
	// Full makes a full symbol where a compact one would do.
	Full bool
	// Binary takes the text as bytes and names no character set. Without it a text
	// beyond ASCII is carried as UTF-8 and the symbol says so (ECI 26).
	Binary bool
}

const recommended = 23 // per cent

// Encode makes the smallest symbol that carries text, with the modes that take the
// fewest bits. Errors: an empty text, one that is no UTF-8 though not binary,
// options out of range, and more than the symbol holds.
func Encode(text string, o Options) (symbol.Matrix, error) {
	if err := o.sound(text); err != nil {
		return symbol.Matrix{}, err
	}
	number := eci.Default
	if !o.Binary && strings.IndexFunc(text, func(r rune) bool { return r > 0x7f }) >= 0 {
		number = eci.UTF8
	}
	bits := pack([]byte(text), number)
	f, words, err := o.fit(bits)
	if err != nil {
		return symbol.Matrix{}, err
	}
	var said eci.Message
	said.Append(number, []byte(text)...)
	m := symbol.Matrix{Data: said.Data(), Spec: f.spec(len(words))}
	if m.Text, err = said.Text(); err != nil {
		return symbol.Matrix{}, err
	}
	data := len(words)
	words = append(words, f.code().Check(words, f.words()-data)...)
	m.Grid, m.Layout = f.draw(words, data)
	return m, nil
}

func (o Options) sound(text string) error {
	most := form{layers: maxLayers}.bits() / width[digit]
	switch {
	case text == "":
		return say.Errorf("Aztec Code needs at least one character of text")
	case len(text) > most:
		return say.Errorf("Aztec Code cannot carry %d bytes: shorten the data to at most %d", len(text), most)
	case !o.Binary && !utf8.ValidString(text):
		return say.Errorf("Aztec Code: the text is not UTF-8; carry it as binary data")
	case o.Layers < 0 || o.Layers > maxLayers:
		return say.Errorf("Aztec Code has 1 to %d layers, not %d", maxLayers, o.Layers)
	case o.Check != 0 && (o.Check < 5 || o.Check > 95):
		return say.Errorf("Aztec Code keeps 5 to 95 per cent for error correction, not %d", o.Check)
	}
	return nil
}

// forms are those to choose from, the smallest first. Full symbols of fewer
// layers than four are no smaller than compact ones that hold as much.
func (o Options) forms() (all []form) {
	for layers := 1; layers <= maxCompactLayers && !o.Full; layers++ {
		all = append(all, form{true, layers})
	}
	from := maxCompactLayers
	if o.Full {
		from = 1
	}
	for layers := from; layers <= maxLayers; layers++ {
		all = append(all, form{false, layers})
	}
	if o.Layers == 0 {
		return all
	}
	for _, f := range all {
		if f.layers == o.Layers {
			return []form{f}
		}
	}
	return nil
}

// fit is the first form that holds bits with the error correction wanted, and
// its codewords of data.
func (o Options) fit(bits []int) (form, []int, error) {
	share := o.Check
	if share == 0 {
		share = recommended
	}
	forms := o.forms()
	for _, f := range forms {
		if len(bits) > f.bits() {
			continue
		}
		check := (f.words()*share+99)/100 + minCheck
		if words := stuff(bits, f.wordBits()); len(words) <= min(f.mostData(), f.words()-check) {
			return f, words, nil
		}
	}
	return form{}, nil, say.Errorf("Aztec Code: %d bits do not fit in the largest symbol allowed, of %d bits with %d per cent for error correction: shorten the data, keep less for error correction or allow more layers",
		len(bits), forms[len(forms)-1].bits(), share)
}

// stuff cuts bits into codewords. None may be all 0 or all 1: where the first bits
// of one are, its last is the other and carries nothing. Ones fill up the last.
func stuff(bits []int, size int) (words []int) {
	for len(bits) > 0 {
		w := 0
		for i := range size - 1 {
			w = w<<1 | bitOr1(bits, i)
		}
		used := size - 1
		switch w {
		case 0:
			w = 1
		case 1<<(size-1) - 1:
			w <<= 1
		default:
			w = w<<1 | bitOr1(bits, size-1)
			used = size
		}
		words, bits = append(words, w), bits[min(used, len(bits)):]
	}
	return words
}

func bitOr1(bits []int, i int) int {
	if i < len(bits) {
		return bits[i]
	}
	return 1
}
