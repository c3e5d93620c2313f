package proof

import (
	"cmp"
	"slices"

	"unspool/design"
	"unspool/ribbon"
	"unspool/site"
)

// Summary is what a proof says of a whole run.
type Summary struct {
	Programme *design.Programme
	Readers   []site.Reader
	Codes     []CodeRef
	Cards     int
	Stopped   int // cards with a finding that stops the run
	// Cells counts the verdicts of each code at each reader: index
	// code*len(Readers)+reader.
	Cells  []Cell
	Sizes  []CodeSizes // by code
	Colour []Colours   // photos and pictures, in the order of the file
	Groups []Group     // findings, the gravest first, then in the order of the catalogue
	Advice []Advice
	Need   ribbon.Run
}

// Cell is one code at one reader over the run.
type Cell struct {
	Code, Reader int
	Verdicts     [4]int // cards by Verdict
	Worst        Reading
	WorstRow     int
	Lowest       float64 // lowest predicted grade of the run
}

// Verdict is the worst verdict any card got.
func (c Cell) Verdict() Verdict {
	for v := Fails; v > NotMeant; v-- {
		if c.Verdicts[v] > 0 {
			return v
		}
	}
	return NotMeant
}

// Group is the findings of a run that share what they say: same ID, level,
// side, element and reader.
type Group struct {
	Finding       // the worst of them
	Cards   int   // how many cards have it
	Rows    []int // the first of them, at most groupRows
	last    int   // row counted last
}

// groupRows is how many rows a group names; the rest are in cards.csv.
const groupRows = 12

// Good says whether nothing stops the run.
func (s *Summary) Good() bool {
	return !slices.ContainsFunc(s.Groups, func(g Group) bool { return g.Level == Stop })
}

// Tally gathers a run card by card. Its memory does not grow with the run.
type Tally struct {
	pf     *Proof
	sum    Summary
	groups map[groupKey]*Group
	advice []trialTally
}

type groupKey struct {
	id, element, reader string
	side                site.Side
	level               Level
}

// Tally begins a summary.
func (pf *Proof) Tally() *Tally {
	t := &Tally{pf: pf, groups: map[groupKey]*Group{}, advice: make([]trialTally, pf.trialCount())}
	t.sum = Summary{Programme: pf.Programme, Readers: pf.Readers, Codes: pf.Codes, Sizes: make([]CodeSizes, len(pf.Codes))}
	for c := range pf.Codes {
		for r := range pf.Readers {
			t.sum.Cells = append(t.sum.Cells, Cell{Code: c, Reader: r, Lowest: 4})
		}
	}
	return t
}

// Add takes one card, in the order of the run.
func (t *Tally) Add(c Card) {
	t.sum.Cards++
	for _, r := range c.Readings {
		t.cell(c, r)
	}
	for _, d := range c.Drawn {
		t.sum.Sizes[d.Code].add(d)
	}
	for _, m := range c.Matched {
		t.colour(c.Row, m)
	}
	stopped := false
	for _, f := range c.Findings {
		stopped = stopped || f.Level == Stop
	}
	if stopped {
		t.sum.Stopped++
	}
	t.Note(c.Findings...)
	for i, n := range c.trials {
		t.advice[i].add(c.Row, n)
	}
}

// colour adds how one element was matched; there are few of them.
func (t *Tally) colour(row int, m Matched) {
	i := slices.IndexFunc(t.sum.Colour, func(c Colours) bool { return c.Side == m.Side && c.Element == m.Element })
	if i < 0 {
		i = len(t.sum.Colour)
		t.sum.Colour = append(t.sum.Colour, Colours{Side: m.Side, Element: m.Element})
	}
	c := &t.sum.Colour[i]
	c.Cards++
	c.Mean += (m.Mean - c.Mean) / float64(c.Cards)
	if m.Worst > c.Worst {
		c.Worst, c.WorstRow = m.Worst, row
	}
}

func (t *Tally) cell(c Card, r Reading) {
	cell := &t.sum.Cells[r.Code*len(t.pf.Readers)+r.Reader]
	first := cell.Verdicts == [4]int{}
	cell.Verdicts[r.Verdict]++
	if r.Verdict == NotMeant {
		return
	}
	cell.Lowest = min(cell.Lowest, r.Grade.Value)
	if worse := r.Verdict > cell.Worst.Verdict ||
		r.Verdict == cell.Worst.Verdict && r.Grade.Value < cell.Worst.Grade.Value; first || worse {
		cell.Worst, cell.WorstRow = r, c.Row
	}
}

// Note takes findings, of cards in the order of the run or of the run itself.
func (t *Tally) Note(findings ...Finding) {
	for _, f := range findings {
		k := groupKey{f.ID, f.Element, f.Reader, f.Side, f.Level}
		g := t.groups[k]
		if g == nil {
			g = &Group{Finding: f, last: -1}
			t.groups[k] = g
		}
		if f.Value > g.Value {
			g.Finding = f
		}
		if f.Row <= g.last {
			continue
		}
		g.last = f.Row
		g.Cards++
		if len(g.Rows) < groupRows {
			g.Rows = append(g.Rows, f.Row)
		}
	}
}

// Summary closes the tally.
func (t *Tally) Summary() *Summary {
	s := t.sum
	for _, g := range t.groups {
		s.Groups = append(s.Groups, *g)
	}
	slices.SortFunc(s.Groups, func(a, b Group) int {
		return cmp.Or(
			-cmp.Compare(a.Level, b.Level),
			cmp.Compare(order(a.ID), order(b.ID)),
			cmp.Compare(a.Side, b.Side),
			cmp.Compare(a.Element, b.Element),
			cmp.Compare(a.Reader, b.Reader))
	})
	p := t.pf.Programme
	s.Need = ribbon.Need(p.Ribbon, s.Cards, p.Faces[site.Front] != nil, p.Faces[site.Back] != nil)
	s.Advice = t.pf.adviceOf(t.advice, s.Cards)
	return &s
}

func order(id string) int {
	return slices.IndexFunc(Catalogue, func(e Entry) bool { return e.ID == id })
}
