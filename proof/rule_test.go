package proof

import (
	"strings"
	"testing"
)

// A reader that names an acceptance rule is held to it: its grade is the least, and
// the code is graded through its aperture. HIBC and GS1 healthcare ask for 1.5/06/660
// and 1.5/08/660 (read at elsmar.com), NATO STANAG 4329 for B when printed (read at
// lawinsider.com). Without a rule Code 39 of X 0.254 mm is graded through aperture 05
// and one of 0.339 mm through 10 (ISO/IEC 15416, from memory).
func TestAcceptanceRules(t *testing.T) {
	const hand = "min-x: 0.19, accepts: [{code: code39, length: 6}], least: C"
	for _, c := range []struct {
		least, x string
		aperture string
		asks     float64
	}{
		{"least: C", "x: 3", "05", 1.5},
		{"least: C", "x: 4", "10", 1.5},
		{"rule: c-06-660", "x: 4", "06", 1.5},
		{"rule: gs1-healthcare-datamatrix", "x: 3", "08", 1.5},
		{"rule: b-at-issue", "x: 3", "05", 2.5},
	} {
		p := edit(t, hand, strings.Replace(hand, "least: C", c.least, 1), "x: 3", c.x, "[30, 36, 52, 11]", "[4, 36, 78, 11]", "    - {name: portrait, photo: \"{photo}\", box: [5, 14, 20, 26]}\n", "")
		if got := p.Readers[1].Least; got != c.asks {
			t.Errorf("%s asks for %v", c.least, got)
		}
		r := verdicts(t, p)["hand"]
		if parts := strings.Split(r.Grade.Text, "/"); len(parts) != 3 || parts[1] != c.aperture || r.Grade.Aperture.Ref != c.aperture {
			t.Errorf("%s, %s: graded %s, want aperture %s", c.least, c.x, r.Grade.Text, c.aperture)
		}
	}
}

// The grade that does not reach a rule is below the least.
func TestAcceptanceRuleBelowLeast(t *testing.T) {
	found := func(least string) (is bool) {
		for _, f := range findings(t, edit(t, "resin: 0.01", "resin: 0.1", "min-x: 0.19, accepts: [{code: code39, length: 6}], least: C", "min-x: 0.19, accepts: [{code: code39, length: 6}], "+least), somebody(), false) {
			is = is || f.ID == "grade-below-least" && f.Reader == "hand"
		}
		return is
	}
	if found("least: 0") || !found("least: 4") {
		t.Fatal("the code is to lie between 0 and 4")
	}
	if found("rule: b-at-issue") != found("least: 2.5") || found("rule: c-at-receipt") != found("least: 1.5") {
		t.Error("a rule and the grade that it asks for find different things")
	}
}
