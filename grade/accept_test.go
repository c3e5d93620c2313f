package grade

import (
	"strings"
	"testing"

	"unspool/unit"
)

// The figures are those of the sources that the rules name.
func TestAcceptances(t *testing.T) {
	want := map[string]string{"c-06-660": "1.5/06/660", "b-at-issue": "2.5/-/-", "c-at-receipt": "1.5/-/-",
		"gs1-healthcare-linear": "1.5/06/660", "gs1-healthcare-datamatrix": "1.5/08/660", "aamva": "2.5/-/-"}
	all := Acceptances()
	if len(all) != len(want) {
		t.Errorf("%d rules", len(all))
	}
	for _, a := range all {
		if a.Text() != want[a.Name] || a.Title == "" || a.Source == "" {
			t.Errorf("%+v asks for %s", a, a.Text())
		}
		if b, ok := AcceptanceByName(a.Name); !ok || b != a {
			t.Errorf("%q finds %+v", a.Name, b)
		}
	}
	all[0].Least = 0
	if a, ok := AcceptanceByName("c-06-660"); !ok || a.Least != 1.5 {
		t.Error("a caller changed the table")
	}
	if _, ok := AcceptanceByName("C/06/660"); ok {
		t.Error("found a rule that is none")
	}
}

// A good grade in another light or through another aperture is none of the rule's.
func TestAccepts(t *testing.T) {
	for _, c := range []struct {
		rule, aperture string
		value          float64
		light          unit.Nanometres
		want           bool
		why            string
	}{
		{"c-06-660", "06", 1.5, 660, true, "1.5/06/660 is at least"},
		{"c-06-660", "06", 1.4, 660, false, "1.4/06/660 is below 1.5/06/660"},
		{"c-06-660", "06", 4, 670, true, ""},
		{"c-06-660", "06", 4, 671, false, "light of 671"},
		{"c-06-660", "06", 4, 940, false, "light of 940"},
		{"c-06-660", "05", 4, 660, false, "aperture 05"},
		{"b-at-issue", "03", 2.5, 940, true, ""},
		{"b-at-issue", "03", 2.4, 940, false, "2.4/03/940 is below 2.5/-/-"},
		{"gs1-healthcare-datamatrix", "08", 2, 660, true, ""},
		{"gs1-healthcare-datamatrix", "06", 2, 660, false, "aperture 06"},
	} {
		rule, _ := AcceptanceByName(c.rule)
		aperture, ok := ApertureOfRef(c.aperture)
		if !ok {
			t.Fatal(c.aperture)
		}
		got, why := rule.Accepts(gradeOf(c.value, aperture, c.light))
		if got != c.want || !strings.Contains(why.String(), c.why) {
			t.Errorf("%s of %v/%s/%v: %v, %q", c.rule, c.value, c.aperture, c.light, got, why)
		}
	}
}

func TestApertureOfRef(t *testing.T) {
	for text, want := range map[string]Aperture{
		"03": {75000, "03"}, "5": {125000, "05"}, "06": {150000, "06"}, "08": {200000, "08"}, "10": {250000, "10"}, "20": {500000, "20"}, "12": {304800, "12"},
	} {
		if got, ok := ApertureOfRef(text); !ok || got != want {
			t.Errorf("%q: %+v", text, got)
		}
	}
	for _, text := range []string{"", "0", "00", "100", "-5", "6 mil", "٥"} {
		if a, ok := ApertureOfRef(text); ok {
			t.Errorf("%q is %+v", text, a)
		}
	}
}

// 80 % of X (GS1 General Specifications page 337, read): 0.254 mm, 3 dots at 300
// dots an inch, has 0.203 mm, which is 8 thousandths.
func TestMatrixAperture(t *testing.T) {
	for x, want := range map[unit.Length]Aperture{254000: {203200, "08"}, 338667: {270933, "11"}, 0: {0, "00"}} {
		if got := MatrixAperture(x); got != want {
			t.Errorf("%v: %+v", x, got)
		}
	}
}

// The lesser of 10 and band height by aperture, in the edition of 2000 only (from
// memory).
func TestScansOf(t *testing.T) {
	ten, _ := ApertureOfRef("10")
	for _, c := range []struct {
		ed     Edition
		height unit.Length
		want   int
	}{{Ed2000, 10 * unit.Millimetre, 10}, {Ed2000, 2 * unit.Millimetre, 6}, {Ed2000, 0, 1}, {Ed2016, 2 * unit.Millimetre, 10}} {
		if got := ScansOf(c.ed, c.height, ten); got != c.want {
			t.Errorf("%v, %v high: %d", c.ed, c.height, got)
		}
	}
}
