// Package unit holds the lengths, resolutions and wavelengths that pass
// between the rooms of Unspool, so that none of them passes as a bare number.
//
// A Length is a whole number of nanometres, parsed exactly from decimal
// millimetres. A head dot is an exact fraction of an inch and seldom a whole
// number of nanometres, so a count of dots is never turned into a Length to be
// compared: Pitch compares the two by cross-multiplication, and 3 dots at
// 300 dpi are exactly 0.254 mm.
package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Length is a distance on the card or the web, in nanometres.
type Length int64

// Named lengths.
const (
	Nanometre  Length = 1
	Micrometre Length = 1000
	Millimetre Length = 1000 * 1000
	Inch       Length = 25_400_000 // 25.4 mm by definition (international yard and pound agreement, 1959)
)

// MaxLength bounds what a programme may state: 10 m, far beyond any card and
// far below what would overflow the exact comparisons of Pitch.
const MaxLength = 10_000 * Millimetre

// MM converts millimetres to a Length, rounding half away from zero to the
// nearest nanometre.
func MM(mm float64) Length { return Length(math.Round(mm * float64(Millimetre))) }

// Micrometres converts micrometres to a Length, rounding to the nearest nanometre.
func Micrometres(um float64) Length { return Length(math.Round(um * float64(Micrometre))) }

// MM is the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Micrometres is the length in micrometres.
func (l Length) Micrometres() float64 { return float64(l) / float64(Micrometre) }

// String writes the length in millimetres with up to three decimals: "0.254 mm".
func (l Length) String() string {
	s := strconv.FormatFloat(l.MM(), 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return s + " mm"
}

// ParseMM reads a decimal number of millimetres exactly: "0.254" is 254 000 nm.
// More than six decimals, exponents, units and anything beyond MaxLength are
// errors.
func ParseMM(s string) (Length, error) {
	text := strings.TrimSpace(s)
	neg := strings.HasPrefix(text, "-")
	digits := strings.TrimPrefix(text, "-")
	whole, frac, dot := strings.Cut(digits, ".")
	if whole == "" && frac == "" || dot && frac == "" || len(frac) > 6 || len(whole) > 6 || !allDigits(whole) || !allDigits(frac) {
		return 0, fmt.Errorf("%q is not a length: write plain millimetres such as 12.7, without a unit", s)
	}
	n, _ := strconv.ParseInt(whole+frac+strings.Repeat("0", 6-len(frac)), 10, 64)
	l := Length(n)
	if l > MaxLength {
		return 0, fmt.Errorf("%q is beyond %s", s, MaxLength)
	}
	if neg {
		l = -l
	}
	return l, nil
}

func allDigits(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return true
}

// Nanometres is a wavelength in vacuum, in nanometres of light. It is a type of
// its own so that a wavelength cannot be passed for a Length.
type Nanometres float64

// The spectrum Unspool computes.
const (
	FirstNM Nanometres = 380
	LastNM  Nanometres = 1000
)

// Infrared says whether the eye sees no light at this wavelength: the abridged
// CIE 1931 tables end at 780 nm (from memory). Readers at 850 nm still glow
// faintly to some eyes (common practice, no source).
func (n Nanometres) Infrared() bool { return n > 780 }

// String writes the wavelength: "940 nm".
func (n Nanometres) String() string { return strconv.FormatFloat(float64(n), 'f', -1, 64) + " nm" }
