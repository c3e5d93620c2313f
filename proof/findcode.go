package proof

import (
	"strings"
	"unicode"

	"unspool/face"
	"unspool/say"
	"unspool/site"
	"unspool/symbol"
	"unspool/unit"
)

// cannotCarry says so without the text.
var cannotCarry = say.Words("its symbology cannot carry the text of the card")

// code looks at one code, first at its readings, then at its drawing.
func (f *finder) code(s *sideWork, c *face.Placed) {
	for _, r := range f.card.of(f.worker.pf.codeIndex(s.Side, c.Element)) {
		if r.Verdict != NotMeant {
			f.reading(s, c, &r)
		}
	}
	f.drawing(s, c)
}

// reading files what decided a reading, and besides what disturbs the code at
// that reader though it did not decide.
func (f *finder) reading(s *sideWork, c *face.Placed, r *Reading) {
	x := exam{s.side, &f.worker.sight, s.made.Art, s.panels, c, &f.worker.pf.readers[r.Reader], s.lit[r.Reader]}
	causes := []Cause{r.Cause, x.blameDead(), x.blameCut(), x.blameQuiet(&r.Worst)}
	for i, cause := range causes {
		if cause.ID == "" || i > 0 && cause.ID == r.Cause.ID {
			continue
		}
		level := About(cause.ID).Level
		switch {
		case i == 0 && r.Verdict == Fails:
			level = Stop
		case level == Stop && r.Verdict != Fails:
			level = Look
		}
		found := Finding{Level: level, Reader: x.r.Name,
			Measure: cause.Measure, Limit: cause.Limit, Value: cause.Value, Detail: cause.Reason}
		if cause.ID == "wrong-kind" {
			found.Remedy = f.instead(s, c, x.r)
		}
		f.add(cause.ID, s, c.Element, found)
	}
	f.corrected(s, c, r)
}

// drawing looks at how a code is drawn, whoever reads it.
func (f *finder) drawing(s *sideWork, c *face.Placed) {
	pitch := along(c, s.setup.Grid())
	x := pitch.Span(c.Size.X)
	if c.Kind.Family == symbol.TwoWidth {
		n := float64(c.Size.Wide) / float64(c.Size.X)
		lo, hi := c.Kind.MinRatio(x), c.Kind.MaxRatio
		if n < lo || n > hi {
			f.add("ratio-range", s, c.Element, Finding{Measure: say.F("%.2f", n), Limit: say.F("%.2f to %.2f", lo, hi),
				Detail: say.F("its wide bars are %.2f narrow ones", n), Value: max(lo-n, n-hi)})
		}
	}
	if c.Size.X == 1 {
		detail := say.F("its narrow bars are a single dot, %s", x)
		if c.Matrix != nil {
			detail = say.F("its modules are a single dot, %s", x)
		}
		f.add("x-below-head", s, c.Element, Finding{Measure: say.Words("1 dot"), Limit: say.Words("2 dots"), Detail: detail, Value: 1})
	}
	if c.Kind.MinX > 0 && pitch.Cmp(c.Size.X, c.Kind.MinX) < 0 {
		f.add("x-below-open", s, c.Element, Finding{Measure: say.F("%s", x), Limit: say.F("%s", c.Kind.MinX),
			Detail: say.F("its narrow bars are %s; for open use %s asks for %s", x, c.Kind.Title, c.Kind.MinX), Value: (c.Kind.MinX - x).MM()})
	}
	if c.Kind.MaxX > 0 && pitch.Cmp(c.Size.X, c.Kind.MaxX) > 0 {
		f.add("x-above-most", s, c.Element, Finding{Measure: say.F("%s", x), Limit: say.F("%s", c.Kind.MaxX),
			Detail: say.F("its narrow bars are %s; %s allows %s at most", x, c.Kind.Title, c.Kind.MaxX), Value: (x - c.Kind.MaxX).MM()})
	}
	f.printed(s, c)
	f.levelLow(s, c)
	if c.Matrix == nil {
		f.quietFloor(s, c, x)
		f.low(s, c)
		f.swipe(s, c)
	}
}

