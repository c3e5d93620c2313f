package unit

import "fmt"

// Pitch is a resolution in whole dots per inch along one direction.
type Pitch int

// Limits of a head or feed resolution that a programme may state.
const (
	MinPitch Pitch = 100
	MaxPitch Pitch = 2400
)

// Span is the length of n dots, rounded to the nearest nanometre. Use it to
// show a length; use Cmp to compare one.
func (p Pitch) Span(n int) Length {
	return Length(divRound(int64(n)*int64(Inch), int64(p)))
}

// MM is the length of n dots in millimetres; n need not be whole.
func (p Pitch) MM(n float64) float64 { return n * Inch.MM() / float64(p) }

// PerMM is the number of dots in one millimetre.
func (p Pitch) PerMM() float64 { return float64(p) / Inch.MM() }

// Dots is the exact position of l in dots, not rounded.
func (p Pitch) Dots(l Length) float64 { return float64(l) * float64(p) / float64(Inch) }

// Round is the whole number of dots nearest to l, halves away from zero.
func (p Pitch) Round(l Length) int { return int(divRound(int64(l)*int64(p), int64(Inch))) }

// Floor is the largest whole number of dots not longer than l.
func (p Pitch) Floor(l Length) int { return int(divFloor(int64(l)*int64(p), int64(Inch))) }

// Ceil is the smallest whole number of dots not shorter than l.
func (p Pitch) Ceil(l Length) int { return -int(divFloor(-int64(l)*int64(p), int64(Inch))) }

// Cmp compares n dots with l exactly: -1 where the dots are shorter, 0 where
// they are equal, +1 where they are longer.
func (p Pitch) Cmp(n int, l Length) int {
	dots, length := int64(n)*int64(Inch), int64(l)*int64(p)
	switch {
	case dots < length:
		return -1
	case dots > length:
		return 1
	}
	return 0
}

// String writes the pitch: "300 dpi".
func (p Pitch) String() string { return fmt.Sprintf("%d dpi", int(p)) }

func divFloor(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// divRound divides rounding to nearest, halves away from zero; b is positive.
func divRound(a, b int64) int64 {
	if a < 0 {
		return -((-a + b/2) / b)
	}
	return (a + b/2) / b
}
