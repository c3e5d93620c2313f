package grade

import (
	"fmt"
	"strconv"

	"unspool/unit"
)

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

// mil is a thousandth of an inch, the unit of reference numbers.
const mil = unit.Inch / 1000

// MatrixAperture is the aperture for a two-dimensional symbol whose smallest
// module is x wide: 80 % of it (GS1 General Specifications page 337, read), where
// no application says otherwise. Its reference is in whole thousandths of an
// inch.
func MatrixAperture(x unit.Length) Aperture {
	d := min(max(x, 0), unit.Inch) * 4 / 5
	return Aperture{d, ref(d)}
}

// ref is the reference number of a diameter.
func ref(d unit.Length) string { return fmt.Sprintf("%02d", (d+mil/2)/mil) }

// ApertureOfRef is the aperture of a reference number as people write it: "06".
// The standard's own have its rounded diameters, and 06 is 0.150 mm and 08 0.200
// mm (from memory); any other is as wide as it says, up to 99. ok is false where
// the text is none.
func ApertureOfRef(text string) (a Aperture, ok bool) {
	n, err := strconv.ParseUint(text, 10, 8)
	if err != nil || n < 1 || n > 99 {
		return Aperture{}, false
	}
	a = Aperture{unit.Length(n) * mil, fmt.Sprintf("%02d", n)}
	switch a.Ref {
	case "06":
		a.Diameter = 150 * unit.Micrometre
	case "08":
		a.Diameter = 200 * unit.Micrometre
	}
	for _, t := range apertures {
		if t.Ref == a.Ref {
			a = t.Aperture
		}
	}
	return a, true
}
