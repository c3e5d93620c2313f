package proof

import (
	"reflect"
	"testing"

	"unspool/grade"
	"unspool/ink"
	"unspool/site"
)

// A ruling is what the programme with that rule comes to: the same picture, the
// same readings; and drawing codes broken neither changes what is read of them
// nor the cards that follow.
func TestRulingsAreProgrammes(t *testing.T) {
	pf, rows := sundhaven(t, 2, Options{Edition: grade.Ed2016})
	o := ViewOptions{Lamps: []Lamp{{"infrared 940 nm", ink.Line(940)}}}
	viewer := func(pf *Proof, o ViewOptions) *Viewer {
		v, err := pf.Viewer(o)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	rules := []site.Black{{Rule: site.Objects}, {Rule: site.Dark, Limit: 40}, {Rule: site.NoRule}}
	v, broken := viewer(pf, o), viewer(pf, ViewOptions{Broken: true, Lamps: o.Lamps})
	if _, err := broken.View(rows[1]); err != nil {
		t.Fatal(err)
	}
	got, err := v.Rulings(rows[1], site.Front, rules)
	if err != nil {
		t.Fatal(err)
	}
	gap, err := broken.Rulings(rows[1], site.Front, rules)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range rules {
		p := *pf.Programme
		p.Black[site.Front] = b
		other := *pf
		other.Programme = &p
		other.sides[site.Front] = pf.underRule(pf.sides[site.Front], b)
		views, err := viewer(&other, o).View(rows[1])
		if err != nil {
			t.Fatal(err)
		}
		card, err := other.Worker().Card(1, rows[1])
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got[i].View, views[0]) {
			t.Errorf("%s: the view is another", b.Rule)
		}
		if !reflect.DeepEqual(got[i].Readings, card.Readings[:3]) || !reflect.DeepEqual(gap[i].Readings, got[i].Readings) {
			t.Errorf("%s: the readings are others", b.Rule)
		}
		if reflect.DeepEqual(gap[i].View.Eye, got[i].View.Eye) {
			t.Errorf("%s: no gap shows", b.Rule)
		}
	}
	// What every trainer teaches: resin for codes reads, dark dots take the
	// hair, no resin is blind to infrared.
	if got[0].Photo != 0 || got[1].Photo == 0 || got[2].Photo != 0 ||
		got[0].Readings[0].Verdict != Reads || got[1].Readings[0].Verdict != Reads || got[2].Readings[0].Verdict != Fails {
		t.Errorf("photo dots in resin %d, %d, %d; at the clock %s, %s, %s", got[0].Photo, got[1].Photo, got[2].Photo,
			got[0].Readings[0].Verdict, got[1].Readings[0].Verdict, got[2].Readings[0].Verdict)
	}
}
