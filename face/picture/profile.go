package picture

import (
	"bytes"
	"encoding/binary"
	"math"

	"unspool/say"
)

// profile takes the colours of a picture to sRGB: each channel through a curve to
// light, a matrix between the primaries, and sRGB's curve back. It covers the
// matrix and gray profiles that cameras, phones and screens use.
type profile struct {
	toLight [3][256]float32
	matrix  [3][3]float32 // from the picture's light to sRGB's
	gray    bool
}

// readProfile reads an ICC profile (ICC.1:2022). It gives nil where the colours
// are sRGB already, and where they are taken for it; then it says why.
func readProfile(data []byte, gray, cmyk bool) (*profile, say.Text) {
	if cmyk {
		return nil, say.Words("its inks (CMYK) were turned into colours by rule of thumb, not by its colour profile: save it as sRGB")
	}
	if len(data) == 0 {
		return nil, say.Text{}
	}
	tags, space, err := profileTags(data)
	if err != nil {
		return nil, say.F("its colour profile %v", err)
	}
	p := &profile{}
	switch {
	case space == "GRAY":
		err = p.readGray(tags, gray)
	case space == "RGB ":
		err = p.readMatrix(tags)
	default:
		err = say.Errorf("is for %q, the picture is not", space)
	}
	if err != nil {
		return nil, say.F("its colour profile %v: save it as sRGB", err)
	}
	if p.isSRGB() {
		return nil, say.Text{}
	}
	return p, say.Text{}
}

// profileTags cuts a profile into its tags.
func profileTags(data []byte) (map[string][]byte, string, error) {
	if len(data) < 132 || string(data[36:40]) != "acsp" {
		return nil, "", say.Errorf("is damaged")
	}
	tags := map[string][]byte{}
	count := int64(binary.BigEndian.Uint32(data[128:]))
	for i := range min(count, 200) {
		if 132+12*(i+1) > int64(len(data)) {
			break
		}
		e := data[132+12*i:]
		from, size := int64(binary.BigEndian.Uint32(e[4:])), int64(binary.BigEndian.Uint32(e[8:]))
		if from+size <= int64(len(data)) {
			tags[string(e[:4])] = data[from : from+size]
		}
	}
	return tags, string(data[16:20]), nil
}

func (p *profile) readGray(tags map[string][]byte, gray bool) error {
	if !gray {
		return say.Errorf("is for gray, the picture is not")
	}
	p.gray, p.matrix = true, [3][3]float32{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for c := range 3 {
		if err := readCurve(tags["kTRC"], &p.toLight[c]); err != nil {
			return err
		}
	}
	return nil
}

// fromD50 takes XYZ relative to the D50 of the profile connection space to sRGB's
// light: the inverse of the sRGB primaries of IEC 61966-2-1 adapted to D50 by the
// Bradford transform. From memory; the test against Little CMS holds it.
var fromD50 = [3][3]float64{
	{3.1338561, -1.6168667, -0.4906146},
	{-0.9787684, 1.9161415, 0.0334540},
	{0.0719453, -0.2289914, 1.4052427},
}

func (p *profile) readMatrix(tags map[string][]byte) error {
	var primaries [3][3]float64
	for c, name := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		t := tags[name]
		if len(t) < 20 {
			return say.Errorf("uses tables, which are not read")
		}
		for k := range 3 {
			primaries[k][c] = fixed16(t[8+4*k:])
		}
	}
	for c, name := range []string{"rTRC", "gTRC", "bTRC"} {
		if err := readCurve(tags[name], &p.toLight[c]); err != nil {
			return err
		}
	}
	for i := range 3 {
		for j := range 3 {
			sum := 0.0
			for k := range 3 {
				sum += fromD50[i][k] * primaries[k][j]
			}
			p.matrix[i][j] = float32(sum)
		}
	}
	return nil
}

// fixed16 reads an s15Fixed16Number.
func fixed16(b []byte) float64 { return float64(int32(binary.BigEndian.Uint32(b))) / 65536 }

