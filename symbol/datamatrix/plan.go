package datamatrix

import "slices"

// The encoder finds, for a symbol of so many data codewords, the fewest codewords
// that carry the data, by going through it once and knowing for each state the
// cheapest way there. A state is a mode and how far the group of characters that
// the mode packs together has come: three values make two codewords in C40, Text
// and X12, four make three in EDIFACT. All modes are entered from ASCII and left
// to it, at the places and by the rules of ISO/IEC 16022 5.2, some of which depend
// on how many codewords are left in the symbol.

// state is a mode and its phase.
type state uint8

const (
	inASCII   state = 0
	inC40     state = 1 // and 2, 3 by the values that wait
	inText    state = 4
	inX12     state = 7
	inEdifact state = 10 // and 11, 12, 13 by the characters that wait
	inBase256 state = 14
	states          = 15
)

var modeOf = [states]mode{ascii, c40, c40, c40, text, text, text, x12, x12, x12, edifact, edifact, edifact, edifact, base256}

var firstOf = [...]state{ascii: inASCII, c40: inC40, text: inText, x12: inX12, edifact: inEdifact, base256: inBase256}

// step is the cheapest way known to a state at a place in the data.
type step struct {
	cost   int32 // codewords up to here
	run    int32 // bytes of this Base 256 field
	from   state
	back   uint8 // how many characters before: 0 is a change of mode there
	silent bool  // the change out of a mode that needs no codeword
	toEnd  bool  // the change out of Base 256 that goes to the end of the symbol
}

const never = 1 << 30

// plan is the steps at each place in the data; capacity is how many codewords
// there are for it.
type plan struct {
	data     string
	gs1      bool
	values   [3][]uint8 // how many values each character is in C40, Text and X12
	capacity int32
	at       [][states]step
}

func newPlan(data string, gs1 bool) *plan {
	p := &plan{data: data, gs1: gs1, at: make([][states]step, len(data)+1)}
	for m := c40; m <= x12; m++ {
		counts := make([]uint8, len(data))
		for i := range counts {
			counts[i] = uint8(len(m.values(data[i], gs1)))
		}
		p.values[m-c40] = counts
	}
	return p
}

// solve finds the steps for a symbol of so many codewords, and says whether the
// data fits.
func (p *plan) solve(capacity int) bool {
	n := len(p.data)
	p.capacity = int32(capacity)
	for i := range p.at {
		for s := range p.at[i] {
			p.at[i][s] = step{cost: never}
		}
	}
	p.at[0][inASCII].cost = 0
	for i := range n {
		p.leave(i)
		p.enter(i)
		p.ascii(i)
		for _, m := range []mode{c40, text, x12} {
			p.triples(i, m)
		}
		p.edifact(i)
		p.base256(i)
	}
	p.leave(n)
	return p.at[n][inASCII].cost <= p.capacity
}

// reach takes a step where it is cheaper than what is known.
func (p *plan) reach(i int, to state, s step) {
	if s.cost < p.at[i][to].cost && s.cost <= p.capacity+1 { // one that Base 256 may yet save
		p.at[i][to] = s
	}
}

