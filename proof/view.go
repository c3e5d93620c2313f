package proof

import (
	"image"

	"unspool/face"
	"unspool/ink"
	"unspool/light"
	"unspool/panel"
	"unspool/plane"
	"unspool/ribbon"
	"unspool/site"
	"unspool/unit"
)

// View is what one side of one card looks like.
type View struct {
	Side site.Side
	plane.Grid
	Eye    *image.RGBA // D65, sRGB
	Lights []LightView // under single lamps
	Panels []PanelView // what each panel lays on the card, in the order of feeding
	Spent  []ribbon.Frame
	Codes  []plane.Rect // where the codes are, with their quiet zones
}

// LightView is a side under one lamp.
type LightView struct {
	Name    string // "red 660 nm"
	NM      unit.Nanometres
	Picture plane.Picture
}

// PanelView is one panel's print on the card: 255 full, 0 none, in the face's
// own directions.
type PanelView struct {
	Panel  site.Panel
	Amount []uint8
}

// ViewOptions say how a view is drawn.
type ViewOptions struct {
	// Broken leaves a gap in every code, so that a picture of the card cannot be
	// read: a printed bar code opens doors.
	Broken bool
	// Portrait is shown instead of the person's photo; nil shows their own.
	Portrait []byte
	Lamps    []Lamp
}

// Lamp is a light to look at a card in.
type Lamp struct {
	Name string
	ink.Lamp
}

// Viewer draws cards, one after another, with buffers of its own: use one a
// goroutine.
type Viewer struct {
	pf    *Proof
	o     ViewOptions
	sides []viewSide
}

type viewSide struct {
	*side
	work   *face.Work
	panels *panel.Panels
	eye    *light.Eye
	lit    []*light.Lit // by lamp
}

// Viewer makes a viewer.
func (pf *Proof) Viewer(o ViewOptions) (*Viewer, error) {
	v := &Viewer{pf: pf, o: o}
	for _, d := range pf.sides {
		if d == nil {
			continue
		}
		s := viewSide{side: d, work: d.plan.Work(), panels: d.setup.NewPanels(), eye: d.scene.Eye(ink.Absolute)}
		if o.Portrait != nil {
			if err := s.work.ShowPortrait(o.Portrait); err != nil {
				return nil, err
			}
		}
		for _, l := range o.Lamps {
			s.lit = append(s.lit, d.scene.Under(l.Lamp))
		}
		v.sides = append(v.sides, s)
	}
	return v, nil
}

// View draws both sides of one card; a side that is not printed is left out.
func (v *Viewer) View(row Row) ([]View, error) {
	var views []View
	for i := range v.sides {
		s := &v.sides[i]
		made, err := s.work.Compose(row.Person)
		if err != nil {
			return nil, err
		}
		views = append(views, v.draw(s, made))
	}
	return views, nil
}

func (v *Viewer) draw(s *viewSide, made *face.Composed) View {
	p, all, art := s.panels, s.panels.Rect(), made.Art
	if v.o.Broken {
		art = art.Clone()
		for i := range made.Codes {
			breakCode(art, &made.Codes[i])
		}
	}
	s.setup.Split(p, art, all, nil)
	out := View{Side: s.Side, Grid: p.Grid, Eye: s.eye.Picture(p, all)}
	for i, l := range v.o.Lamps {
		out.Lights = append(out.Lights, LightView{l.Name, l.Peak(), s.lit[i].Picture(p, all)})
	}
	out.Spent = ribbon.Spent(p, s.setup.Set(), s.Side, v.pf.Programme.Printer)
	for _, q := range s.setup.Set() {
		out.Panels = append(out.Panels, PanelView{q, ribbon.Laid(p, q.Kind)})
	}
	for _, c := range made.Codes {
		out.Codes = append(out.Codes, c.Quiet)
	}
	return out
}

// breakCode leaves a gap of some eight narrow elements in the middle of a code:
// more than any character can lose and still be told.
func breakCode(a *face.Art, c *face.Placed) {
	gap := c.Bars
	if c.AlongX {
		gap.X0 = (c.Bars.X0+c.Bars.X1)/2 - 4*c.Size.X
		gap.X1 = gap.X0 + 8*c.Size.X
	} else {
		gap.Y0 = (c.Bars.Y0+c.Bars.Y1)/2 - 4*c.Size.X
		gap.Y1 = gap.Y0 + 8*c.Size.X
	}
	if c.Matrix != nil { // error correction mends less than two thirds of any
		gap = c.Bars
		gap.X0, gap.X1 = gap.X0+gap.W()*15/100, gap.X1-gap.W()*15/100
	}
	gap = gap.And(a.Rect())
	for y := gap.Y0; y < gap.Y1; y++ {
		for x := gap.X0; x < gap.X1; x++ {
			i := a.At(x, y)
			for k := 3 * i; k < 3*i+3; k++ {
				a.Page[k], a.Under[k] = 255, 255
			}
			a.Class[i], a.Owner[i], a.Mark[i] = face.Ground, 0, 0
		}
	}
}
