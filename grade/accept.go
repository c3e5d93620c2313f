package grade

import (
	"fmt"
	"math"

	"unspool/say"
	"unspool/unit"
)

// Acceptance is a rule that says which grade a symbol must have where it is used.
// It judges one grade: a grade in red light and one in infrared are two, and a
// rule for one says nothing of the other.
type Acceptance struct {
	Name   string // as a card file writes it: "c-06-660"
	Title  string
	Source string
	Least  float64 // grade
	// Aperture is the reference number of the aperture, empty where the rule leaves
	// it to the symbol's X; Light the peak of the light, 0 where it leaves that open.
	Aperture string
	Light    unit.Nanometres
}

// lightTolerance is how far a verifier's peak may be from the one a rule names
// (660 nm, more or less 10: from memory of ISO/IEC 15416 and the GS1 General
// Specifications).
const lightTolerance = 10

// acceptances are the rules known by name.
var acceptances = [...]Acceptance{
	{"c-06-660", "C in red light, aperture 06", "HIBC: not below C/06/660 (read at elsmar.com)", 1.5, "06", 660},
	{"b-at-issue", "B when printed", "NATO STANAG 4329: at least B at printing (read at lawinsider.com)", 2.5, "", 0},
	{"c-at-receipt", "C when received", "NATO STANAG 4329: at least C at receipt (read at lawinsider.com)", 1.5, "", 0},
	{"gs1-healthcare-linear", "GS1 healthcare, linear symbol", "GS1 regulated healthcare: 1.5/06/660 (read at elsmar.com)", 1.5, "06", 660},
	{"gs1-healthcare-datamatrix", "GS1 healthcare, GS1 DataMatrix", "GS1 regulated healthcare: 1.5/08/660 (read at elsmar.com)", 1.5, "08", 660},
	{"aamva", "Driving licence, PDF417", "AAMVA DL/ID Card Design Standard: B at issue (from memory)", 2.5, "", 0},
}

// Acceptances are the rules known by name, in a fixed order.
func Acceptances() []Acceptance { return append([]Acceptance(nil), acceptances[:]...) }

// AcceptanceByName finds a rule.
func AcceptanceByName(name string) (Acceptance, bool) {
	for _, a := range acceptances {
		if a.Name == name {
			return a, true
		}
	}
	return Acceptance{}, false
}

// Text is what the rule asks for, as grades are written: "1.5/06/660", with a
// dash for what it leaves open.
func (a Acceptance) Text() string {
	aperture, light := a.Aperture, "-"
	if aperture == "" {
		aperture = "-"
	}
	if a.Light != 0 {
		light = fmt.Sprintf("%.0f", float64(a.Light))
	}
	return fmt.Sprintf("%.1f/%s/%s", a.Least, aperture, light)
}

// Sees says whether a grade in light of this peak is one that the rule judges.
func (a Acceptance) Sees(peak unit.Nanometres) bool {
	return a.Light == 0 || math.Abs(float64(peak-a.Light)) <= lightTolerance
}

// Accepts says whether a grade satisfies the rule, and why. A grade taken in
// another light or through another aperture than the rule names does not, however
// good: it has to be taken as the rule says.
func (a Acceptance) Accepts(g Grade) (ok bool, why say.Text) {
	switch {
	case !a.Sees(g.Light):
		return false, say.F("%s was taken in light of %s, %s asks for %s", g.Text, g.Light, a.Text(), a.Light)
	case a.Aperture != "" && g.Aperture.Ref != a.Aperture:
		return false, say.F("%s was taken through aperture %s, %s asks for %s", g.Text, g.Aperture.Ref, a.Text(), a.Aperture)
	case !(g.Value >= a.Least):
		return false, say.F("%s is below %s", g.Text, a.Text())
	}
	return true, say.F("%s is at least %s", g.Text, a.Text())
}
