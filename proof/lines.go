package proof

import (
	"slices"

	"unspool/face"
	"unspool/grade"
	"unspool/light"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
	"unspool/unit"
)

// seen is what a reader made of its lines.
type seen struct {
	lines []float64 // places across the code, in dots
	good  int
	text  string
	why   say.Text // of the first line that failed
	at    float64
	cut   bool // by a keep-out
	fails bool
}

// otherData is said of a line that decodes, but not to the code's own data.
var otherData = say.Words("it decodes to other data than it carries")

// readLines reads a code as the reader does: through its own spot, on ten lines
// over the inspection band, or for a slot on its own line and at the ends of
// its tolerance. A slot must read every one of its lines, since the card lies
// where it lies; a hand looks again, so half of the ten are enough for it, and
// fewer than all are little to spare (own judgement).
func (x *exam) readLines(lit *light.Lit) seen {
	if x.c.Matrix != nil {
		return x.under(lit).look()
	}
	s := seen{lines: x.lines()}
	if x.r.Kind == site.Slot && x.r.Track.Side != x.Side {
		return seen{fails: true, why: say.Words("the slot looks at the other side")}
	}
	need := len(s.lines)
	if x.r.Kind != site.Slot {
		need = (len(s.lines) + 1) / 2
	}
	open, hole := x.clearOf(s.lines)
	x.each(lit, x.r.Spot, open, func(at float64, n int, profile plane.Profile) {
		reading, ok, why := grade.Read(profile, x.c.Kind, x.c.Options)
		switch {
		case ok && reading.Text == x.c.Logical.Text:
			s.good += n
			s.text = reading.Text
		case ok:
			why = otherData
			fallthrough
		default:
			if s.why.IsZero() {
				s.why, s.at = why, at
			}
		}
	})
	if s.cut = len(open) < len(s.lines); s.cut && s.why.IsZero() {
		s.why = say.F("the %s lies across its bars", hole)
	}
	s.fails = s.good < need || s.good == 0
	return s
}

// clearOf is those of the lines across a code that cross no keep-out where
// nothing is printed that a reader sees, a punched hole or the contacts of a
// chip, and what the others cross.
func (x *exam) clearOf(lines []float64) (open []float64, hole site.KeepOutKind) {
	open = lines
	for _, k := range x.keepOuts {
		r := x.setup.Grid().Box(k.Box).And(x.c.Bars)
		if !holed(k) || r.Empty() {
			continue
		}
		from, to := float64(r.Y0), float64(r.Y1)
		if !x.c.AlongX {
			from, to = float64(r.X0), float64(r.X1)
		}
		hole = k.Kind
		open = slices.DeleteFunc(slices.Clone(open), func(at float64) bool { return at >= from && at <= to })
	}
	return open, hole
}

// slotLines is how many places of a slot's tolerance are looked at, its ends
// and its middle among them (own judgement).
const slotLines = 5

// lines are the places across a code, in dots of the face, where a reader
// scans it.
func (x *exam) lines() []float64 {
	if x.r.Kind != site.Slot {
		return band(x.c)
	}
	at, half := x.track()
	lines := make([]float64, slotLines)
	for i := range lines {
		lines[i] = at + half*(2*float64(i)/(slotLines-1)-1)
	}
	return lines
}

// band is the ten lines over the inspection band of a code.
func band(c *face.Placed) []float64 {
	from, to := c.Bars.Y0, c.Bars.Y1
	if !c.AlongX {
		from, to = c.Bars.X0, c.Bars.X1
	}
	return grade.Lines(float64(from), float64(to), tenLines)
}

// track is a slot reader's line and half its tolerance band, in dots across the
// line from the face's top or left.
func (x *exam) track() (at, half float64) {
	g, t := x.setup.Grid(), x.r.Track
	pitch, far := g.DY, x.card.H
	if t.From.Horizontal() {
		pitch, far = g.DX, x.card.W
	}
	at = pitch.Dots(t.Line)
	if t.From == site.Right || t.From == site.Bottom {
		at = pitch.Dots(far - t.Line) // the last row of dots seldom ends at the edge
	}
	return at, pitch.Dots(t.Tolerance)
}

