package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"unspool/proof"
	"unspool/site"
)

// page is the report as its template takes it: everything is worded here, the
// template only sets it.
type page struct {
	CSS      template.CSS
	Defs     template.HTML
	Name     string
	Facts    []string // of the masthead
	Web      []swatch // the ribbon's panels, for the masthead
	Head     Headline
	Sign     template.HTML
	Codes    codeTable
	Faults   []faultLevel
	Rules    []ruleSide
	Samples  []sampleView
	Invented bool
	Assumed  []string
	Cost     []fact
	CostSays string
	Made     []fact
	beside   []string
}

// Has says whether a file lies beside the page.
func (p *page) Has(file string) bool { return slices.Contains(p.beside, file) }

// fact is a thing and what it is.
type fact struct{ Term, Value string }

// swatch is a panel's colour and letter.
type swatch struct {
	Letter string
	Style  template.CSS
}

func newPage(in Input) *page {
	s := in.Summary
	p := &page{
		CSS: style("look.css", "page.css"), Defs: spectrumDefs(),
		Name: name(s), Facts: facts(s), Web: swatches(s.Programme.Ribbon.Panels),
		Head: Head(s), Codes: newCodeTable(s), Faults: newFaults(s), Rules: newRules(s),
		Invented: in.Invented, Assumed: s.Programme.Assumed, Made: made(in), beside: in.Beside,
	}
	p.Sign = sign(p.Head.Verdict)
	p.CostSays, p.Cost = cost(s)
	for i, sample := range in.Samples {
		p.Samples = append(p.Samples, newSample(s, sample, in.Invented, i))
	}
	return p
}

// name is the programme's, or its file's where it has none.
func name(s *proof.Summary) string {
	if s.Programme.Name != "" {
		return s.Programme.Name
	}
	return s.Programme.File
}

// facts say in a few words what was proved.
func facts(s *proof.Summary) []string {
	p := s.Programme
	sides := "front only"
	switch {
	case p.Faces[site.Front] != nil && p.Faces[site.Back] != nil:
		sides = "front and back"
	case p.Faces[site.Back] != nil:
		sides = "back only"
	}
	return []string{
		count(s.Cards, "card"), sides,
		"ribbon " + site.Letters(p.Ribbon.Panels),
		fmt.Sprintf("%s printing at %s", p.Printer.Process, resolution(p.Printer)),
		count(len(s.Readers), "reader"),
	}
}

func resolution(p site.Printer) string {
	if p.Head == p.Feed {
		return p.Head.String()
	}
	return fmt.Sprintf("%d × %d dpi (across the head × along the feed)", int(p.Head), int(p.Feed))
}

func swatches(panels []site.Panel) []swatch {
	out := make([]swatch, len(panels))
	for i, p := range panels {
		out[i] = swatch{string(p.Letter), background(p)}
	}
	return out
}

// cost says what the run takes from the spool.
func cost(s *proof.Summary) (says string, facts []fact) {
	n, r := s.Need, s.Programme.Ribbon
	says = fmt.Sprintf("%s %s %s of %s.", sentenceStart(count(s.Cards, "card")), verb(s.Cards, "takes", "take"), count(n.Sets, "panel set"), site.Letters(r.Panels))
	facts = append(facts, fact{"Panels", number(n.Frames) + ", each used once whether it prints anything or not"})
	if n.Web > 0 {
		facts = append(facts, fact{"Web", fmt.Sprintf("%.1f m", n.Web.MM()/1000)})
	}
	if n.Rolls == 0 {
		return says, append(facts, fact{"Rolls and cost", "not known: state ribbon.yield and ribbon.price in the programme"})
	}
	facts = append(facts, fact{"Rolls", fmt.Sprintf("%s of %s sets; %s left on the last", number(n.Rolls), number(r.Yield), count(n.Left, "set"))})
	if n.Cost > 0 {
		facts = append(facts, fact{"Cost of the sets used", fmt.Sprintf("%s, at %s a roll", price(n.Cost, r.Currency), price(r.Price, r.Currency))})
	}
	return says, facts
}

func sentenceStart(s string) string { return strings.TrimSuffix(sentence(s), ".") }

// made says how the report came about.
func made(in Input) []fact {
	p := in.Summary.Programme
	facts := []fact{{"Programme", p.File}, {"Roster", p.Roster.File}}
	for _, side := range [...]site.Side{site.Front, site.Back} {
		if p.Faces[side] != nil {
			facts = append(facts, fact{"Black rule, " + side.String(), p.Black[side].Rule.String() + ": " + RuleWords(p.Black[side])})
		}
	}
	facts = append(facts, fact{"Black resin", resinWords(p.Ribbon)})
	if in.Command != "" {
		facts = append(facts, fact{"Command", in.Command})
	}
	return facts
}

func resinWords(r site.Ribbon) string {
	switch {
	case !site.Has(r.Panels, site.BlackResin):
		return "none on this ribbon"
	case r.Carbon == site.CarbonYes:
		return "carbon, as the programme states"
	case r.Carbon == site.CarbonNo:
		return "not carbon, as the programme states"
	}
	return "not known to be carbon"
}
