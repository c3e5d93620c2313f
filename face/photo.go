package face

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"unspool/design"
	"unspool/face/picture"
	"unspool/face/svg"
	"unspool/plane"
	"unspool/say"
	"unspool/unit"
)

// artwork is a decoded picture: dots or a drawing.
type artwork struct {
	image   *picture.Image
	drawing *svg.Drawing
}

func loadArtwork(a Assets, name string) (artwork, error) {
	data, err := a.Artwork(name)
	if err != nil {
		return artwork{}, fmt.Errorf("the picture %q %w", name, err)
	}
	if isSVG(name, data) {
		d, err := svg.Parse(data)
		if err != nil {
			return artwork{}, fmt.Errorf("the drawing %q, %w", name, err)
		}
		return artwork{drawing: d}, nil
	}
	m, err := picture.Decode(data)
	if err != nil {
		return artwork{}, fmt.Errorf("the picture %q: %w", name, err)
	}
	return artwork{image: m}, nil
}

func isSVG(name string, data []byte) bool {
	head := strings.TrimLeft(strings.TrimPrefix(string(data[:min(len(data), 512)]), "\ufeff"), " \t\r\n")
	return strings.EqualFold(path.Ext(name), ".svg") || strings.HasPrefix(head, "<svg") || strings.HasPrefix(head, "<?xml")
}

func (w *Work) drawPicture(l *layer, pt *part) {
	if pt.art.drawing == nil {
		w.drawImage(l, pt, pt.art.image, Picture, pt.Picture.Fit, 0.5, 0.5)
		return
	}
	d := pt.art.drawing
	whole, view := fit(w.pl.grid, pt.Box, d.W, d.H, pt.Picture.Fit, 0.5, 0.5)
	rect, view := cutToFace(w.pl.grid, whole, view)
	if rect.Empty() {
		l.offFace(pt, w.pl.grid, whole)
		return
	}
	m := d.Draw(rect.W(), rect.H(), svg.View{X0: d.X + view.X0, Y0: d.Y + view.Y0, X1: d.X + view.X1, Y1: d.Y + view.Y1})
	c := l.add(pt.index, pt.Element, Picture, rect)
	pix, alpha := c.withPix(), c.withAlpha()
	for i := range alpha {
		copy(pix[3*i:3*i+3], m.Pix[4*i:4*i+3])
		alpha[i] = m.Pix[4*i+3]
	}
	c.inkOnly()
}

// drawPhoto draws the person's picture, or notes why there is none.
func (w *Work) drawPhoto(l *layer, pt *part, of source) {
	ph := pt.Photo
	if w.portrait != nil {
		w.drawImage(l, pt, w.portrait, Photo, ph.Fit, ph.AnchorX, ph.AnchorY)
		return
	}
	note := func(kind NoteKind, detail say.Text) { l.note(Note{Kind: kind, Element: pt.index, Detail: detail}) }
	file := path.Join(ph.Folder, of.text)
	switch {
	case of.text == "":
		note(PhotoMissing, say.Words("(the roster names none)"))
		return
	case leadsOut(of.text):
		note(PhotoUnreadable, say.F("the photo %s leads out of the photo folder", of.text))
		return
	case errors.Is(of.err, fs.ErrNotExist):
		note(PhotoMissing, say.Data(file))
		return
	case of.err != nil:
		note(PhotoUnreadable, say.F("the photo %s %v", file, of.err))
		return
	}
	m, err := w.decode(of.photo)
	if err != nil {
		note(PhotoUnreadable, say.F("the photo %s cannot be used: %v", file, err))
		return
	}
	w.drawImage(l, pt, m, Photo, ph.Fit, ph.AnchorX, ph.AnchorY)
}

// drawImage resamples a picture into the element's box.
func (w *Work) drawImage(l *layer, pt *part, m *picture.Image, class Class, how design.Fit, ax, ay float64) {
	g := w.pl.grid
	whole, crop := fit(g, pt.Box, float64(m.W), float64(m.H), how, ax, ay)
	if class == Photo {
		l.noteDetail(pt, g, whole, crop)
	}
	if !m.Assumed.IsZero() {
		l.note(Note{Kind: ColourAssumed, Element: pt.index, Detail: m.Assumed})
	}
	rect, crop := cutToFace(g, whole, crop)
	if rect.Empty() {
		l.offFace(pt, g, whole)
		return
	}
	c := l.add(pt.index, pt.Element, class, rect)
	pix := c.withPix()
	var alpha []uint8
	if !m.Opaque() {
		alpha = c.withAlpha()
	}
	w.scaler.Draw(pix, alpha, rect.W(), rect.H(), m, crop)
	c.inkOnly()
}

