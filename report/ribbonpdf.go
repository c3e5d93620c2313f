package report

import (
	"fmt"

	"unspool/pdf"
)

// A4 (ISO 216) in millimetres, and the width of fine lines.
const (
	a4Short  = 210.0
	a4Long   = 297.0
	hairline = 0.15
)

// RibbonPDF writes the spent ribbon of every sample at its own size, to lay
// beside the real one: the sheets of RibbonSheets as a PDF, which asks to be
// printed at 100 %. An error means a frame that no A4 page takes.
func RibbonPDF(in Input) ([]byte, error) {
	s, err := newSheets(in)
	if err != nil {
		return nil, err
	}
	t, err := newTypeset("Spent ribbon at true size: " + s.Name)
	if err != nil {
		return nil, err
	}
	t.TrueSize = true
	for _, sheet := range s.Sheets {
		if err := t.sheet(s, sheet); err != nil {
			return nil, err
		}
	}
	if len(s.Sheets) == 0 {
		p := t.Page(a4Long, a4Short)
		paragraph(p, pdf.Paragraph, t.text(3.4, inkGrey), sheetLeft, 18.5, sheetAcross, 2, "No card, no ribbon: the roster is empty.")
	}
	return t.Bytes()
}

func (t *typeset) sheet(s sheets, one sheet) error {
	p := t.Page(a4Long, a4Short)
	head := fmt.Sprintf("Spent ribbon at true size, sheet %d of %d", one.N, one.Of)
	words := t.text(3.4, inkGrey)
	paragraph(p, pdf.Heading, t.strong(4.4), sheetLeft, 13.5, sheetAcross, 1, head)
	for i, line := range [...]string{
		t.known(s.Name+": ", "") + one.Title,
		"People and scanners can read this. Keep it like the cards, and destroy it like personal papers. " + s.Whose,
		"Print at 100 %, not fitted to the page. " + s.Seen,
		"To see it as it comes off the take-up spool, last panel first, turn the sheets by half a turn.",
	} {
		paragraph(p, pdf.Paragraph, words, sheetLeft, 18.5+4.5*float64(i), sheetAcross, 1, line)
	}
	for _, strip := range one.Strips {
		if err := t.strip(p, strip); err != nil {
			return err
		}
	}
	t.ruler(p, s.Ruler)
	return nil
}

// strip draws a stretch of web with its feed arrow above and its words below.
func (t *typeset) strip(p *pdf.Page, s strip) error {
	small := t.text(3, softGrey)
	p.Stroke(inkGrey, 0.3, new(pdf.Path).Move(s.X+12, s.Y-4).Line(s.X+1, s.Y-4).Move(s.X+3, s.Y-5.2).Line(s.X+1, s.Y-4).Line(s.X+3, s.Y-2.8))
	p.Tagged(pdf.Paragraph, "", func() {
		p.Text(small, s.X+14, s.Y-3, "fed this way")
		p.Text(small, s.X+s.W-1-small.Width(s.Label, small.Size), s.Y-3, s.Label)
	})
	marks := new(pdf.Path)
	for _, x := range [...]float64{s.X, s.X + s.W} {
		marks.Move(x, s.Y-2.5).Line(x, s.Y-6.5).Move(x, s.Y+s.H+2.5).Line(x, s.Y+s.H+6.5)
	}
	for _, f := range s.Frames {
		corners(marks, s.X+f.X, s.Y, f.W, f.H)
		m, err := t.Image(trim(f.frame.Palette()))
		if err != nil {
			return err
		}
		p.Tagged(pdf.Figure, f.Alt, func() {
			p.Clip(new(pdf.Path).Rect(s.X, s.Y, s.W, s.H), func() { p.Image(m, s.X+f.X, s.Y, f.W, f.H) })
		})
		p.Tagged(pdf.Paragraph, "", func() { middle(p, small, s.X+f.Middle, s.Y+s.H+6, f.Words) })
	}
	p.Stroke(inkGrey, hairline, marks)
	return nil
}

// corners marks the corners of a frame from outside: its edge is where they
// point, not where they lie.
func corners(o *pdf.Path, x, y, w, h float64) {
	for _, cx := range [...]float64{x, x + w} {
		out := -1.0
		if cx > x {
			out = 1
		}
		o.Move(cx, y-0.8).Line(cx, y-2.8).Move(cx+0.8*out, y).Line(cx+1.4*out, y)
		o.Move(cx, y+h+0.8).Line(cx, y+h+2.8).Move(cx+0.8*out, y+h).Line(cx+1.4*out, y+h)
	}
}

// ruler draws the rule that shows whether the sheet is at true size.
func (t *typeset) ruler(p *pdf.Page, ticks []tick) {
	const y = 194
	o := new(pdf.Path).Move(sheetLeft, y).Line(sheetLeft+100, y)
	for _, k := range ticks {
		o.Move(k.X, y).Line(k.X, y+k.H)
		if k.Label != "" {
			middle(p, t.text(3, softGrey), k.X, y+8, k.Label)
		}
	}
	p.Stroke(inkGrey, hairline, o)
	paragraph(p, pdf.Paragraph, t.text(3.4, inkGrey), 120, y+5, 160, 1, "100 mm. If this ruler measures anything else, the sheet is not at true size.")
}
