package grade

import "unspool/unit"

// Aperture is the circular opening through which a profile is measured.
type Aperture struct {
	Diameter unit.Length
	Ref      string // reference number of ISO/IEC 15416, thousandths of an inch: "05"
}

// apertures are Table 1 of ISO/IEC 15416 5.3.1, from memory: the aperture for
// every X from a lower bound on. That 0.125 mm is 05 and 0.250 mm is 10, and
// that the two meet at X = 0.33 mm, was read (ISO/IEC 15416:2000 B and F.2; the
// table's place in a comment of github.com/zint/zint backend/library.c). That a
// bound belongs to the wider aperture is own judgement.
var apertures = [...]struct {
	from unit.Length
	Aperture
}{
	{635 * unit.Micrometre, Aperture{500 * unit.Micrometre, "20"}},
	{330 * unit.Micrometre, Aperture{250 * unit.Micrometre, "10"}},
	{180 * unit.Micrometre, Aperture{125 * unit.Micrometre, "05"}},
	{0, Aperture{75 * unit.Micrometre, "03"}}, // the table begins at 0.100 mm
}

// ApertureFor is the aperture for a narrow element or module of x dots at pitch
// p, compared exactly.
func ApertureFor(p unit.Pitch, x int) Aperture {
	return aperture(func(l unit.Length) bool { return p.Cmp(x, l) >= 0 })
}

// ApertureOf is the aperture for a measured narrow element or module.
func ApertureOf(x unit.Length) Aperture {
	return aperture(func(l unit.Length) bool { return x >= l })
}

func aperture(reaches func(unit.Length) bool) Aperture {
	for _, a := range apertures {
		if reaches(a.from) {
			return a.Aperture
		}
	}
	return apertures[len(apertures)-1].Aperture
}
