package report

import (
	"testing"

	"unspool/proof"
	"unspool/site"
)

// Two failures at one reader do not speak against the other.
func TestCodesSayCountsReaders(t *testing.T) {
	s := right()
	for i := range s.Cells {
		s.Cells[i].Verdicts = [4]int{proof.Reads: 60}
		if s.Cells[i].Reader == 0 {
			s.Cells[i].Verdicts = [4]int{proof.Fails: 60}
		}
	}
	if len(s.Readers) < 2 || len(s.Codes) != 2 {
		t.Fatal("the fixture needs two codes and two readers")
	}
	if got, want := codesSay(s), "Two times a code does not read where it must."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for i := range s.Cells {
		s.Cells[i].Verdicts = [4]int{proof.Fails: 60}
	}
	if got, want := codesSay(s), "No reader can be relied on with these cards."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestRulesSayWhenNoneWorks(t *testing.T) {
	s := right()
	s.Advice = []proof.Advice{{Side: site.Front, Black: site.Black{Rule: site.Objects}, Good: true}, {Side: site.Back, Black: site.Black{Rule: site.Objects}}}
	rules := newRules(s)
	if len(rules) != 2 || rules[0].None || !rules[1].None {
		t.Errorf("%+v", rules)
	}
}
