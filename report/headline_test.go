package report

import (
	"slices"
	"strings"
	"testing"

	"unspool/proof"
	"unspool/site"
)

func TestHead(t *testing.T) {
	const try = "Print one card and try it at every reader"
	little := right()
	little.Cells[1].Verdicts = [4]int{0, 52, 8, 0}
	looked := right()
	looked.Groups = append([]proof.Group{{Finding: proof.Finding{ID: "low-bars", Level: proof.Look, Element: "number"}, Cards: 60}}, looked.Groups...)
	noRule := littleResin()
	noRule.Advice = nil
	noReaders := right()
	noReaders.Readers, noReaders.Cells = nil, nil
	wholeRun := right()
	wholeRun.Groups = []proof.Group{{Finding: proof.Finding{ID: "back-no-resin", Level: proof.Stop, Row: -1}}}
	noCodes := right()
	noCodes.Codes, noCodes.Cells = nil, nil
	single := littleResin()
	single.Cards, single.Cells[0].Verdicts = 1, [4]int{0, 0, 0, 1}
	for _, c := range []struct {
		name    string
		sum     *proof.Summary
		verdict proof.Verdict
		says    string
		do      string // beginning of the first thing
	}{
		{"good", right(), proof.Reads, "Print: every reader reads all 60 cards.", try},
		{"little to spare", little, proof.Little, "Print, after a look: every reader reads all 60 cards, some with little to spare.", try},
		{"a look", looked, proof.Little, "Print, after a look: every reader reads all 60 cards; one thing below deserves a look first.", "Make the box taller."},
		{"no carbon", littleResin(), proof.Fails, "Do not print: all 60 cards have a code that an infrared slot reader cannot read.", "Change the black rule of the front from “none” to “objects”."},
		{"no carbon, rules not tried", noRule, proof.Fails, "Do not print: all 60 cards have a code that an infrared slot reader cannot read.", "Send the code to the black resin panel"},
		{"one card", single, proof.Fails, "Do not print: the card has a code that an infrared slot reader cannot read.", "Change"},
		{"photo", muchResin(), proof.Fails, "Do not print: 37 of 60 cards have this fault: photo printed in resin.", "Change the black rule of the front from “dark” to “objects”."},
		{"the run itself", wholeRun, proof.Fails, "Do not print: black on a side without a resin panel.", "Use a ribbon with a second K"},
		{"no readers", noReaders, proof.Reads, "Print: nothing stands in the way of all 60 cards; the programme names no reader, so none was tried.", try},
		{"no codes", noCodes, proof.Reads, "Print: nothing stands in the way of all 60 cards; they carry no code.", try},
		{"no cards", &proof.Summary{Programme: right().Programme}, proof.Fails, "Nothing to print: the roster has no cards.", "Put at least one person"},
	} {
		h := Head(c.sum)
		first := ""
		if len(h.Do) > 0 {
			first = h.Do[0]
		}
		if h.Verdict != c.verdict || h.Word+": "+h.Why != c.says || !strings.HasPrefix(first, c.do) {
			t.Errorf("%s: %v %q, do %q; want %v %q, %q", c.name, h.Verdict, h.Word+": "+h.Why, first, c.verdict, c.says, c.do)
		}
	}
}

// Where the advice names a better rule, remedies that say the same are left
// out and others stay.
func TestHeadKeepsOtherCures(t *testing.T) {
	s := littleResin()
	s.Groups = append(s.Groups[:1:1], append([]proof.Group{{Finding: proof.Finding{ID: "key-twice", Level: proof.Stop}, Cards: 2}}, s.Groups[1:]...)...)
	do := Head(s).Do
	if len(do) != 2 || do[1] != "One card a key: correct or remove one of the rows." {
		t.Errorf("what to do: %q", do)
	}
}

// What cures the fault in the headline comes before what cures others.
func TestHeadCuresItsOwnFaultFirst(t *testing.T) {
	s := littleResin()
	s.Advice = nil
	cause := s.Cells[0].Worst.Cause.ID
	s.Groups = append([]proof.Group{{Finding: proof.Finding{ID: "resin-unknown", Level: proof.Stop}, Cards: 2}}, s.Groups...)
	do := Head(s).Do
	if len(do) != 2 || do[0] != proof.About(cause).Remedy || do[1] != proof.About("resin-unknown").Remedy {
		t.Errorf("what to do: %q", do)
	}
}

// Of several black rules that work, the one that keeps text sharp is advised.
func TestHeadAdvisesTheSharpestRule(t *testing.T) {
	s := muchResin()
	s.Advice = nil
	for _, r := range site.Rules {
		s.Advice = append(s.Advice, proof.Advice{Side: site.Front, Black: site.Black{Rule: r}, Current: r == site.Exact, Good: r == site.NoRule || r == site.Objects || r == site.Zones})
	}
	if do := Head(s).Do; !strings.HasPrefix(do[0], "Change the black rule of the front from “exact” to “objects”.") {
		t.Errorf("what to do: %q", do)
	}
	s.Advice = slices.DeleteFunc(s.Advice, func(a proof.Advice) bool { return a.Black.Rule == site.Objects || a.Black.Rule == site.Zones })
	if do := Head(s).Do; !strings.HasPrefix(do[0], "Change the black rule of the front from “exact” to “none”.") {
		t.Errorf("what to do: %q", do)
	}
}

func TestWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{number(999), "999"}, {number(12480), "12\u202f480"}, {number(1234567), "1\u202f234\u202f567"},
		{count(1, "card"), "1 card"}, {count(0, "card"), "0 cards"},
		{share(1, 1), "the card"}, {share(2, 2), "both cards"}, {share(60, 60), "all 60 cards"}, {share(7, 60), "7 of 60 cards"},
		{list([]string{"a"}), "a"}, {list([]string{"a", "b", "c"}), "a, b and c"}, {list(nil), ""},
		{sentence("its bars are low"), "Its bars are low."}, {sentence("Done."), "Done."}, {sentence(""), ""}, {sentence("élan"), "Élan."}, {sentence("crew.csv:4: a key"), "crew.csv:4: a key."},
		{lower("Photo printed"), "photo printed"}, {lower("ID twice"), "ID twice"}, {lower("X below"), "X below"},
		{rows([]int{0}, 1), "row 1"}, {rows([]int{0, 2}, 2), "rows 1 and 3"}, {rows([]int{0, 2}, 9), "rows 1, 3 and 7 more"}, {rows(nil, 0), ""},
		{light(940), "infrared"}, {light(780), "red"}, {light(632.8), "red"}, {light(525), "green"}, {light(470), "blue"}, {light(405), "violet"},
		{article("infrared lamp"), "an infrared lamp"}, {article("red lamp"), "a red lamp"},
		{price(1405, "EUR"), "14.05 EUR"}, {price(5, ""), "0.05"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