// leave goes from each mode back to ASCII at a place, where its group is whole,
// and at the end of the data also where it need not be.
func (p *plan) leave(i int) {
	end := i == len(p.data)
	for _, s := range []state{inC40, inText, inX12} {
		at := p.at[i][s]
		left := p.capacity - at.cost
		// One codeword left for one character that is one value is ASCII, told by
		// nothing; so is nothing left.
		last := left == 1 && i == len(p.data)-1 && p.values[modeOf[s]-c40][i] == 1
		if last || end && left == 0 {
			p.reach(i, inASCII, step{cost: at.cost, from: s, silent: true})
		} else {
			p.reach(i, inASCII, step{cost: at.cost + 1, from: s})
		}
	}
	for _, s := range []state{inC40 + 2, inText + 2} {
		// Two values at the very end are filled up with a shift.
		if at := p.at[i][s]; end && at.cost+2 == p.capacity {
			p.reach(i, inASCII, step{cost: at.cost + 2, from: s})
		}
	}
	for phase := range state(4) {
		at := p.at[i][inEdifact+phase]
		switch left := p.capacity - at.cost; {
		case phase == 0 && left <= 2: // no room for a group: ASCII, told by nothing
			p.reach(i, inASCII, step{cost: at.cost, from: inEdifact, silent: true})
		case phase == 3: // the unlatch fills the group
			p.reach(i, inASCII, step{cost: at.cost, from: inEdifact + phase})
		default:
			p.reach(i, inASCII, step{cost: at.cost + 1, from: inEdifact + phase})
		}
	}
	at := p.at[i][inBase256]
	p.reach(i, inASCII, step{cost: at.cost, from: inBase256, silent: true})
	if end && at.run > shortField && at.cost-1 == p.capacity {
		p.reach(i, inASCII, step{cost: at.cost - 1, from: inBase256, toEnd: true})
	}
}

// enter goes from ASCII to each other mode.
func (p *plan) enter(i int) {
	cost := p.at[i][inASCII].cost + 1
	for _, s := range []state{inC40, inText, inX12, inEdifact} {
		p.reach(i, s, step{cost: cost, from: inASCII})
	}
	p.reach(i, inBase256, step{cost: cost + 1, from: inASCII}) // and the length
}

func (p *plan) ascii(i int) {
	cost := p.at[i][inASCII].cost
	p.reach(i+1, inASCII, step{cost: cost + int32(len(asciiWords(p.data[i], p.gs1))), from: inASCII, back: 1})
	if digitPair(p.data[i:]) {
		p.reach(i+2, inASCII, step{cost: cost + 1, from: inASCII, back: 2})
	}
}

// triples goes on by a character in C40, Text or X12.
func (p *plan) triples(i int, m mode) {
	values := int(p.values[m-c40][i])
	if values == 0 {
		return
	}
	for phase := range 3 {
		from := firstOf[m] + state(phase)
		cost := p.at[i][from].cost + 2*int32((phase+values)/3)
		p.reach(i+1, firstOf[m]+state((phase+values)%3), step{cost: cost, from: from, back: 1})
	}
}

// edifact goes on by a character in EDIFACT, of which a group must have room.
func (p *plan) edifact(i int) {
	if !inEDIFACT(p.data[i]) {
		return
	}
	for phase := range state(4) {
		from := inEdifact + phase
		cost := p.at[i][from].cost
		if phase == 0 && cost+3 > p.capacity {
			continue
		}
		if phase < 3 {
			cost++ // 6, 12, 18 and 24 bits take 1, 2, 3 and 3 codewords
		}
		p.reach(i+1, inEdifact+(phase+1)%4, step{cost: cost, from: from, back: 1})
	}
}

// A field of Base 256 tells its length in one codeword up to 249 and in two up to
// 1555; one that goes to the end of the symbol may say so with a single 0.
// ISO/IEC 16022 5.2.9.1.
const (
	shortField = 249
	longField  = 1555
)

func (p *plan) base256(i int) {
	at := p.at[i][inBase256]
	cost := at.cost + 1
	switch at.run {
	case shortField:
		cost++
	case longField:
		return
	}
	p.reach(i+1, inBase256, step{cost: cost, run: at.run + 1, from: inBase256, back: 1})
}

// path is the steps from the start to the end, each with where it leads.
func (p *plan) path() (steps []step, to []state) {
	s := inASCII
	for i := len(p.data); i > 0 || s != inASCII; {
		x := p.at[i][s]
		steps, to = append(steps, x), append(to, s)
		i, s = i-int(x.back), x.from
	}
	slices.Reverse(steps)
	slices.Reverse(to)
	return steps, to
}
