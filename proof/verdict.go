package proof

import (
	"slices"

	"unspool/code"
	"unspool/face"
	"unspool/grade"
	"unspool/light"
	"unspool/panel"
	"unspool/say"
	"unspool/site"
	"unspool/unit"
)

// Verdict is what is predicted of one code at one reader.
type Verdict uint8

// Verdicts.
const (
	// NotMeant: the reader takes another code of the card.
	NotMeant Verdict = iota
	// Reads: decodes, its grade reaches the least and growth leaves it standing.
	Reads
	// Little: decodes, but the grade is below the least, or the margin is below
	// the growth the printer is stated to have.
	Little
	// Fails: decoding fails on the reader's lines at its own spot, or light, X,
	// height, kind, length or check is refused.
	Fails
)

func (v Verdict) String() string {
	return [...]string{"not meant for it", "reads", "reads with little to spare", "does not read"}[v%4]
}

// Reading is one code of one card at one reader.
type Reading struct {
	Code, Reader int // indices into Proof.Codes and Proof.Readers
	Verdict      Verdict
	Cause                    // what decides; its ID is empty where the code simply reads
	Grade        grade.Grade // at the standard's aperture
	Text         string      // what the reader would hand on
	Lines, Good  int         // scan lines tried at the reader's spot, and decoded
	Worst        grade.Scan  // the scan that grades lowest; of a two-dimensional code its contrast alone
	// Quality is the grading of a two-dimensional code; nil of a linear one.
	Quality *grade.Quality
}

// Cause is the one reason of a verdict, with what was measured.
type Cause struct {
	ID      string   // the finding it is
	Reason  say.Text // in a sentence
	Measure say.Text // what was measured, with its unit
	Limit   say.Text // what it is held against
	Value   float64  // how grave, to compare findings of one kind; larger is worse
}

// tenLines is the number of scans of ISO/IEC 15416 5.2 (from memory), spread
// over the inspection band: 10 % to 90 % of the bars' height (from memory).
const tenLines = 10

// exam is one code looked at by one reader.
type exam struct {
	*side
	*sight
	art *face.Art
	p   *panel.Panels
	c   *face.Placed
	r   *reader
	lit lighting
}

// judge works out what a reader makes of a code that it is meant to read.
func (x *exam) judge() Reading {
	out := Reading{Verdict: Reads}
	var read seen
	if x.c.Matrix != nil {
		s := x.under(x.lit.usual)
		q := s.quality(0)
		read, out.Grade, out.Worst, out.Quality = s.look(), q.Grade, scanOf(&q), &q
	} else {
		read = x.readLines(x.lit.usual)
		out.Grade, out.Worst = x.gradeLines(x.lit.usual)
	}
	out.Lines, out.Good, out.Text = len(read.lines), read.good, read.text
	if cause := x.refuse(); cause.ID != "" {
		out.Verdict, out.Cause = Fails, cause
		return out
	}
	if read.fails {
		out.Verdict, out.Cause = Fails, x.blame(read, &out.Worst)
		return out
	}
	out.Cause = x.spare(read, &out)
	if out.Cause.ID != "" {
		out.Verdict = Little
	}
	return out
}

// spare says what is scarce in a reading that decodes; the zero Cause where
// nothing is.
func (x *exam) spare(read seen, out *Reading) Cause {
	g := out.Grade
	switch {
	case g.Value < x.r.Least:
		return Cause{"grade-below-least",
			say.F("the predicted grade is %s, below the least of %.1f: %s", g.Text, x.r.Least, out.Worst.Why),
			say.F("%s (%s)", g.Text, g.Letter), say.F("%.1f (%s)", x.r.Least, grade.Letter(x.r.Least)), x.r.Least - g.Value}
	case read.good < len(read.lines):
		return Cause{"decode-fails",
			say.F("only %d of its %d lines decode", read.good, len(read.lines)),
			say.F("%d lines", read.good), say.F("%d lines", len(read.lines)), float64(len(read.lines) - read.good)}
	}
	grown, _ := x.gradeLines(x.lit.grown)
	if grown.Value < gradeC && grown.Value < g.Value {
		grow := x.growth().Micrometres()
		return Cause{"thin-margin",
			say.F("were marks to grow by twice the printer's %.0f µm, the grade would fall from %s to %s", grow, g.Text, grown.Text),
			say.F("%s at %.0f µm more", grown.Text, grow), say.F("C (%.1f)", gradeC), gradeC - grown.Value}
	}
	return Cause{}
}

// growth is that of marks in the direction a code runs in.
func (x *exam) growth() unit.Length {
	if x.c.AlongX {
		return x.scene.GrowthX
	}
	return x.scene.GrowthY
}

// gradeC is the least grade of letter C; see grade.Letter for its source.
const gradeC = 1.5

