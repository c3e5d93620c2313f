package web

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"testing"
)

// laidOver is what over tells laid over the other plane, read as its description
// says, and what is left of the answer.
func laidOver(base, told []byte) (dots, rest []byte) {
	number := func() (n int) {
		n, told = int(binary.LittleEndian.Uint32(told)), told[4:]
		return n
	}
	n := number()
	rest = told[n:]
	dots = bytes.Clone(base)
	for at := 0; len(told) > len(rest); {
		at += number()
		n := number()
		if n&filled != 0 {
			n &^= filled
			copy(dots[at:], bytes.Repeat(told[:1], n))
			told = told[1:]
		} else {
			copy(dots[at:], told[:n])
			told = told[n:]
		}
		at += n
	}
	return dots, rest
}

func TestOver(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	for range 300 {
		base := make([]byte, rnd.IntN(400))
		for i := range base {
			base[i] = byte(rnd.IntN(3))
		}
		dots := bytes.Clone(base)
		for range rnd.IntN(6) {
			from := rnd.IntN(len(dots) + 1)
			to := from + rnd.IntN(len(dots)-from+1)
			fill := rnd.IntN(2) == 0
			for i := from; i < to; i++ {
				if dots[i] = 1; !fill {
					dots[i] = byte(rnd.IntN(256))
				}
			}
		}
		if got, rest := laidOver(base, over(base, dots)); !bytes.Equal(got, dots) || len(rest) != 0 {
			t.Fatalf("%v over %v gives %v", dots, base, got)
		}
	}
}

// Told over the card's own panels, a rule's are those told whole, in far fewer
// bytes; over panels that the bench does not hold they are told whole.
func TestRulePanelsOverOwn(t *testing.T) {
	b := bench(t)
	own := panelsAt(t, b, "/api/card/0/panels/front")
	for _, rule := range []string{"none", "exact", "dark", "objects", "zones", "all"} {
		at := "/api/card/0/rule-panels/front/" + rule
		want := panelsAt(t, b, at)
		head, rest := partsAt(t, b, fmt.Sprintf("%s?over=%d", at, own.head.Revision))
		if !head.Over || len(rest) > len(want.planes)*len(own.planes["k"])/3 {
			t.Errorf("%s: %v, %d bytes", rule, head.Over, len(rest))
		}
		for _, p := range head.Planes {
			var got []byte
			if got, rest = laidOver(own.planes[p], rest); !bytes.Equal(got, want.planes[p]) {
				t.Errorf("%s: other dots of %s", rule, p)
			}
		}
		if head, rest := partsAt(t, b, fmt.Sprintf("%s?over=%d", at, own.head.Revision+1)); head.Over || !bytes.HasPrefix(rest, want.planes["y"]) {
			t.Errorf("%s: not told whole over panels of another revision", rule)
		}
	}
}
