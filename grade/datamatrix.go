package grade

import "unspool/symbol"

// Clock tracks of Data Matrix and the solid lines along them. The shares are as
// github.com/bashrc2/datamatrix grades by them (read), the ratios of transitions
// from memory (ISO/IEC 16022:2006 Annex M). All of them must be stayed below, not
// reached, so each is smaller by what scale forgives.
var (
	clockShares      = below([4]float64{0.10, 0.15, 0.20, 0.25})
	transitionRatios = below([4]float64{0.06, 0.08, 0.10, 0.12})
)

func below(limits [4]float64) [4]float64 {
	for i := range limits {
		limits[i] -= 2 * sampleError
	}
	return limits
}

// square is a Data Matrix symbol seen so that its L stands on the left and below:
// u counts from the upright leg, v from the lying one. Turned or mirrored symbols
// come to the same, as the L and what faces it are alike both ways.
type square struct {
	*sampled
	fromRight, fromTop bool
}

func (q *square) xy(u, v int) (x, y int) {
	x, y = u, q.m.H-1-v
	if q.fromRight {
		x = q.m.W - 1 - u
	}
	if q.fromTop {
		y = v
	}
	return x, y
}

// add adds a module to a pattern; one outside the symbol is quiet.
func (q *square) add(p *pattern, u, v int) {
	x, y := q.xy(u, v)
	if u < 0 || v < 0 || u >= q.m.W || v >= q.m.H {
		p.quiet(q.m, x, y, x+1, y+1)
		return
	}
	p.at, p.dark = append(p.at, q.m.at(x, y)), append(p.dark, q.r.Truth.At(x, y))
}

// dataMatrix are the segments of Data Matrix: both legs of the L, the quiet zone
// along each, its corner included, and, as one, every data region's clock tracks
// with the solid line or quiet zone along them (ISO/IEC 16022:2006 Annex M, from
// memory). They are found in the symbol itself: its L is dark throughout, and a
// row or column between regions belongs to no codeword.
func (s *sampled) dataMatrix() (groups []group) {
	q := &square{sampled: s}
	q.fromRight = !s.column(0) && s.column(s.m.W-1)
	q.fromTop = !s.row(s.m.H-1) && s.row(0)
	l1, l2 := pattern{name: "L1", rule: byShare(plainShares)}, pattern{name: "L2", rule: byShare(plainShares)}
	quiet1, quiet2 := pattern{name: "QZL1", rule: byShare(plainShares)}, pattern{name: "QZL2", rule: byShare(plainShares)}
	q.add(&quiet2, -1, -1)
	for v := -1; v < s.m.H; v++ {
		q.add(&quiet1, -1, v)
		if v >= 0 {
			q.add(&l1, 0, v)
		}
	}
	for u := range s.m.W {
		q.add(&l2, u, 0)
		q.add(&quiet2, u, -1)
	}
	for _, p := range []pattern{l1, l2, quiet1, quiet2} {
		if len(p.at) > 0 {
			groups = append(groups, group{patterns: []pattern{p}})
		}
	}
	return append(groups, group{patterns: q.tracks()})
}

// column and row say whether one is dark throughout.
func (s *sampled) column(x int) bool {
	for y := range s.m.H {
		if !s.r.Truth.At(x, y) {
			return false
		}
	}
	return true
}

func (s *sampled) row(y int) bool {
	for x := range s.m.W {
		if !s.r.Truth.At(x, y) {
			return false
		}
	}
	return true
}

// tracks are the clock tracks of every data region.
func (q *square) tracks() (all []pattern) {
	us := regions(q.m.W, func(u int) bool { return q.carries(u, -1) })
	vs := regions(q.m.H, func(v int) bool { return q.carries(-1, v) })
	for _, v := range vs {
		for _, u := range us {
			across, down := pattern{name: "clock track across"}, pattern{name: "clock track down"}
			for _, beside := range []int{0, 1} { // the track, and what lies along it
				for i := u.from; i < u.to; i++ {
					q.add(&across, i, v.to-1+beside)
				}
				for i := v.from; i < v.to; i++ {
					q.add(&down, u.to-1+beside, i)
				}
			}
			across.rule, down.rule = track(across.dark, u.len()), track(down.dark, v.len())
			all = append(all, across, down)
		}
	}
	return all
}

// carries says whether a column u or row v, the other being -1, has a module of
// a codeword.
func (q *square) carries(u, v int) bool {
	for i := range max(q.m.W, q.m.H) {
		x, y := q.xy(max(u, 0), max(v, 0))
		if u < 0 {
			x = i
		} else {
			y = i
		}
		if x < q.m.W && y < q.m.H && q.r.Of[y*q.m.W+x] != symbol.NoCodeword {
			return true
		}
	}
	return false
}

// regions cuts n lines where one carries nothing: each region has its leg before
// and its track behind what it carries.
func regions(n int, carries func(int) bool) (all []span) {
	from := -1
	for i := range n {
		switch on := carries(i); {
		case on && from < 0:
			from = max(i-1, 0)
		case !on && from >= 0:
			all, from = append(all, span{from, i + 1}), -1
		}
	}
	return all
}

func (s span) len() int { return s.to - s.from }

// track is the rule of a clock track of n modules and the solid line along it, n
// more: few transitions along the solid line for those along the track, no more
// than two of any five modules of the track damaged, and few of all of either.
func track(dark []bool, n int) rule {
	share := byShare(clockShares)
	return func(bad []bool) int {
		clock, solid := bad[:n], bad[min(n, len(bad)):]
		along, beside := transitions(dark[:n], clock), transitions(dark[min(n, len(bad)):], solid)
		grade := min(spaced(share)(clock), share(solid))
		if extra := max(beside-1, 0); extra > 0 {
			grade = min(grade, whole(float64(extra)/float64(max(along, 1)), transitionRatios))
		}
		return grade
	}
}

// transitions counts where modules change between dark and light, the bad ones
// turned over.
func transitions(dark, bad []bool) (n int) {
	for i := 1; i < len(bad); i++ {
		if (dark[i] != bad[i]) != (dark[i-1] != bad[i-1]) {
			n++
		}
	}
	return n
}
