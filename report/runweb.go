package report

import (
	"html/template"
	"slices"

	"unspool/design"
	"unspool/proof"
)

// RunFrame is one frame of the web of a run.
type RunFrame struct {
	Number int    // place on the web, from 1
	Row    int    // the card, from 1
	Side   string // "front"
	Letter string
	Name   string // "black resin"
	Src    string // its picture, relative to the page
}

// RunFrames is the frames of one card whose web begins with frame first, with
// the names that Pictures gives their files after prefix. Row is the card's place
// in the run, from 0.
func RunFrames(views []proof.View, row, first int, prefix string) (out []RunFrame) {
	n := first
	for _, v := range views {
		for i, f := range v.Spent {
			out = append(out, RunFrame{Number: n, Row: row + 1, Side: v.Side.String(), Letter: string(f.Panel.Letter), Name: f.Panel.Name,
				Src: prefix + v.Side.String() + "-" + numbered("ribbon", i, f.Panel) + ".png"})
			n++
		}
	}
	return out
}

// RunWeb is a page with the spent ribbon of a run, frame by frame, in the order
// of feeding and as it comes off the take-up spool. It shows the pictures of
// frames beside it and so is no page to hand on.
func RunWeb(p *design.Programme, frames []RunFrame, whole bool) ([]byte, error) {
	back := slices.Clone(frames)
	slices.Reverse(back)
	return render("runweb.html", struct {
		CSS          template.CSS
		Name, Seen   string
		Frames, Back []RunFrame
		Whole        bool
	}{style("look.css", "page.css"), p.Name, seenFrom(p.Printer.Process), frames, back, whole})
}