// readCurve samples a curveType or parametricCurveType (ICC.1:2022 10.6, 10.18).
func readCurve(tag []byte, out *[256]float32) error {
	if len(tag) < 12 {
		return say.Errorf("lacks a curve")
	}
	var f func(x float64) float64
	switch string(tag[:4]) {
	case "curv":
		f = sampledCurve(tag)
	case "para":
		f = parametricCurve(tag)
	}
	if f == nil {
		return say.Errorf("has a damaged curve")
	}
	for i := range out {
		v := f(float64(i) / 255)
		if math.IsNaN(v) {
			return say.Errorf("has a damaged curve")
		}
		out[i] = float32(min(max(v, 0), 1))
	}
	return nil
}

func sampledCurve(tag []byte) func(x float64) float64 {
	n := int64(binary.BigEndian.Uint32(tag[8:]))
	if int64(len(tag)) < 12+2*n {
		return nil
	}
	at := func(i int64) float64 { return float64(binary.BigEndian.Uint16(tag[12+2*i:])) }
	switch n {
	case 0:
		return func(x float64) float64 { return x }
	case 1:
		gamma := at(0) / 256
		return func(x float64) float64 { return math.Pow(x, gamma) }
	}
	return func(x float64) float64 {
		pos := x * float64(n-1)
		i := min(int64(pos), n-2)
		part := pos - float64(i)
		return (at(i)*(1-part) + at(i+1)*part) / 65535
	}
}

// parametricCurve follows ICC.1:2022 table 68.
func parametricCurve(tag []byte) func(x float64) float64 {
	kind := binary.BigEndian.Uint16(tag[8:])
	counts := [...]int{1, 3, 4, 5, 7}
	if int(kind) >= len(counts) || len(tag) < 12+4*counts[kind] {
		return nil
	}
	p := [7]float64{1: 1} // g, a, b, c, d, e, f
	for i := range counts[kind] {
		p[i] = fixed16(tag[12+4*i:])
	}
	g, a, b, c, d, e, f := p[0], p[1], p[2], p[3], p[4], p[5], p[6]
	switch kind {
	case 0:
		return func(x float64) float64 { return math.Pow(x, g) }
	case 1, 2: // c is added throughout; 0 in kind 1
		return func(x float64) float64 {
			if a*x+b >= 0 {
				return math.Pow(a*x+b, g) + c
			}
			return c
		}
	}
	return func(x float64) float64 {
		if x >= d {
			return math.Pow(a*x+b, g) + e
		}
		return c*x + f
	}
}

// isSRGB says whether the profile changes no colour by more than rounding does:
// the five places of a profile's primaries can move black by two levels.
func (p *profile) isSRGB() bool {
	probe := make([]uint8, 0, 3*5*5*5)
	for i := range 125 {
		probe = append(probe, uint8(i%5*255/4), uint8(i/5%5*255/4), uint8(i/25*255/4))
	}
	if p.gray {
		probe = probe[:0]
		for i := range 256 {
			probe = append(probe, uint8(i), uint8(i), uint8(i))
		}
	}
	out := bytes.Clone(probe)
	p.apply(out)
	for i := range probe {
		if d := int(probe[i]) - int(out[i]); d < -2 || d > 2 {
			return false
		}
	}
	return true
}

// apply takes interleaved R, G, B to sRGB; colours that sRGB has not are cut off.
func (p *profile) apply(rgb []uint8) {
	m := &p.matrix
	for i := 0; i+2 < len(rgb); i += 3 {
		r, g, b := p.toLight[0][rgb[i]], p.toLight[1][rgb[i+1]], p.toLight[2][rgb[i+2]]
		rgb[i] = fromLight(m[0][0]*r + m[0][1]*g + m[0][2]*b)
		rgb[i+1] = fromLight(m[1][0]*r + m[1][1]*g + m[1][2]*b)
		rgb[i+2] = fromLight(m[2][0]*r + m[2][1]*g + m[2][2]*b)
	}
}

// lightSteps is fine enough that sRGB's steepest slope, 12.92 at black, moves a
// fifth of a level a step.
const lightSteps = 1 << 14

var srgbCurve = func() (t [lightSteps + 1]uint8) {
	for i := range t {
		v := float64(i) / lightSteps
		// IEC 61966-2-1: the curve from light to value.
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		t[i] = uint8(math.Round(v * 255))
	}
	return t
}()

func fromLight(v float32) uint8 {
	return srgbCurve[int(min(max(v, 0), 1)*lightSteps+0.5)]
}
