package web

import (
	"slices"

	"unspool/design"
	"unspool/design/edit"
	"unspool/face"
	"unspool/plane"
	"unspool/proof"
	"unspool/site"
	"unspool/unit"
)

// remedy is a change of the programme that may cure a finding, as the page is
// told of it.
type remedy struct {
	Do      string `json:"do"` // resin, backing, widen, x, heighten, inwards, given or print
	Kind    string `json:"kind"`
	Element string `json:"element"`
	MM      number `json:"mm"`   // the new length of the box, or how far it moves
	High    number `json:"high"` // the new height of a box that grows both ways, MM being its width; else 0
	Dots    int    `json:"dots"` // of a narrow bar then; 0 where that is not the point
	changes []change
}

// patient is an element that something was found of.
type patient struct {
	programme *design.Programme
	side      site.Side
	index     int
	element   *design.Element
	code      *face.Placed // as laid on the card; nil where it is none
	pitch     unit.Pitch   // along the code
	grid      plane.Grid
	finding   proof.Finding
}

// patientOf finds the element of a finding; ok is false where it names none.
func patientOf(p *design.Programme, card *proof.Shown, f proof.Finding) (q patient, ok bool) {
	if f.Element == "" || p.Faces[f.Side] == nil {
		return q, false
	}
	q = patient{programme: p, side: f.Side, finding: f}
	all := p.Faces[f.Side].Elements
	q.index = slices.IndexFunc(all, func(e design.Element) bool { return e.Name == f.Element })
	if q.index < 0 {
		return q, false
	}
	q.element = &all[q.index]
	side := card.On(f.Side)
	for i := range side.Codes {
		if c := &side.Codes[i]; c.Element == q.index {
			q.code, q.pitch, q.grid = c, side.Panels.DX, side.Panels.Grid
			if !c.AlongX {
				q.pitch = side.Panels.DY
			}
		}
	}
	return q, true
}

// remedies are the changes that may cure a finding, the smallest first. Whether
// one does is for a proof to say.
func (q patient) remedies() []remedy {
	switch q.finding.ID {
	case "no-carbon", "part-carbon", "text-in-dye":
		if s := q.element.Send; (s == design.ByRule || s == design.ToDye) && (q.element.Code != nil || q.element.Text != nil) {
			return q.setting("resin", "send", edit.Text(design.ToResin.String()))
		}
	case "dark-ground":
		if c := q.element.Code; c != nil && !c.Backing {
			return q.setting("backing", "backing", edit.Flag(true))
		}
	case "check-twice":
		if c := q.element.Code; c != nil && !c.Options.Given {
			return q.setting("given", "given", edit.Flag(true))
		}
	case "x-below-head", "x-below-reader", "x-below-open", "code-too-wide":
		return q.larger()
	case "low-bars":
		if q.code != nil {
			return q.longer("heighten", !q.code.AlongX, design.Middle)
		}
	case "text-cut":
		if t := q.element.Text; t != nil {
			return append(q.longer("widen", true, t.Align), q.longer("heighten", false, t.Valign)...)
		}
	case "off-face":
		return q.inwards()
	case "number-differs":
		return q.printed()
	}
	return nil
}

func (q patient) remedy(do string, changes ...change) remedy {
	return remedy{Do: do, Kind: kindOf(q.element), Element: q.element.Name, changes: changes}
}

// at is a key of the element.
func (q patient) at(key string) edit.Path { return edit.Element(q.side, q.index).Key(key) }

func (q patient) setting(do, key string, v edit.Value) []remedy {
	return []remedy{q.remedy(do, set(q.at(key), &v))}
}

// mostSteps bounds how many sizes of a code are tried for one finding.
const mostSteps = 3

// larger gives a code the narrow bars that it lacks, and the room for them.
func (q patient) larger() (all []remedy) {
	if q.code == nil {
		return nil
	}
	c := q.element.Code
	for _, step := range q.code.Steps(c, q.grid) {
		if !q.enough(step.X) || len(all) == mostSteps {
			continue
		}
		r := q.remedy("x")
		r.Dots = step.X
		if !q.roomier(&r, step) {
			break
		}
		if c.X != 0 && c.X != step.X {
			x := edit.Whole(step.X)
			r.changes = append(r.changes, set(q.at("x"), &x))
		}
		if len(r.changes) > 0 {
			all = append(all, r)
		}
	}
	return all
}

