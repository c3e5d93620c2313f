package proof

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"unspool/design"
	"unspool/face"
	"unspool/panel"
	"unspool/plane"
	"unspool/site"
	"unspool/symbol"
	"unspool/unit"
)

// finder gathers the findings of one card.
type finder struct {
	worker *Worker
	card   *Card
	person design.Person
}

// add files a finding. Level comes from the catalogue unless one is given.
func (f *finder) add(id string, s *sideWork, element int, x Finding) {
	x.ID = id
	x.Row, x.Card = f.card.Row, f.card.Key
	if x.Level == 0 {
		x.Level = About(id).Level
	}
	x.Side = s.Side
	if element >= 0 {
		e := &s.face.Elements[element]
		x.Element = e.Name
		if x.Where == (plane.Box{}) {
			x.Where = e.Box
		}
	}
	f.card.Findings = append(f.card.Findings, x)
}

// side looks at one side: what the composer noticed, its codes, and what became
// of its photos, pictures and texts.
func (f *finder) side(s *sideWork) {
	for _, n := range s.made.Notes {
		f.note(s, n)
	}
	for i := range s.codes {
		f.code(s, &s.codes[i])
	}
	for i := range s.face.Elements {
		f.element(s, i, s.counts[i+1])
	}
	f.nothing(s)
}

// note turns what the composer noticed into a finding.
func (f *finder) note(s *sideWork, n face.Note) {
	switch n.Kind {
	case face.PhotoMissing:
		f.add("photo-missing", s, n.Element, Finding{Measure: n.Detail, Limit: "a file", Detail: "there is no photo " + n.Detail,
			Shared: "there is no photo of the name that the roster gives", Value: 1})
	case face.PhotoUnreadable:
		f.add("photo-unreadable", s, n.Element, Finding{Measure: "not a picture", Limit: "a whole picture", Detail: n.Detail,
			Shared: "the photo that the roster names cannot be used", Value: 1})
	case face.PhotoTiny, face.PhotoUpscaled:
		id := map[face.NoteKind]string{face.PhotoTiny: "photo-tiny", face.PhotoUpscaled: "photo-upscaled"}[n.Kind]
		ratio := n.Value
		if n.Kind == face.PhotoTiny && n.Limit > 0 {
			ratio = n.Value / n.Limit
		}
		f.add(id, s, n.Element, Finding{Measure: fmt.Sprintf("%.2f pixels a dot", ratio), Limit: "1 pixel a dot",
			Detail: fmt.Sprintf("the photo has %.2f pixels for every dot it is printed in", ratio), Value: 1 - ratio})
	case face.TextShrunk:
		f.add("text-shrunk", s, n.Element, Finding{Measure: fmt.Sprintf("%.2f mm", n.Value), Limit: fmt.Sprintf("%.2f mm", n.Limit),
			Detail: fmt.Sprintf("the text is set at %.2f mm instead of %.2f mm to fit its box", n.Value, n.Limit), Value: n.Limit - n.Value})
	case face.TextCut:
		f.textCut(s, n)
	case face.GlyphMissing:
		f.add("glyph-missing", s, n.Element, Finding{Measure: n.Detail, Limit: "a font that has them",
			Detail: "no font at hand has " + n.Detail, Value: float64(len([]rune(n.Detail)))})
	case face.CodeRefused:
		f.add("cannot-carry", s, n.Element, Finding{Measure: "refused", Limit: "what the symbology carries", Detail: n.Detail,
			Shared: cannotCarry, Value: 1})
	case face.CodeTooWide:
		f.add("code-too-wide", s, n.Element, Finding{Measure: fmt.Sprintf("%.1f mm", n.Value), Limit: fmt.Sprintf("%.1f mm", n.Limit),
			Detail: fmt.Sprintf("the code needs %.1f mm with its quiet zones and its box has %.1f mm", n.Value, n.Limit), Value: n.Value - n.Limit})
	case face.ColourAssumed:
		f.add("colour-assumed", s, n.Element, Finding{Measure: n.Detail, Limit: "a colour profile that can be read", Detail: n.Detail, Value: 1})
	case face.FontFailed:
		f.add("font-failed", s, n.Element, Finding{Measure: "set in the bundled font", Limit: "the font named", Detail: n.Detail, Value: 1})
	case face.OffFace:
		f.add("off-face", s, n.Element, Finding{Measure: fmt.Sprintf("%.1f mm beyond", n.Value), Limit: "on the card",
			Detail: fmt.Sprintf("it reaches %.1f mm beyond the card", n.Value), Value: n.Value})
	}
}

