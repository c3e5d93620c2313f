package face

import (
	"math"
	"strings"

	gofont "github.com/go-text/typesetting/font"

	"unspool/design"
	"unspool/mrz"
	"unspool/plane"
	"unspool/say"
	"unspool/unit"
)

// SetZone is a machine readable zone as laid on a face.
type SetZone struct {
	Element int
	Format  mrz.Format
	Lines   []string
	Given   bool        // the programme gives the lines whole
	Family  string      // of the font
	Digit   unit.Length // height of its digit 0
	Ink     plane.Rect  // the smallest rectangle of its dots on the face
	Dots    int         // of which it covers at least half
	first   plane.Box   // the cell of the first character
	spacing unit.Length
}

// Cell is the cell of a character: as wide as the characters are apart, as high as
// a digit. Lines and columns count from 1.
func (z *SetZone) Cell(line, column int) plane.Box {
	b := z.first
	b.X += unit.Length(column-1) * b.W
	b.Y += unit.Length(line-1) * z.spacing
	return b
}

// cellWidth is the distance of the characters, ten to the inch (ICAO Doc 9303-3
// 4.4, for OCR-B of size 1).
const cellWidth = unit.Inch / 10

// maxZone bounds the characters of a line that is given; none has more than 44.
const maxZone = 100

// drawZone lays a machine readable zone. A font that stops is put aside for the
// bundled one.
func (w *Work) drawZone(l *layer, pt *part, of source) {
	if of.err != nil {
		l.note(Note{Kind: ZoneRefused, Element: pt.index, Detail: say.Of(of.err)})
		return
	}
	if err := w.setZone(l, pt, pt.font, of.text); err != nil {
		*l = layer{notes: append(l.notes[:0], Note{Kind: FontFailed, Element: pt.index, Detail: say.Of(err)})}
		plain, _ := w.pl.fonts.list("", false)
		if err := w.setZone(l, pt, plain, of.text); err != nil {
			l.coats, l.zones = nil, nil
		}
	}
}

// setZone sets the lines in one font.
func (w *Work) setZone(l *layer, pt *part, fonts *fontList, text string) (err error) {
	defer func() {
		if p := recover(); p != nil {
			w.setter = newSetter(w.pl.fonts)
			err = say.Errorf("the font %q stops the shaper (%v): use another file", fonts.nameOf(), p)
		}
	}()
	font, err := fonts.faces[0].load()
	if err != nil {
		return err
	}
	face := w.setter.face(font)
	em, lo, hi := zoneSize(face, pt.MRZ.Size)
	lines := strings.Split(text, "\n")
	z := SetZone{Element: pt.index, Format: pt.MRZ.Format, Lines: lines, Given: pt.MRZ.Lines != nil, Family: familyOf(font, fonts),
		Digit: hi - lo, spacing: pt.MRZ.Spacing}
	high := unit.Length(len(lines)-1)*z.spacing + z.Digit
	z.first = plane.Box{X: pt.Box.X, Y: pt.Box.Y + (pt.Box.H-high)/2, W: cellWidth, H: z.Digit}
	placed := w.placeZone(l, pt, face, &z, em, lo)
	w.layZone(l, pt, placed, &z, high)
	l.zones = append(l.zones, z)
	return nil
}

// zoneSize is the em of a zone's letters and how far its digit 0 reaches from the
// baseline, up: lo to hi. An em of 0 is the one at which the widest character is
// as wide as a cell; all of OCR-B are.
func zoneSize(face *gofont.Face, em unit.Length) (size, lo, hi unit.Length) {
	upem := float64(face.Upem())
	if em == 0 {
		widest := 0.0
		for _, r := range mrz.Characters {
			if gid, ok := face.NominalGlyph(r); ok {
				widest = max(widest, float64(face.HorizontalAdvance(gid)))
			}
		}
		if em = cellWidth; widest > 0 {
			em = unit.Length(math.Round(float64(cellWidth) * upem / widest))
		}
	}
	down, up := 0.0, 0.7*upem // where the font has no 0
	if gid, ok := face.NominalGlyph('0'); ok {
		if segments, ok := outlineOf(face, gid); ok && len(segments) > 0 {
			down, up = math.Inf(1), math.Inf(-1)
			for _, s := range segments {
				for _, p := range s.ArgsSlice() {
					down, up = min(down, float64(p.Y)), max(up, float64(p.Y))
				}
			}
		}
	}
	at := func(y float64) unit.Length { return unit.Length(math.Round(float64(em) * y / upem)) }
	return em, at(down), at(up)
}

