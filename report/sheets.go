package report

import (
	"fmt"
	"html/template"
	"math"

	"unspool/ribbon"
)

// The layout of a sheet, in millimetres: A4 on its side, 297 by 210 (ISO 216),
// with room round the strips that every office printer reaches. The template
// holds the rest: words above the strips and the ruler below them.
const (
	sheetLeft   = 16.0  // where strips begin
	sheetAcross = 265.0 // longest strip
	stripsTop   = 42.0  // top of the first strip
	stripsEnd   = 188.0 // below the last one's words
	stripWords  = 15.0  // under a strip: its words, and room to the next
)

// sheets is the spent ribbon at its own size as its template takes it.
type sheets struct {
	CSS    template.CSS
	Name   string
	Seen   string
	Whose  string
	Ruler  []tick
	Sheets []sheet
}

type sheet struct {
	N, Of  int
	Title  string
	Strips []strip
}

// strip is a stretch of web on a sheet. Lengths are millimetres on the sheet.
type strip struct {
	Label      string
	X, Y, W, H float64
	Frames     []placedFrame
}

// placedFrame is the printed part of a frame in its strip.
type placedFrame struct {
	X, W, H float64 // from the strip's left; the printed part, dot for dot
	Middle  float64 // of the part that shows
	Alt     string
	Words   string
	frame   ribbon.Frame
}

// Src is the frame's picture.
func (f placedFrame) Src() template.URL { return dataURI(framePNG(f.frame)) }

// tick is a line of the ruler.
type tick struct {
	X, H  float64
	Label string
}

// RibbonSheets writes the spent ribbon of every sample at its own size, over as
// many A4 pages as it takes, each with a ruler of 100 mm to check the printing
// by. An error means a frame that no A4 page takes.
func RibbonSheets(in Input) ([]byte, error) {
	out, err := newSheets(in)
	if err != nil {
		return nil, err
	}
	out.CSS = style("look.css", "sheets.css")
	return render("sheets.html", out)
}

// newSheets lays the spent ribbon of every sample on sheets.
func newSheets(in Input) (out sheets, err error) {
	s := in.Summary
	out = sheets{Name: name(s), Seen: seenFrom(s.Programme.Printer.Process), Ruler: ruler(), Whose: "It shows a real person and codes that read."}
	if in.Invented {
		out.Whose = "This one shows an invented person, and its codes have a gap."
	}
	for _, c := range in.Samples {
		var frames []ribbon.Frame
		for _, v := range c.Views {
			frames = append(frames, v.Spent...)
		}
		made, err := lay(s.Programme.Ribbon.Pitch.MM(), frames)
		if err != nil {
			return out, err
		}
		for i := range made {
			made[i].Title = lower(c.Title)
		}
		out.Sheets = append(out.Sheets, made...)
	}
	for i := range out.Sheets {
		out.Sheets[i].N, out.Sheets[i].Of = i+1, len(out.Sheets)
	}
	return out, nil
}

// lay puts frames on sheets, a strip of whole panels below another. A panel
// longer than a sheet is cut.
func lay(pitch float64, frames []ribbon.Frame) (out []sheet, err error) {
	high := 0.0
	for _, f := range frames {
		w, h := size(f)
		pitch, high = max(pitch, w+leastGap), max(high, h)
	}
	rows := int((stripsEnd - stripsTop) / (high + stripWords))
	if rows < 1 {
		return nil, fmt.Errorf("ribbon sheets: a panel printed %.1f mm wide does not fit an A4 sheet at its own size", high)
	}
	placed := endless(pitch, frames)
	length := math.Floor(sheetAcross/pitch) * pitch
	if length == 0 {
		length = sheetAcross
	}
	web := pitch * float64(len(frames))
	strips := int(math.Ceil(web/length - 1e-9))
	for i := range strips {
		if i%rows == 0 {
			out = append(out, sheet{})
		}
		from := float64(i) * length
		s := strip{X: sheetLeft, Y: tidy(stripsTop + float64(i%rows)*(high+stripWords)), W: tidy(min(length, web-from)), H: tidy(high),
			Label: fmt.Sprintf("strip %d of %d", i+1, strips)}
		s.Frames = cut(placed, from, from+s.W)
		last := &out[len(out)-1]
		last.Strips = append(last.Strips, s)
	}
	return out, nil
}

// endless puts frames on one endless strip, each in the middle of its panel.
func endless(pitch float64, frames []ribbon.Frame) []placedFrame {
	out := make([]placedFrame, len(frames))
	for i, f := range frames {
		w, h := size(f)
		out[i] = placedFrame{X: tidy((float64(i)+0.5)*pitch - w/2), W: tidy(w), H: tidy(h), frame: f,
			Alt:   fmt.Sprintf("The %s panel after printing the %s.", f.Panel.Name, f.Side),
			Words: fmt.Sprintf("%c  %s, %s: panel %d of %d", f.Panel.Letter, f.Panel.Name, f.Side, i+1, len(frames))}
	}
	return out
}

// cut is the frames that show between two places of the strip.
func cut(frames []placedFrame, from, to float64) (out []placedFrame) {
	for _, f := range frames {
		a, b := max(f.X, from), min(f.X+f.W, to)
		if a >= b {
			continue
		}
		f.X, f.Middle = tidy(f.X-from), tidy((a+b)/2-from)
		out = append(out, f)
	}
	return out
}

// ruler is a rule of 100 mm.
func ruler() (ticks []tick) {
	for mm := range 101 {
		t := tick{X: sheetLeft + float64(mm), H: 2}
		switch {
		case mm%10 == 0:
			t.H, t.Label = 5, fmt.Sprint(mm)
		case mm%5 == 0:
			t.H = 3.5
		}
		ticks = append(ticks, t)
	}
	return ticks
}

// tidy rounds to a tenth of a micrometre, so that every machine writes the same
// number.
func tidy(mm float64) float64 { return math.Round(1e4*mm) / 1e4 }
