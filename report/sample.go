package report

import (
	"fmt"
	"html/template"
	"strings"

	"unspool/plane"
	"unspool/proof"
	"unspool/ribbon"
	"unspool/site"
	"unspool/unit"
)

// sampleView is one card in pictures.
type sampleView struct {
	ID    string // of the elements of this sample that need one
	Title string
	Whose string // whose card it is
	Sides []sideView
	Web   webView
}

type sideView struct {
	Side    string
	Colours string        // how near its pictures come to the page
	Lights  []pictureView // by eye, then under each lamp
	Panels  []pictureView
}

// pictureView is a picture with its words.
type pictureView struct {
	Src      template.URL
	Alt      string
	Style    template.CSS // its shape
	Spectrum template.HTML
	Name     string // "By eye"
	Says     string
}

func newSample(s *proof.Summary, c Sample, invented bool, n int) sampleView {
	v := sampleView{ID: fmt.Sprintf("card%d", n+1), Title: sentenceStart(c.Title), Whose: whose(c, invented)}
	var frames []ribbon.Frame
	for _, view := range c.Views {
		side := newSide(view)
		side.Colours = colours(s, view.Side)
		v.Sides = append(v.Sides, side)
		frames = append(frames, view.Spent...)
	}
	v.Web = newWeb(s.Programme, frames)
	return v
}

// colours says how near the dyes come to the photos and pictures of a side.
func colours(s *proof.Summary, side site.Side) string {
	var parts []string
	for _, c := range s.Colour {
		if c.Side == side {
			parts = append(parts, fmt.Sprintf("“%s” %.1f in the mean, %.1f at most", c.Element, c.Mean, c.Worst))
		}
	}
	if parts == nil {
		return ""
	}
	return "How far the printed colours lie from the page’s, over all cards, as the colour difference ΔE00 (0 is none): " + strings.Join(parts, "; ") + "."
}

// whose says what a sample shows, since a picture of a card is a credential.
func whose(c Sample, invented bool) string {
	switch {
	case invented:
		return "The person is invented and every code has a gap on purpose, so that this page can be shared: the card opens no door."
	case c.Row < 0:
		return "An invented person, but the codes are whole: treat this page like the cards."
	}
	return fmt.Sprintf("Row %s of the roster, a real person with codes that read: treat this page like the cards.", number(c.Row+1))
}

func newSide(v proof.View) sideView {
	out := sideView{Side: v.Side.String()}
	shape := cardShape(v.Grid)
	out.Lights = append(out.Lights, pictureView{dataURI(eyePNG(shrinkEye(v))), "The " + out.Side + " of the card as the eye sees it.",
		shape, daylight(), "By eye", "in daylight"})
	for _, l := range v.Lights {
		out.Lights = append(out.Lights, pictureView{dataURI(lightPNG(shrinkLight(l.Picture))),
			fmt.Sprintf("The %s of the card in %s light, %s, in greys.", out.Side, light(l.NM), l.NM),
			shape, lamp(l.NM, 0), "In " + light(l.NM), l.NM.String() + unseen(l.NM)})
	}
	for _, p := range v.Panels {
		out.Panels = append(out.Panels, pictureView{dataURI(framePNG(shrinkFrame(laid(v.Grid, p)))),
			fmt.Sprintf("What the %s panel lays on the %s of the card.", p.Panel.Name, out.Side),
			shape, "", string(p.Panel.Letter), p.Panel.Name + laysNothing(p)})
	}
	return out
}

func unseen(nm unit.Nanometres) string {
	if nm.Infrared() {
		return ", unseen by the eye"
	}
	return ""
}

func laysNothing(p proof.PanelView) string {
	for _, a := range p.Amount {
		if a != 0 {
			return ""
		}
	}
	return ": prints nothing"
}

// corner is the radius of a card's corners in millimetres: ISO/IEC 7810 (read
// second-hand), 3.18 for ID-1.
const corner = 3.18

// cardShape gives a picture the card's own proportions, whatever its dots are,
// and the card's corners.
func cardShape(g plane.Grid) template.CSS {
	w, h := g.DX.MM(float64(g.W)), g.DY.MM(float64(g.H))
	return template.CSS(fmt.Sprintf("aspect-ratio:%.2f/%.2f;border-radius:%.2f%%/%.2f%%", w, h, 100*corner/w, 100*corner/h))
}

// background is a panel's colour on the web where nothing has left it.
func background(p site.Panel) template.CSS {
	r, g, b, _ := ribbon.Frame{Panel: p}.Palette().Palette[0].RGBA()
	return template.CSS(fmt.Sprintf("background:#%02x%02x%02x", r>>8, g>>8, b>>8))
}