func (f *finder) textCut(s *sideWork, n face.Note) {
	unit, needs := "mm wide", "the text needs %.1f mm of width and its box has %.1f mm; the rest is cut off"
	switch n.Detail {
	case "height":
		unit, needs = "mm high", "the text needs %.1f mm of height and its box has %.1f mm; the rest is cut off"
	case "characters":
		unit, needs = "characters", "the text has %.0f characters; only %.0f are set"
	}
	f.add("text-cut", s, n.Element, Finding{Measure: fmt.Sprintf("%.1f %s", n.Value, unit), Limit: fmt.Sprintf("%.1f %s", n.Limit, unit),
		Detail: fmt.Sprintf(needs, n.Value, n.Limit), Value: n.Value - n.Limit})
}

// cannotCarry says so without the text.
const cannotCarry = "its symbology cannot carry the text of the card"

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
		f.add(cause.ID, s, c.Element, Finding{Level: level, Reader: x.r.Name,
			Measure: cause.Measure, Limit: cause.Limit, Value: cause.Value, Detail: cause.Reason})
	}
}

// drawing looks at how a code is drawn, whoever reads it.
func (f *finder) drawing(s *sideWork, c *face.Placed) {
	pitch := along(c, s.setup.Grid())
	x := pitch.Span(c.Size.X)
	if c.Kind.Family == symbol.TwoWidth {
		n := float64(c.Size.Wide) / float64(c.Size.X)
		lo, hi := c.Kind.MinRatio(x), c.Kind.MaxRatio
		if n < lo || n > hi {
			f.add("ratio-range", s, c.Element, Finding{Measure: fmt.Sprintf("%.2f", n), Limit: fmt.Sprintf("%.2f to %.2f", lo, hi),
				Detail: fmt.Sprintf("its wide bars are %.2f narrow ones", n), Value: max(lo-n, n-hi)})
		}
	}
	if c.Size.X == 1 {
		f.add("x-below-head", s, c.Element, Finding{Measure: "1 dot", Limit: "2 dots", Detail: "its narrow bars are a single dot, " + x.String(), Value: 1})
	}
	if c.Kind.MinX > 0 && pitch.Cmp(c.Size.X, c.Kind.MinX) < 0 {
		f.add("x-below-open", s, c.Element, Finding{Measure: x.String(), Limit: c.Kind.MinX.String(),
			Detail: fmt.Sprintf("its narrow bars are %s; for open use %s asks for %s", x, c.Kind.Title, c.Kind.MinX), Value: (c.Kind.MinX - x).MM()})
	}
	f.quietFloor(s, c, x)
	f.low(s, c)
	f.printed(s, c)
	f.swipe(s, c)
}

func (f *finder) quietFloor(s *sideWork, c *face.Placed, x unit.Length) {
	if q := unit.Length(c.Kind.QuietX) * x; q < c.Kind.QuietFloor {
		f.add("quiet-floor", s, c.Element, Finding{Measure: q.String(), Limit: c.Kind.QuietFloor.String(),
			Detail: fmt.Sprintf("10 X is %s here; some older papers ask for %s", q, c.Kind.QuietFloor), Value: (c.Kind.QuietFloor - q).MM()})
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
			f.add("low-bars", s, c.Element, Finding{Level: Look, Reader: r.Name, Measure: high.String(), Limit: need.String(),
				Detail: fmt.Sprintf("its bars are %s high; %s is recommended for scanning by hand", high, need), Value: (need - high).MM()})
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
		text, coded := bare(t.text), bare(c.Logical.Text)
		data := bare(s.face.Elements[c.Element].Code.Text.Expand(f.person))
		if text == coded || text == data || strings.HasSuffix(text, data) && data != "" {
			return
		}
		f.add("number-differs", s, c.Element, Finding{Measure: fmt.Sprintf("printed %q", t.text), Limit: fmt.Sprintf("coded %q", c.Logical.Text),
			Detail: fmt.Sprintf("the text %q reads %q and the code carries %q", name, t.text, c.Logical.Text),
			Shared: fmt.Sprintf("the text %q reads unlike what the code carries", name), Value: 1})
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
			if o.Element > c.Element && under(o) {
				f.add("two-codes", s, o.Element, Finding{Reader: r.Name, Measure: "2 codes", Limit: "1 code",
					Detail: fmt.Sprintf("%q and %q both lie on the read line", s.face.Elements[c.Element].Name, s.face.Elements[o.Element].Name), Value: 1})
			}
		}
	}
}

