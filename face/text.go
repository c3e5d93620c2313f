package face

import (
	"fmt"
	"math"
	"strings"

	"golang.org/x/image/math/fixed"

	"unspool/design"
	"unspool/plane"
	"unspool/say"
	"unspool/unit"
)

// maxText bounds the characters of a text; no card holds more.
const maxText = 2000

// drawText sets a text in its box. A font that stops the shaper is put aside for
// the bundled one.
func (w *Work) drawText(l *layer, pt *part, text string) {
	l.texts = append(l.texts, SetText{pt.index, text})
	if err := w.setText(l, pt, pt.font, text); err != nil {
		l.coats, l.notes = l.coats[:0], l.notes[:0]
		l.note(Note{Kind: FontFailed, Element: pt.index, Detail: say.Of(err)})
		plain, _ := w.pl.fonts.list("", pt.Text.Bold)
		if err := w.setText(l, pt, plain, text); err != nil {
			l.coats = l.coats[:0]
		}
	}
}

// setText sets text from the fonts of the list.
func (w *Work) setText(l *layer, pt *part, fonts *fontList, text string) (err error) {
	defer func() {
		if p := recover(); p != nil {
			w.setter = newSetter(w.pl.fonts)
			err = say.Errorf("the font %q stops the shaper (%v): use another file", fonts.nameOf(), p)
		}
	}()
	runes := []rune(text)
	if len(runes) > maxText {
		l.note(Note{Kind: TextCut, Element: pt.index, Value: float64(len(runes)), Limit: maxText, Detail: say.Words("characters")})
		runes = runes[:maxText]
	}
	var all []*paragraph
	var missing []rune
	for _, line := range strings.Split(newlines.Replace(string(runes)), "\n") {
		p := w.setter.paragraph(fonts, []rune(line))
		all = append(all, p)
		missing = append(missing, p.missing...)
	}
	b := w.fitText(l, pt, all)
	missing = append(missing, w.layText(l, pt, fonts, b)...)
	if len(missing) > 0 {
		l.note(Note{Kind: GlyphMissing, Element: pt.index, Detail: say.Data(listRunes(missing))})
	}
	return nil
}

// newlines makes one kind of line end of all, and a space of a tab.
var newlines = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\v", "\n", "\f", "\n", "\t", " ")

func listRunes(missing []rune) string {
	var words []string
	seen := map[rune]bool{}
	for _, r := range missing {
		if !seen[r] {
			seen[r] = true
			words = append(words, fmt.Sprintf("%c (%U)", r, r))
		}
	}
	return strings.Join(words, ", ")
}

// block is text as it will be laid: lines at one size.
type block struct {
	lines []textLine
	size  unit.Length // em
	cut   bool        // a line is wider than the box
}

// shrinkSteps is in how many steps a text shrinks by its whole size: fine enough
// that neighbours on a card do not look different by chance, coarse enough that
// few sizes of each letter are drawn.
const shrinkSteps = 20

// fitText finds the largest size from the stated one down to its floor at which
// the text fits its box, and notes what it costs.
func (w *Work) fitText(l *layer, pt *part, all []*paragraph) block {
	t := pt.Text
	floor := t.Floor
	if floor <= 0 || floor > t.Size {
		floor = t.Size
	}
	b := block{size: t.Size}
	for {
		limit := fixed.Int26_6(float64(pt.Box.W) / float64(b.size) * emUnits * 64)
		wrap := limit
		if !t.Wrap {
			wrap = 0
		}
		b.lines = b.lines[:0]
		for _, p := range all {
			b.lines = append(b.lines, w.setter.lines(p, wrap)...)
		}
		b.cut = b.width() > limit
		if !b.cut && b.fitsHeight(t, pt.Box.H) || b.size <= floor {
			break
		}
		b.size = max(b.size-t.Size/shrinkSteps, floor)
	}
	if b.size < t.Size {
		l.note(Note{Kind: TextShrunk, Element: pt.index, Value: b.size.MM(), Limit: t.Size.MM()})
	}
	if b.cut {
		l.note(Note{Kind: TextCut, Element: pt.index, Value: float64(b.width()) / (emUnits * 64) * b.size.MM(), Limit: pt.Box.W.MM()})
	}
	if !b.fitsHeight(t, pt.Box.H) {
		l.note(Note{Kind: TextCut, Element: pt.index, Value: b.height(t).MM(), Limit: pt.Box.H.MM(), Detail: say.Words("height")})
		for len(b.lines) > 1 && !b.fitsHeight(t, pt.Box.H) {
			b.lines = b.lines[:len(b.lines)-1]
		}
	}
	return b
}

func (b block) width() (widest fixed.Int26_6) {
	for _, l := range b.lines {
		widest = max(widest, l.width)
	}
	return widest
}

// height is that of the em boxes: leading lies only between lines.
func (b block) height(t *design.Text) unit.Length {
	return unit.Length((float64(len(b.lines)-1)*t.Leading + 1) * float64(b.size))
}

