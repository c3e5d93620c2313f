package report

import (
	"fmt"
	"strings"

	"unspool/plane"
	"unspool/proof"
)

// faultLevel is the findings of one level.
type faultLevel struct {
	Word   string // "stop"
	Says   string
	Fold   string // the line that opens them, where they are folded away
	Faults []fault
}

type fault struct {
	Title   string
	Where   []string // how many cards, side, element, reader, place
	Detail  string
	Measure string
	Limit   string
	Source  string
	Remedy  string
	Rows    string
}

func newFaults(s *proof.Summary) []faultLevel {
	levels := []faultLevel{
		{Word: proof.Stop.String(), Says: "Cards would be wasted."},
		{Word: proof.Look.String(), Says: "Check these before printing."},
		{Word: proof.Note.String(), Says: "Good to know."},
	}
	for _, g := range s.Groups {
		l := &levels[proof.Stop-min(g.Level, proof.Stop)]
		l.Faults = append(l.Faults, newFault(s, g))
	}
	if n := len(levels[2].Faults); n > 0 {
		levels[2].Fold = count(n, "note") + ", good to know"
	}
	var out []faultLevel
	for _, l := range levels {
		if len(l.Faults) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func newFault(s *proof.Summary, g proof.Group) fault {
	f := fault{
		Title: title(g.Finding), Detail: sentence(g.Detail), Measure: g.Measure, Limit: g.Limit,
		Source: proof.About(g.ID).Source, Remedy: sentence(g.Advise()),
	}
	f.Where = append(f.Where, "the whole run")
	if g.Cards > 0 {
		f.Where[0] = share(g.Cards, s.Cards)
		if g.Cards < s.Cards {
			f.Rows = rows(g.Rows, g.Cards)
		}
	}
	if g.Element != "" || g.Reader == "" && g.Cards > 0 {
		f.Where = append(f.Where, g.Side.String())
	}
	for _, w := range [...]string{g.Element, g.Reader} {
		if w != "" {
			f.Where = append(f.Where, w)
		}
	}
	if g.Where != (plane.Box{}) {
		f.Where = append(f.Where, place(g.Where))
	}
	return f
}

// place says where on a face: corner and size, to a tenth of a millimetre.
func place(b plane.Box) string {
	return fmt.Sprintf("%.1f × %.1f mm at %.1f, %.1f mm", b.W.MM(), b.H.MM(), b.X.MM(), b.Y.MM())
}

// small writes a small number as a word.
func small(n int) string {
	if words := strings.Fields("no one two three four five six seven eight nine ten"); n < len(words) {
		return words[n]
	}
	return number(n)
}
