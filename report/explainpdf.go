package report

import (
	"fmt"
	"image"
	"image/color"
	"strings"

	"unspool/pdf"
	"unspool/plane"
	"unspool/proof"
	"unspool/unit"
)

// The layout of the explanation, in millimetres: three columns on an upright A4
// sheet.
const (
	explainLeft = 16.0
	explainWide = a4Short - 2*explainLeft
	gutter      = 6.0
	columnWide  = (explainWide - 2*gutter) / 3
	explainEnd  = 291.0 // the words end a line above
	body        = 3.35  // em of running words
	caption     = 2.75  // em of captions
)

// ExplanationPDF writes one A4 page for a customer: their own card by eye and
// under a red and an infrared lamp, and the spent black panel, with the black rule
// right, with too much in resin and with too little; what each reader says, and
// what to do.
func ExplanationPDF(e Explanation) ([]byte, error) {
	if len(e.Ways) != 3 {
		return nil, fmt.Errorf("explanation: it shows three set-ups, not %d", len(e.Ways))
	}
	words, err := explain(e, 0)
	if err != nil {
		return nil, err
	}
	// What the words leave of the page is shared by the rows of pictures.
	x, err := explain(e, (explainEnd-words.y)/float64(words.rows))
	if err != nil {
		return nil, err
	}
	return x.Bytes()
}

// explainer sets the page from the top down.
type explainer struct {
	*typeset
	Explanation
	page *pdf.Page
	ways []way
	y    float64 // the next baseline, or the top of what comes next
	high float64 // the most a picture may be high; 0 leaves pictures out
	rows int     // of pictures so far
}

// explain sets the page with pictures of at most the given height.
func explain(e Explanation, high float64) (*explainer, error) {
	t, err := newTypeset("Why a card reader may not see what you see")
	if err != nil {
		return nil, err
	}
	x := &explainer{typeset: t, Explanation: e, page: t.Page(a4Short, a4Long), y: 20, high: high}
	for n := range e.Ways {
		x.ways = append(x.ways, newWay(e, n))
	}
	x.opening()
	x.heads()
	if err := x.looks(); err != nil {
		return nil, err
	}
	x.verdicts()
	x.closing()
	return x, nil
}

func (x *explainer) at(n int) float64 { return explainLeft + float64(n)*(columnWide+gutter) }

func (x *explainer) opening() {
	x.page.Tagged(pdf.Heading, "", func() {
		x.page.Text(x.strong(6.6), explainLeft, x.y, "One card, printed three ways. ")
		x.page.Text(x.text(6.6, inkGrey), explainLeft, x.y+8, "What differs is where its black comes from.")
	})
	x.y += 16.5
	x.y = paragraph(x.page, pdf.Paragraph, x.text(body, inkGrey), explainLeft, x.y, explainWide, 4,
		"A card printer has two blacks. It can mix one from yellow, magenta and cyan dye, soft enough for faces. Or it lays down black resin, "+
			"solid and full of carbon. By eye they are alike. Infrared light passes through dye as through clear glass and is stopped by carbon alone; "+
			"many time clocks and doors read by that light.") + 5
}

// heads are the names of the columns and what each does.
func (x *explainer) heads() {
	next := x.y
	for n, w := range x.ways {
		signMark(x.page, w.Verdict, x.at(n), x.y-3.6, 4.6)
		paragraph(x.page, pdf.Subheading, x.strong(4.2), x.at(n)+3.6, x.y, columnWide-3.6, 1, w.Title)
		next = max(next, paragraph(x.page, pdf.Paragraph, x.text(body, inkGrey), x.at(n), x.y+5.6, columnWide, 2, w.What))
	}
	x.y = next + 1
}

// looks are the rows of pictures: by eye, under each lamp, the black panel.
func (x *explainer) looks() error {
	views := make([]proof.View, len(x.Ways))
	for n, w := range x.Ways {
		views[n] = shrinkEye(w.View)
	}
	if err := x.row("By eye", "in daylight", allVisible, func(n int) (image.Image, plane.Grid, string) {
		return views[n].Eye, views[n].Grid, "The card by eye."
	}, true); err != nil {
		return err
	}
	for _, i := range redAndInfrared(x.Ways[0].View.Lights) {
		l := x.Ways[0].View.Lights[i]
		err := x.row("In "+light(l.NM)+" light", l.NM.String()+unseen(l.NM), bell(l.NM, 0), func(n int) (image.Image, plane.Grid, string) {
			p := shrinkLight(x.Ways[n].View.Lights[i].Picture)
			return lightGrey(p), p.Grid, fmt.Sprintf("The card in %s light.", light(l.NM))
		}, true)
		if err != nil {
			return err
		}
	}
	if _, ok := blackFrame(x.Ways[0].View); !ok {
		return nil
	}
	return x.row("On the used ribbon", "the black panel as it is pulled out: clear where black went to the card", nil, func(n int) (image.Image, plane.Grid, string) {
		f, _ := blackFrame(x.Ways[n].View)
		return trim(shrinkFrame(f).Palette()), f.Grid, "The black panel of the used ribbon. " + missing(f)
	}, false)
}

