package datamatrix

import (
	"unspool/say"
	"unspool/symbol/eci"
)

// What Spec adds where FNC1 says that the data follows another standard.
const (
	firstPosition  = ", FNC1 in first position (GS1)"
	secondPosition = ", FNC1 in second position"
)

// content is what a symbol carries, as it is read.
type content struct {
	eci.Message
	fnc1   string
	words  []int
	at     int // the next codeword
	number int // of the interpretation in force
}

var errShort = say.Errorf("Data Matrix: the data ends within a character")

func (c *content) put(b ...byte) { c.Append(c.number, b...) }

func (c *content) left() int { return len(c.words) - c.at }

// next is the next codeword; the caller knows that there is one.
func (c *content) next() int {
	c.at++
	return c.words[c.at-1]
}

// parse reads data codewords from the ASCII scheme on. ISO/IEC 16022 5.2.
func parse(words []int) (*content, error) {
	c := &content{words: words, number: eci.Default}
	tail := ""
	for c.left() > 0 {
		w := c.next()
		var err error
		switch {
		case w == pad:
			c.put([]byte(tail)...)
			return c, nil
		case w >= 1 && w <= 128:
			c.put(byte(w - 1))
		case w >= pairs && w < toC40:
			c.put('0'+byte(w-pairs)/10, '0'+byte(w-pairs)%10)
		case w == fnc1:
			c.function()
		case (w == macro05 || w == macro06) && c.at == 1:
			c.put([]byte(map[int]string{macro05: head05, macro06: head06}[w])...)
			tail = macroTail
		case w == upperShift:
			err = c.upper()
		case w == eciWord:
			err = c.interpretation()
		case w == unlatch && c.left() == 0: // some encoders end so
		case w == structured:
			err = say.Errorf("Data Matrix: this symbol is one of several that make up a message (structured append), which are not read here")
		case w == programs:
			err = say.Errorf("Data Matrix: this symbol sets up a reader and carries no message")
		default:
			err = c.scheme(w)
		}
		if err != nil {
			return nil, err
		}
	}
	c.put([]byte(tail)...)
	return c, nil
}

// scheme reads as far as the scheme goes that a codeword leads to.
func (c *content) scheme(w int) error {
	switch w {
	case toC40:
		return c.shifted(c40)
	case toText:
		return c.shifted(text)
	case toX12:
		return c.x12()
	case toEDIFACT:
		c.edifact()
		return nil
	case toBase256:
		return c.base256()
	}
	return say.Errorf("Data Matrix: codeword %d, number %d, means nothing there", w, c.at)
}

// function reads FNC1: in the first place, or in the second after a letter or two
// digits, it says what the data is; elsewhere it separates fields.
func (c *content) function() {
	first := c.words[0] - 1
	letter := first >= 'A' && first <= 'Z' || first >= 'a' && first <= 'z'
	switch {
	case c.at == 1:
		c.fnc1 = firstPosition
	case c.at == 2 && (letter || first+1 >= pairs && first+1 < toC40):
		c.fnc1 = secondPosition
	default:
		c.put(gs)
	}
}

func (c *content) upper() error {
	if c.left() == 0 {
		return errShort
	}
	w := c.next()
	if w < 1 || w > 128 {
		return say.Errorf("Data Matrix: codeword %d, number %d, is no character to shift", w, c.at)
	}
	c.put(byte(w - 1 + 0x80))
	return nil
}

// interpretation reads the number of an ECI. ISO/IEC 16022 Table 6.
func (c *content) interpretation() error {
	var w [3]int
	n := 1
	for i := 0; i < n; i++ {
		if c.left() == 0 {
			return errShort
		}
		w[i] = c.next()
		if i == 0 && w[0] > 127 {
			n = 2 + (w[0]-128)/64
		}
		if w[i] < 1 || w[i] > 254 || w[0] > 207 {
			return say.Errorf("Data Matrix: codeword %d, number %d, is no part of an interpretation's number", w[i], c.at)
		}
	}
	switch n {
	case 1:
		c.number = w[0] - 1
	case 2:
		c.number = (w[0]-128)*254 + w[1] - 1 + 127
	default:
		c.number = (w[0]-192)*64516 + (w[1]-1)*254 + w[2] - 1 + 16383
	}
	return nil
}

// triple is the next three values of C40, Text or X12, and false where the scheme
// ends: at the unlatch, or where fewer than two codewords are left.
func (c *content) triple() (values [3]int, ok bool, err error) {
	if c.left() < 2 {
		return values, false, nil
	}
	first := c.next()
	if first == unlatch {
		return values, false, nil
	}
	v := first<<8 + c.next() - 1
	values = [3]int{v / 1600, v / 40 % 40, v % 40}
	if v < 0 || values[0] >= 40 {
		return values, false, say.Errorf("Data Matrix: codewords %d and %d, number %d, are no three values", first, v+1-first<<8, c.at-1)
	}
	return values, true, nil
}

// shifted reads C40 or Text.
func (c *content) shifted(m mode) error {
	const basic = -1
	set, upper := basic, byte(0)
	for {
		values, ok, err := c.triple()
		if !ok {
			return err
		}
		for _, v := range values {
			switch {
			case set == basic && v <= shift3:
				set = v
				continue
			case set == shift2 && v == upperInSet2:
				set, upper = basic, 0x80
				continue
			case set == shift2 && v == fnc1InSet2:
				c.put(gs)
			default:
				char, ok := m.char(set, v)
				if !ok {
					return say.Errorf("Data Matrix: value %d of set %d, before codeword number %d, is none", v, set, c.at+1)
				}
				c.put(char + upper)
			}
			set, upper = basic, 0
		}
	}
}

// char is the character of a value in a set of C40 or Text, -1 the basic one.
func (m mode) char(set, v int) (byte, bool) {
	in, set3 := m.sets()
	switch set {
	case shift1:
		return byte(v), v < ' '
	case shift2:
		in = set2
	case shift3:
		in = set3
	}
	if v >= len(in) {
		return 0, false
	}
	return in[v], true
}

func (c *content) x12() error {
	for {
		values, ok, err := c.triple()
		if !ok {
			return err
		}
		for _, v := range values {
			c.put(ofX12[v])
		}
	}
}

// edifact reads groups of four characters as long as there is room for one.
func (c *content) edifact() {
	for c.left() >= 3 {
		v := c.words[c.at]<<16 | c.words[c.at+1]<<8 | c.words[c.at+2]
		for i := range 4 {
			six := v >> (18 - 6*i) & 0x3F
			if six == unlatchEDIFACT {
				c.at += (6*i + 6 + 7) / 8
				return
			}
			if six < ' ' {
				six += 0x40
			}
			c.put(byte(six))
		}
		c.at += 3
	}
}

func (c *content) base256() error {
	if c.left() == 0 {
		return errShort
	}
	n := plain(c.next(), c.at)
	switch {
	case n == 0:
		n = c.left()
	case n > shortField && c.left() == 0:
		return errShort
	case n > shortField:
		n = (n-249)*250 + plain(c.next(), c.at)
	}
	if n > c.left() {
		return say.Errorf("Data Matrix: a field of %d bytes stands where %d codewords are left", n, c.left())
	}
	for range n {
		c.put(byte(plain(c.next(), c.at)))
	}
	return nil
}
