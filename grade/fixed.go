package grade

import "unspool/say"

// Segment is one fixed pattern of a symbol, or a part of one that is graded on
// its own.
type Segment struct {
	Name    string // as the standard calls it: "L1"
	Modules int
	Damaged int // modules too weak or wrong for a grade better than it has
	Grade   int
}

// pattern is a segment to be graded: modules, as indices of R, in the order they
// lie in, what each should be, and what damage costs.
type pattern struct {
	name string
	at   []int
	dark []bool
	rule rule
}

// rule is the grade of a segment with the modules named bad damaged.
type rule func(bad []bool) int

// part is a pattern of the symbol's own modules, by their index in its grid.
func (s *sampled) part(name string, modules []int32, r rule) pattern {
	p := pattern{name: name, rule: r}
	for _, i := range modules {
		p.at = append(p.at, s.m.at(int(i)%s.m.W, int(i)/s.m.W))
		p.dark = append(p.dark, s.r.Truth.Dark[i])
	}
	return p
}

// quiet adds the quiet modules of a rectangle, 0, 0 being the symbol's first
// module, as far as they were measured and lie outside the symbol.
func (p *pattern) quiet(m Modules, x0, y0, x1, y1 int) {
	for y := max(y0, -m.Quiet); y < min(y1, m.H+m.Quiet); y++ {
		for x := max(x0, -m.Quiet); x < min(x1, m.W+m.Quiet); x++ {
			if x < 0 || y < 0 || x >= m.W || y >= m.H {
				p.at, p.dark = append(p.at, m.at(x, y)), append(p.dark, false)
			}
		}
	}
}

// segment grades a pattern: at each grade of modulation the modules below it
// count as damaged, and the lower of that grade and what the damage leaves
// counts; the best that comes of it is the segment's. A module on the wrong side
// has no modulation at all (ISO/IEC 16022:2006 Annex M and ISO/IEC 18004 Annex
// G, from memory).
func (s *sampled) segment(p pattern) Segment {
	grades := make([]int, len(p.at))
	for i, k := range p.at {
		grades[i] = whole(s.margin(k, p.dark[i]), moduleLimits)
	}
	out := Segment{Name: p.name, Modules: len(p.at)}
	bad := make([]bool, len(p.at))
	for level := 1; level <= 4; level++ {
		damaged := 0
		for i, g := range grades {
			if bad[i] = g < level; bad[i] {
				damaged++
			}
		}
		out.Grade = max(out.Grade, min(level, p.rule(bad)))
		if level == out.Grade+1 {
			out.Damaged = damaged
		}
	}
	return out
}

// group is patterns that have one grade: their lowest, or, of copies of the same
// information, their mean.
type group struct {
	patterns []pattern
	copies   bool
}

// fixed grades fixed pattern damage: the lowest of the groups. Where the
// symbology averages them too, five groups that are all a little damaged come to
// less than any of them.
func (q *Quality) fixed(s sampled, groups []group, average bool) {
	worst, damaged, all, sum := 4, 0, 0, 0
	why := say.Words("no fixed pattern is damaged")
	for _, u := range groups {
		grade := 4
		low, total := Segment{Grade: 5}, 0
		for _, p := range u.patterns {
			g := s.segment(p)
			q.Segments = append(q.Segments, g)
			damaged, all, total = damaged+g.Damaged, all+g.Modules, total+g.Grade
			if g.Grade < low.Grade {
				low = g
			}
		}
		if len(u.patterns) > 0 {
			grade = low.Grade
			if u.copies {
				grade = total / len(u.patterns)
			}
		}
		sum += grade
		if grade < worst {
			worst, why = grade, say.F("fixed pattern damage: %d of %d modules of %s", low.Damaged, low.Modules, low.Name)
		}
	}
	if mean := float64(sum) / float64(max(len(groups), 1)); average && whole(mean, averageLimits) < worst {
		worst, why = whole(mean, averageLimits), say.F("fixed pattern damage: its segments have grade %.1f on average", mean)
	}
	q.add(FixedPattern, float64(damaged)/float64(max(all, 1)), worst, why)
}

// byShare is the rule of most shares of damaged modules for grades 4 to 1.
func byShare(most [4]float64) rule {
	return func(bad []bool) int {
		n := 0
		for _, b := range bad {
			if b {
				n++
			}
		}
		return whole(float64(n)/float64(max(len(bad), 1)), most)
	}
}

// byCount is the rule of one grade less for every damaged module.
func byCount(bad []bool) int {
	n := 0
	for _, b := range bad {
		if b {
			n++
		}
	}
	return max(4-n, 0)
}

// spaced is a rule and, besides, that of any five neighbouring modules no more
// than two are damaged.
func spaced(r rule) rule {
	return func(bad []bool) int {
		const run, most = 5, 2
		n := 0
		for i, b := range bad {
			if b {
				n++
			}
			if i >= run && bad[i-run] {
				n--
			}
			if n > most {
				return 0
			}
		}
		return r(bad)
	}
}