// element looks at what became of one element's dots.
func (f *finder) element(s *sideWork, i int, n panel.Count) {
	e := &s.face.Elements[i]
	if n.Dots == 0 {
		return
	}
	share := float64(n.Resin) / float64(n.Dots)
	where := n.Where.Box(s.setup.Grid())
	switch {
	case (e.Photo != nil || e.Picture != nil) && n.Resin > 0 && dyesIn(s.setup.Set()) && e.Send != design.ToResin:
		id, level := "picture-in-resin", Look
		if e.Photo != nil {
			id = "photo-in-resin"
			if level = Look; share > photoResin {
				level = Stop
			}
		}
		f.add(id, s, i, Finding{Level: level, Where: where, Measure: fmt.Sprintf("%d dots, %s of it", n.Resin, percent(share)), Limit: "0 dots",
			Detail: fmt.Sprintf("%d dots (%s) of it go to the resin panel: hard black patches in a soft picture", n.Resin, percent(share)), Value: float64(n.Resin)})
	case e.Text != nil && e.Text.Colour == [3]uint8{} && e.Send == design.ByRule && site.Has(s.setup.Set(), site.BlackResin) && share < 0.5:
		f.add("text-in-dye", s, i, Finding{Measure: percent(share) + " in resin", Limit: "all of it",
			Detail: "its black is mixed from the dyes", Value: 1 - share})
	}
	if dye := n.Dots - n.Resin; (e.Photo != nil || e.Picture != nil) && dye > 0 {
		if mean := n.DeltaE / float64(dye); mean > deltaSeen {
			f.add("colours-out", s, i, Finding{Measure: fmt.Sprintf("mean ΔE00 %.1f, largest %.1f", mean, n.MaxDeltaE), Limit: fmt.Sprintf("mean ΔE00 %.0f", deltaSeen),
				Detail: fmt.Sprintf("its colours differ from the page by ΔE00 %.1f in the mean, %.1f at most", mean, n.MaxDeltaE), Value: mean})
		}
	}
}

// dyesIn says whether a side could be printed in dye at all.
func dyesIn(set []site.Panel) bool {
	return slices.ContainsFunc(set, func(p site.Panel) bool { return p.Kind.Dye() })
}

// photoResin is the share of a photo's dots in resin from which a run should
// stop; a stray dot or two nobody sees. deltaSeen is a mean colour difference
// that is seen side by side. Both are own judgement.
const (
	photoResin = 0.001
	deltaSeen  = 3.0
)

func percent(share float64) string {
	switch p := 100 * share; {
	case p == 0 || p >= 9.95:
		return fmt.Sprintf("%.0f %%", p)
	case p < 0.1:
		return "under 0.1 %"
	default:
		return fmt.Sprintf("%.1f %%", p)
	}
}

// missed tells of every reader that finds none of the codes it is to read, since
// the card shows none of them.
func (f *finder) missed() {
	pf := f.worker.pf
	for i := range pf.readers {
		r, first := &pf.readers[i], -1
		for code, c := range pf.Codes {
			if first < 0 && pf.meant(r, code) && pf.takes(r, c) {
				first = code
			}
		}
		reads := func(r Reading) bool { return r.Reader == i && r.Verdict != NotMeant }
		if first < 0 || slices.ContainsFunc(f.card.Readings, reads) {
			continue
		}
		c := pf.Codes[first]
		f.add("no-code", f.worker.side(c.Side), c.Element, Finding{Reader: r.Name, Measure: "no code", Limit: "one code",
			Detail: "the card shows none of the codes that the reader takes", Value: 1})
	}
}

// nothing says so where a side with a resin panel prints nothing from it though
// it carries codes.
func (f *finder) nothing(s *sideWork) {
	if !site.Has(s.setup.Set(), site.BlackResin) || len(s.codes) == 0 {
		return
	}
	for _, n := range s.counts {
		if n.Resin > 0 {
			return
		}
	}
	f.add("nothing-in-resin", s, -1, Finding{Measure: "0 dots", Limit: "some", Detail: fmt.Sprintf("nothing on the %s comes from the resin panel", s.Side), Value: 1})
}
