package aztec

import (
	"slices"
	"strconv"

	"unspool/symbol/eci"
)

// pack is the shortest row of bits that carries data, one bit an int, found by
// going through the data once with every mode that holds and every length of a
// binary shift. Of rows of equal length it is always the same one.
func pack(data []byte, number int) []int {
	p := newPlan(len(data))
	for i := range data {
		p.settle(i)
		p.step(i, data)
	}
	p.settle(len(data))
	var w bitWriter
	if number != eci.Default {
		w.eci(number)
	}
	p.write(&w, data)
	return w.bits
}

// A state is a mode, or a binary shift begun in one of the first three modes, with
// the bytes it has so far, up to one more than fit the short length.
type state uint8

const (
	binaries = shortBytes + 1
	states   = state(modes + 3*binaries)
	begin    = state(upper)
)

func binaryState(mode, bytes int) state {
	return state(modes + mode*binaries + min(bytes, binaries) - 1)
}

// move says how a state was come to: from which, taking how many characters, by
// which values. A value below 0 is none.
type move struct {
	from  state
	takes int8
	put   [2]put
	known bool
}

// put is a value in a mode.
type put struct{ mode, value int8 }

var none = put{value: -1}

// plan holds, for each number of characters taken and each state, the fewest bits
// to come there, and the move by which.
type plan struct {
	cost [][states]int32
	by   [][states]move
}

const never = 1 << 30

func newPlan(n int) *plan {
	p := &plan{make([][states]int32, n+1), make([][states]move, n+1)}
	for i := range p.cost {
		for s := range p.cost[i] {
			p.cost[i][s] = never
		}
	}
	p.cost[0][begin] = 0
	return p
}

// reach notes a way to a state where it is shorter than what is known.
func (p *plan) reach(i int, to state, bits int, m move) bool {
	cost := p.cost[i][m.from] + int32(bits)
	if cost >= p.cost[i+int(m.takes)][to] {
		return false
	}
	m.known = true
	p.cost[i+int(m.takes)][to], p.by[i+int(m.takes)][to] = cost, m
	return true
}

// settle follows what takes no character from every state at i: the end of a
// binary shift, and latches.
func (p *plan) settle(i int) {
	for s := state(modes); s < states; s++ {
		if p.cost[i][s] < never {
			p.reach(i, state((s-modes)/binaries), 0, move{from: s, put: [2]put{none, none}})
		}
	}
	for again := true; again; {
		again = false
		for from := range modes {
			if p.cost[i][from] >= never {
				continue
			}
			for to := range modes {
				if v := valueOf(from, toUpper+byte(to)); v >= 0 {
					m := move{from: state(from), put: [2]put{{int8(from), int8(v)}, none}}
					again = p.reach(i, state(to), width[from], m) || again
				}
			}
		}
	}
}

// step takes character i, or it and the next, from every state.
func (p *plan) step(i int, data []byte) {
	for mode := range modes {
		if p.cost[i][mode] >= never {
			continue
		}
		p.text(i, mode, data)
		if valueOf(mode, shiftBytes) >= 0 {
			p.reach(i, binaryState(mode, 1), width[mode]+shortBits+8, move{from: state(mode), takes: 1, put: [2]put{none, none}})
		}
	}
	for s := state(modes); s < states; s++ {
		if p.cost[i][s] >= never {
			continue
		}
		mode, bytes := int(s-modes)/binaries, int(s-modes)%binaries+1
		bits := 8
		if bytes == shortBytes {
			bits += longBits
		}
		p.reach(i, binaryState(mode, bytes+1), bits, move{from: s, takes: 1, put: [2]put{none, none}})
	}
}

// text takes characters by a value of the mode, or of one that it shifts to.
func (p *plan) text(i, mode int, data []byte) {
	p.value(i, mode, mode, none, data)
	if v := valueOf(mode, shiftPunct); v >= 0 {
		p.value(i, mode, punct, put{int8(mode), int8(v)}, data)
	}
	if v := valueOf(mode, shiftUpper); v >= 0 {
		p.value(i, mode, upper, put{int8(mode), int8(v)}, data)
	}
}

func (p *plan) value(i, mode, in int, shift put, data []byte) {
	bits := width[in]
	if shift != none {
		bits += width[shift.mode]
	}
	if v := valueOf(in, data[i]); v >= 0 && data[i] < toUpper {
		p.reach(i, state(mode), bits, move{state(mode), 1, [2]put{shift, {int8(in), int8(v)}}, true})
	}
	if in != punct || i+1 == len(data) {
		return
	}
	for _, pair := range []byte{pairReturn, pairStop, pairComma, pairColon} {
		if pairs[pair] == string(data[i:i+2]) {
			p.reach(i, state(mode), bits, move{state(mode), 2, [2]put{shift, {punct, int8(valueOf(punct, pair))}}, true})
		}
	}
}

// write follows the cheapest way back from the end, and writes it.
func (p *plan) write(w *bitWriter, data []byte) {
	at, s := len(data), begin
	for t := range states {
		if p.cost[at][t] < p.cost[at][s] {
			s = t
		}
	}
	var way []move
	var to []state
	for p.by[at][s].known {
		m := p.by[at][s]
		way, to = append(way, m), append(to, s)
		at, s = at-int(m.takes), m.from
	}
	slices.Reverse(way)
	slices.Reverse(to)
	for i, m := range way {
		for _, v := range m.put {
			if v != none {
				w.put(int(v.value), width[v.mode])
			}
		}
		if to[i] >= modes {
			w.bytes = append(w.bytes, data[0])
		}
		if end := i+1 == len(way) || to[i+1] < modes; end && to[i] >= modes {
			w.binary(int(to[i]-modes) / binaries)
		}
		data = data[m.takes:]
	}
}

// bitWriter collects bits, highest first.
type bitWriter struct {
	bits  []int
	bytes []byte // of a binary shift
}

func (w *bitWriter) put(v, bits int) {
	for i := bits - 1; i >= 0; i-- {
		w.bits = append(w.bits, v>>i&1)
	}
}

// binary writes the bytes collected as a binary shift out of a mode.
func (w *bitWriter) binary(mode int) {
	for len(w.bytes) > 0 {
		n := min(len(w.bytes), longBytes)
		w.put(valueOf(mode, shiftBytes), width[mode])
		if n <= shortBytes {
			w.put(n, shortBits)
		} else {
			w.put(0, shortBits)
			w.put(n-shortBytes, longBits)
		}
		for _, c := range w.bytes[:n] {
			w.put(int(c), 8)
		}
		w.bytes = w.bytes[n:]
	}
}

// eci names an interpretation, from the upper mode: FLG(n) and n digits.
func (w *bitWriter) eci(number int) {
	digits := strconv.Itoa(number)
	w.put(valueOf(upper, shiftPunct), width[upper])
	w.put(valueOf(punct, flag), width[punct])
	w.put(len(digits), flagBits)
	for i := range len(digits) {
		w.put(valueOf(digit, digits[i]), width[digit])
	}
}
