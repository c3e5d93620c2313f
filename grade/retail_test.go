package grade

import (
	"slices"
	"testing"

	"unspool/code"
)

// EAN-13 needs 11 X before its first bar and 7 X after its last (size guide at
// gs1.se), whichever way the line runs.
func TestQuietZonesOfTwoWidths(t *testing.T) {
	d := draw(t, "ean13", texts["ean13"], 3)
	for _, c := range []struct {
		before, after float64 // X
		want          float64
		why           string
	}{
		{11.2, 7.2, 4, ""},
		{10, 7.3, 0, "quiet zone 10.0X on one side, 7.3X on the other, where EAN-13 asks for 11X and 7X"},
		{11.2, 6.1, 0, "quiet zone 11.2X on one side, 6.1X on the other, where EAN-13 asks for 11X and 7X"},
	} {
		line := d.line()
		line.widths[0], line.widths[len(line.widths)-1] = 3*c.before, 3*c.after
		p := line.profile(3)
		forth := Measure(p, d.kind, code.Options{}, Ed2016)
		if forth.Grades[QuietZone] != c.want || c.why != "" && forth.Why.String() != c.why {
			t.Errorf("%+v: %v %s", c, forth.Grades, forth.Why)
		}
		slices.Reverse(p.Samples)
		if back := Measure(p, d.kind, code.Options{}, Ed2016); back.Grades[QuietZone] != c.want || !back.Reading.Reversed {
			t.Errorf("%+v from the other end: %v %s", c, back.Grades, back.Why)
		}
	}
	for after, want := range map[float64]bool{2.5: false, 4: true} { // half of 7 X
		line := join(d.line(), painted{[]float64{4, 60}, []float64{dark, light}})
		line.widths[len(d.line().widths)-1] = 3 * after
		if _, ok, why := Read(line.profile(3), d.kind, code.Options{}); ok != want {
			t.Errorf("%.1fX after it: %v %s", after, ok, why)
		}
	}
}

// A line is read as every kind that it is: a UPC-A as an EAN-13 too, a GS1-128 and
// an ISBT 128 as Code 128 too.
func TestFindAllKindsOfASymbol(t *testing.T) {
	for name, want := range map[string][]string{
		"upca": {"ean13", "upca"}, "ean13": {"ean13"}, "ean8": {"ean8"}, "upce": {"upce"}, "code93": {"code93"},
		"gs1-128": {"code128", "gs1-128"}, "isbt128": {"code128", "isbt128"}, "code128": {"code128"},
	} {
		d := draw(t, name, texts[name], 3)
		var got []string
		for _, f := range FindAll(d.line().profile(5), code.Linear()) {
			got = append(got, f.Kind.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s is found as %v, want %v", name, got, want)
		}
	}
}
