package qr

import (
	"fmt"

	"unspool/say"
	"unspool/symbol/eci"
)

// What Spec adds where FNC1 says that the data follows another standard.
const (
	firstPosition  = ", FNC1 in first position (GS1)"
	secondPosition = ", FNC1 in second position, application "
)

// content is what a symbol carries.
type content struct {
	eci.Message
	fnc1 string
}

// bitReader reads codewords of eight bits, from the highest.
type bitReader struct {
	words []int
	at    int
}

func (b *bitReader) left() int { return 8*len(b.words) - b.at }

// take is the next n bits, and false where there are fewer.
func (b *bitReader) take(n int) (int, bool) {
	if n > b.left() {
		return 0, false
	}
	v := 0
	for range n {
		v = v<<1 | b.words[b.at/8]>>(7-b.at%8)&1
		b.at++
	}
	return v, true
}

var errShort = say.Errorf("QR code: the data ends within a segment")

// parse reads data codewords segment by segment. ISO/IEC 18004 7.4.
func parse(words []int, span int) (*content, error) {
	c, b, number := &content{}, &bitReader{words: words}, eci.Default
	for b.left() >= indicatorIs {
		is, _ := b.take(indicatorIs)
		ok := true
		switch is {
		case terminator:
			return c, nil
		case indicator[numeric], indicator[alphanumeric], indicator[bytewise], indicator[kanji]:
			if err := c.segment(b, is, span, number); err != nil {
				return nil, err
			}
		case eciMode:
			number, ok = designator(b)
		case fnc1First:
			c.fnc1 = firstPosition
		case fnc1Second:
			var v int
			v, ok = b.take(8)
			c.fnc1 = secondPosition + application(v)
		case structured:
			return nil, say.Errorf("QR code: this symbol is one of several that make up a message (structured append), which are not read here")
		default:
			return nil, say.Errorf("QR code: %04b names no mode", is)
		}
		if !ok {
			return nil, errShort
		}
	}
	return c, nil
}

// application is the indicator of FNC1 in second position: two digits, or a
// letter as its code and 100.
func application(v int) string {
	if v < 100 {
		return fmt.Sprintf("%02d", v)
	}
	return fmt.Sprintf("%q", rune(v-100))
}

// designator reads the number of an interpretation. ISO/IEC 18004 Table 4.
func designator(b *bitReader) (int, bool) {
	first, ok := b.take(8)
	switch {
	case !ok:
		return 0, false
	case first < 0x80:
		return first, true
	case first < 0xC0:
		rest, ok := b.take(8)
		return first&0x3F<<8 | rest, ok
	case first < 0xE0:
		rest, ok := b.take(16)
		return first&0x1F<<16 | rest, ok
	}
	return 0, false
}

// segment reads one segment of data.
func (c *content) segment(b *bitReader, is, span, number int) error {
	m := mode(0)
	for indicator[m] != is {
		m++
	}
	n, ok := b.take(counts[m][span])
	if !ok {
		return errShort
	}
	switch m {
	case numeric:
		return c.digits(b, n, number)
	case alphanumeric:
		return c.alphanumeric(b, n, number)
	case bytewise:
		for range n {
			v, ok := b.take(8)
			if !ok {
				return errShort
			}
			c.Append(number, byte(v))
		}
	case kanji:
		return c.kanji(b, n)
	}
	return nil
}

func (c *content) digits(b *bitReader, n, number int) error {
	for n > 0 {
		group := min(n, 3)
		v, ok := b.take([...]int{0, 4, 7, 10}[group])
		if !ok {
			return errShort
		}
		s := fmt.Sprintf("%0*d", group, v)
		if len(s) != group {
			return say.Errorf("QR code: %d stands where %d digits should", v, group)
		}
		c.Append(number, []byte(s)...)
		n -= group
	}
	return nil
}

func (c *content) alphanumeric(b *bitReader, n, number int) error {
	var text []byte
	for n > 0 {
		group := min(n, 2)
		v, ok := b.take([...]int{0, 6, 11}[group])
		if !ok {
			return errShort
		}
		if v >= 45*45 || group == 1 && v >= 45 {
			return say.Errorf("QR code: %d stands where alphanumeric characters should", v)
		}
		if group == 2 {
			text = append(text, characters[v/45])
		}
		text = append(text, characters[v%45])
		n -= group
	}
	for i := 0; i < len(text); i++ {
		if c.fnc1 != "" && text[i] == '%' {
			if i+1 < len(text) && text[i+1] == '%' {
				i++ // a doubled % is one
			} else {
				text[i] = gs
			}
		}
		c.Append(number, text[i])
	}
	return nil
}

// kanji reads characters of 13 bits as Shift JIS. ISO/IEC 18004 7.4.6.
func (c *content) kanji(b *bitReader, n int) error {
	for range n {
		v, ok := b.take(13)
		if !ok {
			return errShort
		}
		v = v/0xC0<<8 + v%0xC0
		if v += 0x8140; v > 0x9FFC {
			v += 0xC140 - 0x8140
		}
		c.Append(eci.ShiftJIS, byte(v>>8), byte(v))
	}
	return nil
}
