package proof

import (
	"fmt"
	"slices"

	"unspool/design"
	"unspool/face"
	"unspool/panel"
	"unspool/plane"
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
