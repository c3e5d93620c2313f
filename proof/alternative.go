package proof

import (
	"slices"

	"unspool/code"
	"unspool/design"
	"unspool/face"
	"unspool/say"
	"unspool/site"
	"unspool/unit"
)

// attempt is a code of a kind that a reader takes, tried in the place of another.
type attempt struct {
	kind code.Kind
	face.Trial
	why say.Text // that it will not do; empty where it does
}

// instead says what a code that a reader does not take could be instead: of the
// kinds that it takes, the one that is narrowest in the element's box and legal; or
// why none will do. The narrowest leaves most to spare.
func (f *finder) instead(s *sideWork, c *face.Placed, r *reader) say.Text {
	var best *attempt
	var reasons say.Text
	var tried []string
	for _, a := range r.Accepts {
		k, ok := code.ByName(a.Kind)
		if !ok || slices.Contains(tried, a.Kind+a.Check) {
			continue
		}
		tried = append(tried, a.Kind+a.Check)
		t := f.attempt(s, c, r, k, a)
		switch {
		case t.why.IsZero() && (best == nil || t.Need[0] < best.Need[0]):
			best = &t
		case !t.why.IsZero() && reasons.IsZero():
			reasons = t.why
		case !t.why.IsZero():
			reasons = say.F("%s; %s", reasons, t.why)
		}
	}
	if best == nil {
		return say.F("Nothing that the reader takes will do in this box: %s. Change the box or the text, or have the reader set to %s.", reasons, c.Kind.Title)
	}
	x := along(c, s.setup.Grid()).Span(best.X)
	return say.F("Make it %s, the narrowest that the reader takes and that fits: at %d dots (%s) it needs %s. Or have the reader set to %s.",
		best.kind.Title, best.X, x, roomText(best.Trial), c.Kind.Title)
}

// attempt tries the text of a code as another kind, as a reader asks for it and no
// finer than the reader and the symbology allow.
func (f *finder) attempt(s *sideWork, c *face.Placed, r *reader, k code.Kind, a site.Accept) attempt {
	out := attempt{kind: k}
	e := &s.face.Elements[c.Element]
	if r.Kind == site.Slot && !k.Family.Linear() {
		out.why = say.F("a slot looks at one line, and %s needs the whole symbol", k.Title)
		return out
	}
	o := code.Options{Binary: e.Code.Options.Binary && !k.Family.Linear()}
	if check := code.Check(a.Check); check != k.Always {
		o.Check = check
	}
	pitch := along(c, s.setup.Grid())
	dots := pitch.Ceil(max(r.MinX, k.MinX))
	t, err := face.Try(k, o, e.Code, e.Code.Text.Expand(f.person), s.setup.Grid(), e.Box, dots)
	if err != nil { // the reason would quote the roster
		out.why = say.F("%s cannot carry its text", k.Title)
		return out
	}
	out.Trial = t
	switch n := len([]rune(t.Text)); {
	case a.Min > 0 && n < a.Min || a.Max > 0 && n > a.Max:
		out.why = say.F("as %s it has %d characters and the reader takes %s", k.Title, n, lengths(a.Min, a.Max))
	case k.MaxX > 0 && pitch.Cmp(t.X, k.MaxX) > 0:
		out.why = say.F("%s may have narrow bars of %s at most and the reader resolves %s", k.Title, k.MaxX, r.MinX)
	case !t.Fits():
		out.why = say.F("%s at %d dots (%s) needs %s", k.Title, t.X, pitch.Span(t.X), roomText(t))
	}
	return out
}

// roomText is the room that a trial needs beside the room there is.
func roomText(t face.Trial) say.Text {
	if t.Room[1] == 0 {
		return say.F("%.1f mm of the %.1f mm there are", t.Need[0].MM(), t.Room[0].MM())
	}
	return say.F("%.1f by %.1f mm of the %.1f by %.1f mm there are", t.Need[0].MM(), t.Need[1].MM(), t.Room[0].MM(), t.Room[1].MM())
}

// tooWide says of a two-dimensional code both sides of the room that it needs, and
// what would help.
func (f *finder) tooWide(s *sideWork, element int) (x Finding, ok bool) {
	i := slices.IndexFunc(s.codes, func(c face.Placed) bool { return c.Element == element })
	if i < 0 || s.codes[i].Matrix == nil {
		return x, false
	}
	c, e := &s.codes[i], &s.face.Elements[element]
	text := e.Code.Text.Expand(f.person)
	try := func(o code.Options, text string) (face.Trial, bool) {
		t, err := face.Try(c.Kind, o, e.Code, text, s.setup.Grid(), e.Box, c.Size.X)
		return t, err == nil && t.X == c.Size.X
	}
	t, ok := try(c.Options, text)
	if !ok {
		return x, false
	}
	over := max(t.Need[0]-t.Room[0], t.Need[1]-t.Room[1], unit.Micrometre)
	x = Finding{
		Measure: say.F("%.1f by %.1f mm", t.Need[0].MM(), t.Need[1].MM()), Limit: say.F("%.1f by %.1f mm", t.Room[0].MM(), t.Room[1].MM()),
		Detail: say.F("with %d dots a module and its quiet zone the code needs %s", c.Size.X, roomText(t)), Value: over.MM(),
		Remedy: say.F("Give it a box of %.1f by %.1f mm", t.Need[0].MM(), t.Need[1].MM()),
	}
	for _, level := range lower(c.Kind.Name, c.Options.Level) {
		o := c.Options
		o.Level = level
		if t, ok := try(o, text); ok && t.Fits() {
			x.Remedy = say.F("%s, or write level: %s, with which it fits", x.Remedy, level)
			break
		}
	}
	if n, all := f.fewer(e.Code, text, func(text string) bool { t, ok := try(c.Options, text); return ok && t.Fits() }); n > 0 {
		x.Remedy = say.F("%s, or shorten the text: %d of its %d characters fit", x.Remedy, n, all)
	}
	x.Remedy = say.F("%s.", x.Remedy)
	return x, true
}

// lower are the levels of error correction below one, the next first.
func lower(kind, level string) []string {
	var all []string
	switch kind {
	case "qr":
		all = []string{"H", "Q", "M", "L"}
		if level == "" {
			level = "M"
		}
	case "pdf417":
		all = []string{"8", "7", "6", "5", "4", "3", "2"}
	}
	return all[slices.Index(all, level)+1:]
}

// fewer is how many of a text's characters fit; 0 where none do or where a text is
// not simply shortened.
func (f *finder) fewer(c *design.Code, text string, fits func(string) bool) (n, all int) {
	if c.Options.GS1 || c.Options.Binary {
		return 0, 0
	}
	letters := []rune(text)
	lo, hi := 0, len(letters) // lo fit, hi do not
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; fits(string(letters[:mid])) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, len(letters)
}