// refuse is what a reader turns down whatever its lines show; the zero Cause
// where nothing.
func (x *exam) refuse() Cause {
	pitch := along(x.c, x.setup.Grid())
	if cause := accepts(x.c, x.r); cause.ID != "" {
		return cause
	}
	if pitch.Cmp(x.c.Size.X, x.r.MinX) < 0 {
		reason := say.F("its narrow bars are %d dots, %s; the reader resolves %s%s", x.c.Size.X, pitch.Span(x.c.Size.X), x.r.MinX, x.roomFor(pitch))
		if x.c.Matrix != nil {
			reason = say.F("its modules are %d dots, %s; the reader resolves %s%s", x.c.Size.X, pitch.Span(x.c.Size.X), x.r.MinX, x.roomFor(pitch))
		}
		return Cause{"x-below-reader", reason,
			say.F("%s", pitch.Span(x.c.Size.X)), say.F("%s", x.r.MinX), (x.r.MinX - pitch.Span(x.c.Size.X)).MM()}
	}
	if x.c.Matrix != nil {
		if cause := x.refuseMatrix(); cause.ID != "" {
			return cause
		}
		return x.refuseResin()
	}
	if high := x.height(); high < x.r.MinHeight {
		return Cause{"low-bars", say.F("its bars are %s high; the reader needs %s", high, x.r.MinHeight),
			say.F("%s", high), say.F("%s", x.r.MinHeight), (x.r.MinHeight - high).MM()}
	}
	if x.r.Kind == site.Slot {
		if cause := x.offLine(); cause.ID != "" {
			return cause
		}
	}
	return x.refuseResin()
}

// roomFor says how much room the code needs at the fewest dots that the reader
// resolves, with its least ratio; nothing where no ratio is legal.
func (x *exam) roomFor(pitch unit.Pitch) say.Text {
	dots := pitch.Ceil(x.r.MinX)
	if x.c.Matrix != nil {
		return x.matrixRoom(pitch, dots)
	}
	sizes := code.Sizes(x.c.Kind, pitch, dots)
	if len(sizes) == 0 {
		return say.Text{}
	}
	quiet := code.Quiet(x.c.Kind, dots)
	need := x.c.Logical.Width(sizes[0]) + quiet[0] + quiet[1]
	return say.F(", which takes %d dots and %.1f mm of room with the quiet zones", dots, pitch.MM(float64(need)))
}

// accepts says why a reader's settings refuse a code; the zero Cause where one
// of them takes it.
func accepts(c *face.Placed, r *reader) Cause {
	var no Cause
	for _, a := range r.Accepts {
		n, ok := payload(c, a.Kind)
		if !ok {
			continue
		}
		switch {
		case a.Min > 0 && n < a.Min || a.Max > 0 && n > a.Max:
			no = Cause{"wrong-length", say.F("it carries %d characters; the reader takes %s", n, lengths(a.Min, a.Max)),
				say.F("%d characters", n), lengths(a.Min, a.Max), 1}
		case a.Check != "" && a.Check != string(c.Options.Check) && a.Check != string(c.Kind.Always):
			no = Cause{"wrong-check", say.F("the reader proves a %s check character; the code has %s", a.Check, checkName(c.Options.Check)),
				checkName(c.Options.Check), say.Data(a.Check), 1}
		default:
			return Cause{}
		}
	}
	if no.ID != "" {
		return no
	}
	return Cause{"wrong-kind", say.F("it is %s, which the reader is not set to", c.Kind.Title), say.Data(c.Kind.Title), kindsOf(r), 1}
}

// kindsOf names the symbologies a reader takes.
func kindsOf(r *reader) (all say.Text) {
	var names []string
	for _, a := range r.Accepts {
		name := a.Kind
		if k, ok := code.ByName(a.Kind); ok {
			name = k.Title
		}
		switch {
		case slices.Contains(names, name):
			continue
		case len(names) == 0:
			all = say.Data(name)
		default:
			all = say.F("%s, %s", all, name)
		}
		names = append(names, name)
	}
	return all
}

func lengths(lo, hi int) say.Text {
	switch {
	case lo == hi:
		return say.F("%d", lo)
	case hi == 0:
		return say.F("%d or more", lo)
	case lo == 0:
		return say.F("up to %d", hi)
	}
	return say.F("%d to %d", lo, hi)
}

func checkName(c code.Check) say.Text {
	if c == code.NoCheck {
		return say.Words("none")
	}
	return say.Data(string(c))
}

// height is that of the bars.
func (x *exam) height() unit.Length {
	g := x.setup.Grid()
	if x.c.AlongX {
		return g.DY.Span(x.c.Bars.H())
	}
	return g.DX.Span(x.c.Bars.W())
}

// sight is what one goroutine looks at profiles with.
type sight struct {
	probes  map[*light.Lit]*light.Probe
	edition grade.Edition
	// apart lights every line by itself, also those that cross the same dots: the
	// long way round, to prove the short one.
	apart bool
}

// probe is the goroutine's own probe of a scene that many cards are seen in, or
// a new one.
func (s *sight) probe(l *light.Lit) *light.Probe {
	if q := s.probes[l]; q != nil {
		return q
	}
	return l.Probe()
}
