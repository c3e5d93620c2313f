package grade

import (
	"math"

	"unspool/code"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
	"unspool/unit"
)

// Row is what one scan line shows of a multi-row symbol such as PDF417: what its
// decode found, and how good it is.
type Row struct {
	X float64 // mean module, in the unit of the widths
	// Start and Stop are the patterns at the ends. A compact symbol has no Stop.
	Start, Stop Character
	Characters  []Character // between them, row indicators too
	// Columns is how many codewords a row has: so many the line could have shown.
	Columns int
	Compact bool
	QuietX  int // quiet zone that the symbology asks for, in X
	// Ends is the grade of start and stop pattern by ISO/IEC 15416. MeasureRow
	// makes it.
	Ends Scan
}

// Character is a symbol character of a multi-row symbol, or its start or stop
// pattern, as one scan line shows it.
type Character struct {
	From, To int // its elements, From <= i < To of the line's widths; none where it was not seen
	Row      int // of the symbol, from 0
	// Codeword is its number in the symbol, as the blocks of the reading have it;
	// NoCodeword for a row indicator, a start or a stop pattern.
	Codeword int
	Valid    bool // it is what the symbol should have there, or no more than that is known
	// Decodability is what its decode leaves; Modulation and Defects are of its own
	// edges and elements by the line's contrast. MeasureRow makes these two.
	Decodability, Modulation, Defects float64
}

func (c Character) seen() bool { return c.To > c.From }

// MeasureRow measures one scan line of a multi-row symbol. read is the
// symbology's decode of a line: it is given the widths of its elements from the
// first bar to the last, and says which characters they are. A line that read
// makes nothing of has grade 0.
func MeasureRow(p plane.Profile, read func(widths []float64) (Row, error), ed Edition) Row {
	if why := unfit(p.Samples); !why.IsZero() {
		return Row{Ends: Scan{Why: why}}
	}
	s := contrastOf(p.Samples)
	t := byThreshold(p.Samples, float32(s.GT))
	s.Edges = len(t.edges)
	run := t.bars()
	if run.empty() || len(t.marks) == maxMarks {
		s.Why = say.Of(errNoBars)
		return Row{Ends: s}
	}
	r, err := read(t.widths(run))
	if err != nil {
		s.Why = say.F("no start or stop pattern: %v", err)
		return Row{Ends: s}
	}
	place := func(c Character) span {
		from, to := max(c.From, 0)+run.from, min(c.To+run.from, run.to)
		return span{min(from, to), to}
	}
	for i, c := range r.Characters {
		part := s
		part.contrasts(t, place(c), 0)
		r.Characters[i].Modulation, r.Characters[i].Defects = part.MOD, part.Defects
	}
	r.Ends = s
	r.ends(t, place(r.Start), place(r.Stop), ed)
	return r
}

// ends grades the start and stop patterns of a line as ISO/IEC 15416 does a
// symbol, both as one.
func (r *Row) ends(t trace, start, stop span, ed Edition) {
	s := &r.Ends
	s.Decoded = !start.empty() && (r.Compact || !stop.empty()) && r.X > 0
	s.Reading.X, s.Reading.Decodability = r.X, r.Start.Decodability
	if r.Stop.seen() {
		s.Reading.Decodability = min(s.Reading.Decodability, r.Stop.Decodability)
	}
	s.ECmin = math.Inf(1)
	quiet := float64(r.QuietX) * r.X
	for _, run := range []span{start, stop} {
		if run.empty() {
			continue
		}
		part := *s
		part.contrasts(t, run, quiet)
		s.ECmin, s.Defects = min(s.ECmin, part.ECmin), max(s.Defects, part.Defects)
	}
	if math.IsInf(s.ECmin, 1) {
		s.ECmin = 0
	}
	if s.SC > 0 {
		s.MOD = s.ECmin / s.SC
	}
	if s.Decoded {
		s.QuietLeft, s.QuietRight = t.quiet(t.bars(), r.X)
	}
	s.gradeAll(ed, r.QuietX)
	s.Why = s.reason(code.Kind{Title: "start or stop pattern", QuietX: r.QuietX}, say.Errorf("one of them is missing"))
}

// yieldLimits are of ISO/IEC 15415:2011 6.2.3, from memory.
var yieldLimits = [4]float64{0.71, 0.64, 0.57, 0.50}

// Rows grades a multi-row symbol as ISO/IEC 15415:2011 6.2 does one that can be
// scanned across its rows: its start and stop patterns by the mean of the lines'
// grades, the share of codewords that the lines decode, the unused error
// correction, and the print quality of the codewords. r is the decode of the
// whole symbol, failed why there is none. There should be ten lines at least, and
// each codeword be on one.
func Rows(rows []Row, r symbol.MatrixReading, failed error, a Aperture, peak unit.Nanometres) Quality {
	q := Quality{Edition: MatrixEdition}
	if failed == nil && !(sound(r.Blocks) && len(r.Errors) == len(r.Blocks) && len(r.Erasures) == len(r.Blocks)) {
		failed = say.Errorf("the reading does not tell its errors by block")
	}
	if failed == nil && len(rows) == 0 {
		failed = say.Errorf("no line was measured")
	}
	q.decoded(failed)
	q.startStop(rows)
	q.yield(rows)
	if failed == nil {
		q.Decoded, q.Reading = true, r
		q.unused(r)
		q.print(rows, r.Blocks)
	}
	q.decide(a, peak)
	return q
}

// startStop adds the mean grade of the lines' ends, and what spoils the worst.
func (q *Quality) startStop(rows []Row) {
	sum, worst := 0.0, Scan{Grade: 5, Why: say.Words("no line was measured")}
	for i, r := range rows {
		sum += r.Ends.Grade
		if i == 0 {
			q.Rmin, q.Rmax = r.Ends.Rmin, r.Ends.Rmax
		}
		q.Rmin, q.Rmax = min(q.Rmin, r.Ends.Rmin), max(q.Rmax, r.Ends.Rmax)
		if r.Ends.Grade < worst.Grade {
			worst = r.Ends
		}
	}
	q.GT = (q.Rmin + q.Rmax) / 2
	mean := tenths(sum / float64(max(len(rows), 1)))
	q.Figures = append(q.Figures, Figure{StartStop, mean, mean, say.F("start and stop patterns: %v", worst.Why)})
}

// yield adds the codeword yield: how many of the codewords that the lines could
// have shown they decode.
func (q *Quality) yield(rows []Row) {
	valid, possible := 0, 0
	for _, r := range rows {
		n := 0
		for _, c := range r.Characters {
			if c.Valid && c.Codeword != symbol.NoCodeword {
				n++
			}
		}
		valid, possible = valid+n, possible+max(r.Columns, n)
	}
	v := float64(valid) / float64(max(possible, 1))
	q.add(CodewordYield, v, whole(v, yieldLimits), say.F("codeword yield %s", percent(v)))
}
