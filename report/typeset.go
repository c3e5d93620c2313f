package report

import (
	"image/color"
	"strings"

	"unspool/font"
	"unspool/pdf"
)

// The greys of words and lines on paper, near those of the pages. Pictures carry
// the colour.
var (
	inkGrey  = color.Gray{0x1c}
	softGrey = color.Gray{0x55}
	lineGrey = color.Gray{0xa8}
)

// typeset is a PDF in the typeface of the pages. Characters that it lacks come
// from the bundled fonts.
type typeset struct {
	*pdf.Doc
	regular, bold *pdf.Font
}

func newTypeset(title string) (*typeset, error) {
	t := &typeset{Doc: pdf.New(title, "en")}
	var err error
	if t.regular, err = t.Font(asset("atkinson-regular.ttf"), font.Bundled(false)[0].Data); err != nil {
		return nil, err
	}
	t.bold, err = t.Font(asset("atkinson-bold.ttf"), font.Bundled(true)[0].Data)
	return t, err
}

// text is words in the regular weight.
func (t *typeset) text(em float64, c color.Color) pdf.Style {
	return pdf.Style{Font: t.regular, Size: em, Colour: c}
}

// strong is words in the bold weight.
func (t *typeset) strong(em float64) pdf.Style {
	return pdf.Style{Font: t.bold, Size: em, Colour: inkGrey}
}

// known is s where the fonts can set it, else instead: a name in a script that
// joins its letters is better left out than set wrong.
func (t *typeset) known(s, instead string) string {
	if t.regular.Sets(s) {
		return s
	}
	return instead
}

// leading is from one baseline to the next, in ems.
const leading = 1.36

// lines breaks s at spaces into lines no wider than width; a word that is wider
// is cut.
func lines(st pdf.Style, width float64, s string) (out []string) {
	line := ""
	for word := range strings.FieldsSeq(s) {
		word = fit(st, width, word)
		if line != "" && st.Width(line+" "+word, st.Size) > width {
			out, line = append(out, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	return append(out, line)
}

// fit is s, or its beginning and an ellipsis where s is wider than width.
func fit(st pdf.Style, width float64, s string) string {
	if st.Width(s, st.Size) <= width {
		return s
	}
	runes := []rune(s)
	lo, hi := 0, len(runes) // so many runes fit, so many do not
	for lo+1 < hi {
		if mid := (lo + hi) / 2; st.Width(string(runes[:mid])+"…", st.Size) <= width {
			lo = mid
		} else {
			hi = mid
		}
	}
	return string(runes[:lo]) + "…"
}

// paragraph sets s in lines from the baseline y on, at most most of them, and
// gives the baseline that would come next.
func paragraph(p *pdf.Page, role pdf.Role, st pdf.Style, x, y, width float64, most int, s string) float64 {
	set := lines(st, width, s)
	if len(set) > most {
		set = set[:most]
		set[most-1] = fit(st, width, set[most-1]+" …")
	}
	p.Tagged(role, "", func() {
		for i, l := range set {
			if i < len(set)-1 {
				l += " " // so that words read aloud do not run together
			}
			p.Text(st, x, y, l)
			y += leading * st.Size
		}
	})
	return y
}

// middle sets words around x.
func middle(p *pdf.Page, st pdf.Style, x, y float64, s string) {
	p.Text(st, x-st.Width(s, st.Size)/2, y, s)
}
