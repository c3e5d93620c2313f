package pdf417

import (
	"math/big"
	"slices"
)

// compact is the shortest row of codewords that carries data, beginning in text
// compaction, found by going through the data once with every state that the
// modes can be in. Of rows of equal length it is always the same one.
func compact(data []byte) []int {
	p := newPlan(len(data))
	for i, c := range data {
		p.settle(i)
		p.step(i, c)
	}
	return p.codewords(data)
}

// A state is a mode and how full its group of codewords is:
//   - text: the sub-mode, and whether one value of two is in the codeword begun;
//   - bytes: how many of a group of six;
//   - numbers: how many of a group of 44.
type state uint8

const (
	bytesState   = state(2 * subModes)
	numbersState = bytesState + 6
	states       = numbersState + numberGroup
	textStart    = state(0) // alpha, nothing begun
)

func textState(sub, half int) state { return state(2*sub + half) }

// move says how a state was come to.
type move struct {
	from   state
	kind   moveKind
	values [2]int8 // in text; -1 none
}

type moveKind uint8

const (
	unreached moveKind = iota
	// These take a character.
	textChar
	byteShift
	byteChar
	digitChar
	// These do not.
	textLatch // to another sub-mode
	modeText
	modeBytes
	modeNumbers
)

// plan holds, for each number of characters taken and each state, the fewest
// codewords to come there, and the move by which.
type plan struct {
	cost [][states]int32
	by   [][states]move
}

// Costs count codewords, and where those are equal, values of text: a latch that
// only fills a codeword up is not taken.
const (
	word  = 1 << 12
	value = 1
	never = 1 << 30
)

func newPlan(n int) *plan {
	p := &plan{make([][states]int32, n+1), make([][states]move, n+1)}
	for i := range p.cost {
		for s := range p.cost[i] {
			p.cost[i][s] = never
		}
	}
	p.cost[0][textStart] = 0
	return p
}

// reach notes a way to a state where it is shorter than what is known.
func (p *plan) reach(at int, to state, cost int32, m move) bool {
	if cost >= p.cost[at][to] {
		return false
	}
	p.cost[at][to], p.by[at][to] = cost, m
	return true
}

// half is the cost of one more text value: a codeword holds two.
func half(begun int) int32 { return int32(1-begun)*word + value }

// settle follows the latches, which take no character, from every state at i.
func (p *plan) settle(i int) {
	text, bytes, numbers := p.best(i, 0, bytesState), p.best(i, bytesState, numbersState), p.best(i, numbersState, states)
	latch := func(to state, kind moveKind, from ...state) {
		for _, s := range from {
			p.reach(i, to, p.cost[i][s]+word, move{from: s, kind: kind})
		}
	}
	latch(textStart, modeText, bytes, numbers)
	latch(bytesState, modeBytes, text, numbers)
	latch(numbersState, modeNumbers, text, bytes)
	for again := true; again; {
		again = false
		for s := range bytesState {
			if cost := p.cost[i][s]; cost < never {
				again = p.settleText(i, s, cost) || again
			}
		}
	}
}

// best is the cheapest of some states, the first of equals.
func (p *plan) best(i int, from, to state) state {
	best := from
	for s := from; s < to; s++ {
		if p.cost[i][s] < p.cost[i][best] {
			best = s
		}
	}
	return best
}

func (p *plan) settleText(i int, s state, cost int32) (changed bool) {
	sub, begun := int(s)/2, int(s)%2
	for _, l := range latches[sub] {
		m := move{s, textLatch, [2]int8{l.value, -1}}
		changed = p.reach(i, textState(l.to, 1-begun), cost+half(begun), m) || changed
	}
	return changed
}

// step takes character i from every state.
func (p *plan) step(i int, c byte) {
	for s := range states {
		cost := p.cost[i][s]
		switch {
		case cost >= never:
		case s < bytesState:
			p.stepText(i, s, c, cost)
		case s < numbersState:
			k := s - bytesState
			more := int32(word)
			if k == 5 {
				more = 0 // six bytes are five codewords
			}
			p.reach(i+1, bytesState+(k+1)%6, cost+more, move{from: s, kind: byteChar})
		case c >= '0' && c <= '9':
			// n digits are n/3+1 codewords.
			k := s - numbersState
			more := int32(0)
			if k == 0 || k%3 == 2 {
				more = word
			}
			p.reach(i+1, numbersState+(k+1)%numberGroup, cost+more, move{from: s, kind: digitChar})
		}
	}
}

