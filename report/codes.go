package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"unspool/design"
	"unspool/grade"
	"unspool/proof"
	"unspool/site"
)

// codeTable is every reader against every code.
type codeTable struct {
	Says    string // one sentence before it
	Codes   []string
	Sizes   []string // by code: how it is drawn
	Readers []readerRow
}

type readerRow struct {
	Name     string
	About    string // "slot reader, infrared 940 nm"
	Asks     string // "asks for C (1.5)"
	Spectrum template.HTML
	Cells    []codeCell
}

type codeCell struct {
	Code   string
	Sign   template.HTML
	Word   string
	Class  string
	Mixed  string // how many cards of each verdict, where they differ
	Grade  string // the lowest of the run
	Reason string
	Worst  string // the card it is of
	// Figures are those of a two-dimensional code, of the card that is worst.
	Figures []figureRow
	Edition string
}

// figureRow is one graded figure: "symbol contrast 71.0 %" and 4.
type figureRow struct{ Words, Grade string }

func newCodeTable(s *proof.Summary) codeTable {
	t := codeTable{Says: codesSay(s)}
	if len(s.Codes) == 0 {
		return t
	}
	for i, c := range s.Codes {
		t.Codes = append(t.Codes, fmt.Sprintf("%s, on the %s", c.Name, c.Side))
		t.Sizes = append(t.Sizes, sizes(s.Sizes[i]))
	}
	for i, r := range s.Readers {
		row := readerRow{Name: r.Name, About: fmt.Sprintf("%s, %s %s", kind(r.Kind), light(r.Peak), r.Peak), Spectrum: lamp(r.Peak, r.Width)}
		if r.Least > 0 {
			row.Asks = fmt.Sprintf("asks for %s (%.1f) or better", grade.Letter(r.Least), r.Least)
		}
		if a, ok := grade.AcceptanceByName(r.Rule); ok {
			row.Asks = fmt.Sprintf("asks for %s by %s (%s)", a.Text(), a.Name, a.Title)
		}
		for c := range s.Codes {
			row.Cells = append(row.Cells, newCell(s, s.Cells[c*len(s.Readers)+i], t.Codes[c]))
		}
		t.Readers = append(t.Readers, row)
	}
	return t
}

// sizes says how a code is drawn over the run.
func sizes(z proof.CodeSizes) string {
	if z.Cards == 0 {
		return "drawn on no card"
	}
	a, b := z.Smallest, z.Largest
	if a.Modules != nil {
		return moduleSizes(a, b)
	}
	text := fmt.Sprintf("X %s = %s", count(a.Size.X, "dot"), a.X)
	if a.Size.X != b.Size.X {
		text = fmt.Sprintf("X %d to %s = %.3f to %s", a.Size.X, count(b.Size.X, "dot"), a.X.MM(), b.X)
	}
	if a.N > 0 {
		text += fmt.Sprintf(", N %.2f", a.N)
	}
	return text + fmt.Sprintf(", %.1f mm wide", max(a.Width, b.Width).MM())
}

// moduleSizes says how a two-dimensional code is drawn over the run.
func moduleSizes(a, b proof.Drawn) string {
	m := a.Modules
	text := fmt.Sprintf("%d × %d modules of %s = %s", m.W, m.H, count(a.Size.X, "dot"), a.X)
	if a.Size.X != b.Size.X {
		text = fmt.Sprintf("%d × %d modules of %s = %s, at most of %s = %s", m.W, m.H, count(a.Size.X, "dot"), a.X, count(b.Size.X, "dot"), b.X)
	}
	if size := fmt.Sprintf("%d x %d", m.H, m.W); m.Spec != size { // Data Matrix has no other name
		text += " (" + m.Spec + ")"
	}
	return text + fmt.Sprintf(", %.1f mm wide", max(a.Width, b.Width).MM())
}

