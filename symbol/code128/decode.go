package code128

import (
	"fmt"
	"math"

	"unspool/say"
	"unspool/symbol"
)

const (
	elements     = 6 // of a symbol character
	stopElements = 7
	barTolerance = 1.75 // modules that the bars of a character may be off
)

// Decode is the reference decode of ISO/IEC 15417, edge to similar edge: each
// character's width p is divided by eleven, four sums of a bar and a space are
// rounded to modules and name the character, and its three bars together must be
// within 1.75 modules of their nominal sum (read in the GS1 General
// Specifications 5.4.5). The widths run from the first bar to the last in any
// unit and may come from either end. A wrong modulo 103 check is an error.
//
// FNC1 is passed on as GS, except in the first place; FNC2 and FNC3 have no text;
// FNC4 gives characters of ISO/IEC 8859-1.
func Decode(widths []float64) (symbol.Reading, error) {
	return symbol.Either(widths, decode)
}

// DecodeGS1 is Decode for a symbol that begins with FNC1, as data of the GS1
// system does; another is an error.
func DecodeGS1(widths []float64) (symbol.Reading, error) {
	r, err := Decode(widths)
	if err == nil && r.Values[1] != fnc1 {
		return symbol.Reading{}, say.Errorf("%q is Code 128 without the FNC1 that GS1-128 begins with", r.Text)
	}
	return r, err
}

func decode(widths []float64) (symbol.Reading, error) {
	n := (len(widths) - stopElements) / elements // without stop
	if n < 2 || len(widths) != n*elements+stopElements {
		return symbol.Reading{}, say.Errorf("%d elements are not a Code 128 symbol, which has six for each character and one more", len(widths))
	}
	r := symbol.Reading{Values: make([]int, n+1), Chars: make([]symbol.Char, n+1), Margins: symbol.Whole(len(widths))}
	for i := range n + 1 {
		from := i * elements
		v, ok := character(widths[from:from+elements], r.Margins[from:from+elements])
		if i == 0 && (!ok || v < startA || v > startC) {
			return symbol.Reading{}, say.Errorf("Code 128: %v", symbol.ErrNoStart)
		}
		if !ok {
			return symbol.Reading{}, say.Errorf("Code 128 character %d: its widths fit no pattern", i+1)
		}
		if (v == stop) != (i == n) || i > 0 && v >= startA && v != stop {
			return symbol.Reading{}, say.Errorf("Code 128 character %d: start and stop must stand at the ends and nowhere else", i+1)
		}
		r.Values[i] = v
		r.Chars[i] = symbol.Char{From: from, To: from + elements}
	}
	r.Chars[n].To++
	if !lastBar(widths[n*elements:], r.Margins[n*elements:]) {
		return symbol.Reading{}, say.Errorf("Code 128: the last bar of the stop does not fit")
	}
	return r, finish(&r, widths)
}

// character finds the value of six elements and lowers their margins to what
// they leave.
func character(w, margins []float64) (int, bool) {
	p := symbol.Sum(w)
	key, ok := symbol.EdgeKey(w, margins, p, modules, sums)
	value := int(valueOf[key]) - 1
	if !ok || value < 0 {
		return 0, false
	}
	// V2 = (1.75 - |Wb*11/S - V|) / 1.75 (from memory).
	off := math.Abs((w[0]+w[2]+w[4])*modules/p - float64(bars[value]))
	if off >= barTolerance {
		return 0, false
	}
	for i := 0; i < elements; i += 2 {
		symbol.Lower(margins[i:i+1], (barTolerance-off)/barTolerance)
	}
	return value, true
}

// lastBar proves the seventh element of the stop by reading the stop as it
// appears from the other end, where it is a character of eleven modules too.
func lastBar(w, margins []float64) bool {
	var back, left [elements]float64
	for i := range back {
		back[i], left[i] = w[stopElements-1-i], margins[stopElements-1-i]
	}
	v, ok := character(back[:], left[:])
	for i := range left {
		margins[stopElements-1-i] = left[i]
	}
	return ok && v == backStop
}

// finish proves the check character, reads the text and takes the measures.
func finish(r *symbol.Reading, widths []float64) error {
	data := r.Values[:len(r.Values)-2]
	check := r.Values[len(data)]
	if want := mod103(data); check != want {
		return say.Errorf("Code 128: the check character is %d, the data asks for %d", check, want)
	}
	var s state
	for i, v := range data {
		r.Chars[i].Label = s.next(v)
	}
	r.Chars[len(data)].Label = fmt.Sprintf("check %d", check)
	r.Chars[len(data)+1].Label = "stop"
	r.Text = s.text.String()
	r.X = symbol.Sum(widths) / float64(modules*len(r.Values)+2)
	r.Decodability = symbol.Worst(r.Margins)
	return nil
}

// backStop is the index, beyond all values, of the stop read from its end.
const backStop = stop + 1

// sums are how many sums of two elements name a character.
const sums = 4

// valueOf is the value, plus one, of each key, and bars is each value's bars in
// modules.
var (
	valueOf [1 << (3 * sums)]uint8
	bars    [backStop + 1]uint8
)

func init() {
	last := units[stop]
	back := []uint8{last[6], last[5], last[4], last[3], last[2], last[1]}
	for v, u := range append(units[:], back) {
		valueOf[symbol.KeyOf(u, sums)] = uint8(v + 1)
		bars[v] = u[0] + u[2] + u[4]
	}
}
