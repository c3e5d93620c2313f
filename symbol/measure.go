package symbol

import (
	"errors"
	"math"
	"slices"

	"unspool/say"
)

// ErrNoStart is what a reference decode gives where the widths do not begin with
// the symbology's start pattern, whatever else may be wrong with them.
var ErrNoStart = say.Errorf("no start pattern")

// Either runs a reference decode over the widths in the order given and, where
// that fails, from the other end. The widths must be positive and finite.
func Either(widths []float64, decode func([]float64) (Reading, error)) (Reading, error) {
	if err := checkWidths(widths); err != nil {
		return Reading{}, err
	}
	r, err := decode(widths)
	if err == nil {
		return r, nil
	}
	back := slices.Clone(widths)
	slices.Reverse(back)
	r, backErr := decode(back)
	if backErr != nil {
		if errors.Is(err, ErrNoStart) {
			err = backErr
		}
		return Reading{}, err
	}
	r.Reversed = true
	slices.Reverse(r.Margins)
	for i, c := range r.Chars {
		r.Chars[i].From, r.Chars[i].To = len(widths)-c.To, len(widths)-c.From
	}
	return r, nil
}

// checkWidths refuses what is no row of element widths, so that no decode has to
// reckon with it. The bounds keep every sum and ratio of widths an ordinary
// number.
func checkWidths(widths []float64) error {
	const least, most = 1e-9, 1e12
	for i, w := range widths {
		if !(w >= least && w <= most) {
			return say.Errorf("element %d is %v wide: widths must be positive and finite", i+1, w)
		}
	}
	return nil
}

// Sum is the width of a run of elements.
func Sum(widths []float64) float64 {
	s := 0.0
	for _, w := range widths {
		s += w
	}
	return s
}

// Clamp is v brought into 0 to 1, the range of a decodability; what is no number
// becomes 0.
func Clamp(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return min(max(v, 0), 1)
}

// Sorted is a two-width symbol whose elements a reference decode has told apart.
type Sorted struct {
	Widths []float64
	Units  []uint8   // 1 narrow, 2 wide, Gap
	RT     []float64 // the reference threshold each element was compared with
}

// NewSorted makes room for the sorting of these widths.
func NewSorted(widths []float64) Sorted {
	return Sorted{widths, make([]uint8, len(widths)), make([]float64, len(widths))}
}

// Split compares the element at i with the threshold rt: above it, the element
// is wide.
func (s Sorted) Split(i int, rt float64) {
	s.RT[i], s.Units[i] = rt, 1
	if s.Widths[i] > rt {
		s.Units[i] = 2
	}
}

// Wide counts the wide elements at from, from+step ... below to.
func (s Sorted) Wide(from, to, step int) int {
	n := 0
	for i := from; i < to; i += step {
		if s.Units[i] == 2 {
			n++
		}
	}
	return n
}

// Measure fills in the measures of a two-width symbol: X, N, decodability and
// margins, by ISO/IEC 15416 Annex A:
//
//	V1 = (RT - e) / (RT - Z)          e widest narrow element (from memory)
//	V2 = (E - RT) / (N*Z - RT)        E narrowest wide element (read, see below)
//	V  = min(V1, V2) over all characters
//
// V2 was read in fragments of GOST 30832-2002, which adopts the edition of 2000.
// Z is the mean narrow element and N the mean wide:narrow ratio of the symbol,
// so N*Z is the mean wide element. The same formulas with each element's own
// width are its margin.
func (s Sorted) Measure(r *Reading) {
	var sum, count [3]float64
	for i, u := range s.Units {
		sum[u] += s.Widths[i]
		count[u]++
	}
	z, wide := sum[1]/count[1], sum[2]/count[2]
	r.X, r.N = z, wide/z
	r.Decodability = 1
	r.Margins = make([]float64, len(s.Widths))
	for i, u := range s.Units {
		v := 1.0
		switch u {
		case 1:
			v = margin(s.RT[i]-s.Widths[i], s.RT[i]-z)
		case 2:
			v = margin(s.Widths[i]-s.RT[i], wide-s.RT[i])
		}
		r.Margins[i] = v
		r.Decodability = min(r.Decodability, v)
	}
}

// margin is left as a share of whole. A threshold beyond the mean it is meant to
// divide off leaves no margin at all.
func margin(left, whole float64) float64 {
	if whole <= 0 {
		return 0
	}
	return Clamp(left / whole)
}
