package ean

import (
	"math"
	"slices"

	"unspool/say"
	"unspool/symbol"
)

// Decode13 is the reference decode of EAN-13, ISO/IEC 15420, edge to similar
// edge: each digit's width p is divided by seven, and two sums of a bar and a
// space rounded to modules name the digit and its set (from memory). 1 and 7, 2
// and 8 share their sums and are told apart by the width of their bars together:
// 4 modules in set A, 3 in B and C lie halfway (computed from the patterns). How
// guard patterns are proved was not found; here their sums must round to two
// modules of the digits beside them (own).
//
// The widths run from the first bar to the last in any unit and may come from
// either end. A wrong check digit is an error.
func Decode13(widths []float64) (symbol.Reading, error) {
	return symbol.Either(widths, func(w []float64) (symbol.Reading, error) { return decode(w, ean13) })
}

// DecodeA is the reference decode of UPC-A: an EAN-13 whose first digit is 0,
// which is left out of the text.
func DecodeA(widths []float64) (symbol.Reading, error) {
	r, err := Decode13(widths)
	if err == nil && r.Text[0] != '0' {
		return symbol.Reading{}, say.Errorf("%q is an EAN-13 and no UPC-A, which it would be with a 0 in front", r.Text)
	}
	if err == nil {
		r.Text = r.Text[1:]
	}
	return r, err
}

// Decode8 is the reference decode of EAN-8; see Decode13.
func Decode8(widths []float64) (symbol.Reading, error) {
	return symbol.Either(widths, func(w []float64) (symbol.Reading, error) { return decode(w, ean8) })
}

// DecodeE is the reference decode of UPC-E; see Decode13. Its text is the number
// system, six digits and the check digit.
func DecodeE(widths []float64) (symbol.Reading, error) {
	return symbol.Either(widths, func(w []float64) (symbol.Reading, error) { return decode(w, upcE) })
}

// form is what one of the symbologies is made of.
type form struct {
	title       say.Word
	left, right int // digits on either side of the centre; UPC-E has no right
	// text is what the symbol carries, by the digits it shows and which of those on
	// the left are in set B, the first the highest bit.
	text func(digits string, inB int) (string, bool)
	// check is the check digit of a text less its last.
	check func(digits string) byte
}

var (
	ean13 = form{"EAN-13", 6, 6, text13, symbol.Mod10}
	ean8  = form{"EAN-8", 4, 4, func(digits string, inB int) (string, bool) { return digits, inB == 0 }, symbol.Mod10}
	upcE  = form{"UPC-E", 6, 0, textE, checkE}
)

func text13(digits string, inB int) (string, bool) {
	first := slices.Index(parity[:], inB)
	return string(rune('0'+max(first, 0))) + digits, first >= 0
}

func textE(digits string, inB int) (string, bool) {
	if check := slices.Index(parityE[:], inB); check >= 0 {
		return "1" + digits + string(rune('0'+check)), true
	}
	check := slices.Index(parityE[:], inB^0b111111)
	return "0" + digits + string(rune('0'+max(check, 0))), check >= 0
}

// part is a run of elements: a digit or a guard pattern.
type part struct {
	at, n int
	bar   bool // it begins with a bar
	value int  // of a guard pattern; 0 for a digit
}

// parts are those of a symbol, in order.
func (f form) parts() []part {
	all := make([]part, 0, f.left+f.right+3)
	at := 0
	add := func(n, value int) {
		all = append(all, part{at, n, at%2 == 0, value})
		at += n
	}
	add(3, guard)
	for range f.left {
		add(elements, 0)
	}
	if f.right == 0 {
		add(6, end)
		return all
	}
	add(5, centre)
	for range f.right {
		add(elements, 0)
	}
	add(3, guard)
	return all
}

