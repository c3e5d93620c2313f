package code39

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
)

const (
	elements = 9            // of a symbol character
	pitch    = elements + 1 // with the gap after it
)

// Decode is the reference decode of ISO/IEC 16388 (from memory): of the sum S of
// a character's nine elements, RT = S/8 divides narrow from wide, and exactly
// three are wide. The widths run from the first bar to the last in any unit and
// may come from either end. A wrong modulo 43 check is no error but CheckBad.
func Decode(widths []float64, o Options) (symbol.Reading, error) {
	return symbol.Either(widths, func(w []float64) (symbol.Reading, error) { return decode(w, o) })
}

func decode(widths []float64, o Options) (symbol.Reading, error) {
	n := (len(widths) + 1) / pitch
	if len(widths) != n*pitch-1 || n < 3 {
		return symbol.Reading{}, say.Errorf("%d elements are not a Code 39 symbol, which has ten less one for each character of at least three", len(widths))
	}
	r := symbol.Reading{Values: make([]int, n), Chars: make([]symbol.Char, n)}
	sorted := symbol.NewSorted(widths)
	for i := range n {
		from := i * pitch
		v, err := character(sorted, from)
		isGuard := err == nil && v == guard
		if i == 0 && !isGuard {
			return symbol.Reading{}, say.Errorf("Code 39: %v", symbol.ErrNoStart)
		}
		if err != nil {
			return symbol.Reading{}, say.Errorf("Code 39 character %d: %v", i+1, err)
		}
		if isGuard != (i == 0 || i == n-1) {
			return symbol.Reading{}, say.Errorf("Code 39 character %d: start and stop must stand at the ends and nowhere else", i+1)
		}
		r.Values[i] = v
		r.Chars[i] = symbol.Char{From: from, To: from + elements, Label: symbol.Label(alphabet[v])}
	}
	r.Chars[0].Label, r.Chars[n-1].Label = "start", "stop"
	if err := finish(&r, o); err != nil {
		return symbol.Reading{}, err
	}
	sorted.Measure(&r)
	return r, nil
}

// character sorts the nine elements at from and gives their character's value.
func character(s symbol.Sorted, from int) (int, error) {
	rt := symbol.Sum(s.Widths[from:from+elements]) / 8
	for i := from; i < from+elements; i++ {
		s.Split(i, rt)
	}
	if wide := s.Wide(from, from+elements, 1); wide != 3 {
		return 0, say.Errorf("%d wide elements where three belong", wide)
	}
	key := symbol.Key(s.Units[from : from+elements])
	v := int(valueOf[key]) - 1
	if v < 0 {
		return 0, say.Errorf("no character has the pattern %09b", key)
	}
	return v, nil
}

// finish turns the values into text and proves the check character.
func finish(r *symbol.Reading, o Options) error {
	var b strings.Builder
	for _, v := range r.Values[1 : len(r.Values)-1] {
		b.WriteByte(alphabet[v])
	}
	data, check := b.String(), ""
	if o.Mod43 {
		data, check = data[:len(data)-1], data[len(data)-1:]
		r.Check = symbol.CheckBad
		if data != "" && check[0] == alphabet[mod43(data)] {
			r.Check = symbol.CheckGood
		}
		last := &r.Chars[len(r.Chars)-2]
		last.Label = "check " + last.Label
	}
	if o.FullASCII {
		var err error
		if data, err = unspell(data); err != nil {
			return err
		}
	}
	r.Text = data + check
	return nil
}

// unspell reads the pairs in data.
func unspell(data string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(data); i++ {
		c := data[i]
		if strings.IndexByte("$/+%", c) < 0 {
			b.WriteByte(c)
			continue
		}
		r, ok := byte(0), false
		if i++; i < len(data) {
			r, ok = single(c, data[i])
		}
		if !ok {
			return "", say.Errorf("Code 39: %q after character %d is no full ASCII pair", data[i-1:min(i+1, len(data))], i-1)
		}
		b.WriteByte(r)
	}
	return b.String(), nil
}

// single is the character that a pair stands for.
func single(shift, letter byte) (byte, bool) {
	for _, p := range pairs {
		if k := int(letter) - int(p.letter); p.shift == shift && k >= 0 && k < p.n {
			return p.first + byte(k), true
		}
	}
	return 0, false
}

// valueOf is the value, plus one, of each pattern written as nine bits, 1 wide.
var valueOf = func() (t [1 << elements]uint8) {
	for v, u := range units {
		t[symbol.Key(u)] = uint8(v + 1)
	}
	return t
}()
