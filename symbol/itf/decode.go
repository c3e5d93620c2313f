package itf

import (
	"unspool/say"
	"unspool/symbol"
)

// Decode is the reference decode of ISO/IEC 16390 (from memory): of the sum S of
// a pair's ten elements, RT = 7S/64 divides narrow from wide, and two of the
// five bars and two of the five spaces are wide. The start pattern is measured
// against the threshold of the first pair and the stop pattern against that of
// the last (own choice: the clause was not seen). The widths run from the first
// bar to the last in any unit and may come from either end. A wrong check digit
// is no error but CheckBad.
//
// Part of a symbol can look like a shorter one, since start and stop are
// patterns that data holds too: a reader should expect one fixed length.
func Decode(widths []float64, o Options) (symbol.Reading, error) {
	return symbol.Either(widths, func(w []float64) (symbol.Reading, error) { return decode(w, o) })
}

func decode(widths []float64, o Options) (symbol.Reading, error) {
	n := (len(widths) - len(start) - len(stop)) / elements // pairs
	if n < 1 || len(widths) != n*elements+len(start)+len(stop) {
		return symbol.Reading{}, say.Errorf("%d elements are not an Interleaved 2 of 5 symbol, which has ten for each pair of digits and seven more", len(widths))
	}
	s := symbol.NewSorted(widths)
	end := len(widths) - len(stop)
	if !guarded(s, 0, start, threshold(widths[len(start):])) {
		return symbol.Reading{}, say.Errorf("Interleaved 2 of 5: %v", symbol.ErrNoStart)
	}
	r := symbol.Reading{Chars: []symbol.Char{{From: 0, To: len(start), Label: "start"}}}
	text := make([]byte, 0, 2*n)
	for from := len(start); from < end; from += elements {
		pair, err := pair(s, from)
		if err != nil {
			return symbol.Reading{}, say.Errorf("Interleaved 2 of 5 pair %d: %v", from/elements+1, err)
		}
		text = append(text, byte('0'+pair[0]), byte('0'+pair[1]))
		r.Values = append(r.Values, pair[0], pair[1])
		r.Chars = append(r.Chars, symbol.Char{From: from, To: from + elements, Label: string(text[len(text)-2:])})
	}
	if !guarded(s, end, stop, threshold(widths[end-elements:])) {
		return symbol.Reading{}, say.Errorf("Interleaved 2 of 5: the stop pattern does not fit")
	}
	r.Chars = append(r.Chars, symbol.Char{From: end, To: len(widths), Label: "stop"})
	r.Text = string(text)
	if o.Check != NoCheck {
		r.Check = symbol.CheckBad
		if last := len(text) - 1; o.Check.digit(r.Text[:last]) == text[last] {
			r.Check = symbol.CheckGood
		}
	}
	s.Measure(&r)
	return r, nil
}

// threshold is RT of the pair that begins the widths.
func threshold(widths []float64) float64 { return 7 * symbol.Sum(widths[:elements]) / 64 }

// guarded sorts the elements of a start or stop pattern and compares them with it.
func guarded(s symbol.Sorted, from int, pattern string, rt float64) bool {
	for i := range len(pattern) {
		s.Split(from+i, rt)
		if s.Units[from+i] != pattern[i]-'0' {
			return false
		}
	}
	return true
}

// pair sorts the ten elements at from and gives the digits of its bars and spaces.
func pair(s symbol.Sorted, from int) (digits [2]int, err error) {
	rt := threshold(s.Widths[from:])
	var units [2][digit]uint8
	for i := range elements {
		s.Split(from+i, rt)
		units[i%2][i/2] = s.Units[from+i]
	}
	for k, kind := range []say.Word{say.Word("bars"), say.Word("spaces")} {
		if wide := s.Wide(from+k, from+elements, 2); wide != 2 {
			return digits, say.Errorf("%d wide %s where two belong", wide, kind)
		}
		digits[k] = int(digitOf[symbol.Key(units[k][:])]) - 1
	}
	return digits, nil
}

// digitOf is the digit, plus one, of each pattern written as five bits, 1 wide.
// The ten digits are all the ways to choose two of five.
var digitOf = func() (t [1 << digit]uint8) {
	for v, p := range patterns {
		t[symbol.Key(symbol.Units(p))] = uint8(v + 1)
	}
	return t
}()
