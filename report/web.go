package report

import (
	"fmt"
	"html/template"

	"unspool/design"
	"unspool/ribbon"
	"unspool/site"
)

// webView is a length of spent ribbon as a strip.
type webView struct {
	Frames []frameView
	Seen   string // the side it is seen from
}

type frameView struct {
	Letter, Name, Side string
	Band               template.CSS // the panel: its length on the web and its colour
	Shape              template.CSS // the printed part: its length and height
	Src                template.URL
	Alt                string
}

func newWeb(p *design.Programme, frames []ribbon.Frame) webView {
	v := webView{Seen: seenFrom(p.Printer.Process)}
	for _, f := range frames {
		w, h := size(f)
		v.Frames = append(v.Frames, frameView{
			Letter: string(f.Panel.Letter), Name: f.Panel.Name, Side: f.Side.String(),
			Band:  template.CSS(fmt.Sprintf("width:calc(var(--mm)*%.2f);%s", pitch(p.Ribbon, f), background(f.Panel))),
			Shape: template.CSS(fmt.Sprintf("width:calc(var(--mm)*%.2f);height:calc(var(--mm)*%.2f)", w, h)),
			Src:   dataURI(framePNG(shrinkFrame(f))),
			Alt:   fmt.Sprintf("The %s panel after printing the %s: what the card got is missing.", f.Panel.Name, f.Side),
		})
	}
	return v
}

// size is the printed part of a frame in millimetres, exactly as many dots long
// as it has.
func size(f ribbon.Frame) (w, h float64) { return f.DX.MM(float64(f.W)), f.DY.MM(float64(f.H)) }

// leastGap is drawn between two frames where the programme states no pitch, or
// one too short for the card, in millimetres (a picture, no source).
const leastGap = 3.0

// pitch is the length of web that a frame takes, in millimetres.
func pitch(r site.Ribbon, f ribbon.Frame) float64 {
	w, _ := size(f)
	return max(r.Pitch.MM(), w+leastGap)
}

// seenFrom says which side of the web is drawn and why it reads as it does.
func seenFrom(p site.Process) string {
	if p == site.Retransfer {
		return "Seen from the side of the print head. The printer prints mirrored onto a clear carrier, so everything is mirrored here."
	}
	return "Seen from the side of the print head, the side away from the card: text reads as on the card."
}
