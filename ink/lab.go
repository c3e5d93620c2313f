package ink

import "math"

// xyz is a CIE 1931 tristimulus value; Y is 100 for the perfect diffuser
// wherever a light and a reflectance are summed, and 1 where a comment says so.
type xyz [3]float64

// Lab is a colour in CIE 1976 L*a*b*: L from 0 (black) to 100 (the white it is
// taken relative to), A towards red, B towards yellow. Which white that is, is
// said where the value comes from.
type Lab struct{ L, A, B float64 }

// CIE 15, 8.2.1 (from memory): the exact fractions in place of 0.008856 and 903.3.
const (
	labEpsilon = 216.0 / 24389
	labKappa   = 24389.0 / 27
)

func labF(t float64) float64 {
	if t > labEpsilon {
		return math.Cbrt(t)
	}
	return (labKappa*t + 16) / 116
}

// labSlope is the derivative of labF.
func labSlope(t float64) float64 {
	if t > labEpsilon {
		c := math.Cbrt(t)
		return 1 / (3 * c * c)
	}
	return labKappa / 116
}

// toLab takes c relative to white; both have the same scale.
func toLab(c, white xyz) Lab {
	fx, fy, fz := labF(c[0]/white[0]), labF(c[1]/white[1]), labF(c[2]/white[2])
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}