func (p *plan) stepText(i int, s state, c byte, cost int32) {
	sub, begun := int(s)/2, int(s)%2
	if v := valueIn(sub, c); v >= 0 {
		p.reach(i+1, textState(sub, 1-begun), cost+half(begun), move{s, textChar, [2]int8{int8(v), -1}})
	}
	for _, shift := range shifts[sub] {
		if v := valueIn(shift.to, c); v >= 0 {
			p.reach(i+1, s, cost+word+2*value, move{s, textChar, [2]int8{shift.value, int8(v)}})
		}
	}
	after := textState(sub, 0)
	if sub == punct && begun == 1 {
		after = textStart // what fills the codeword up is a latch there
	}
	p.reach(i+1, after, cost+2*word, move{from: s, kind: byteShift})
}

// codewords follows the cheapest way back from the end, and writes it.
func (p *plan) codewords(data []byte) []int {
	at := len(data)
	s := p.best(at, 0, states)
	var way []move
	for at > 0 || s != textStart || p.by[at][s].kind != unreached {
		m := p.by[at][s]
		way = append(way, m)
		if m.kind < textLatch {
			at--
		}
		s = m.from
	}
	slices.Reverse(way)
	w := writer{}
	for _, m := range way {
		var c byte
		if m.kind < textLatch {
			c, data = data[0], data[1:]
		}
		w.take(m, c)
	}
	w.flush()
	return w.out
}

// writer turns moves into codewords, collecting what goes into one group.
type writer struct {
	out    []int
	values []int  // of text
	bytes  []byte // of the byte or numeric mode that holds
	digits bool   // numeric
}

func (w *writer) take(m move, c byte) {
	switch m.kind {
	case textChar, textLatch:
		for _, v := range m.values {
			if v >= 0 {
				w.values = append(w.values, int(v))
			}
		}
	case byteShift:
		w.flush()
		w.out = append(w.out, oneByte, int(c))
	case byteChar, digitChar:
		w.bytes = append(w.bytes, c)
	case modeText:
		w.flush()
		w.out = append(w.out, toText)
	case modeBytes, modeNumbers:
		w.flush()
		w.digits = m.kind == modeNumbers
	}
}

// flush writes what is collected, with the latch of its mode.
func (w *writer) flush() {
	if len(w.values)%2 == 1 {
		w.values = append(w.values, textPad)
	}
	for i := 0; i < len(w.values); i += 2 {
		w.out = append(w.out, w.values[i]*textValues+w.values[i+1])
	}
	switch {
	case len(w.bytes) == 0:
	case w.digits:
		w.out = append(append(w.out, toNumbers), numbers(w.bytes)...)
	case len(w.bytes)%6 == 0:
		w.out = append(append(w.out, toSixes), sixes(w.bytes)...)
	default:
		w.out = append(append(w.out, toBytes), sixes(w.bytes)...)
	}
	w.values, w.bytes = nil, nil
}

// sixes writes six bytes as five codewords, and the rest one each.
func sixes(b []byte) (out []int) {
	for ; len(b) >= 6; b = b[6:] {
		v := 0
		for _, c := range b[:6] {
			v = v<<8 | int(c)
		}
		var five [codesPerSix]int
		for i := codesPerSix - 1; i >= 0; i-- {
			five[i], v = v%radix, v/radix
		}
		out = append(out, five[:]...)
	}
	for _, c := range b {
		out = append(out, int(c))
	}
	return out
}

// numbers writes groups of up to 44 digits, each with a 1 before it, as numbers
// to the base of 900.
func numbers(digits []byte) (out []int) {
	for len(digits) > 0 {
		n := min(len(digits), numberGroup)
		v, _ := new(big.Int).SetString("1"+string(digits[:n]), 10)
		group, rest := make([]int, n/3+1), new(big.Int)
		for i := len(group) - 1; i >= 0; i-- {
			v.QuoRem(v, big.NewInt(radix), rest)
			group[i] = int(rest.Int64())
		}
		out, digits = append(out, group...), digits[n:]
	}
	return out
}
