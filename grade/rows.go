package grade

import (
	"math"

	"unspool/code"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/pdf417"
	"unspool/unit"
)

// quiet417 is the quiet zone of PDF417 on either side, in X (ISO/IEC 15438 5.8.3,
// read second-hand in zint's source).
const quiet417 = 2

// yieldLimits are of ISO/IEC 15415:2011 6.2.3, from memory.
var yieldLimits = [4]float64{0.71, 0.64, 0.57, 0.50}

// row is what one scan line shows of a multi-row symbol.
type row struct {
	line       pdf417.Line
	at         span // of the trace, first bar to last
	trace      trace
	ends       Scan // start and stop pattern by ISO/IEC 15416
	characters []character
	columns    int // codewords that the line could show
}

// character is a codeword or a row indicator as one scan line shows it.
type character struct {
	row      int // of the symbol, from 0
	codeword int // its number in the symbol; NoCodeword of a row indicator
	grades   printed
}

// PDF417 grades a PDF417 symbol from the profiles of lines across it, as ISO/IEC
// 15415:2011 6.2 does a multi-row symbol that can be scanned across its rows: its
// start and stop patterns by the mean of their grades by ISO/IEC 15416 (edition
// ed), the share of codewords that the lines decode, the unused error correction,
// and the print quality of the codewords. Ten lines or more are asked for, and
// each row should be on one, for a codeword that no line shows counts as lost.
// Each profile should show a little more than the quiet zones.
func PDF417(profiles []plane.Profile, ed Edition, a Aperture, peak unit.Nanometres) Quality {
	q := Quality{Edition: MatrixEdition}
	rows := make([]row, len(profiles))
	var lines []pdf417.Line
	var of []int // the row of each line that was read
	for i, p := range profiles {
		if rows[i].look(p) {
			lines, of = append(lines, rows[i].line), append(of, i)
		}
	}
	symbol417, err := pdf417.Assemble(lines)
	for k, i := range of {
		rows[i].columns = len(rows[i].line.Cells)
		compact := err == nil && symbol417.Compact
		if err == nil {
			rows[i].columns = symbol417.Columns
			rows[i].place(symbol417, symbol417.Places[k])
		}
		rows[i].gradeEnds(compact, ed)
	}
	q.decoded(err)
	q.startStop(rows)
	q.yield(rows)
	if err == nil {
		q.Decoded, q.Reading = true, symbol417.MatrixReading
		q.unused(q.Reading)
		q.print(rows, q.Reading.Blocks)
	}
	q.decide(a, peak)
	return q
}

// look cuts a profile and reads it; false where it shows no symbol.
func (r *row) look(p plane.Profile) bool {
	if why := unfit(p.Samples); !why.IsZero() {
		r.ends.Why = why
		return false
	}
	r.ends = contrastOf(p.Samples)
	r.trace = byThreshold(p.Samples, float32(r.ends.GT))
	r.ends.Edges = len(r.trace.edges)
	r.at = r.trace.bars()
	if r.at.empty() || len(r.trace.marks) == maxMarks {
		r.ends.Why = say.Of(errNoBars)
		return false
	}
	line, err := pdf417.Row(r.trace.widths(r.at))
	if err != nil {
		r.ends.Why = say.F("no start or stop pattern: %v", err)
		return false
	}
	r.line = line
	return true
}

// marks are those of a cell of the line.
func (r *row) marks(c pdf417.Cell) span {
	from, to := max(c.From, 0)+r.at.from, min(c.To+r.at.from, r.at.to)
	return span{min(from, to), to}
}

// place measures the line's characters: places says which codeword each is. One
// that was read wrong, or is where the line passes from row to row, is none.
func (r *row) place(s pdf417.Assembly, places []int) {
	last := len(r.line.Cells) - 1
	for k, c := range r.line.Cells {
		if c.Codeword == symbol.NoCodeword {
			continue
		}
		one := character{codeword: places[k]}
		switch indicator := k == 0 && r.line.Start.Seen() || k == last && r.line.Stop.Seen(); {
		case indicator:
			const of, clusters = 30, 3 // ISO/IEC 15438: each indicator tells its row
			one.codeword, one.row = symbol.NoCodeword, c.Codeword/of*clusters+c.Cluster/clusters
		case one.codeword < 0 || s.Codewords[one.codeword] != c.Codeword:
			continue
		default:
			one.row = one.codeword / s.Columns
		}
		part := r.ends
		part.contrasts(r.trace, r.marks(c), 0, 0)
		one.grades = printed{whole(part.MOD, modulationLimits), whole(part.Defects, defectsLimits), whole(c.Margin, decodabilityLimits)}
		r.characters = append(r.characters, one)
	}
}

// gradeEnds grades the start and stop patterns of a line as ISO/IEC 15416 does a
// symbol, both as one. A compact symbol has no stop pattern.
func (r *row) gradeEnds(compact bool, ed Edition) {
	s, start, stop := &r.ends, r.line.Start, r.line.Stop
	s.Decoded = start.Seen() && (compact || stop.Seen())
	s.Reading.X, s.Reading.Decodability = r.line.X, 1
	s.ECmin = math.Inf(1)
	for _, c := range []pdf417.Cell{start, stop} {
		if !c.Seen() {
			continue
		}
		part := *s
		part.contrasts(r.trace, r.marks(c), 0, 0)
		s.ECmin, s.Defects = min(s.ECmin, part.ECmin), max(s.Defects, part.Defects)
		s.Reading.Decodability = min(s.Reading.Decodability, c.Margin)
	}
	r.quiet(compact)
	if s.SC > 0 {
		s.MOD = s.ECmin / s.SC
	}
	s.gradeAll(ed, quiet417, quiet417)
	s.Why = s.reason(code.Kind{Title: "start or stop pattern", QuietX: quiet417}, say.Errorf("one of them is missing"))
}

