package report

import (
	"unspool/proof"
	"unspool/site"
)

type summaryForm struct {
	Programme programmeForm `json:"programme"`
	Cards     int           `json:"cards"`
	Stopped   int           `json:"stopped"`
	Print     bool          `json:"print"`
	Says      string        `json:"says"`
	Do        []string      `json:"do"`
	Cells     []cellForm    `json:"cells"`
	Sizes     []sizesForm   `json:"sizes"`
	Colours   []colourForm  `json:"colours"`
	Findings  []groupForm   `json:"findings"`
	Advice    []adviceForm  `json:"black_rules"`
	Need      needForm      `json:"ribbon"`
	Assumed   []string      `json:"assumed"`
}

type programmeForm struct {
	File   string `json:"file"`
	Name   string `json:"name"`
	Ribbon string `json:"ribbon"`
}

type cellForm struct {
	Code     string       `json:"code"`
	Reader   string       `json:"reader"`
	Verdict  string       `json:"verdict"`
	Counts   countsForm   `json:"cards"`
	Lowest   *measure     `json:"lowest,omitempty"`
	WorstRow int          `json:"worst_row,omitempty"`
	Worst    *readingForm `json:"worst,omitempty"`
}

type sizesForm struct {
	Code     string    `json:"code"`
	Cards    int       `json:"cards"`
	Smallest drawnForm `json:"smallest"`
	Largest  drawnForm `json:"largest"`
}

type colourForm struct {
	matchedForm
	Cards    int `json:"cards"`
	WorstRow int `json:"worst_row"`
}

type countsForm struct {
	Reads    int `json:"reads"`
	Little   int `json:"reads with little to spare"`
	Fails    int `json:"does not read"`
	NotMeant int `json:"not meant for it"`
}

type groupForm struct {
	findingForm
	Cards int   `json:"cards"`
	Rows  []int `json:"rows"`
}

type adviceForm struct {
	Side       string   `json:"side"`
	Rule       string   `json:"rule"`
	InUse      bool     `json:"in_use"`
	Works      bool     `json:"works"`
	Breaks     []string `json:"breaks"`
	Fails      int      `json:"readings_failing"`
	Little     int      `json:"readings_with_little_to_spare"`
	PhotoCards int      `json:"cards_with_photo_in_resin"`
	PhotoDots  int      `json:"most_photo_dots_in_resin"`
	WorstRow   int      `json:"worst_row,omitempty"`
}

type needForm struct {
	Panels   string  `json:"panels"`
	Sets     int     `json:"sets"`
	Frames   int     `json:"frames"`
	Web      measure `json:"web_mm"`
	Rolls    int     `json:"rolls,omitempty"`
	Left     int     `json:"sets_left,omitempty"`
	Cost     string  `json:"cost,omitempty"`
	Currency string  `json:"currency,omitempty"`
}

func (n names) summary(s *proof.Summary) summaryForm {
	h := Head(s)
	p := s.Programme
	f := summaryForm{
		Programme: programmeForm{p.File, p.Name, site.Letters(p.Ribbon.Panels)},
		Cards:     s.Cards, Stopped: s.Stopped, Print: h.Verdict != proof.Fails, Says: h.Word + ": " + h.Why, Do: list0(h.Do),
		Cells: make([]cellForm, len(s.Cells)), Sizes: []sizesForm{}, Colours: []colourForm{}, Findings: make([]groupForm, len(s.Groups)), Advice: make([]adviceForm, len(s.Advice)),
		Need: needOf(s), Assumed: list0(p.Assumed),
	}
	for i, c := range s.Cells {
		f.Cells[i] = n.cell(c)
	}
	for i, z := range s.Sizes {
		if z.Cards > 0 {
			z.Smallest.Text, z.Largest.Text = "", "" // of one card: it stands with that card
			f.Sizes = append(f.Sizes, sizesForm{n.codes[i].Name, z.Cards, n.drawn(z.Smallest), n.drawn(z.Largest)})
		}
	}
	for _, c := range s.Colour {
		f.Colours = append(f.Colours, colourForm{matchedForm{c.Side.String(), c.Element, measure(c.Mean), measure(c.Worst)}, c.Cards, c.WorstRow + 1})
	}
	for i, g := range s.Groups {
		f.Findings[i] = groupForm{formOf(g.Finding), g.Cards, fromOne(g.Rows)}
	}
	for i, a := range s.Advice {
		f.Advice[i] = adviceForm{Side: a.Side.String(), Rule: a.Black.Rule.String(), InUse: a.Current, Works: a.Good, Breaks: list0(a.Breaks),
			Fails: a.Fails, Little: a.Little, PhotoCards: a.PhotoCards, PhotoDots: a.PhotoDots}
		if a.PhotoCards > 0 {
			f.Advice[i].WorstRow = a.WorstRow + 1
		}
	}
	return f
}

func (n names) cell(c proof.Cell) cellForm {
	f := cellForm{Code: n.codes[c.Code].Name, Reader: n.readers[c.Reader].Name, Verdict: c.Verdict().String(),
		Counts: countsForm{c.Verdicts[proof.Reads], c.Verdicts[proof.Little], c.Verdicts[proof.Fails], c.Verdicts[proof.NotMeant]}}
	if c.Verdict() == proof.NotMeant {
		return f
	}
	lowest, worst := measure(c.Lowest), n.reading(c.Worst)
	f.Lowest, f.WorstRow, f.Worst = &lowest, c.WorstRow+1, &worst
	return f
}

func needOf(s *proof.Summary) needForm {
	n, r := s.Need, s.Programme.Ribbon
	f := needForm{Panels: site.Letters(r.Panels), Sets: n.Sets, Frames: n.Frames, Web: measure(n.Web.MM()), Rolls: n.Rolls, Left: n.Left}
	if n.Cost > 0 {
		f.Cost, f.Currency = price(n.Cost, ""), r.Currency
	}
	return f
}

// list0 is a list that is never null.
func list0(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// fromOne counts rows from 1.
func fromOne(rows []int) []int {
	out := make([]int, len(rows))
	for i, r := range rows {
		out[i] = r + 1
	}
	return out
}