func decode(widths []float64, f form) (symbol.Reading, error) {
	parts := f.parts()
	last := parts[len(parts)-1]
	if len(widths) != last.at+last.n {
		return symbol.Reading{}, say.Errorf("%d elements are not an %s symbol, which has %d", len(widths), f.title, last.at+last.n)
	}
	if !even(widths, parts) {
		return symbol.Reading{}, say.Errorf("%s: its digits differ in width by more than 30 %%", f.title)
	}
	r := symbol.Reading{Margins: symbol.Whole(len(widths))}
	var shown []byte
	inB := 0
	for i, p := range parts {
		c := symbol.Char{From: p.at, To: p.at + p.n, Label: "guard"}
		switch p.value {
		case centre:
			c.Label = "centre"
			fallthrough
		case guard, end:
			if !guards(widths, r.Margins, parts, i) {
				return symbol.Reading{}, f.misfit(i)
			}
		default:
			v, ok := digit(widths[p.at:p.at+p.n], r.Margins[p.at:p.at+p.n], p.bar)
			if !ok {
				return symbol.Reading{}, say.Errorf("%s digit %d: its widths fit no pattern", f.title, len(shown)+1)
			}
			p.value, c.Label = v, string(rune('0'+v%10))
			if shown = append(shown, c.Label[0]); len(shown) <= f.left {
				inB = inB<<1 | v/10
			}
		}
		r.Values, r.Chars = append(r.Values, p.value), append(r.Chars, c)
	}
	return r, f.finish(&r, string(shown), inB, widths)
}

// unevenDigits is how much wider than another a digit of the symbol may be. Read
// backwards with its guard patterns mistaken, one UPC-E of 1500 would pass for
// another number; its digits then differ by a third or more (computed; own).
const unevenDigits = 1.3

// even says whether the digits are about as wide as each other.
func even(widths []float64, parts []part) bool {
	least, most := math.Inf(1), 0.0
	for _, p := range parts {
		if p.value == 0 {
			w := symbol.Sum(widths[p.at : p.at+p.n])
			least, most = min(least, w), max(most, w)
		}
	}
	return most <= unevenDigits*least
}

// misfit is the error for a guard pattern that is none.
func (f form) misfit(i int) error {
	if i == 0 {
		return say.Errorf("%s: %v", f.title, symbol.ErrNoStart)
	}
	return say.Errorf("%s: the guard pattern after %d digits does not fit", f.title, min(i-1, f.left+f.right))
}

// guards proves the guard pattern i: its elements are a module each.
func guards(widths, margins []float64, parts []part, i int) bool {
	p, n := 0.0, 0.0
	for _, k := range []int{i - 1, i + 1} {
		if k >= 0 && k < len(parts) {
			p += symbol.Sum(widths[parts[k].at : parts[k].at+parts[k].n])
			n++
		}
	}
	at, sums := parts[i].at, parts[i].n-1
	key, ok := symbol.EdgeKey(widths[at:], margins[at:], p/n, modules, sums)
	twos := 0
	for range sums {
		twos = twos<<3 | 2
	}
	return ok && key == twos
}

// digit finds the value of four elements and lowers their margins to what they
// leave. bar says that they begin with a bar.
func digit(w, margins []float64, bar bool) (int, bool) {
	p, first := symbol.Sum(w), 0
	if bar {
		first = 1
	}
	key, ok := symbol.EdgeKey(w, margins, p, modules, sums)
	d := digits[first][key]
	if !ok || !d.known {
		return 0, false
	}
	if low := d.value % 10; low == 1 || low == 2 {
		at := 1 - first        // the first bar
		split, wider := 3.0, 0 // 1 and 2 have the wider bars in B and C
		if d.value < 10 {
			split, wider = 4, 6
		}
		off := (w[at]+w[at+2])*modules/p - split
		if off > 0 {
			d.value += wider
		} else {
			d.value += 6 - wider
		}
		// V2 = |7 Wb/S - split|, both digits one module from it (own).
		symbol.Lower(margins[at:at+1], math.Abs(off))
		symbol.Lower(margins[at+2:at+3], math.Abs(off))
	}
	return d.value, true
}

// finish reads the text, proves the check digit and takes the measures.
func (f form) finish(r *symbol.Reading, shown string, inB int, widths []float64) error {
	text, ok := f.text(shown, inB)
	if !ok {
		return say.Errorf("%s: its digits stand in number sets that do not go together", f.title)
	}
	body, given := text[:len(text)-1], text[len(text)-1:]
	if want := string(f.check(body)); given != want {
		return say.Errorf("%s: the check digit is %s, the digits ask for %s", f.title, given, want)
	}
	if f.right > 0 {
		check := &r.Chars[len(r.Chars)-2]
		check.Label = "check " + check.Label
	}
	r.Text = text
	r.X = symbol.Sum(widths) / float64(modules*len(shown)+len(widths)-elements*len(shown))
	r.Decodability = symbol.Worst(r.Margins)
	return nil
}
