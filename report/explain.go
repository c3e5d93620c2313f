package report

import (
	"fmt"
	"slices"

	"unspool/design"
	"unspool/proof"
	"unspool/ribbon"
	"unspool/site"
)

// Explanation is what the page for a customer shows: one side of a card under
// three black rules.
type Explanation struct {
	Programme *design.Programme
	Readers   []site.Reader
	Side      site.Side
	Ways      []proof.Ruling // right, too much in resin, too little in resin
	// Invented: the card shows an invented person and a broken code. The page says
	// so either way.
	Invented bool
}

// Explain draws the card row for an explanation. v is a viewer of pf, s what the
// proof of the run came to. ok is false where no side has both resin and dyes,
// and so nothing to explain.
func Explain(pf *proof.Proof, s *proof.Summary, v *proof.Viewer, row proof.Row) (e Explanation, ok bool, err error) {
	for _, side := range sidesToExplain(s) {
		rules, has := threeRules(pf, s, side)
		if !has {
			continue
		}
		e = Explanation{Programme: s.Programme, Readers: s.Readers, Side: side}
		e.Ways, err = v.Rulings(row, side, rules)
		return e, err == nil, err
	}
	return e, false, nil
}

// sidesToExplain is the sides, those with a code first.
func sidesToExplain(s *proof.Summary) []site.Side {
	if slices.ContainsFunc(s.Codes, func(c proof.CodeRef) bool { return c.Side == site.Back }) &&
		!slices.ContainsFunc(s.Codes, func(c proof.CodeRef) bool { return c.Side == site.Front }) {
		return []site.Side{site.Back, site.Front}
	}
	return []site.Side{site.Front, site.Back}
}

// threeRules is the rule to recommend for a side, one that sends too much to
// resin and one that sends too little.
func threeRules(pf *proof.Proof, s *proof.Summary, side site.Side) ([]site.Black, bool) {
	var out []site.Black
	for _, r := range [...]site.Rule{recommended(s, side), greedy(s, side), site.NoRule} {
		b, ok := pf.Rule(side, r)
		if !ok {
			return nil, false
		}
		out = append(out, b)
	}
	return out, true
}

// recommended is a rule that was tried on the run and works: the programme's own
// before others; Objects where none does.
func recommended(s *proof.Summary, side site.Side) site.Rule {
	works := func(r site.Rule) bool { return worksAs(s, side, r) }
	if own := s.Programme.Black[side].Rule; slices.Contains(gentleRules, own) && works(own) {
		return own
	}
	if i := slices.IndexFunc(gentleRules, works); i >= 0 {
		return gentleRules[i]
	}
	return site.Objects
}

// gentleRules are the rules that can keep a photo out of resin by themselves, the
// best first.
var gentleRules = []site.Rule{site.Objects, site.Zones, site.Exact}

// greedy is the rule to show as one that sends too much to resin: the one that
// takes all that is dark or, where the run's photos have nothing that dark, the
// one that takes every dot.
func greedy(s *proof.Summary, side site.Side) site.Rule {
	takes := func(r site.Rule) bool {
		return slices.ContainsFunc(s.Advice, func(a proof.Advice) bool { return a.Side == side && a.Black.Rule == r && a.PhotoCards > 0 })
	}
	if !takes(site.Dark) && takes(site.All) {
		return site.All
	}
	return site.Dark
}

// worksAs says whether a rule was tried on the run and works.
func worksAs(s *proof.Summary, side site.Side, r site.Rule) bool {
	return slices.ContainsFunc(s.Advice, func(a proof.Advice) bool { return a.Side == side && a.Black.Rule == r && a.Good })
}

// way is one column of the page, in words.
type way struct {
	Verdict proof.Verdict
	Title   string
	What    string // what goes to resin
	Seen    string // what comes of it
	Do      string
	Readers []readerSays
}

type readerSays struct {
	Verdict proof.Verdict
	Says    string // "Quay clock, 940 nm: reads"
}

