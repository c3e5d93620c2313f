package grade

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"unspool/code"
	"unspool/unit"
)

// table reads a file of figures.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// rows are those of testdata/iso15416.csv whose first column is name. Each row
// names its source.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	var out [][]string
	for _, r := range table(t, "testdata/iso15416.csv") {
		if r[0] == name {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		t.Fatalf("no rows %q", name)
	}
	return out
}

var number = regexp.MustCompile(`[0-9]*\.?[0-9]+`)

func numbers(t *testing.T, s string) (out []float64) {
	t.Helper()
	for _, m := range number.FindAllString(s, -1) {
		v, err := strconv.ParseFloat(m, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.4f, want %.4f ± %g", what, got, want, tolerance)
	}
}

// The limits are those of the rows iso15416-threshold.
func TestThresholds(t *testing.T) {
	limits := map[string][4]float64{"symbol contrast": contrastLimits, "modulation 1D": modulationLimits,
		"defects (max)": defectsLimits, "decodability 1D": decodabilityLimits}
	for _, r := range rows(t, "iso15416-threshold") {
		for i, v := range numbers(t, r[2]) {
			if strings.Contains(r[2], "%") {
				v /= 100
			}
			near(t, r[1], limits[r[1]][i], v, 1e-12)
			for _, ed := range []Edition{Ed2000, Ed2016} {
				if got := scale(v, limits[r[1]], ed); got != float64(4-i) {
					t.Errorf("%s %v on the threshold, %v: grade %v", r[1], v, ed, got)
				}
			}
		}
	}
}

// Labelled images of a test chart: rows iso15416-decodability.
func TestDecodabilityChart(t *testing.T) {
	for _, r := range rows(t, "iso15416-decodability") {
		v := numbers(t, r[1])[0] / 100
		if got := Letter(scale(v, decodabilityLimits, Ed2000)); got != r[2] {
			t.Errorf("decodability %v: %s, the chart says %s", v, got, r[2])
		}
	}
}

// ISO/IEC 15416:2000 Annex B.1: a scan at 900 nm with Rmin 10 and Rmax 82 whose
// worst edge has Rs 76 and Rb 34: rows iso15416-scan and iso15416-2016.
func TestWorkedScan(t *testing.T) {
	d := draw(t, "code39", "$M", 4)
	line := d.line()
	for i, l := range line.levels {
		line.levels[i] = map[float64]float64{light: 0.82, dark: 0.10}[l]
	}
	line.levels[13], line.levels[14] = 0.34, 0.76
	s := Measure(line.profile(5), d.kind, code.Options{}, Ed2000)
	near(t, "Rmin", s.Rmin, 0.10, 1e-6)
	near(t, "Rmax", s.Rmax, 0.82, 1e-6)
	near(t, "GT", s.GT, 0.46, 1e-6)
	near(t, "SC", s.SC, 0.72, 1e-6)
	near(t, "ECmin", s.ECmin, 0.42, 1e-6)
	near(t, "MOD", s.MOD, 0.58, 0.005)
	for p, want := range map[Parameter]float64{Contrast: 4, Modulation: 2, MinReflectance: 4, MinEdge: 4, Decode: 4, QuietZone: 4} {
		near(t, p.String()+" grade", s.Grades[p], want, 0)
	}
	if s.Grade != 2 || s.Why.String() != "modulation 0.58" {
		t.Errorf("scan grade %v, %q", s.Grade, s.Why)
	}
	s = Measure(line.profile(5), d.kind, code.Options{}, Ed2016)
	near(t, "modulation grade of 2016", s.Grades[Modulation], numbers(t, rows(t, "iso15416-2016")[0][2])[0], 1e-9)
}

// ISO/IEC 15416:2000 Annex B.2: row iso15416-symbol.
func TestWorkedSymbol(t *testing.T) {
	r := rows(t, "iso15416-symbol")[0]
	var scans []Scan
	for _, g := range numbers(t, r[1]) {
		scans = append(scans, Scan{Grade: g})
	}
	g := Symbol(scans, Aperture{Ref: "05"}, 900)
	if g.Text != r[2] || g.Letter != "B" {
		t.Errorf("%+v, want %s", g, r[2])
	}
}

// ISO/IEC 15416:2000 Annex F.2: the report of a Code 39 symbol "$M", row
// iso15416-report. Its inputs are rounded, so derived values may be off by 0.01.
func TestWorkedReport(t *testing.T) {
	d := draw(t, "code39", "$M", 4)
	line := d.line()
	for i, l := range line.levels {
		line.levels[i] = map[float64]float64{light: 0.79, dark: 0.02}[l]
	}
	line.levels[13] = 0.31 // ECmin 0.48
	// A narrow element beside a narrow one, both changed: with wide 10 and narrow
	// 4 dots, S is 54 dots and RT 6.75, so 0.75 of the margin is left at
	// 6.75 - 0.75*2.75 = 4.69 dots.
	i := 1
	for line.widths[i] != 4 || line.widths[i+1] != 4 || (i-1)%10 > 7 { // both of one character
		i++
	}
	line.widths[i], line.widths[i+1] = 4.69, 3.31
	p := line.profile(5)
	// A void in the last wide bar: ERN 0.16 of SC 0.77.
	edge := 0.0
	last := 0
	for j, w := range line.widths[:len(line.widths)-1] {
		if j%2 == 1 && w == 10 {
			last = int((edge + w/2) * perDot)
		}
		edge += w
	}
	for j := -3; j <= 3; j++ {
		p.Samples[last+j] += 0.16 * 0.77
	}
	s := Measure(p, d.kind, code.Options{}, Ed2000)
	near(t, "SC", s.SC, 0.77, 0.01)
	near(t, "GT", s.GT, 0.40, 0.01)
	near(t, "ECmin", s.ECmin, 0.48, 0.01)
	near(t, "MOD", s.MOD, 0.63, 0.01)
	near(t, "Defects", s.Defects, 0.16, 0.01)
	near(t, "PCS", s.PCS, 0.97, 0.01)
	near(t, "decodability", s.Reading.Decodability, 0.75, 0.01)
	for p, want := range map[Parameter]float64{Contrast: 4, MinEdge: 4, Modulation: 3, Defects: 3, Decodability: 4} {
		near(t, p.String()+" grade", s.Grades[p], want, 0)
	}
	if s.Reading.Text != "$M" || s.Grade != 3 || Letter(s.Grade) != "B" {
		t.Errorf("%q graded %v: %s", s.Reading.Text, s.Grade, s.Why)
	}
}

// Linear between thresholds and one decimal, from memory; cut so that no
// decimal lifts a measure over a threshold it missed.
func TestOneDecimal(t *testing.T) {
	for _, c := range []struct {
		v      float64
		limits [4]float64
		want   float64
	}{
		{0.625, contrastLimits, 3.5}, {0.6999, contrastLimits, 3.9}, {0.71, contrastLimits, 4}, {0.19, contrastLimits, 0},
		{0.175, defectsLimits, 3.5}, {0.31, defectsLimits, 0}, {0.10, defectsLimits, 4}, {0.56, decodabilityLimits, 3.5},
	} {
		if got := scale(c.v, c.limits, Ed2016); got != c.want {
			t.Errorf("%v in %v: %v, want %v", c.v, c.limits, got, c.want)
		}
	}
}

// Table 1 of ISO/IEC 15416 (from memory), at the dots of common heads: arithmetic
// from the definition of the inch.
func TestAperture(t *testing.T) {
	for _, c := range []struct {
		p   unit.Pitch
		x   int
		ref string
	}{
		{300, 2, "03"}, {300, 3, "05"}, {300, 4, "10"}, {600, 5, "05"}, {600, 7, "05"}, {600, 8, "10"}, {300, 8, "20"},
		{1270, 9, "05"},  // 0.180 mm exactly
		{2540, 33, "10"}, // 0.330 mm exactly
		{2399, 31, "05"}, {300, 1, "03"},
	} {
		a := ApertureFor(c.p, c.x)
		if a.Ref != c.ref {
			t.Errorf("%d dots at %v: %s, want %s", c.x, c.p, a.Ref, c.ref)
		}
		mils, _ := strconv.Atoi(a.Ref)
		if off := a.Diameter.MM() - float64(mils)*0.0254; math.Abs(off) > 0.01 {
			t.Errorf("%s is %v", a.Ref, a.Diameter)
		}
		if b := ApertureOf(c.p.Span(c.x)); b != a {
			t.Errorf("%v by length: %v, by dots %v", c.p.Span(c.x), b, a)
		}
	}
}

func TestLetters(t *testing.T) {
	for g, want := range map[float64]string{4: "A", 3.5: "A", 3.4: "B", 2.5: "B", 2.4: "C", 1.5: "C", 1.4: "D", 0.5: "D", 0.4: "F", 0: "F"} {
		if got := Letter(g); got != want {
			t.Errorf("%v: %s, want %s", g, got, want)
		}
	}
}