// noteDetail notes a photo that has fewer pixels than dots: the pixels in an inch
// of the card against the dots in one of the coarser direction.
func (l *layer) noteDetail(pt *part, g plane.Grid, r plane.Rect, c picture.Crop) {
	px, py := (c.X1-c.X0)/float64(r.W()), (c.Y1-c.Y0)/float64(r.H())
	ratio := min(px*float64(g.DX), py*float64(g.DY)) / float64(min(g.DX, g.DY))
	switch {
	case ratio < tiny:
		l.note(Note{Kind: PhotoTiny, Element: pt.index, Value: c.X1 - c.X0, Limit: float64(r.W())})
	case ratio < 1:
		l.note(Note{Kind: PhotoUpscaled, Element: pt.index, Value: ratio, Limit: 1})
	}
}

// tiny is the pixels a dot below which a portrait looks blurred at arm's length:
// 150 to an inch at 300 dpi (common practice, no source).
const tiny = 0.5

// inkOnly makes of a picture that is sent by hand to a panel that knows only yes
// and no the coverage of its dark parts: white is no ink.
func (c *coat) inkOnly() {
	if c.send == design.ByRule || c.send == design.ToDye {
		return
	}
	opaque := c.alpha == nil
	alpha := c.withAlpha()
	for i := range alpha {
		if opaque {
			alpha[i] = 255
		}
		p := c.pix[3*i : 3*i+3]
		// ITU-R BT.601 luma (from memory) of the sRGB values, as page programs turn
		// colours to gray.
		light := (299*int(p[0]) + 587*int(p[1]) + 114*int(p[2]) + 500) / 1000
		alpha[i] = uint8(max(int(alpha[i])-light, 0))
	}
}

// fit is where a picture of w by h units lies on the face and which part of it is
// seen, so that it keeps its shape on the card whatever the dots' shape is.
func fit(g plane.Grid, b plane.Box, w, h float64, how design.Fit, ax, ay float64) (plane.Rect, picture.Crop) {
	r := g.Box(b)
	r.X1, r.Y1 = max(r.X1, r.X0+1), max(r.Y1, r.Y0+1)
	all := picture.Crop{X1: w, Y1: h}
	mmW, mmH := g.DX.MM(float64(r.W())), g.DY.MM(float64(r.H()))
	sx, sy := mmW/w, mmH/h
	switch how {
	case design.Cover:
		s := max(sx, sy)
		cw, ch := min(mmW/s, w), min(mmH/s, h)
		x, y := (w-cw)*ax, (h-ch)*ay
		return r, picture.Crop{X0: x, Y0: y, X1: x + cw, Y1: y + ch}
	case design.Contain:
		s := min(sx, sy)
		dw := max(g.DX.Round(unit.MM(w*s)), 1)
		dh := max(g.DY.Round(unit.MM(h*s)), 1)
		x, y := r.X0+(r.W()-dw)/2, r.Y0+(r.H()-dh)/2
		return plane.Rect{X0: x, Y0: y, X1: x + dw, Y1: y + dh}, all
	}
	return r, all
}

// cutToFace leaves out what lies beyond the face.
func cutToFace(g plane.Grid, r plane.Rect, c picture.Crop) (plane.Rect, picture.Crop) {
	in := r.And(g.Rect())
	if in.Empty() {
		return plane.Rect{}, c
	}
	sx, sy := (c.X1-c.X0)/float64(r.W()), (c.Y1-c.Y0)/float64(r.H())
	return in, picture.Crop{
		X0: c.X0 + float64(in.X0-r.X0)*sx, Y0: c.Y0 + float64(in.Y0-r.Y0)*sy,
		X1: c.X1 - float64(r.X1-in.X1)*sx, Y1: c.Y1 - float64(r.Y1-in.Y1)*sy,
	}
}

// offFace notes how far r reaches beyond the face, if it does.
func (l *layer) offFace(pt *part, g plane.Grid, r plane.Rect) {
	if over := beyond(g, r); over > 0 {
		l.note(Note{Kind: OffFace, Element: pt.index, Value: over})
	}
}

// beyond is how far r reaches beyond the face, in millimetres.
func beyond(g plane.Grid, r plane.Rect) float64 {
	x, y := max(-r.X0, r.X1-g.W, 0), max(-r.Y0, r.Y1-g.H, 0)
	return max(g.DX.MM(float64(x)), g.DY.MM(float64(y)))
}
