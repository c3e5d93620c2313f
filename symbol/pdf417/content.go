package pdf417

import (
	"math/big"

	"unspool/say"
	"unspool/symbol/eci"
)

// content reads codewords, the length descriptor left out, into what they carry.
type content struct {
	eci.Message
	set int // the interpretation of what follows
	// Text compaction keeps its sub-mode over a byte that is shifted to.
	sub, shifted int
}

// read is what a row of codewords carries.
func read(words []int) (*content, error) {
	c := &content{set: eci.Default, shifted: -1}
	mode := toText
	for i := 0; i < len(words); {
		end := i
		for end < len(words) && words[end] < firstLatch {
			end++
		}
		if err := c.group(mode, words[i:end]); err != nil {
			return nil, say.Errorf("PDF417 codeword %d: %v", i+1, err)
		}
		if i = end; i == len(words) {
			break
		}
		n, err := c.function(&mode, words[i:])
		if err != nil {
			return nil, say.Errorf("PDF417 codeword %d: %v", i+1, err)
		}
		i += n
	}
	return c, nil
}

// group reads codewords of data in a mode.
func (c *content) group(mode int, words []int) error {
	switch mode {
	case toBytes:
		// Without toSixes some bytes are left over, and stand one a codeword.
		for ; len(words) > codesPerSix; words = words[codesPerSix:] {
			if err := c.six(words[:codesPerSix]); err != nil {
				return err
			}
		}
		for _, w := range words {
			if err := c.one(w); err != nil {
				return err
			}
		}
	case toSixes:
		if len(words)%codesPerSix != 0 {
			return say.Errorf("%d codewords are not groups of six bytes", len(words))
		}
		for ; len(words) > 0; words = words[codesPerSix:] {
			if err := c.six(words[:codesPerSix]); err != nil {
				return err
			}
		}
	case toNumbers:
		for len(words) > 0 {
			n := min(len(words), numberCodes)
			if err := c.digits(words[:n]); err != nil {
				return err
			}
			words = words[n:]
		}
	default:
		for _, w := range words {
			c.value(w / textValues)
			c.value(w % textValues)
		}
	}
	return nil
}

func (c *content) write(b ...byte) {
	c.Append(c.set, b...)
}

func (c *content) one(w int) error {
	if w > 0xff {
		return say.Errorf("%d is no byte", w)
	}
	c.write(byte(w))
	return nil
}

func (c *content) six(words []int) error {
	v := 0
	for _, w := range words {
		v = v*radix + w
	}
	if v >= 1<<48 {
		return say.Errorf("five codewords of it are not six bytes")
	}
	for shift := 40; shift >= 0; shift -= 8 {
		c.write(byte(v >> shift))
	}
	return nil
}

func (c *content) digits(words []int) error {
	v := new(big.Int)
	for _, w := range words {
		v.Mul(v, big.NewInt(radix)).Add(v, big.NewInt(int64(w)))
	}
	s := v.String()
	if s[0] != '1' {
		return say.Errorf("a group of it is not digits")
	}
	c.write([]byte(s[1:])...)
	return nil
}

// value reads one value of text compaction.
func (c *content) value(v int) {
	sub := c.sub
	if c.shifted >= 0 {
		sub, c.shifted = c.shifted, -1
	}
	switch b := subMode[sub][v]; b {
	case latchAlpha, latchLower, latchMixed, latchPunct:
		c.sub = int(b - latchAlpha)
	case shiftAlpha:
		c.shifted = alpha
	case shiftPunct:
		c.shifted = punct
	default:
		c.write(b)
	}
}

// function does what a codeword of 900 and more asks, and says how many
// codewords it took.
func (c *content) function(mode *int, words []int) (int, error) {
	c.shifted = -1 // a shift before it only filled a codeword up
	need := map[int]int{oneByte: 2, eciSet: 2, eciUser: 2, eciGeneral: 3}[words[0]]
	if len(words) < need {
		return 0, say.Errorf("the data end within function %d", words[0])
	}
	for _, w := range words[1:max(1, need)] {
		if w >= radix {
			return 0, say.Errorf("function %d stands within function %d", w, words[0])
		}
	}
	switch words[0] {
	case toText:
		*mode, c.sub = toText, alpha
	case toBytes, toSixes, toNumbers:
		*mode = words[0]
	case oneByte:
		if *mode != toText {
			return 0, say.Errorf("function %d stands outside text", oneByte)
		}
		return need, c.one(words[1])
	case eciSet:
		c.set = words[1]
		return need, nil
	case eciGeneral:
		c.set = radix*(words[1]+1) + words[2]
		return need, nil
	case eciUser:
		c.set = 810900 + words[1]
		return need, nil
	case fileMarker, fileField, fileBlock:
		return 0, say.Errorf("the symbol is part of a set (Macro PDF417), which is not read here")
	default:
		return 0, say.Errorf("function %d is reserved or for other kinds of symbols", words[0])
	}
	return 1, nil
}
