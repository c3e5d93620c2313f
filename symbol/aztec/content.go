package aztec

import (
	"slices"

	"unspool/say"
	"unspool/symbol/eci"
)

// content reads bits into what they carry.
type content struct {
	eci.Message
	bits   []int
	at     int
	set    int    // the interpretation of what follows
	marked string // what FNC1 in the first place says of the symbol
}

// read is what bits carry that codewords of some size held. A few ones at the end
// may only fill up the last codeword.
func read(bits []int, size int) (*content, error) {
	c := &content{bits: bits, set: eci.Default}
	for mode := upper; ; {
		start := c.at
		next, whole, err := c.value(mode, mode)
		if err != nil {
			return nil, err
		}
		if whole {
			mode = next
			continue
		}
		if rest := bits[start:]; len(rest) >= size || slices.Contains(rest, 0) {
			return nil, say.Errorf("Aztec Code: the data end within a character")
		}
		return c, nil
	}
}

// take is the next bits as a number, and false where there are not as many.
func (c *content) take(bits int) (v int, ok bool) {
	if c.at+bits > len(c.bits) {
		return 0, false
	}
	for range bits {
		v = v<<1 | c.bits[c.at]
		c.at++
	}
	return v, true
}

// value reads a value in a mode, and what it shifts to, and gives the mode that
// holds next, which is after but for a latch. whole is false where the bits end
// before that.
func (c *content) value(in, after int) (next int, whole bool, err error) {
	v, ok := c.take(width[in])
	if !ok {
		return after, false, nil
	}
	switch means := meaning[in][v]; means {
	case toUpper, toLower, toMixed, toPunct, toDigit:
		return int(means - toUpper), true, nil
	case shiftUpper:
		return c.value(upper, after)
	case shiftPunct:
		return c.value(punct, after)
	case shiftBytes:
		return after, c.binary(), nil
	case flag:
		whole, err = c.flag()
		return after, whole, err
	case pairReturn, pairStop, pairComma, pairColon:
		c.Append(c.set, []byte(pairs[means])...)
	default:
		c.Append(c.set, means)
	}
	return after, true, nil
}

// binary reads a binary shift.
func (c *content) binary() (whole bool) {
	n, ok := c.take(shortBits)
	if ok && n == 0 {
		n, ok = c.take(longBits)
		n += shortBytes
	}
	if !ok || c.at+8*n > len(c.bits) {
		return false
	}
	for range n {
		b, _ := c.take(8)
		c.Append(c.set, byte(b))
	}
	return true
}

// flag reads FLG(n): FNC1 or the number of an ECI. FNC1 in the first place marks
// the symbol; elsewhere it parts two fields and is passed on as GS.
func (c *content) flag() (whole bool, err error) {
	n, ok := c.take(flagBits)
	switch {
	case !ok:
		return false, nil
	case n == 0 && len(c.Data()) == 0:
		c.marked = ", FNC1 in first position"
		return true, nil
	case n == 0:
		c.Append(c.set, 0x1d)
		return true, nil
	case n == 7:
		return false, say.Errorf("Aztec Code: FLG(7) is reserved")
	}
	number := 0
	for range n {
		v, ok := c.take(width[digit])
		if !ok {
			return false, nil
		}
		d := meaning[digit][v]
		if d < '0' || d > '9' {
			return false, say.Errorf("Aztec Code: a character set is named by what is no digit")
		}
		number = number*10 + int(d-'0')
	}
	c.set = number
	return true, nil
}