// newWay puts a column into words. n is its place: right, too much, too little.
func newWay(e Explanation, n int) way {
	r := e.Ways[n]
	w := way{Title: [...]string{"Right", "Too much resin", "Too little resin"}[n], What: plainRule(r.Black.Rule), Readers: readersSay(e, r)}
	bad := slices.IndexFunc(w.Readers, func(s readerSays) bool { return s.Verdict == proof.Fails })
	unknown := slices.ContainsFunc(r.Readings, resinUnknown)
	w.Verdict = proof.Reads
	switch {
	case r.Photo > 0 || bad >= 0:
		w.Verdict = proof.Fails
	case unknown:
		w.Verdict = proof.NotMeant
	}
	switch {
	case n == 0 && w.Verdict == proof.NotMeant:
		w.Seen, w.Do = "In infrared light the black resin is drawn as if it were carbon; whether it is, is not known.", "Ask the ribbon’s maker whether its black resin is carbon before printing."
	case n == 0 && w.Verdict == proof.Fails:
		w.Seen, w.Do = "The black is where it belongs, yet this card is not right.", "Read the report of the proof before printing."
	case n == 0:
		w.Seen, w.Do = "Every picture is soft, every bar is solid.", "Print like this."
	case n == 1 && r.Photo > 0 && r.Black.Rule == site.All:
		w.Seen, w.Do = "The photo turns into a coarse pattern of hard black dots.", "Let the printer use resin for text and codes only."
	case n == 1 && r.Photo > 0:
		w.Seen, w.Do = "Hair and shadows of the photo turn into hard black patches.", "Let the printer use resin for text and codes only."
	case n == 1:
		w.Seen, w.Do = "This card has nothing dark to lose; a photo with dark hair would turn into hard black patches.", "Let the printer use resin for text and codes only."
	case bad >= 0:
		w.Seen, w.Do = "It looks right to you, but "+article(light(e.Readers[failingReader(e, r)].Peak))+" reader sees no bars.", "Let the printer use resin for all black text and codes."
	default:
		w.Seen, w.Do = "It looks right to you, but infrared light sees only what is resin.", "Let the printer use resin for all black text and codes."
	}
	return w
}

// failingReader is the first reader that fails.
func failingReader(e Explanation, r proof.Ruling) int {
	for i := range r.Readings {
		if r.Readings[i].Verdict == proof.Fails {
			return r.Readings[i].Reader
		}
	}
	return 0
}

// plainRule says what a black rule sends to resin to somebody who has never
// heard of one.
func plainRule(r site.Rule) string {
	return [...]string{
		"All black is mixed from the three dyes.",
		"What is exactly black is resin, the rest is dye.",
		"Everything dark is resin.",
		"Text and bar code are resin, the photo is dye.",
		"Dark dots in marked places are resin, the rest is dye.",
		"Everything is resin.",
	}[r%6]
}

// readersSay is what every reader meant for a code of the side makes of it, the
// worst of its codes.
func readersSay(e Explanation, r proof.Ruling) (out []readerSays) {
	for i, reader := range e.Readers {
		worst, unknown := proof.NotMeant, false
		for _, x := range r.Readings {
			switch {
			case x.Reader == i && resinUnknown(x):
				unknown = true
			case x.Reader == i:
				worst = max(worst, x.Verdict)
			}
		}
		switch {
		case unknown && worst != proof.Fails:
			out = append(out, readerSays{proof.NotMeant, fmt.Sprintf("%s, %s: not known", reader.Name, reader.Peak)})
		case worst != proof.NotMeant:
			out = append(out, readerSays{worst, fmt.Sprintf("%s, %s: %s", reader.Name, reader.Peak, worst)})
		}
	}
	return out
}

// resinUnknown says whether a reading has no verdict to give because nobody has
// said whether the black resin is carbon.
func resinUnknown(r proof.Reading) bool { return r.Cause.ID == "resin-unknown" }

// blackFrame is the side's black panel after printing; ok is false where it has
// none.
func blackFrame(v proof.View) (f ribbon.Frame, ok bool) {
	i := slices.IndexFunc(v.Spent, func(f ribbon.Frame) bool { return f.Panel.Kind == site.BlackResin })
	if i < 0 {
		return f, false
	}
	return v.Spent[i], true
}