// familyOf is the family a font says it is of.
func familyOf(f *gofont.Font, l *fontList) string {
	if name := f.Describe().Family; name != "" {
		return name
	}
	return l.nameOf()
}

// placeZone finds the glyphs of a zone and their dots: each in the middle of its
// cell, which begins where the standard has it however dots fall, so that no error
// adds up along a line.
func (w *Work) placeZone(l *layer, pt *part, face *gofont.Face, z *SetZone, em, lo unit.Length) (placed []placedGlyph) {
	g := w.pl.grid
	size := ppem{int32(math.Round(g.DX.Dots(em) * 64)), int32(math.Round(g.DY.Dots(em) * 64))}
	var missing []rune
	for i, line := range z.Lines {
		for j, r := range []rune(line) {
			if j == maxZone {
				break
			}
			gid, ok := face.NominalGlyph(r)
			if !ok {
				missing = append(missing, r)
				continue
			}
			cell := z.Cell(i+1, j+1)
			wide := unit.Length(float64(em) * float64(face.HorizontalAdvance(gid)) / float64(face.Upem()))
			x, y := g.DX.Round(cell.X+(cell.W-wide)/2), g.DY.Round(cell.Y+cell.H+lo)
			m := w.setter.masks.of(face, gid, size, 0)
			if m.empty {
				missing = append(missing, r)
			}
			if m.w > 0 {
				placed = append(placed, placedGlyph{m, x + m.x, y + m.y})
			}
		}
	}
	if len(missing) > 0 {
		l.note(Note{Kind: GlyphMissing, Element: pt.index, Detail: say.Data(listRunes(missing))})
	}
	return placed
}

// layZone lays the glyphs, cut to the box where they need more room than it has.
func (w *Work) layZone(l *layer, pt *part, placed []placedGlyph, z *SetZone, high unit.Length) {
	g := w.pl.grid
	rect, long := plane.Rect{}, 0
	for _, p := range placed {
		rect = rect.Or(p.rect())
	}
	for _, line := range z.Lines {
		long = max(long, len([]rune(line)))
	}
	box := g.Box(pt.Box)
	if wide := unit.Length(long) * cellWidth; wide > pt.Box.W {
		l.note(Note{Kind: TextCut, Element: pt.index, Value: wide.MM(), Limit: pt.Box.W.MM()})
		rect = rect.And(box)
	}
	if high > pt.Box.H {
		l.note(Note{Kind: TextCut, Element: pt.index, Value: high.MM(), Limit: pt.Box.H.MM(), Detail: say.Words("height")})
		rect = rect.And(box)
	}
	l.offFace(pt, g, rect)
	if rect = rect.And(g.Rect()); rect.Empty() {
		return
	}
	c := l.add(pt.index, pt.Element, Text, rect)
	c.paint([3]uint8{})
	alpha := c.withAlpha()
	clear(alpha)
	for _, p := range placed {
		p.addTo(alpha, rect)
	}
	z.Ink = rect
	for _, a := range alpha {
		if a >= half {
			z.Dots++
		}
	}
}

// zoneText is what a zone is drawn from on one card.
func zoneText(m *design.MRZ, p design.Person) (text string, err error) {
	lines, err := m.Write(p)
	return strings.Join(lines, "\n"), err
}