// redAndInfrared picks the lamp of the longest wavelength that the eye sees and
// that of the longest of all others.
func redAndInfrared(lights []proof.LightView) (picked []int) {
	for _, infrared := range [...]bool{false, true} {
		best := -1
		for i, l := range lights {
			if l.NM.Infrared() == infrared && (best < 0 || l.NM > lights[best].NM) {
				best = i
			}
		}
		if best >= 0 {
			picked = append(picked, best)
		}
	}
	return picked
}

// row sets the name of a way to look, its light, and the three pictures. Cards
// have round corners, web has not.
func (x *explainer) row(name, says string, lamp func(float64) float64, picture func(n int) (image.Image, plane.Grid, string), card bool) error {
	x.y += 3
	x.page.Tagged(pdf.Subheading, "", func() {
		st := x.strong(body)
		x.page.Text(st, explainLeft, x.y, name+" ")
		x.page.Text(x.text(body, softGrey), explainLeft+st.Width(name+"  ", body), x.y, says)
	})
	x.y += 1.4
	if lamp != nil {
		if err := x.spectrum(lamp); err != nil {
			return err
		}
	}
	x.y += 1.2
	x.rows++
	tall := 0.0
	for n, w := range x.ways {
		if x.high <= 0 {
			break
		}
		m, g, alt := picture(n)
		h, err := x.picture(m, g, x.at(n), w.Title+": "+lower(alt), card)
		if err != nil {
			return err
		}
		tall = max(tall, h)
	}
	x.y += tall + 3
	return nil
}

// picture draws a picture as wide as its column, or as high as a picture may be,
// and gives its height.
func (x *explainer) picture(m image.Image, g plane.Grid, left float64, alt string, card bool) (float64, error) {
	stored, err := x.Image(m)
	if err != nil {
		return 0, err
	}
	aspect := g.DX.MM(float64(g.W)) / g.DY.MM(float64(g.H))
	h := min(columnWide/aspect, x.high)
	w := h * aspect
	outline := new(pdf.Path).Rect(left, x.y, w, h)
	if card {
		outline = new(pdf.Path).Round(left, x.y, w, h, corner*w/x.Programme.Card.W.MM())
	}
	x.page.Tagged(pdf.Figure, alt, func() { x.page.Clip(outline, func() { x.page.Image(stored, left, x.y, w, h) }) })
	x.page.Stroke(lineGrey, hairline, outline)
	return h, nil
}

// spectrum draws the light of a row over the whole width: a thin line of all
// wavelengths, and above it what the lamp gives.
func (x *explainer) spectrum(lamp func(float64) float64) error {
	const high, thin = 2.6, 0.35
	stored, err := x.Image(spectrumPicture())
	if err != nil {
		return err
	}
	base := x.y + high
	o := new(pdf.Path).Move(explainLeft, base)
	const step = 5
	for nm := float64(unit.FirstNM); nm <= float64(unit.LastNM); nm += step {
		o.Line(explainLeft+explainWide*across(unit.Nanometres(nm))/across(unit.LastNM), base-high*lamp(nm))
	}
	o.Line(explainLeft+explainWide, base).Line(explainLeft+explainWide, base+thin).Line(explainLeft, base+thin).Close()
	x.page.Clip(o, func() { x.page.Image(stored, explainLeft, x.y, explainWide, high+thin) })
	x.y = base + thin
	return nil
}

// spectrumPicture is one row of colour, a dot a nanometre; grey where no eye
// sees.
func spectrumPicture() *image.RGBA {
	grey := color.RGBA{0x8a, 0x8a, 0x8a, 255}
	m := image.NewRGBA(image.Rect(0, 0, int(across(unit.LastNM))+1, 1))
	for px := range m.Rect.Dx() {
		m.SetRGBA(px, 0, hueAt(unit.FirstNM+unit.Nanometres(px), grey))
	}
	return m
}

// hueAt is the colour drawn for a wavelength, between those of hues.
func hueAt(nm unit.Nanometres, unseen color.RGBA) color.RGBA {
	from, c := unit.FirstNM, hex(hues[0].colour)
	for _, h := range hues {
		if nm < h.nm {
			return between(c, hex(h.colour), float64(nm-from)/float64(h.nm-from))
		}
		from, c = h.nm, hex(h.colour)
	}
	return between(c, unseen, min(1, float64(nm-from)/float64(785-from)))
}

