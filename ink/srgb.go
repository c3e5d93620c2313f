package ink

import "math"

// matrix is a 3 x 3 linear map between colour spaces, row by row.
type matrix [3]xyz

func (m matrix) times(v xyz) xyz {
	var w xyz
	for i, row := range m {
		w[i] = row[0]*v[0] + row[1]*v[1] + row[2]*v[2]
	}
	return w
}

// inverse is by cofactors; only used on matrices known to have one.
func (m matrix) inverse() matrix {
	var n matrix
	for i := range 3 {
		for j := range 3 {
			a, b, c, d := (j+1)%3, (j+2)%3, (i+1)%3, (i+2)%3
			n[i][j] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	det := m[0][0]*n[0][0] + m[0][1]*n[1][0] + m[0][2]*n[2][0]
	for i := range n {
		for j := range n[i] {
			n[i][j] /= det
		}
	}
	return n
}

// Linear sRGB to XYZ under D65 with Y = 1 for white, from the primaries of
// IEC 61966-2-1, and the Bradford map of XYZ from D65 to D50: B. Lindbloom's
// figures for both, read second-hand in notes of github.com/gwanryo/retouch, and
// there too the curve below.
var (
	rgbToXYZ = matrix{
		{0.4124564, 0.3575761, 0.1804375},
		{0.2126729, 0.7151522, 0.0721750},
		{0.0193339, 0.1191920, 0.9503041},
	}
	bradfordD50 = matrix{
		{1.0478112, 0.0228866, -0.0501270},
		{0.0295424, 0.9904844, -0.0170491},
		{-0.0092345, 0.0150436, 0.7521316},
	}
	xyzToRGB = rgbToXYZ.inverse()
	rgbWhite = rgbToXYZ.times(xyz{1, 1, 1})
	d50White = xyz{0.96422, 1, 0.82521} // of the ICC profile connection space
)

// decoded is Decode for the 256 code values.
var decoded = func() (t [256]float64) {
	for v := range t {
		t[v] = Decode(float64(v) / 255)
	}
	return t
}()

// Encode turns linear light, 0 to 1, into the sRGB signal, 0 to 1
// (IEC 61966-2-1). Values beyond are not clipped.
func Encode(linear float64) float64 {
	if linear <= 0.0031308 {
		return 12.92 * linear
	}
	return 1.055*math.Pow(linear, 1/2.4) - 0.055
}

// Decode turns the sRGB signal, 0 to 1, into linear light, 0 to 1
// (IEC 61966-2-1).
func Decode(signal float64) float64 {
	if signal <= 0.04045 {
		return signal / 12.92
	}
	return math.Pow((signal+0.055)/1.055, 2.4)
}

// byteOf is the code value nearest to a signal, clipped to 0..255.
func byteOf(signal float64) uint8 {
	return uint8(math.Round(255 * min(max(signal, 0), 1)))
}

// LabD50 is the colour of an sRGB value as a colour-managed program states it:
// adapted to D50 by the Bradford map, relative to sRGB white.
func LabD50(rgb [3]uint8) Lab {
	c := rgbToXYZ.times(xyz{decoded[rgb[0]], decoded[rgb[1]], decoded[rgb[2]]})
	return toLab(bradfordD50.times(c), d50White)
}
