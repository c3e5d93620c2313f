package proof

import (
	"image"

	"unspool/face"
	"unspool/ink"
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

// View draws both sides of one card; a side that is not printed is left out.
func (pf *Proof) View(row Row, o ViewOptions) ([]View, error) {
	var views []View
	for _, d := range pf.sides {
		if d == nil {
			continue
		}
		work := d.plan.Work()
		if o.Portrait != nil {
			if err := work.ShowPortrait(o.Portrait); err != nil {
				return nil, err
			}
		}
		made, err := work.Compose(row.Person)
		if err != nil {
			return nil, err
		}
		if o.Broken {
			for i := range made.Codes {
				breakCode(made.Art, &made.Codes[i])
			}
		}
		views = append(views, pf.view(d, made, o))
	}
	return views, nil
}

func (pf *Proof) view(d *side, made *face.Composed, o ViewOptions) View {
	p := d.setup.NewPanels()
	all := p.Rect()
	d.setup.Split(p, made.Art, all, nil)
	v := View{Side: d.Side, Grid: p.Grid, Eye: d.scene.Eye(ink.Absolute).Picture(p, all)}
	for _, l := range o.Lamps {
		v.Lights = append(v.Lights, LightView{l.Name, l.Peak(), d.scene.Under(l.Lamp).Picture(p, all)})
	}
	v.Spent = ribbon.Spent(p, d.setup.Set(), d.Side, pf.Programme.Printer)
	for _, q := range d.setup.Set() {
		v.Panels = append(v.Panels, PanelView{q, ribbon.Laid(p, q.Kind)})
	}
	for _, c := range made.Codes {
		v.Codes = append(v.Codes, c.Quiet)
	}
	return v
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