// roomier lets a remedy give the box what it lacks for a step, a two-dimensional
// code's in both directions; false where there is no room.
func (q patient) roomier(r *remedy, step face.Step) bool {
	room := roomOf(q.programme, q.side, q.index)
	own, grid := room.box, q.grid
	width, height := grid.DX.Span(step.Need), grid.DY.Span(step.Across)
	if !q.code.AlongX {
		width, height = grid.DX.Span(step.Across), grid.DY.Span(step.Need)
	}
	alignX, alignY := q.element.Code.Align, design.Middle
	if !q.code.AlongX {
		alignX, alignY = alignY, alignX
	}
	for _, d := range []struct {
		alongX    bool
		need, has unit.Length
		align     design.Align
	}{{true, width, own.W, alignX}, {false, height, own.H, alignY}} {
		if d.need <= d.has {
			continue
		}
		b, ok := room.grown(d.alongX, d.need, d.align)
		if !ok {
			return false
		}
		room.box = b
	}
	b := room.box
	if b == own {
		return true
	}
	r.Do, r.MM = "widen", number(b.W.MM())
	switch {
	case b.W != own.W && b.H != own.H:
		r.High = number(b.H.MM())
	case b.H != own.H:
		r.MM = number(b.H.MM())
	}
	r.changes = append(r.changes, laid(q, b))
	return true
}

// enough says whether narrow bars of some dots are what the finding asks for.
func (q patient) enough(dots int) bool {
	switch q.finding.ID {
	case "code-too-wide":
		return dots >= q.element.Code.X
	case "x-below-open":
		return q.pitch.Cmp(dots, q.code.Kind.MinX) >= 0
	case "x-below-reader":
		i := slices.IndexFunc(q.programme.Readers, func(r site.Reader) bool { return r.Name == q.finding.Reader })
		return i >= 0 && q.pitch.Cmp(dots, q.programme.Readers[i].MinX) >= 0
	}
	return dots > q.code.Size.X
}

// longer gives the box of the element as much more length as is lacking.
func (q patient) longer(do string, alongX bool, align design.Align) []remedy {
	room := roomOf(q.programme, q.side, q.index)
	own := across(room.box)
	if !alongX {
		own = down(room.box)
	}
	b, ok := room.grown(alongX, own.to-own.from+unit.MM(q.finding.Value), align)
	if !ok {
		return nil
	}
	r := q.remedy(do, laid(q, b))
	if r.MM = number(b.W.MM()); !alongX {
		r.MM = number(b.H.MM())
	}
	return []remedy{r}
}

func (q patient) inwards() []remedy {
	b, by, ok := roomOf(q.programme, q.side, q.index).inside()
	if !ok {
		return nil
	}
	r := q.remedy("inwards", laid(q, b))
	r.MM = number(by.MM())
	return []remedy{r}
}

// laid gives the element another box.
func laid(q patient, b plane.Box) change {
	return boxed(q.side, q.index, [4]float64{b.X.MM(), b.Y.MM(), b.W.MM(), b.H.MM()})
}

// printed lets the text beside a code say what the code carries. That is meant
// only where both are one field and nothing else.
func (q patient) printed() []remedy {
	if q.element.Code == nil || !oneField(q.element.Code.Text) {
		return nil
	}
	for side, f := range q.programme.Faces {
		for i := 0; f != nil && i < len(f.Elements); i++ {
			e := &f.Elements[i]
			if e.Name != q.element.Code.Printed || e.Text == nil || !oneField(e.Text.Text) {
				continue
			}
			to := edit.Element(site.Side(side), i).Key("text")
			r := q.remedy("print", func(src *edit.Source) (edit.Change, error) {
				v, _ := src.Value(q.at("text"))
				return edit.Set{Path: to, Value: v}, nil
			})
			r.Element = e.Name
			return []remedy{r}
		}
	}
	return nil
}

func oneField(t design.Template) bool { return len(t.Parts) == 1 && t.Parts[0].Field != "" }
