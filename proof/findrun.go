package proof

import (
	"unspool/design"
	"unspool/panel"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
	"unspool/unit"
)

// Fixed lists what is wrong with the programme itself, whoever's card it is.
func (pf *Proof) Fixed() (out []Finding) {
	for _, d := range pf.sides {
		if d == nil {
			continue
		}
		for i := range d.face.Elements {
			out = append(out, pf.fixedElement(d, &d.face.Elements[i])...)
		}
		if d.Side == site.Back && !site.Has(d.setup.Set(), site.BlackResin) && blackMeant(d.face) {
			out = append(out, run("back-no-resin", d.Side, nil, say.F("panels for the back: %s", orNone(site.Letters(d.setup.Set()))), say.Words("a K panel"),
				say.Words("black text or codes on the back have no resin panel to come from")))
		}
	}
	for _, r := range pf.Readers {
		for _, a := range r.Accepts {
			if a.Kind == "itf" && (a.Min == 0 || a.Min != a.Max) {
				f := run("itf-open-length", 0, nil, say.Words("any length"), say.Words("one length"),
					say.Words("a slanted or short scan can read part of the symbol as a shorter number"))
				f.Reader = r.Name
				f.Remedy = say.Words("Fix the length at the reader, then state it under its accepts, as in {code: itf, length: 8}.")
				out = append(out, f)
			}
		}
	}
	return out
}

func orNone(s string) say.Text {
	if s == "" {
		return say.Words("none")
	}
	return say.Data(s)
}

// run makes a finding of the run.
func run(id string, s site.Side, e *design.Element, measure, limit, detail say.Text) Finding {
	f := Finding{ID: id, Level: About(id).Level, Row: -1, Side: s, Measure: measure, Limit: limit, Detail: detail, Value: 1}
	if e != nil {
		f.Element, f.Where = e.Name, e.Box
	}
	return f
}

// blackMeant says whether a face has black codes or text that no hand sent away
// from resin.
func blackMeant(f *design.Face) bool {
	for i := range f.Elements {
		e := &f.Elements[i]
		if e.Send != design.ByRule && e.Send != design.ToResin {
			continue
		}
		if e.Code != nil && e.Code.Colour == [3]uint8{} || e.Text != nil && e.Text.Colour == [3]uint8{} || e.MRZ != nil {
			return true
		}
	}
	return false
}

func (pf *Proof) fixedElement(d *side, e *design.Element) (out []Finding) {
	g := d.setup.Grid()
	box := g.Box(e.Box)
	if lacks := lacking(d.setup.Set(), e.Send); !lacks.IsZero() {
		out = append(out, run("no-panel", d.Side, e, say.F("ribbon %s", site.Letters(d.setup.Set())), lacks, say.F("it is sent to %s, which the side's panels lack", lacks)))
	}
	for _, k := range d.keepOuts {
		over := box.And(g.Box(k.Box))
		if over.Empty() || e.Picture != nil && k.Kind == site.Bump {
			continue
		}
		f := run("on-keepout", d.Side, e, say.F("%s by %s over it", g.DX.Span(over.W()), g.DY.Span(over.H())), say.Words("clear of it"),
			say.F("it lies over the %s", k.Kind))
		f.Where = over.Box(g)
		out = append(out, f)
	}
	reach := panel.Reach(pf.Programme.Card, g, d.lie, pf.Programme.Ribbon)
	if needsDye(e) && !box.And(g.Rect()).In(reach) {
		out = append(out, run("beyond-short", d.Side, e, say.F("up to %s beyond", beyond(box.And(g.Rect()), reach, g)),
			say.F("%s to %s from the leading edge", pf.Programme.Ribbon.ShortFrom, pf.Programme.Ribbon.ShortTo),
			say.Words("the colour panels do not reach all of it")))
	}
	if print := d.setup.Printable(); e.Text != nil || e.Code != nil || e.Photo != nil || e.MRZ != nil {
		if !box.In(print) {
			out = append(out, run("off-face", d.Side, e, say.F("%s beyond", beyond(box, print, g)), say.Words("within what the head reaches"),
				say.Words("part of its box cannot be printed")))
		}
	}
	return out
}

// beyond is how far a box reaches out of another.
func beyond(box, in plane.Rect, g plane.Grid) unit.Length {
	return max(g.DX.Span(max(in.X0-box.X0, box.X1-in.X1, 0)), g.DY.Span(max(in.Y0-box.Y0, box.Y1-in.Y1, 0)))
}

// lacking names the panel an element was sent to by hand and that is not there.
func lacking(set []site.Panel, s design.Send) say.Text {
	special := site.Has(set, site.Metallic) || site.Has(set, site.WhiteResin) || site.Has(set, site.ColourResin)
	switch {
	case s == design.ToResin && !site.Has(set, site.BlackResin) && !special:
		return say.Words("a resin panel")
	case s == design.ToDye && !site.Has(set, site.Cyan):
		return say.Words("dye panels")
	case s == design.ToFluor && !site.Has(set, site.Fluorescent):
		return say.Words("a fluorescent panel")
	case s == design.ToSpecial && !special:
		return say.Words("a metallic, white or coloured panel")
	}
	return say.Text{}
}

// needsDye says whether an element is sure to need the colour panels.
func needsDye(e *design.Element) bool {
	if e.Send != design.ByRule && e.Send != design.ToDye {
		return false
	}
	switch {
	case e.Photo != nil, e.Picture != nil, e.Send == design.ToDye:
		return true
	case e.Text != nil:
		return e.Text.Colour != [3]uint8{}
	case e.Code != nil:
		return e.Code.Colour != [3]uint8{}
	case e.MRZ != nil:
		return false
	}
	s := e.Shape
	return s.Fill != nil && *s.Fill != [3]uint8{} || s.Stroke != nil && *s.Stroke != [3]uint8{}
}