func (f *finder) quietFloor(s *sideWork, c *face.Placed, x unit.Length) {
	if q := unit.Length(c.Kind.QuietX) * x; q < c.Kind.QuietFloor {
		f.add("quiet-floor", s, c.Element, Finding{Measure: say.F("%s", q), Limit: say.F("%s", c.Kind.QuietFloor),
			Detail: say.F("10 X is %s here; some older papers ask for %s", q, c.Kind.QuietFloor), Value: (c.Kind.QuietFloor - q).MM()})
	}
}

// low looks at the height of the bars where a person scans them.
func (f *finder) low(s *sideWork, c *face.Placed) {
	width := along(c, s.setup.Grid()).Span(c.Bars.W())
	if !c.AlongX {
		width = along(c, s.setup.Grid()).Span(c.Bars.H())
	}
	need := c.Kind.MinHeight(width)
	e := exam{side: s.side, c: c}
	high := e.height()
	if high >= need {
		return
	}
	for i := range f.worker.pf.readers {
		r := &f.worker.pf.readers[i]
		if r.Kind == site.Hand && accepts(c, r).ID == "" {
			f.add("low-bars", s, c.Element, Finding{Level: Look, Reader: r.Name, Measure: say.F("%s", high), Limit: say.F("%s", need),
				Detail: say.F("its bars are %s high; %s is recommended for scanning by hand", high, need), Value: (need - high).MM()})
		}
	}
}

// printed compares the number a person reads with the one the code carries.
func (f *finder) printed(s *sideWork, c *face.Placed) {
	name := s.face.Elements[c.Element].Code.Printed
	if name == "" {
		return
	}
	for _, t := range f.worker.texts() {
		if t.name != name {
			continue
		}
		text, coded := bare(t.text), bare(c.Text())
		data := bare(s.face.Elements[c.Element].Code.Text.Expand(f.person))
		if text == coded || text == data || strings.HasSuffix(text, data) && data != "" {
			return
		}
		f.add("number-differs", s, c.Element, Finding{Measure: say.F("printed %q", t.text), Limit: say.F("coded %q", c.Text()),
			Detail: say.F("the text %q reads %q and the code carries %q", name, t.text, c.Text()),
			Shared: say.F("the text %q reads unlike what the code carries", name), Value: 1})
	}
}

// named is a text element's words on the card in hand.
type named struct{ name, text string }

// texts are the text elements of both sides.
func (w *Worker) texts() (out []named) {
	for _, s := range w.sides {
		for _, t := range s.made.Texts {
			out = append(out, named{s.face.Elements[t.Element].Name, t.Text})
		}
	}
	return out
}

// bare leaves out what a printed number has for the eye: spaces and dashes.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, s)
}

// swipe looks for a second code under the same slot reader's line.
func (f *finder) swipe(s *sideWork, c *face.Placed) {
	for i := range f.worker.pf.readers {
		r := &f.worker.pf.readers[i]
		if r.Kind != site.Slot || r.Track.Side != s.Side {
			continue
		}
		under := func(c *face.Placed) bool {
			x := exam{side: s.side, c: c, r: r}
			at, half := x.track()
			lo, hi := float64(c.Bars.Y0), float64(c.Bars.Y1)
			if !c.AlongX {
				lo, hi = float64(c.Bars.X0), float64(c.Bars.X1)
			}
			return c.AlongX != r.Track.From.Horizontal() && at+half > lo && at-half < hi
		}
		if !under(c) {
			continue
		}
		for j := range s.codes {
			o := &s.codes[j]
			if o.Matrix == nil && o.Element > c.Element && under(o) {
				f.add("two-codes", s, o.Element, Finding{Reader: r.Name, Measure: say.Words("2 codes"), Limit: say.Words("1 code"),
					Detail: say.F("%q and %q both lie on the read line", s.face.Elements[c.Element].Name, s.face.Elements[o.Element].Name), Value: 1})
			}
		}
	}
}
