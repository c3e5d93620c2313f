package face

import (
	"slices"
	"unicode"

	"github.com/go-text/typesetting/bidi"
	"github.com/go-text/typesetting/di"
	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/segmenter"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"
	unibidi "golang.org/x/text/unicode/bidi"
)

// Text is shaped once at an em of emUnits and then scaled, so that shrinking it
// needs no new shaping and the dots' shape does not matter: outlines are not
// hinted.
const emUnits = 1024

// setter sets text. It is for one goroutine.
type setter struct {
	fonts  *fontStore // nil: installed fonts are not asked
	faces  map[*gofont.Font]*gofont.Face
	shaper shaping.HarfbuzzShaper
	split  shaping.Segmenter
	bidi   bidi.Paragraph
	breaks segmenter.Segmenter
	masks  masks
}

func newSetter(fonts *fontStore) *setter {
	return &setter{fonts: fonts, faces: map[*gofont.Font]*gofont.Face{}, masks: newMasks()}
}

// face is the setter's own handle on a font.
func (s *setter) face(f *gofont.Font) *gofont.Face {
	face := s.faces[f]
	if face == nil {
		face = gofont.NewFace(f)
		s.faces[f] = face
	}
	return face
}

// glyphs is a run of shaped glyphs of one font, direction and script.
type glyphs struct {
	shaping.Output
	text   []rune // of the paragraph
	font   *gofont.Font
	level  bidi.Level
	joined bool // the script's letters touch
}

// paragraph is text without line breaks, shaped.
type paragraph struct {
	text    []rune
	rtl     bool
	runs    []glyphs // in the order of the text
	missing []rune
}

// paragraph shapes text: directions by UAX #9, then scripts, then fonts.
func (s *setter) paragraph(l *fontList, text []rune) *paragraph {
	p := &paragraph{text: text, rtl: rightToLeft(text)}
	if len(text) == 0 {
		return p
	}
	def := bidi.LeftToRight
	if p.rtl {
		def = bidi.RightToLeft
	}
	type piece struct {
		bidi.Run
		direction di.Direction
	}
	var pieces []piece
	out := s.bidi.Segment(text, def)
	for i := range out.NumRuns() {
		r := piece{out.Run(i), di.DirectionLTR}
		if r.Level%2 == 1 {
			r.direction = di.DirectionRTL
		}
		pieces = append(pieces, r)
	}
	first, _ := l.faces[0].load()
	for _, b := range pieces {
		in := shaping.Input{Text: text, RunStart: b.Start, RunEnd: b.End, Direction: b.direction, Size: fixed.I(emUnits)}
		// The split by font is done below, by whole graphemes.
		for _, part := range slices.Clone(s.split.Split(in, oneFace{s.face(first)})) {
			part.Direction = b.direction
			s.shapePart(p, l, part, b.Level)
		}
	}
	return p
}

// oneFace is a font map of a single font.
type oneFace struct{ face *gofont.Face }

func (o oneFace) ResolveFace(rune) *gofont.Face { return o.face }

// rightToLeft says whether the first strong character is of a script written from
// right to left (UAX #9, P2 and P3).
func rightToLeft(text []rune) bool {
	for _, r := range text {
		p, _ := unibidi.LookupRune(r)
		switch p.Class() {
		case unibidi.L:
			return false
		case unibidi.R, unibidi.AL:
			return true
		}
	}
	return false
}

// shapePart shapes text of one direction and script, font by font.
func (s *setter) shapePart(p *paragraph, l *fontList, in shaping.Input, level bidi.Level) {
	end := in.RunEnd
	var font *gofont.Font
	flush := func(to int) {
		if in.RunStart < to {
			in.RunEnd, in.Face = to, s.face(font)
			p.runs = append(p.runs, glyphs{s.shaper.Shape(in), p.text, font, level, joins(in.Script)})
			in.RunStart = to
		}
	}
	s.breaks.Init(p.text[in.RunStart:end])
	graphemes := s.breaks.GraphemeIterator()
	base := in.RunStart
	for graphemes.Next() {
		g := graphemes.Grapheme()
		next := s.fontFor(p, l, g.Text, font)
		if next != font {
			flush(base + g.Offset)
			font = next
		}
	}
	flush(end)
}

// fontFor finds the font of a grapheme: the first that has all of it, or the one
// that has its first character, or the first of the list; what that one lacks is
// missing. Spaces and invisible characters stay in the font they follow.
func (s *setter) fontFor(p *paragraph, l *fontList, grapheme []rune, before *gofont.Font) *gofont.Font {
	if before != nil && !slices.ContainsFunc(grapheme, visible) {
		return before
	}
	var partly *gofont.Font
	for _, t := range l.faces {
		f, err := t.load()
		if err != nil {
			continue
		}
		if s.hasAll(f, grapheme) {
			return f
		}
		if partly == nil && s.hasAll(f, grapheme[:1]) {
			partly = f
		}
	}
	if s.fonts != nil {
		for _, r := range grapheme {
			if f := s.fonts.has(r); f != nil && s.hasAll(f, grapheme) {
				return f
			}
		}
	}
	if partly == nil {
		partly, _ = l.faces[0].load()
	}
	for _, r := range grapheme {
		if visible(r) && !s.hasAll(partly, []rune{r}) && !slices.Contains(p.missing, r) {
			p.missing = append(p.missing, r)
		}
	}
	return partly
}

func (s *setter) hasAll(f *gofont.Font, text []rune) bool {
	face := s.face(f)
	for _, r := range text {
		if _, ok := face.NominalGlyph(r); !ok && visible(r) {
			return false
		}
	}
	return true
}

// visible says whether a font needs a glyph for the rune: not for spaces, joiners,
// direction marks and variation selectors.
func visible(r rune) bool {
	return !unicode.IsSpace(r) && !unicode.Is(unicode.Cf, r) && !unicode.Is(unicode.Variation_Selector, r)
}

// joins says whether letters of the script touch, so that moving them to whole
// dots would tear them apart.
func joins(s language.Script) bool {
	switch s {
	case language.Arabic, language.Syriac, language.Mongolian, language.Nko, language.Mandaic, language.Adlam,
		language.Hanifi_Rohingya, language.Devanagari, language.Bengali, language.Gurmukhi:
		return true
	}
	return false
}
