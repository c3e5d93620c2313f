package proof

import (
	"fmt"
	"strings"
	"testing"
)

// A page that is shared names cards by their rows, so nothing it is given may
// hold what the roster says of a person.
func TestWhatIsSharedNamesNobody(t *testing.T) {
	shared := append(rosterFindings(t), noteFindings(t)...)
	for _, c := range cases {
		if c.who == nil && c.id != "number-differs" {
			continue
		}
		who := somebody()
		for k, v := range c.who {
			who[k] = v
		}
		pf, err := New(edit(t, c.changes...), assets(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		row := Row{Key: who["number"], Person: pf.Programme.Person(who), Margins: c.margins}
		card, err := pf.Worker().Card(0, row)
		if err != nil {
			t.Fatal(err)
		}
		shared = append(shared, card.Findings...)
		for _, r := range card.Readings {
			shared = append(shared, Finding{ID: r.Cause.ID, Detail: r.Cause.Reason, Measure: r.Cause.Measure, Limit: r.Cause.Limit})
		}
	}
	for _, f := range shared {
		said := fmt.Sprint(f.Shown())
		for _, secret := range []string{"4217", "4218", "4219", "4220", "Ida", "Sund", "Wilhelmina", "ukasz", ".jpg", "as it is"} {
			if strings.Contains(said, secret) && !(secret == "as it is" && (f.ID == "colour-assumed" || f.ID == "font-failed" || f.ID == "glyph-missing")) {
				t.Errorf("%s shows %q: %s", f.ID, secret, said)
			}
		}
	}
}