// quiet measures the quiet zones beside the symbol. A compact symbol ends with the
// first bar behind its last character.
func (r *row) quiet(compact bool) {
	ends := r.marks(r.line.Start)
	for _, c := range append([]pdf417.Cell{r.line.Stop}, r.line.Cells...) {
		if at := r.marks(c); c.Seen() && ends.empty() {
			ends = at
		} else if c.Seen() {
			ends = span{min(ends.from, at.from), max(ends.to, at.to)}
		}
	}
	if compact && r.line.Reversed {
		ends.from = max(ends.from-1, r.at.from)
	} else if compact {
		ends.to = min(ends.to+1, r.at.to)
	}
	s, t, quiet := &r.ends, &r.trace, quiet417*r.line.X
	if s.Decoded {
		s.QuietLeft, s.QuietRight = t.quiet(ends, r.line.X)
	}
	if i := ends.from - 1; i >= 0 && s.SC > 0 {
		s.Defects = max(s.Defects, t.unevenness(max(t.start(i), t.end(i)-quiet), t.end(i), false)/s.SC)
	}
	if i := ends.to; i < len(t.marks) && s.SC > 0 {
		s.Defects = max(s.Defects, t.unevenness(t.start(i), min(t.end(i), t.start(i)+quiet), false)/s.SC)
	}
}

// startStop adds the mean grade of the lines' ends, and what spoils the worst.
func (q *Quality) startStop(rows []row) {
	sum, worst := 0.0, Scan{Grade: 5, Why: say.Words("no line was measured")}
	for i, r := range rows {
		sum += r.ends.Grade
		if i == 0 {
			q.Rmin, q.Rmax = r.ends.Rmin, r.ends.Rmax
		}
		q.Rmin, q.Rmax = min(q.Rmin, r.ends.Rmin), max(q.Rmax, r.ends.Rmax)
		if r.ends.Grade < worst.Grade {
			worst = r.ends
		}
	}
	q.GT = (q.Rmin + q.Rmax) / 2
	mean := tenths(sum / float64(max(len(rows), 1)))
	q.Figures = append(q.Figures, Figure{StartStop, mean, mean, say.F("start and stop patterns: %v", worst.Why)})
}

// yield adds the codeword yield: how many of the codewords that the lines could
// have shown they decode.
func (q *Quality) yield(rows []row) {
	valid, possible := 0, 0
	for _, r := range rows {
		possible += r.columns
		for _, c := range r.characters {
			if c.codeword != symbol.NoCodeword {
				valid++
			}
		}
	}
	v := min(float64(valid)/float64(max(possible, 1)), 1)
	q.add(CodewordYield, v, whole(v, yieldLimits), say.F("codeword yield %s", percent(v)))
}

// FoundRow is a row of a PDF417 symbol in a longer line.
type FoundRow struct {
	pdf417.Line
	// From and To are the ends of the symbol on the line, in samples: the outer edge
	// of its start and of its stop pattern. HasFrom and HasTo say whether the line
	// shows them. From is above To where the line runs from stop to start.
	From, To       float64
	HasFrom, HasTo bool
}

// FindRow is what a line shows a reader of a PDF417 symbol; false where it shows
// none. As Read does it follows uneven light and shallow modulation.
func FindRow(p plane.Profile) (row FoundRow, ok bool) {
	if !unfit(p.Samples).IsZero() {
		return FoundRow{}, false
	}
	if lo, hi := extremes(p.Samples); hi-lo < readContrast {
		return FoundRow{}, false
	}
	seen := func(l pdf417.Line) (n int) {
		for _, c := range l.Cells {
			if c.Codeword != symbol.NoCodeword {
				n++
			}
		}
		return n
	}
	for t := range cuts(p.Samples) {
		bars := t.bars()
		if bars.empty() || len(t.marks) == maxMarks {
			continue
		}
		if l, err := pdf417.Row(t.widths(bars)); err == nil && (!ok || seen(l) > seen(row.Line)) {
			row, ok = t.row(bars, l), true
		}
	}
	return row, ok
}

// row is where a line that was read has its ends.
func (t *trace) row(bars span, l pdf417.Line) FoundRow {
	r := FoundRow{Line: l, HasFrom: l.Start.Seen(), HasTo: l.Stop.Seen()}
	edges := func(c pdf417.Cell) (first, last float64) {
		return t.start(bars.from + max(c.From, 0)), t.end(min(bars.from+c.To, bars.to) - 1)
	}
	if r.HasFrom {
		first, last := edges(l.Start)
		if r.From = first; l.Reversed {
			r.From = last
		}
	}
	if r.HasTo {
		first, last := edges(l.Stop)
		if r.To = last; l.Reversed {
			r.To = first
		}
	}
	return r
}
