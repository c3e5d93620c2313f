package proof

import (
	"math"
	"slices"

	"unspool/face"
	"unspool/grade"
	"unspool/light"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
	"unspool/symbol"
	"unspool/unit"
)

// Trace is the profile of one line over a code, with every element of it laid
// back on the face.
type Trace struct {
	Side    site.Side
	AlongX  bool
	Reverse bool // the symbol begins at the high end of the face
	// At is the middle of the line across the code, in dots of the face, and Line
	// its index among Lines.
	At   float64
	Line int
	// From and Step place the samples: the middle of sample i lies at the dot
	// From + (i+0.5)*Step along the code. Samples and elements run from the low end
	// of the face to the high one, whichever way the symbol does.
	From, Step float64
	Samples    []float32
	Scan       grade.Scan
	Edition    grade.Edition
	Aperture   unit.Length // diameter it is seen through
	Peak       unit.Nanometres
	Spot       bool // the aperture is the reader's own
	// Read says whether a reader decodes this line to what the code carries, and
	// Why not.
	Read     bool
	Why      say.Text
	Elements []TraceElement // as the line shows them
	Drawn    []TraceElement // as the code is drawn, whatever the light shows of it
	Lines    []float64      // middles of all lines that are looked at with this aperture
}

// TraceElement is one bar or space, From < To in dots of the face along the
// code.
type TraceElement struct {
	From, To float64
	Bar      bool
	Margin   float64 // what is left of its decoding tolerance, 0 to 1; 0 where nothing decoded
	Char     string  // the character that begins here along the face; empty within one, for gaps and where nothing decoded
}

// LineOf asks Trace for the line that decides.
const LineOf = -1

// Trace looks at a code of the card with a reader's light: through the reader's
// own spot on the reader's lines, or through the standard's aperture on the ten
// lines of the standard. line is the index of one of them or LineOf, which takes
// the first that fails or the one that grades lowest. ok is false where the code
// is not drawn or is no linear one, and where there is no such line, code or
// reader.
func (k *Shown) Trace(code, reader int, spot bool, line int) (t Trace, ok bool) {
	if code < 0 || code >= len(k.pf.Codes) || reader < 0 || reader >= len(k.pf.readers) {
		return t, false
	}
	s, c := k.code(code)
	if c == nil || c.Matrix != nil {
		return t, false
	}
	x := k.exam(s, c, s.Panels, reader)
	t = Trace{Side: s.Side, AlongX: c.AlongX, Reverse: c.Reverse, Edition: x.edition, Peak: x.r.Peak, Spot: spot,
		Aperture: x.aperture().Diameter, Lines: band(c)}
	if spot {
		t.Aperture, t.Lines = x.r.Spot, x.lines()
	}
	if line == LineOf {
		line = x.deciding(&t)
	}
	if line < 0 || line >= len(t.Lines) {
		return t, false
	}
	t.At, t.Line = t.Lines[line], line
	x.trace(&t)
	return t, true
}

// deciding is the line that fails first, or grades lowest.
func (x *exam) deciding(t *Trace) (line int) {
	lowest, i := math.Inf(1), 0
	x.each(x.lit.usual, t.Aperture, t.Lines, func(_ float64, n int, p plane.Profile) {
		v := grade.Measure(p, x.c.Kind, x.c.Options, x.edition).Grade
		if t.Spot {
			v = 1
			if read, _ := x.reads(p); !read {
				v = 0
			}
		}
		if v < lowest {
			lowest, line = v, i
		}
		i += n
	})
	if t.Spot && lowest == 1 {
		return len(t.Lines) / 2
	}
	return line
}

// reads says whether a line decodes to what the code carries, and why not.
func (x *exam) reads(p plane.Profile) (bool, say.Text) {
	r, ok, why := grade.Read(p, x.c.Kind, x.c.Options)
	if ok && r.Text != x.c.Logical.Text {
		return false, otherData
	}
	return ok, why
}

// trace takes the profile of the trace's line and lays it on the face.
func (x *exam) trace(t *Trace) {
	g := x.p.Grid
	x.each(x.lit.usual, t.Aperture, []float64{t.At}, func(_ float64, _ int, p plane.Profile) {
		t.Samples = slices.Clone(p.Samples)
		t.Read, t.Why = x.reads(p)
		t.Scan = grade.Measure(p, x.c.Kind, x.c.Options, x.edition)
	})
	scan := x.scan()
	t.From, t.Step = scan.From, 1/float64(light.PerDot(along(x.c, g)))
	chars := charsOf(t.Scan.Reading.Chars, len(t.Scan.Elements), t.Reverse)
	for i, e := range t.Scan.Elements {
		a, b := scan.Dot(g, e.From), scan.Dot(g, e.To)
		t.Elements = append(t.Elements, TraceElement{min(a, b), max(a, b), e.Bar, e.Margin, chars[i]})
	}
	t.Drawn = drawnElements(x.c)
	if t.Reverse {
		slices.Reverse(t.Samples)
		slices.Reverse(t.Elements)
		slices.Reverse(t.Drawn)
	}
}

// scan is where the lines over a code begin and end: a narrow element beyond its
// quiet zones.
func (x *exam) scan() light.Scan {
	from, to := x.c.Quiet.X0-x.c.Size.X, x.c.Quiet.X1+x.c.Size.X
	if !x.c.AlongX {
		from, to = x.c.Quiet.Y0-x.c.Size.X, x.c.Quiet.Y1+x.c.Size.X
	}
	return light.Scan{AlongX: x.c.AlongX, From: float64(from), To: float64(to), Reverse: x.c.Reverse}
}

// charsOf names, of n elements in the order of the symbol, those where a
// character begins along the face.
func charsOf(chars []symbol.Char, n int, reverse bool) []string {
	out := make([]string, n)
	for _, c := range chars {
		at := c.From
		if reverse {
			at = c.To - 1
		}
		if at >= 0 && at < n {
			out[at] = c.Label
		}
	}
	return out
}

// drawnElements is every element of a code where its dots lie, in the order of
// the symbol. Margins are not known.
func drawnElements(c *face.Placed) []TraceElement {
	chars := charsOf(c.Logical.Chars, len(c.Widths), c.Reverse)
	out := make([]TraceElement, len(c.Widths))
	from, to := c.Bars.X0, c.Bars.X1
	if !c.AlongX {
		from, to = c.Bars.Y0, c.Bars.Y1
	}
	at := 0
	for i, w := range c.Widths {
		e := TraceElement{From: float64(from + at), To: float64(from + at + w), Bar: i%2 == 0, Char: chars[i]}
		if c.Reverse {
			e.From, e.To = float64(to-at-w), float64(to-at)
		}
		out[i], at = e, at+w
	}
	return out
}
