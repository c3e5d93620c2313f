package symbol

import "math"

// EdgeKey is how reference decodes of edge to similar edge know a character: each
// of its first sums of two neighbouring elements, e, is rounded to modules,
//
//	E = j where (j-0.5)p/n <= e < (j+0.5)p/n   (GOST 30832-2002, read)
//
// with p the width of a character of n modules, and the E follow each other in
// the key, three bits each. It lowers the margins of the elements to
// V = K/(p/2n), where K is how far e lies from the nearest threshold (from memory
// of ISO/IEC 15416 Annex A; its symbol K was read). ok is false where an E is
// beyond three bits, which no symbology has.
func EdgeKey(widths, margins []float64, p float64, n, sums int) (key int, ok bool) {
	for i := range sums {
		e := (widths[i] + widths[i+1]) * float64(n) / p
		j := int(math.Floor(e + 0.5))
		if j < 1 || j > 7 {
			return 0, false
		}
		key = key<<3 | j
		Lower(margins[i:i+2], 1-2*math.Abs(e-float64(j)))
	}
	return key, true
}

// KeyOf is the key of a character of these units.
func KeyOf(units []uint8, sums int) int {
	key := 0
	for i := range sums {
		key = key<<3 | int(units[i]+units[i+1])
	}
	return key
}

// Lower brings margins down to v.
func Lower(margins []float64, v float64) {
	for i := range margins {
		margins[i] = min(margins[i], Clamp(v))
	}
}

// Whole are the margins of n elements that nothing has touched yet.
func Whole(n int) []float64 {
	margins := make([]float64, n)
	for i := range margins {
		margins[i] = 1
	}
	return margins
}

// Worst is the decodability that margins leave.
func Worst(margins []float64) float64 {
	v := 1.0
	for _, m := range margins {
		v = min(v, m)
	}
	return v
}
