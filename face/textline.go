package face

import (
	"slices"
	"unicode"

	"golang.org/x/image/math/fixed"
)

// textLine is one line of a paragraph, its runs from left to right.
type textLine struct {
	rtl   bool
	runs  []glyphs
	width fixed.Int26_6 // in units of the em
}

// lines cuts the paragraph into lines no wider than limit, at the places UAX #14
// allows; a word that is wider has a line of its own. A limit of 0 is none.
func (s *setter) lines(p *paragraph, limit fixed.Int26_6) []textLine {
	if limit <= 0 || len(p.text) == 0 {
		return []textLine{p.line(0, len(p.text))}
	}
	advance := p.advances()
	var out []textLine
	s.breaks.Init(p.text)
	words := s.breaks.LineIterator()
	from, width := 0, fixed.Int26_6(0)
	for words.Next() {
		word := words.Line()
		end := word.Offset + len(word.Text)
		seen := width + sum(advance[word.Offset:trimmed(p.text, word.Offset, end)])
		if seen > limit && from < word.Offset {
			out = append(out, p.line(from, word.Offset))
			from, width = word.Offset, 0
		}
		width += sum(advance[word.Offset:end])
	}
	return append(out, p.line(from, len(p.text)))
}

// advances gives each rune's share of the paragraph's width; all of a cluster's
// is at its first rune.
func (p *paragraph) advances() []fixed.Int26_6 {
	out := make([]fixed.Int26_6, len(p.text))
	for _, r := range p.runs {
		for _, g := range r.Glyphs {
			out[g.TextIndex()] += g.Advance
		}
	}
	return out
}

func sum(a []fixed.Int26_6) (n fixed.Int26_6) {
	for _, v := range a {
		n += v
	}
	return n
}

// trimmed is the end of text[from:to] without the spaces at its end.
func trimmed(text []rune, from, to int) int {
	for to > from && unicode.IsSpace(text[to-1]) {
		to--
	}
	return to
}

// line takes the runes from..to of the paragraph, without spaces at the end, and
// puts their runs into the order in which they are seen (UAX #9, L2).
func (p *paragraph) line(from, to int) textLine {
	to = trimmed(p.text, from, to)
	l := textLine{rtl: p.rtl}
	for _, r := range p.runs {
		r.Glyphs = within(r, from, to)
		if len(r.Glyphs) > 0 {
			l.runs = append(l.runs, r)
		}
		for _, g := range r.Glyphs {
			l.width += g.Advance
		}
	}
	reorder(l.runs)
	return l
}

// within is the glyphs of the run that stand for the runes from..to. They lie
// side by side, for a run has one direction.
func within(r glyphs, from, to int) []glyph {
	inside := func(g glyph) bool { return g.TextIndex() >= from && g.TextIndex() < to }
	a := slices.IndexFunc(r.Glyphs, inside)
	if a < 0 {
		return nil
	}
	b := a
	for b < len(r.Glyphs) && inside(r.Glyphs[b]) {
		b++
	}
	return r.Glyphs[a:b]
}

// reorder turns round every stretch of runs at each level or above, from the
// highest level down to the lowest odd one.
func reorder(runs []glyphs) {
	top := 0
	for _, r := range runs {
		top = max(top, int(r.level))
	}
	for level := top; level > 0; level-- {
		for i := 0; i < len(runs); i++ {
			j := i
			for j < len(runs) && int(runs[j].level) >= level {
				j++
			}
			slices.Reverse(runs[i:j])
			i = max(i, j)
		}
	}
}
