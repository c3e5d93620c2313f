package proof

import (
	"slices"

	"unspool/design"
	"unspool/face"
	"unspool/panel"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
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
	for i := range s.made.Zones {
		f.zone(s, &s.made.Zones[i])
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
		f.add("photo-missing", s, n.Element, Finding{Measure: n.Detail, Limit: say.Words("a file"), Detail: say.F("there is no photo %s", n.Detail),
			Shared: say.Words("there is no photo of the name that the roster gives"), Value: 1})
	case face.PhotoUnreadable:
		f.add("photo-unreadable", s, n.Element, Finding{Measure: say.Words("not a picture"), Limit: say.Words("a whole picture"), Detail: n.Detail,
			Shared: say.Words("the photo that the roster names cannot be used"), Value: 1})
	case face.PhotoTiny, face.PhotoUpscaled:
		id := map[face.NoteKind]string{face.PhotoTiny: "photo-tiny", face.PhotoUpscaled: "photo-upscaled"}[n.Kind]
		ratio := n.Value
		if n.Kind == face.PhotoTiny && n.Limit > 0 {
			ratio = n.Value / n.Limit
		}
		f.add(id, s, n.Element, Finding{Measure: say.F("%.2f pixels a dot", ratio), Limit: say.Words("1 pixel a dot"),
			Detail: say.F("the photo has %.2f pixels for every dot it is printed in", ratio), Value: 1 - ratio})
	case face.TextShrunk:
		f.add("text-shrunk", s, n.Element, Finding{Measure: say.F("%.2f mm", n.Value), Limit: say.F("%.2f mm", n.Limit),
			Detail: say.F("the text is set at %.2f mm instead of %.2f mm to fit its box", n.Value, n.Limit), Value: n.Limit - n.Value})
	case face.TextCut:
		f.textCut(s, n)
	case face.GlyphMissing:
		f.add("glyph-missing", s, n.Element, Finding{Measure: n.Detail, Limit: say.Words("a font that has them"),
			Detail: say.F("no font at hand has %s", n.Detail), Value: float64(len([]rune(n.Detail.String())))})
	case face.CodeRefused:
		f.add("cannot-carry", s, n.Element, Finding{Measure: say.Words("refused"), Limit: say.Words("what the symbology carries"), Detail: n.Detail,
			Shared: cannotCarry, Value: 1})
	case face.CodeTooWide:
		if x, ok := f.tooWide(s, n.Element); ok {
			f.add("code-too-wide", s, n.Element, x)
			return
		}
		f.add("code-too-wide", s, n.Element, Finding{Measure: say.F("%.1f mm", n.Value), Limit: say.F("%.1f mm", n.Limit),
			Detail: say.F("the code needs %.1f mm with its quiet zones and its box has %.1f mm", n.Value, n.Limit), Value: n.Value - n.Limit})
	case face.ColourAssumed:
		f.add("colour-assumed", s, n.Element, Finding{Measure: n.Detail, Limit: say.Words("a colour profile that can be read"), Detail: n.Detail, Value: 1})
	case face.FontFailed:
		f.add("font-failed", s, n.Element, Finding{Measure: say.Words("set in the bundled font"), Limit: say.Words("the font named"), Detail: n.Detail, Value: 1})
	case face.ZoneRefused:
		f.add("mrz-refused", s, n.Element, Finding{Measure: say.Words("refused"), Limit: say.Words("what its fields take"), Detail: n.Detail,
			Shared: say.Words("the roster holds something that no field of the zone takes"), Value: 1})
	case face.OffFace:
		f.add("off-face", s, n.Element, Finding{Measure: say.F("%.1f mm beyond", n.Value), Limit: say.Words("on the card"),
			Detail: say.F("it reaches %.1f mm beyond the card", n.Value), Value: n.Value})
	}
}

func (f *finder) textCut(s *sideWork, n face.Note) {
	x := Finding{Value: n.Value - n.Limit}
	switch n.Detail.String() {
	case "height":
		x.Measure, x.Limit = say.F("%.1f mm high", n.Value), say.F("%.1f mm high", n.Limit)
		x.Detail = say.F("the text needs %.1f mm of height and its box has %.1f mm; the rest is cut off", n.Value, n.Limit)
	case "characters":
		x.Measure, x.Limit = say.F("%.1f characters", n.Value), say.F("%.1f characters", n.Limit)
		x.Detail = say.F("the text has %.0f characters; only %.0f are set", n.Value, n.Limit)
	default:
		x.Measure, x.Limit = say.F("%.1f mm wide", n.Value), say.F("%.1f mm wide", n.Limit)
		x.Detail = say.F("the text needs %.1f mm of width and its box has %.1f mm; the rest is cut off", n.Value, n.Limit)
	}
	f.add("text-cut", s, n.Element, x)
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
		f.add(id, s, i, Finding{Level: level, Where: where, Measure: say.F("%d dots, %s of it", n.Resin, percent(share)), Limit: say.Words("0 dots"),
			Detail: say.F("%d dots (%s) of it go to the resin panel: hard black patches in a soft picture", n.Resin, percent(share)), Value: float64(n.Resin)})
	case e.Text != nil && e.Text.Colour == [3]uint8{} && e.Send == design.ByRule && site.Has(s.setup.Set(), site.BlackResin) && share < 0.5:
		f.add("text-in-dye", s, i, Finding{Measure: say.F("%s in resin", percent(share)), Limit: say.Words("all of it"),
			Detail: say.Words("its black is mixed from the dyes"), Value: 1 - share})
	}
	if dye := n.Dots - n.Resin; (e.Photo != nil || e.Picture != nil) && dye > 0 {
		if mean := n.DeltaE / float64(dye); mean > deltaSeen {
			f.add("colours-out", s, i, Finding{Measure: say.F("mean ΔE00 %.1f, largest %.1f", mean, n.MaxDeltaE), Limit: say.F("mean ΔE00 %.0f", deltaSeen),
				Detail: say.F("its colours differ from the page by ΔE00 %.1f in the mean, %.1f at most", mean, n.MaxDeltaE), Value: mean})
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

func percent(share float64) say.Text {
	switch p := 100 * share; {
	case p == 0 || p >= 9.95:
		return say.F("%.0f %%", p)
	case p < 0.1:
		return say.Words("under 0.1 %")
	default:
		return say.F("%.1f %%", p)
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
		f.add("no-code", f.worker.side(c.Side), c.Element, Finding{Reader: r.Name, Measure: say.Words("no code"), Limit: say.Words("one code"),
			Detail: say.Words("the card shows none of the codes that the reader takes"), Value: 1})
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
	f.add("nothing-in-resin", s, -1, Finding{Measure: say.Words("0 dots"), Limit: say.Words("some"), Detail: say.F("nothing on the %s comes from the resin panel", s.Side), Value: 1})
}
