package pdf417

// ballot weighs what was read of each codeword.
type ballot [][]vote

type vote struct {
	codeword int
	weight   float64
}

func newBallot(n int) ballot { return make(ballot, n) }

// faint is what a reading without any margin still weighs.
const faint = 0.01

func (b ballot) add(at, codeword int, margin float64) {
	for i := range b[at] {
		if b[at][i].codeword == codeword {
			b[at][i].weight += margin + faint
			return
		}
	}
	b[at] = append(b[at], vote{codeword, margin + faint})
}

// result is the weightiest reading of each codeword. Without one, or with two of
// the same weight, it is an erasure.
func (b ballot) result() (words, erased []int) {
	words = make([]int, len(b))
	for at, all := range b {
		best, even := vote{}, true
		for _, v := range all {
			switch {
			case v.weight > best.weight:
				best, even = v, false
			case v.weight == best.weight:
				even = true
			}
		}
		if words[at] = best.codeword; even {
			erased = append(erased, at)
		}
	}
	return words, erased
}
