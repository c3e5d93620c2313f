package report

import (
	"fmt"
	"slices"

	"unspool/proof"
	"unspool/site"
)

// Headline is what a proof comes to, for the top of a page or a terminal.
type Headline struct {
	Verdict proof.Verdict // Reads: print. Little: print after a look. Fails: do not print
	Word    string        // "Do not print"
	Why     string        // one sentence that goes on after the word and a colon
	Reason  string        // what is behind it, a sentence; empty where there is nothing to add
	Do      []string      // what to do, the first thing first; at most three
}

// Head sums a proof up.
func Head(s *proof.Summary) Headline {
	switch {
	case s.Cards == 0:
		return Headline{Verdict: proof.Fails, Word: "Nothing to print", Why: "the roster has no cards.",
			Do: []string{"Put at least one person in the roster, and prove again."}}
	case !s.Good():
		return stopping(s)
	}
	looks := 0
	var do []string
	for _, g := range s.Groups {
		if g.Level == proof.Look {
			looks++
			do = add(do, g.Advise().String())
		}
	}
	do = add(do, "Print one card and try it at every reader, then print the rest.")
	h := Headline{Verdict: proof.Reads, Word: "Print", Why: sentenceTail(reads(s)), Do: do}
	if looks > 0 || worst(s) > proof.Reads {
		h.Verdict, h.Word = proof.Little, "Print, after a look"
		h.Why = sentenceTail(reads(s) + thingsToSee(looks))
	}
	return h
}

func thingsToSee(looks int) string {
	switch looks {
	case 0:
		return ""
	case 1:
		return "; one thing below deserves a look first"
	}
	return fmt.Sprintf("; %d things below deserve a look first", looks)
}

// reads says how the codes of a run that nothing stops come out.
func reads(s *proof.Summary) string {
	switch {
	case len(s.Codes) == 0:
		return "nothing stands in the way of " + share(s.Cards, s.Cards) + "; they carry no code"
	case len(s.Readers) == 0:
		return "nothing stands in the way of " + share(s.Cards, s.Cards) + "; the programme names no reader, so none was tried"
	case worst(s) == proof.Little:
		return "every reader reads " + share(s.Cards, s.Cards) + ", some with little to spare"
	}
	return "every reader reads " + share(s.Cards, s.Cards)
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func sentenceTail(s string) string { return s + "." }

// worst is the worst verdict of any code at any reader.
func worst(s *proof.Summary) proof.Verdict {
	v := proof.NotMeant
	for _, c := range s.Cells {
		v = max(v, c.Verdict())
	}
	return v
}

// stopping is the headline of a run that must not be printed: the code that
// most cards fail with, or the gravest finding where all codes read.
func stopping(s *proof.Summary) Headline {
	h := Headline{Verdict: proof.Fails, Word: "Do not print"}
	if c, ok := failing(s); ok {
		h.Do = cures(s, c.Worst.Cause.ID)
		r := s.Readers[c.Reader]
		n := c.Verdicts[proof.Fails]
		h.Why = fmt.Sprintf("%s %s a code that %s cannot read.", share(n, s.Cards), verb(n, "has", "have"), article(light(r.Peak)+" "+kind(r.Kind)))
		h.Reason = sentence(fmt.Sprintf("The code “%s” does not read at %s: %s", s.Codes[c.Code].Name, r.Name, c.Worst.Reason))
		return h
	}
	h.Do = cures(s, "")
	for _, g := range s.Groups {
		if g.Level != proof.Stop {
			continue
		}
		h.Why = sentenceTail(lower(title(g.Finding)))
		if g.Cards > 0 {
			h.Why = fmt.Sprintf("%s %s this fault: %s.", share(g.Cards, s.Cards), verb(g.Cards, "has", "have"), lower(title(g.Finding)))
		}
		detail, _, _ := g.Shown()
		h.Reason = sentence(detail.String())
		break
	}
	return h
}

// failing is the code and reader that most cards fail at.
func failing(s *proof.Summary) (worst proof.Cell, ok bool) {
	for _, c := range s.Cells {
		if n := c.Verdicts[proof.Fails]; n > 0 && n > worst.Verdicts[proof.Fails] {
			worst, ok = c, true
		}
	}
	return worst, ok
}

// ruleCures are the findings that a better black rule cures: where the advice
// names one, their own remedies would only say the same again.
var ruleCures = []string{"no-carbon", "part-carbon", "photo-in-resin"}

// cures is what to do about what stops the run: what cures the gravest fault,
// a better black rule, then what cures the others.
func cures(s *proof.Summary, gravest string) []string {
	rules := betterRules(s)
	var first, others []string
	for _, g := range s.Groups {
		switch {
		case g.Level != proof.Stop, len(rules) > 0 && slices.Contains(ruleCures, g.ID):
		case g.ID == gravest:
			first = append(first, g.Advise().String())
		default:
			others = append(others, g.Advise().String())
		}
	}
	var do []string
	for _, d := range slices.Concat(first, rules, others) {
		do = add(do, d)
	}
	return do
}

// betterRules says to change the black rule of each side whose own rule breaks
// something that another does not.
func betterRules(s *proof.Summary) (do []string) {
	for _, side := range [...]site.Side{site.Front, site.Back} {
		var now, better *proof.Advice
		for i := range s.Advice {
			a := &s.Advice[i]
			switch {
			case a.Side != side:
			case a.Current:
				now = a
			case a.Good && (better == nil || rank(a) < rank(better)):
				better = a
			}
		}
		if now == nil || better == nil || now.Good {
			continue
		}
		do = append(do, fmt.Sprintf("Change the black rule of the %s from “%s” to “%s”. It was tried on %s: every reader reads every code of this side, and no dot of a photo goes to resin.",
			side, now.Black.Rule, better.Black.Rule, share(s.Cards, s.Cards)))
	}
	return do
}

// bestRules are the black rules, the best first: those that keep text sharp and
// need nothing drawn, and last the one that mixes all text from dyes (common
// practice, no source).
var bestRules = []site.Rule{site.Objects, site.Zones, site.Exact, site.Dark, site.All, site.NoRule}

func rank(a *proof.Advice) int { return slices.Index(bestRules, a.Black.Rule) }

// add appends what is not said yet, up to three things.
func add(do []string, s string) []string {
	const most = 3
	if s == "" || len(do) >= most || slices.Contains(do, s) {
		return do
	}
	return append(do, s)
}

// title is a finding's title, from the catalogue.
func title(f proof.Finding) string {
	if t := proof.About(f.ID).Title; t != "" {
		return t
	}
	return f.ID
}