func between(a, b color.RGBA, t float64) color.RGBA {
	mix := func(p, q uint8) uint8 { return uint8(float64(p)*(1-t) + float64(q)*t + 0.5) }
	return color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255}
}

// hex reads a colour of the table of hues.
func hex(s string) color.RGBA {
	c := color.RGBA{A: 255}
	fmt.Sscanf(s, "#%02x%02x%02x", &c.R, &c.G, &c.B)
	return c
}

// mostReaders is how many readers a columnWide names.
const mostReaders = 4

// verdicts are what comes of each way, what each reader says, what to do.
func (x *explainer) verdicts() {
	x.y += 3
	top, next := x.y, x.y
	for n, w := range x.ways {
		x.y = paragraph(x.page, pdf.Paragraph, x.text(body, inkGrey), x.at(n), top, columnWide, 3, w.Seen)
		next = max(next, x.y)
	}
	x.y = next + 1.4
	top = x.y
	for n, w := range x.ways {
		x.y = top
		for i, r := range w.Readers {
			if i == mostReaders {
				x.y = paragraph(x.page, pdf.Paragraph, x.text(caption, softGrey), x.at(n)+3, x.y, columnWide-3, 1, fmt.Sprintf("and %s more", number(len(w.Readers)-i)))
				break
			}
			signMark(x.page, r.Verdict, x.at(n), x.y-2.6, 3.2)
			instead := "A reader " + r.Verdict.String()
			if r.Verdict == proof.NotMeant {
				instead = "A reader: not known"
			}
			says := x.known(r.Says, instead)
			x.y = paragraph(x.page, pdf.Paragraph, x.text(caption, inkGrey), x.at(n)+3, x.y, columnWide-3, 1, says) + 0.5
		}
		next = max(next, x.y)
	}
	x.y = next + 1.6
	top = x.y
	for n, w := range x.ways {
		next = max(next, paragraph(x.page, pdf.Paragraph, x.strong(body), x.at(n), top, columnWide, 3, w.Do))
	}
	x.y = next
}

// closing says how to look for oneself, and what the page is.
func (x *explainer) closing() {
	x.y += 3
	x.y = paragraph(x.page, pdf.Paragraph, x.text(body, inkGrey), explainLeft, x.y, explainWide, 2,
		"See for yourself: pull out the used ribbon and hold its black panel to the light. The bar code must be missing from it, and the face must not. "+
			"Used ribbon can be read and scanned; destroy it like personal papers.")
	whose := "It shows a real person and a code that reads: treat it like the card."
	if x.Invented {
		whose = "The person is invented and the code has a gap on purpose, so this page opens no door."
	}
	about := strings.TrimSpace(x.known(x.Programme.Name, "") + ". ")
	if about == "." {
		about = ""
	}
	x.y = paragraph(x.page, pdf.Paragraph, x.text(caption, softGrey), explainLeft, x.y+1.5, explainWide, 2,
		strings.TrimSpace(about+" "+whose+" What readers say is predicted of the whole code, before wear and print faults."))
}

// signMark draws the sign of a verdict, as on the pages: a bar that is solid,
// half full, broken, or empty where there is none.
func signMark(p *pdf.Page, v proof.Verdict, x, y, high float64) {
	k := high / 28 // units of the sign's drawing
	box := func(x0, y0, w, h float64) *pdf.Path { return new(pdf.Path).Rect(x+k*x0, y+k*y0, k*w, k*h) }
	at := func(px, py float64) (float64, float64) { return x + k*px, y + k*py }
	line := func(points ...[2]float64) *pdf.Path {
		o := new(pdf.Path)
		for i, q := range points {
			if px, py := at(q[0], q[1]); i == 0 {
				o.Move(px, py)
			} else {
				o.Line(px, py)
			}
		}
		return o.Close()
	}
	switch v {
	case proof.Reads:
		p.Fill(inkGrey, box(1, 0, 10, 28))
	case proof.Little:
		p.Stroke(inkGrey, 1.6*k, box(2, 1, 8, 26))
		p.Fill(inkGrey, box(1, 14, 10, 14))
	case proof.NotMeant: // no verdict: the outline alone
		p.Stroke(inkGrey, 1.6*k, box(2, 1, 8, 26))
	default:
		p.Stroke(inkGrey, 1.6*k, line([2]float64{2, 1}, [2]float64{10, 1}, [2]float64{10, 10}, [2]float64{2, 14}))
		p.Stroke(inkGrey, 1.6*k, line([2]float64{2, 19}, [2]float64{10, 15}, [2]float64{10, 27}, [2]float64{2, 27}))
	}
}