// offLine says why a slot reader's line misses the code; the zero Cause where
// it does not.
func (x *exam) offLine() Cause {
	t := x.r.Track
	if t.Side != x.Side {
		return Cause{"off-line", say.F("it is on the %s and the slot looks at the %s", x.Side, t.Side),
			say.F("%s", x.Side), say.F("%s", t.Side), 1}
	}
	if x.c.AlongX == t.From.Horizontal() {
		return Cause{"off-line", say.Words("its bars lie along the swipe; they must stand across it"), say.Words("bars along the swipe"), say.Words("bars across it"), 1}
	}
	g := x.setup.Grid()
	lo, hi, pitch, far := x.c.Bars.Y0, x.c.Bars.Y1, g.DY, x.card.H
	if !x.c.AlongX {
		lo, hi, pitch, far = x.c.Bars.X0, x.c.Bars.X1, g.DX, x.card.W
	}
	const hair = 1e-6 // of a dot, for what binary fractions lose
	at, half := x.track()
	if at-half >= float64(lo)-hair && at+half <= float64(hi)+hair {
		return Cause{}
	}
	from, to := pitch.Span(lo), pitch.Span(hi)
	if t.From == site.Right || t.From == site.Bottom {
		from, to = far-to, far-from
	}
	bars := say.F("%.1f to %.1f mm", from.MM(), to.MM())
	line := say.F("%s ± %s from the %s edge", t.Line, t.Tolerance, t.From)
	return Cause{"off-line", say.F("the read line runs %s; the bars stand from %s", line, bars), bars, line, 1}
}

// aperture is the one that a code is graded through: that of the acceptance rule
// which the reader's site has, or the standard's for the code's X.
func (x *exam) aperture() grade.Aperture {
	if rule, ok := grade.AcceptanceByName(x.r.Rule); ok {
		if a, ok := grade.ApertureOfRef(rule.Aperture); ok {
			return a
		}
	}
	pitch := along(x.c, x.setup.Grid())
	if x.c.Matrix != nil {
		return grade.MatrixAperture(pitch.Span(x.c.Size.X))
	}
	return grade.ApertureFor(pitch, x.c.Size.X)
}

// gradeLines grades a code at a reader's light: ten scans through the aperture
// that goes with X.
func (x *exam) gradeLines(lit *light.Lit) (grade.Grade, grade.Scan) {
	if x.c.Matrix != nil {
		q := x.under(lit).quality(0)
		return q.Grade, scanOf(&q)
	}
	a := x.aperture()
	var scans [tenLines]grade.Scan
	var worst grade.Scan
	lines := band(x.c)
	open, hole := x.clearOf(lines)
	k := 0
	x.each(lit, a.Diameter, open, func(_ float64, n int, profile plane.Profile) {
		s := grade.Measure(profile, x.c.Kind, x.c.Options, x.edition)
		if s.Decoded && s.Reading.Text != x.c.Logical.Text {
			s.Grade, s.Why = 0, say.Words("it decodes to other data")
		}
		if k == 0 || s.Grade < worst.Grade {
			worst = s
		}
		for range n {
			scans[k] = s
			k++
		}
	})
	if len(open) < len(lines) { // the other scans decode nothing
		k = len(lines)
		worst.Grade, worst.Why = 0, say.F("the %s lies across its bars", hole)
	}
	return grade.Symbol(scans[:k], a, x.r.Peak), worst
}

// each takes the profile of every line of a code and hands it over together
// with the number of lines that have it: lines that cross exactly the same dots
// are lit once.
func (x *exam) each(lit *light.Lit, aperture unit.Length, lines []float64, use func(at float64, n int, profile plane.Profile)) {
	probe, scan := x.probe(lit), x.scan()
	scan.Aperture = aperture
	for i := 0; i < len(lines); {
		scan.At = lines[i]
		n, next := 1, scan
		for ; !x.apart && i+n < len(lines); n++ {
			if next.At = lines[i+n]; !lit.Same(x.p, scan, next) {
				break
			}
		}
		use(lines[i], n, probe.Profile(x.p, scan))
		i += n
	}
}
