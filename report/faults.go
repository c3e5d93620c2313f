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

// fault is all findings that have the same remedy, so that it is said once.
type fault struct {
	ID, Title, Source, Remedy string
	Found                     []foundFacts
}

// foundFacts is what was found alike in one or more places.
type foundFacts struct {
	Places                 []foundPlace
	Detail, Measure, Limit string
}

// foundPlace is where something was found: how many cards, side, element,
// reader, place; and the rows of the cards.
type foundPlace struct{ Where, Rows string }

func newFaults(s *proof.Summary) []faultLevel {
	levels := []faultLevel{
		{Word: proof.Stop.String(), Says: "Cards would be wasted."},
		{Word: proof.Look.String(), Says: "Check these before printing."},
		{Word: proof.Note.String(), Says: "Good to know."},
	}
	notes := 0
	for _, g := range s.Groups {
		if g.Level == proof.Note {
			notes++
		}
		l := &levels[proof.Stop-min(g.Level, proof.Stop)]
		l.Faults = addFault(l.Faults, s, g)
	}
	levels[2].Fold = count(notes, "note") + ", good to know"
	var out []faultLevel
	for _, l := range levels {
		if len(l.Faults) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// addFault puts a group to the one before it where they differ only in their
// place, or at the end.
func addFault(all []fault, s *proof.Summary, g proof.Group) []fault {
	remedy := sentence(g.Advise().String())
	if n := len(all) - 1; n < 0 || all[n].ID != g.ID || all[n].Remedy != remedy {
		all = append(all, fault{ID: g.ID, Title: title(g.Finding), Source: proof.About(g.ID).Source, Remedy: remedy})
	}
	f := &all[len(all)-1]
	detail, measured, limit := g.Shown()
	here := foundFacts{Detail: sentence(detail.String()), Measure: measured.String(), Limit: limit.String()}
	for i := range f.Found {
		if o := &f.Found[i]; o.Detail == here.Detail && o.Measure == here.Measure && o.Limit == here.Limit {
			o.Places = append(o.Places, placeOf(s, g))
			return all
		}
	}
	here.Places = append(here.Places, placeOf(s, g))
	f.Found = append(f.Found, here)
	return all
}

func placeOf(s *proof.Summary, g proof.Group) (p foundPlace) {
	where := []string{"the whole run"}
	if g.Cards > 0 {
		where[0] = share(g.Cards, s.Cards)
		if g.Cards < s.Cards {
			p.Rows = rows(g.Rows, g.Cards)
		}
	}
	if g.Element != "" || g.Reader == "" && g.Cards > 0 && !g.Roster {
		where = append(where, g.Side.String())
	}
	for _, w := range [...]string{g.Element, g.Reader} {
		if w != "" {
			where = append(where, w)
		}
	}
	p.Where = strings.Join(where, " · ")
	if g.Where != (plane.Box{}) {
		p.Where += ", " + onFace(g.Where)
	}
	return p
}

// onFace says where on a face: size and corner, to a tenth of a millimetre. The
// spaces within it do not break.
func onFace(b plane.Box) string {
	s := fmt.Sprintf("%.1f × %.1f mm at %.1f, %.1f mm", b.W.MM(), b.H.MM(), b.X.MM(), b.Y.MM())
	return strings.ReplaceAll(s, " ", "\u00a0")
}

// small writes a small number as a word.
func small(n int) string {
	if words := strings.Fields("no one two three four five six seven eight nine ten"); n < len(words) {
		return words[n]
	}
	return number(n)
}
