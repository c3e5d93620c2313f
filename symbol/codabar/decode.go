package codabar

import (
	"unspool/say"
	"unspool/symbol"
)

// leastRatio of wide to narrow tells a symbol from a row of like elements, in
// which a midpoint would find wide ones too. Own choice, well below the 2.0 that
// a symbol is printed with.
const leastRatio = 1.5

// Decode reads the widths of a symbol, from the first bar to the last in any unit
// and from either end. A wrong check character is no error but CheckBad.
//
// The reference decode of EN 798 could not be confirmed; this one is a stand-in.
// Bars and spaces of a character are told apart separately, each at the midpoint
// of its widest and narrowest, and only the twenty patterns of the table are
// read. The characters : / . + have no wide space, so theirs are compared with
// the mean space threshold of the characters that have one, as start and stop
// always do.
func Decode(widths []float64, o Options) (symbol.Reading, error) {
	return symbol.Either(widths, func(w []float64) (symbol.Reading, error) { return decode(w, o) })
}

func decode(widths []float64, o Options) (symbol.Reading, error) {
	n := (len(widths) + 1) / pitch
	if len(widths) != n*pitch-1 || n < 3 {
		return symbol.Reading{}, say.Errorf("%d elements are not a Codabar symbol, which has eight less one for each character of at least three", len(widths))
	}
	s := symbol.NewSorted(widths)
	r := symbol.Reading{Values: make([]int, n), Chars: make([]symbol.Char, n)}
	rt := spaceThreshold(s, n)
	text := make([]byte, n)
	for i := range n {
		from := i * pitch
		v, ok := character(s, from, rt)
		isEnd := ok && v >= firstGuard
		if i == 0 && !isEnd {
			return symbol.Reading{}, say.Errorf("Codabar: %v", symbol.ErrNoStart)
		}
		if !ok {
			return symbol.Reading{}, say.Errorf("Codabar character %d: its widths fit no pattern", i+1)
		}
		if isEnd != (i == 0 || i == n-1) {
			return symbol.Reading{}, say.Errorf("Codabar character %d: A to D must stand at the ends and nowhere else (EN 798 4.3.2)", i+1)
		}
		r.Values[i], text[i] = v, alphabet[v]
		r.Chars[i] = symbol.Char{From: from, To: from + elements}
	}
	r.Text = string(text)
	for i := range r.Chars {
		r.Chars[i].Label = label(r.Text, i, n-1, o.Check)
	}
	r.Check = o.Check.prove(r.Text)
	s.Measure(&r)
	if r.N < leastRatio {
		return symbol.Reading{}, say.Errorf("Codabar: wide elements are only %.2f times as wide as narrow ones", r.N)
	}
	return r, nil
}

// prove says what the text's check character is worth.
func (c Check) prove(text string) symbol.Check {
	last := len(text) - 1
	data, check := text[1:last-1], text[last-1:last]
	switch {
	case c == NoCheck:
		return symbol.Unchecked
	case data == "" || c == Luhn && !symbol.Digits(data):
		return symbol.CheckBad
	case c.character(text[:1], data, text[last:]) == check:
		return symbol.CheckGood
	}
	return symbol.CheckBad
}

// spaceThreshold sorts the bars of all n characters and gives the mean space
// threshold of those with one wide bar, which have wide spaces too.
func spaceThreshold(s symbol.Sorted, n int) float64 {
	sum, count := 0.0, 0.0
	for from := 0; from < n*pitch; from += pitch {
		split(s, from, middle(s.Widths, from))
		if s.Wide(from, from+elements, 2) == 1 {
			sum += middle(s.Widths, from+1)
			count++
		}
	}
	return sum / max(count, 1)
}

// character sorts the spaces of the character at from, whose bars are sorted,
// and gives its value.
func character(s symbol.Sorted, from int, rt float64) (int, bool) {
	if s.Wide(from, from+elements, 2) == 1 {
		rt = middle(s.Widths, from+1)
	}
	split(s, from+1, rt)
	v := int(valueOf[symbol.Key(s.Units[from:from+elements])]) - 1
	return v, v >= 0
}

// middle is the midpoint of the widest and the narrowest of a character's bars,
// where first is its first bar, or of its spaces, where it is its first space.
func middle(widths []float64, first int) float64 {
	lo, hi := widths[first], widths[first]
	for i := first + 2; i < first-first%pitch+elements; i += 2 {
		lo, hi = min(lo, widths[i]), max(hi, widths[i])
	}
	return (lo + hi) / 2
}

// split sorts a character's bars or its spaces.
func split(s symbol.Sorted, first int, rt float64) {
	for i := first; i < first-first%pitch+elements; i += 2 {
		s.Split(i, rt)
	}
}

// valueOf is the value, plus one, of each pattern written as seven bits, 1 wide.
var valueOf = func() (t [1 << elements]uint8) {
	for v, u := range units {
		t[symbol.Key(u)] = uint8(v + 1)
	}
	return t
}()
