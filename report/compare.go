package report

import (
	"fmt"
	"html/template"

	"unspool/plane"
	"unspool/proof"
	"unspool/ribbon"
	"unspool/site"
)

// NamedInput is one set-up of a comparison.
type NamedInput struct {
	Title  string // "Too little in resin"
	Lesson string // what to learn from it, one sentence
	Report string // its own report, relative to the comparison: "too-little/report.html"
	Input
}

// comparison is set-ups of the same cards side by side as its template takes
// them: a row for each way to look at a card, a column a set-up.
type comparison struct {
	CSS   template.CSS
	Defs  template.HTML
	Name  string
	Cards string
	Ways  string
	Whose string
	Ups   []setUp
	Looks []lookRow
	Codes []compareCodes
}

type setUp struct {
	Name, Lesson string
	Href         string
	Head         Headline
	Sign         template.HTML
	Rule, Rules  string
}

// lookRow is one way to look at the same side of every set-up's card.
type lookRow struct {
	Name, Says string
	Cells      []lookCell
}

type lookCell struct {
	Of string // the set-up
	pictureView
}

// compareCodes is what one reader makes of the codes of every set-up.
type compareCodes struct {
	readerRow
	Ups []compareCell
}

type compareCell struct {
	Of    string
	Cells []codeCell
}

// Compare writes a page that shows set-ups of the same cards side by side: the
// verdict, the front by eye and in each light, the black panel of the spent
// ribbon, and what each reader makes of it. Every set-up needs one sample with a
// front; they may differ in nothing but the programme.
func Compare(ins []NamedInput) ([]byte, error) {
	if len(ins) == 0 {
		return nil, fmt.Errorf("comparison: no set-up to compare")
	}
	first := ins[0].Summary
	c := comparison{CSS: style("look.css", "page.css", "compare.css"), Defs: spectrumDefs(), Name: name(first), Cards: count(first.Cards, "card"), Ways: small(len(ins))}
	c.Whose = "The card shown is the same every time."
	if ins[0].Invented {
		c.Whose = "The card shown is an invented person’s, and its codes have a gap on purpose: it opens no door."
	}
	for _, in := range ins {
		side, err := in.front()
		if err != nil {
			return nil, err
		}
		p := in.Summary.Programme
		c.Ups = append(c.Ups, setUp{Name: in.Title, Lesson: in.Lesson, Href: in.Report, Head: Head(in.Summary), Sign: sign(Head(in.Summary).Verdict),
			Rule: p.Black[site.Front].Rule.String(), Rules: RuleWords(p.Black[site.Front])})
		c.addLooks(looksAt(side, in.Title))
	}
	c.Codes = codesOf(ins)
	return render("compare.html", c)
}

// front is the front of the set-up's first sample.
func (n NamedInput) front() (proof.View, error) {
	for _, s := range n.Samples {
		for _, v := range s.Views {
			if v.Side == site.Front {
				return v, nil
			}
		}
	}
	return proof.View{}, fmt.Errorf("comparison: set-up %q has no picture of a front", n.Title)
}

// look is one picture of a set-up and the row it belongs to.
type look struct {
	name, says string
	lookCell
}

func looksAt(v proof.View, of string) (out []look) {
	side := newSide(proof.View{Side: v.Side, Grid: v.Grid, Eye: v.Eye, Lights: v.Lights})
	for _, p := range side.Lights {
		p.Alt = sentenceStart(of) + ": " + lower(p.Alt)
		out = append(out, look{p.Name, p.Says, lookCell{of, p}})
	}
	for _, f := range v.Spent {
		if f.Panel.Kind != site.BlackResin {
			continue
		}
		out = append(out, look{"On the ribbon", "the black panel after the card: what is missing went to the card", lookCell{of, pictureView{
			Src: dataURI(framePNG(shrinkFrame(f))), Alt: sentenceStart(of) + ": the black panel after printing the front. " + missing(f), Style: flat(f.Grid)}}})
		break
	}
	return out
}

// missing says in words what a frame shows.
func missing(f ribbon.Frame) string {
	for _, g := range f.Gone {
		if g != 0 {
			return "What went to the card is missing."
		}
	}
	return "Nothing is missing: nothing was printed from it."
}

// flat gives a frame its proportions; web has no round corners.
func flat(g plane.Grid) template.CSS {
	return template.CSS(fmt.Sprintf("aspect-ratio:%.2f/%.2f", g.DX.MM(float64(g.W)), g.DY.MM(float64(g.H))))
}

// addLooks puts the pictures of one set-up into the rows they belong to, in the
// order in which rows first came up.
func (c *comparison) addLooks(looks []look) {
	for _, l := range looks {
		at := -1
		for i, r := range c.Looks {
			if r.Name == l.name && r.Says == l.says {
				at = i
			}
		}
		if at < 0 {
			c.Looks, at = append(c.Looks, lookRow{Name: l.name, Says: l.says}), len(c.Looks)
		}
		c.Looks[at].Cells = append(c.Looks[at].Cells, l.lookCell)
	}
}

// codesOf is what each reader of the first set-up makes of the codes of all; a
// set-up with other readers shows under the same reader's name.
func codesOf(ins []NamedInput) (out []compareCodes) {
	for _, row := range newCodeTable(ins[0].Summary).Readers {
		r := compareCodes{readerRow: row}
		for _, in := range ins {
			for _, same := range newCodeTable(in.Summary).Readers {
				if same.Name == row.Name {
					r.Ups = append(r.Ups, compareCell{in.Title, meantCells(same.Cells)})
				}
			}
		}
		out = append(out, r)
	}
	return out
}

// meantCells leaves out the codes that are not meant for the reader.
func meantCells(cells []codeCell) (out []codeCell) {
	for _, c := range cells {
		if c.Class != "none" {
			out = append(out, c)
		}
	}
	return out
}
