package code93

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// Decode is the reference decode of ANSI/AIM BC5-1995, edge to similar edge: each
// character's width p is divided by nine, and four sums of a bar and a space
// rounded to modules name the character (from memory). The widths run from the
// first bar to the last in any unit and may come from either end. A wrong check
// character is an error.
func Decode(widths []float64) (symbol.Reading, error) {
	return symbol.Either(widths, decode)
}

func decode(widths []float64) (symbol.Reading, error) {
	n := len(widths) / elements
	if len(widths) != n*elements+1 || n < 5 {
		return symbol.Reading{}, say.Errorf("%d elements are not a Code 93 symbol, which has six for each character of at least five and one more", len(widths))
	}
	r := symbol.Reading{Values: make([]int, n), Chars: make([]symbol.Char, n), Margins: symbol.Whole(len(widths))}
	for i := range n {
		from, to := i*elements, (i+1)*elements
		v, ok := character(widths[from:to], r.Margins[from:to])
		if i == 0 && (!ok || v != guard) {
			return symbol.Reading{}, say.Errorf("Code 93: %v", symbol.ErrNoStart)
		}
		if !ok {
			return symbol.Reading{}, say.Errorf("Code 93 character %d: its widths fit no pattern", i+1)
		}
		if (v == guard) != (i == 0 || i == n-1) {
			return symbol.Reading{}, say.Errorf("Code 93 character %d: start and stop must stand at the ends and nowhere else", i+1)
		}
		r.Values[i], r.Chars[i] = v, symbol.Char{From: from, To: to, Label: label(v)}
	}
	if !lastBar(widths[len(widths)-elements:], r.Margins[len(widths)-elements:]) {
		return symbol.Reading{}, say.Errorf("Code 93: the termination bar does not fit")
	}
	if err := finish(&r); err != nil {
		return symbol.Reading{}, err
	}
	r.X = symbol.Sum(widths) / float64(modules*n+1)
	r.Decodability = symbol.Worst(r.Margins)
	return r, nil
}

// character finds the value of six elements and lowers their margins to what
// they leave.
func character(w, margins []float64) (int, bool) {
	key, ok := symbol.EdgeKey(w, margins, symbol.Sum(w), modules, sums)
	v := int(valueOf[key]) - 1
	return v, ok && v >= 0
}

// lastBar proves the termination bar by reading the stop as it appears from the
// other end, where it is a pattern of nine modules too.
func lastBar(w, margins []float64) bool {
	var back [elements]float64
	left := symbol.Whole(elements)
	for i := range back {
		back[i] = w[elements-1-i]
	}
	key, ok := symbol.EdgeKey(back[:], left, symbol.Sum(back[:]), modules, sums)
	for i, v := range left {
		symbol.Lower(margins[elements-1-i:elements-i], v)
	}
	return ok && key == backStop
}

// finish proves the check characters and reads the text.
func finish(r *symbol.Reading) error {
	last := len(r.Values) - 1
	data, given := r.Values[1:last-2], [2]int(r.Values[last-2:last])
	if want := checks(data); given != want {
		return say.Errorf("Code 93: the check characters are %s %s, the data asks for %s %s",
			label(given[0]), label(given[1]), label(want[0]), label(want[1]))
	}
	r.Chars[0].Label, r.Chars[last].Label = "start", "stop"
	for i := last - 2; i < last; i++ {
		r.Chars[i].Label = "check " + r.Chars[i].Label
	}
	r.Chars[last].To++
	var text strings.Builder
	for i := 0; i < len(data); i++ {
		if data[i] < shifts {
			text.WriteByte(alphabet[data[i]])
			continue
		}
		c, ok := byte(0), false
		if i+1 < len(data) {
			c, ok = single(data[i], data[i+1])
		}
		if !ok {
			return say.Errorf("Code 93 character %d: a shift character without the letter it belongs to", i+2)
		}
		text.WriteByte(c)
		i++
	}
	r.Text = text.String()
	return nil
}

// single is the ASCII character that a shift character and a letter stand for.
func single(shift, letter int) (byte, bool) {
	for _, p := range pairs {
		k := letter - strings.IndexByte(alphabet, p.letter)
		if p.shift == shift && k >= 0 && k < p.n {
			return p.first + byte(k), true
		}
	}
	return 0, false
}

// sums are how many sums of two elements name a character.
const sums = 4

// valueOf is the value, plus one, of each key.
var valueOf = func() (t [1 << (3 * sums)]uint8) {
	for v, u := range units {
		t[symbol.KeyOf(u, sums)] = uint8(v + 1)
	}
	return t
}()

// backStop is the key of the stop read from the termination bar.
var backStop = symbol.KeyOf([]uint8{1, 1, 4, 1, 1, 1}, sums)
