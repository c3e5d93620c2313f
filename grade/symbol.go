package grade

import (
	"fmt"
	"math"

	"unspool/unit"
)

// Scans is how many scans a symbol grade is the mean of (ISO/IEC 15416 5.2.3,
// from memory). The edition of 2000 asks for fewer where the bars are so low
// that ten apertures do not fit the inspection band.
const Scans = 10

// ScansOf is how many scans a symbol of such bars is to be graded by: 10, but
// under the edition of 2000 no more than apertures fit side by side in the
// inspection band, which is 80 % of the height; at least 1 (ISO/IEC 15416 5.2.3,
// from memory).
func ScansOf(ed Edition, height unit.Length, a Aperture) int {
	if ed != Ed2000 || a.Diameter <= 0 {
		return Scans
	}
	return int(min(max(height*4/5/a.Diameter, 1), Scans))
}

// Lines are the middles of n scans across bars that reach from one end to the
// other, in any unit: evenly over the inspection band, which leaves out a tenth
// of the bars at either end (ISO/IEC 15416 5.2.3, from memory).
func Lines(from, to float64, n int) []float64 {
	at := make([]float64, max(n, 0))
	for i := range at {
		at[i] = from + (to-from)*(0.1+0.8*(float64(i)+0.5)/float64(n))
	}
	return at
}

// Grade is the grade of a symbol.
type Grade struct {
	Value  float64 // 0 to 4, one decimal
	Letter string  // "A" to "F"
	// Text is grade/aperture/light: "2.6/05/900". Light is its peak in nanometres.
	Text     string
	Aperture Aperture        // that it was measured through
	Light    unit.Nanometres // the light's peak
	// Differ says that scans decoded to different texts, which makes the grade 0.
	Differ bool
}

// Symbol is the grade of a symbol from its scans: their mean to one decimal
// (ISO/IEC 15416:2000 B.2, read), and 0 where two of them decode to different
// data (from memory). No scans make grade 0. An edition is not needed again:
// the scans carry its scale.
func Symbol(scans []Scan, a Aperture, peak unit.Nanometres) Grade {
	value, differ := 0.0, false
	sum, text, seen := 0.0, "", false
	for _, s := range scans {
		sum += s.Grade
		if s.Decoded {
			differ = differ || seen && s.Reading.Text != text
			text, seen = s.Reading.Text, true
		}
	}
	if len(scans) > 0 && !differ {
		value = tenths(sum / float64(len(scans)))
	}
	g := gradeOf(value, a, peak)
	g.Differ = differ
	return g
}

// gradeOf writes a grade: its letter, and grade/aperture/light. Broadband light,
// a peak of 0, is written W (GS1 General Specifications page 337, read).
func gradeOf(v float64, a Aperture, peak unit.Nanometres) Grade {
	light := "W"
	if peak > 0 {
		light = fmt.Sprintf("%.0f", float64(peak))
	}
	return Grade{Value: v, Letter: Letter(v), Aperture: a, Light: peak, Text: fmt.Sprintf("%.1f/%s/%s", v, a.Ref, light)}
}

// tenths rounds to one decimal, halves up. The sum of grades of one decimal is
// exact but for the last bits, which must not turn a half.
func tenths(v float64) float64 { return math.Floor(10*v+0.5+1e-9) / 10 }

// Letter is the letter of a grade: A from 3.5, B from 2.5, C from 1.5, D from
// 0.5, else F (read in github.com/EnricoPittini/Barcodes-verification; ISO/IEC
// 15416 5.6, from memory).
func Letter(g float64) string {
	for i, from := range [...]float64{3.5, 2.5, 1.5, 0.5} {
		if g >= from {
			return "ABCD"[i : i+1]
		}
	}
	return "F"
}