func newCell(s *proof.Summary, c proof.Cell, code string) codeCell {
	v := c.Verdict()
	out := codeCell{Code: code, Sign: sign(v), Word: v.String(), Class: [...]string{"none", "reads", "little", "fails"}[v%4]}
	if v == proof.NotMeant {
		return out
	}
	out.Grade, out.Reason = c.Worst.Grade.Text, sentence(c.Worst.Reason.String())
	if q := c.Worst.Quality; q != nil {
		out.Edition = q.Edition
		for _, f := range q.Figures {
			out.Figures = append(out.Figures, figureRow{f.Why.String(), decimal(f.Grade)})
		}
	}
	if c.Verdicts[v] == s.Cards {
		return out
	}
	var parts []string
	for _, w := range [...]proof.Verdict{proof.Fails, proof.Little, proof.Reads, proof.NotMeant} {
		if n := c.Verdicts[w]; n > 0 {
			parts = append(parts, w.String()+" on "+count(n, "card"))
		}
	}
	out.Mixed, out.Worst = strings.Join(parts, ", "), rows([]int{c.WorstRow}, 1)
	return out
}

// codesSay is the sentence before the table.
func codesSay(s *proof.Summary) string {
	switch {
	case len(s.Codes) == 0:
		return "The cards carry no code, so there is nothing for a reader to read."
	case len(s.Readers) == 0:
		return "The programme names no reader, so no code was tried at one. List the site’s readers under readers, and prove again."
	}
	fails, little := 0, 0
	failing := make([]bool, len(s.Readers))
	for _, c := range s.Cells {
		switch c.Verdict() {
		case proof.Fails:
			fails++
			failing[c.Reader] = true
		case proof.Little:
			little++
		}
	}
	switch {
	case !slices.Contains(failing, false):
		return "No reader can be relied on with these cards."
	case fails == 1:
		return "One code does not read where it must."
	case fails > 1:
		return fmt.Sprintf("%s times a code does not read where it must.", sentenceStart(small(fails)))
	case little > 0:
		return "Every code reads where it must, but some have little to spare for wear, grease and age."
	}
	return "Every code reads where it must."
}

// ruleSide is the black rules tried on one side.
type ruleSide struct {
	Side  string
	Cards string
	Rules []ruleRow
	None  bool // none of them works
}

type ruleRow struct {
	Rule, What string
	Now        bool
	Sign       template.HTML
	Word       string
	Class      string
	Breaks     []string
}

func newRules(s *proof.Summary) (out []ruleSide) {
	for _, side := range [...]site.Side{site.Front, site.Back} {
		t := ruleSide{Side: side.String(), Cards: share(s.Cards, s.Cards)}
		for _, a := range s.Advice {
			if a.Side == side {
				t.Rules = append(t.Rules, newRule(a, blackText(s.Programme.Faces[side])))
			}
		}
		t.None = !slices.ContainsFunc(s.Advice, func(a proof.Advice) bool { return a.Side == side && a.Good })
		if len(t.Rules) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// blackText says whether a face has text for the black rule to take.
func blackText(f *design.Face) bool {
	return f != nil && slices.ContainsFunc(f.Elements, func(e design.Element) bool {
		return e.Text != nil && e.Text.Colour == [3]uint8{} && e.Send == design.ByRule
	})
}

func newRule(a proof.Advice, text bool) ruleRow {
	r := ruleRow{Rule: a.Black.Rule.String(), What: RuleWords(a.Black), Now: a.Current}
	if a.Black.Rule == site.Zones && !a.Current {
		r.What = "dark dots inside zones, here drawn 1 mm round every code and text"
	}
	switch {
	case a.Good:
		r.Sign, r.Word, r.Class = solid, "works", "reads"
		r.Breaks = []string{"Every reader reads every code, and no dot of a photo goes to resin."}
		if a.Black.Rule == site.NoRule && text {
			r.Breaks = append(r.Breaks, "Black text is mixed from the dyes: its edges are soft.")
		}
		return r
	case a.Fails == 0 && a.PhotoCards == 0:
		r.Sign, r.Word, r.Class = half, "little to spare", "little"
	default:
		r.Sign, r.Word, r.Class = broken, "breaks something", "fails"
	}
	for _, b := range a.Breaks {
		r.Breaks = append(r.Breaks, sentence(b))
	}
	return r
}