// fitsHeight is asked of more than one line only: a box drawn close around one
// line's letters is no fault.
func (b block) fitsHeight(t *design.Text, h unit.Length) bool {
	return len(b.lines) < 2 || b.height(t) <= h
}

// placedGlyph is a glyph's coverage at its dot.
type placedGlyph struct {
	*mask
	x, y int
}

func (p placedGlyph) rect() plane.Rect {
	return plane.Rect{X0: p.x, Y0: p.y, X1: p.x + p.w, Y1: p.y + p.h}
}

// layText lays the block and gives the characters that no outline was found for.
func (w *Work) layText(l *layer, pt *part, fonts *fontList, b block) (missing []rune) {
	g, t := w.pl.grid, pt.Text
	em := ppem{int32(math.Round(g.DX.Dots(b.size) * 64)), int32(math.Round(g.DY.Dots(b.size) * 64))}
	top := pt.Box.Y
	switch free := pt.Box.H - b.height(t); t.Valign {
	case design.Middle:
		top += free / 2
	case design.End:
		top += free
	}
	var placed []placedGlyph
	for i, line := range b.lines {
		y := g.DY.Round(top + unit.Length((float64(i)*t.Leading+ascent(w.setter, fonts))*float64(b.size)))
		x := g.DX.Dots(pt.Box.X) + shift(t.Align, line, g.DX.Dots(pt.Box.W), float64(em.x)/64)
		placed = w.setter.place(placed, line, x, y, em, &missing)
	}
	clip := g.Rect()
	rect := plane.Rect{}
	for _, p := range placed {
		rect = rect.Or(p.rect())
	}
	if b.cut {
		box := g.Box(pt.Box)
		rect.X0, rect.X1 = max(rect.X0, box.X0), min(rect.X1, box.X1)
	}
	l.offFace(pt, g, rect)
	if rect = rect.And(clip); rect.Empty() {
		return missing
	}
	c := l.add(pt.index, pt.Element, Text, rect)
	c.paint(t.Colour)
	alpha := c.withAlpha()
	clear(alpha)
	for _, p := range placed {
		p.addTo(alpha, rect)
	}
	return missing
}

// ascent is how far below the top of the em box the baseline lies, in ems: the
// first font's ascender and descender share the em, or 0.8 of it lies above the
// baseline (common practice, no source) where the font does not say.
func ascent(s *setter, fonts *fontList) float64 {
	f, _ := fonts.faces[0].load()
	e, ok := s.face(f).FontHExtents()
	up, down := float64(e.Ascender), -float64(e.Descender)
	if !ok || !(up > 0 && down >= 0) {
		return 0.8
	}
	return up / (up + down)
}

// shift is where a line begins in a box of the given width, in dots. Start is
// the side at which reading begins, also of a line that is too wide.
func shift(a design.Align, l textLine, width, em float64) float64 {
	free := width - float64(l.width)/(emUnits*64)*em
	if a == design.Middle && free >= 0 {
		return free / 2
	}
	if (a == design.End && free >= 0) != l.rtl {
		return free
	}
	return 0
}

// place adds the glyphs of a line that begins at x on the baseline y. Each glyph
// begins at a whole dot, so that equal letters look equal, but for scripts whose
// letters touch.
func (s *setter) place(placed []placedGlyph, l textLine, x float64, y int, em ppem, missing *[]rune) []placedGlyph {
	toX, toY := float64(em.x)/64/(emUnits*64), float64(em.y)/64/(emUnits*64)
	pen := fixed.Int26_6(0)
	for _, r := range l.runs {
		face := s.face(r.font)
		for _, g := range r.Glyphs {
			at := x + float64(pen+g.XOffset)*toX
			dot, part := int(math.Floor(at+0.5)), int8(0)
			if r.joined {
				n := int(math.Floor(at*subdots + 0.5))
				dot = int(math.Floor(float64(n) / subdots))
				part = int8(n - dot*subdots)
			}
			m := s.masks.of(face, g.GlyphID, em, part)
			if m.empty {
				*missing = append(*missing, r.text[g.TextIndex()])
			}
			if m.w > 0 {
				placed = append(placed, placedGlyph{m, dot + m.x, y - int(math.Floor(float64(g.YOffset)*toY+0.5)) + m.y})
			}
			pen += g.Advance
		}
	}
	return placed
}

// addTo adds the glyph's coverage to that of the text: letters that touch share
// the dots of the seam.
func (p placedGlyph) addTo(alpha []uint8, rect plane.Rect) {
	r := p.rect().And(rect)
	for y := r.Y0; y < r.Y1; y++ {
		from := p.alpha[(y-p.y)*p.w+r.X0-p.x : (y-p.y)*p.w+r.X1-p.x]
		to := alpha[(y-rect.Y0)*rect.W()+r.X0-rect.X0:]
		for i, v := range from {
			to[i] = uint8(min(uint(to[i])+uint(v), 255))
		}
	}
}
