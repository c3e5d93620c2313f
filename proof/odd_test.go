package proof

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"unspool/site"
)

// Programmes that leave much out are proved without complaint.
func TestOddProgrammes(t *testing.T) {
	front := base[strings.Index(base, "  front:"):strings.Index(base, "  back:")]
	back := base[strings.Index(base, "  back:"):strings.Index(base, "readers:")]
	readers := base[strings.Index(base, "readers:"):strings.Index(base, "roster:")]
	code := "    - {name: crew code, code: code39, text: \"{number}\", box: [30, 36, 52, 11], x: 3, align: start, printed: crew number}\n"
	for _, c := range []struct {
		name     string
		changes  []string
		cards    int
		readings int
	}{
		{"no readers", []string{readers, ""}, 2, 0},
		{"no codes", []string{code, ""}, 2, 0},
		{"front only", []string{back, ""}, 2, 4},
		{"back only", []string{front, "", "side: front", "side: back"}, 2, 0},
		{"no cards", nil, 0, 0},
	} {
		pf, err := New(edit(t, c.changes...), assets(), Options{Advice: true})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var rows []Row
		for i := range c.cards {
			rows = append(rows, Row{Key: fmt.Sprint(i), Person: pf.Programme.Person(somebody()), Margins: true})
		}
		tally, readings := pf.Tally(), 0
		tally.Note(pf.Fixed()...)
		if err := pf.Run(context.Background(), rows, 2, func(c Card) error { readings += len(c.Readings); tally.Add(c); return nil }); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if s := tally.Summary(); s.Cards != c.cards || readings != c.readings {
			t.Errorf("%s: %d cards and %d readings, want %d and %d", c.name, s.Cards, readings, c.cards, c.readings)
		}
	}
}

// A photo that the rule "all" halftones in resin, though the ribbon has dyes, is
// a photo in resin; on a ribbon of resin alone it is what was bought.
func TestPhotoUnderTheRuleAll(t *testing.T) {
	found := func(changes ...string) bool {
		for _, f := range findings(t, edit(t, changes...), somebody(), false) {
			if f.ID == "photo-in-resin" {
				return true
			}
		}
		return false
	}
	if !found("{rule: objects, dyes: leave}", "all") {
		t.Error("nothing is said of a photo in resin")
	}
	if found("YMCKOK", "KOK", "black: {rule: objects, dyes: leave}\n", "") {
		t.Error("a photo on a ribbon of resin alone is found in resin")
	}
}

// A card on which a reader finds none of the codes it takes is told of: the
// field that shows the code may hold a slip.
func TestCardWithoutItsCode(t *testing.T) {
	p := edit(t, "x: 3,", "x: 3, show: {field: grade},")
	for _, grade := range []string{"", "deck"} {
		who := somebody()
		who["grade"] = grade
		n := 0
		for _, f := range findings(t, p, who, false) {
			if f.ID == "no-code" {
				n++
			}
		}
		if want := map[string]int{"": 2}[grade]; n != want {
			t.Errorf("grade %q: %d readers without a code, want %d", grade, n, want)
		}
	}
}

// A rule that breaks two codes of a card at one reader breaks one card.
func TestAdviceCountsCards(t *testing.T) {
	p := edit(t, "    - {name: crew number", "    - {name: second, code: code39, text: \"{number}\", box: [30, 3, 52, 9], x: 3}\n    - {name: crew number")
	pf, err := New(p, assets(), Options{Advice: true})
	if err != nil {
		t.Fatal(err)
	}
	tally := pf.Tally()
	rows := []Row{{Person: p.Person(somebody())}, {Person: p.Person(somebody())}}
	if err := pf.Run(context.Background(), rows, 1, func(c Card) error { tally.Add(c); return nil }); err != nil {
		t.Fatal(err)
	}
	said := false
	for _, a := range tally.Summary().Advice {
		for _, b := range a.Breaks {
			said = said || b == "clock does not read 2 of 2 cards"
			if strings.Contains(b, "4 of 2") {
				t.Error(b)
			}
		}
	}
	if !said {
		t.Error("no rule breaks the clock's reading")
	}
}

// A rule that leaves a machine readable zone to the dyes breaks it, though there is
// no reader to say so.
func TestAdviceCountsZones(t *testing.T) {
	readers := base[strings.Index(base, "readers:"):strings.Index(base, "roster:")]
	p := edit(t, back, "", "  back:\n", "", "    - {name: holder", zone+"    - {name: holder", readers, "", "[5, 14, 20, 26]", "[5, 2, 20, 26]")
	pf, err := New(p, assets(), Options{Advice: true})
	if err != nil {
		t.Fatal(err)
	}
	tally := pf.Tally()
	if err := pf.Run(context.Background(), []Row{{Person: p.Person(somebody())}}, 1, func(c Card) error { tally.Add(c); return nil }); err != nil {
		t.Fatal(err)
	}
	lost := map[site.Rule]bool{}
	for _, a := range tally.Summary().Advice {
		if lost[a.Black.Rule] = a.ZoneCards == 1; a.Good == lost[a.Black.Rule] && a.PhotoCards == 0 {
			t.Errorf("%v: good %v, though %d cards lose a zone", a.Black.Rule, a.Good, a.ZoneCards)
		}
	}
	if !lost[site.NoRule] || lost[site.Objects] {
		t.Errorf("rules that lose the zone: %v", lost)
	}
}

// A card with two findings of one kind counts once, however many cards came
// before it.
func TestGroupsCountCards(t *testing.T) {
	pf, err := New(edit(t), assets(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	tally := pf.Tally()
	for row := range 30 {
		f := Finding{ID: "zeros-lost", Row: row}
		tally.Add(Card{Row: row, Findings: []Finding{f, f}})
	}
	if g := tally.Summary().Groups[0]; g.Cards != 30 || len(g.Rows) != groupRows {
		t.Errorf("%d cards, %d rows named", g.Cards, len(g.Rows))
	}
}

// The web moves on by whole sets: a YMCKOK ribbon that prints fronts alone
// passes its second K unused (common practice, no source).
func TestFramesOfACard(t *testing.T) {
	back := base[strings.Index(base, "  back:"):strings.Index(base, "readers:")]
	for _, c := range []struct {
		changes []string
		want    int
	}{
		{nil, 6},
		{[]string{back, ""}, 6},
		{[]string{"YMCKOK", "YMCKO"}, 10},
		{[]string{"YMCKOK", "YMCKO", back, ""}, 5},
	} {
		pf, err := New(edit(t, c.changes...), assets(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := pf.Frames(); got != c.want {
			t.Errorf("%.20q: %d frames, want %d", c.changes, got, c.want)
		}
	}
}
