package scan

import (
	"math"

	"unspool/plane"
	"unspool/say"
	"unspool/unit"
)

// Tone is what of a picture's colours is taken for the light that came back.
type Tone uint8

// Tones. A camera's red is far from one wavelength; it stands for red light near
// enough to see what a red reader sees.
const (
	Luma Tone = iota // the eye's brightness, ITU-R BT.709
	Red
	Green
	Blue
)

// Level ties a light of the picture to a reflectance.
type Level struct {
	R float64 // reflectance, 0 to 1
	// Patch is where it is seen, in pixels. An empty one stands for the lightest,
	// or the darkest, that a pixel can be.
	Patch plane.Rect
}

// Reference says how light becomes reflectance. The zero Reference assumes: the
// light of the lightest part is taken for white card, and none for none.
type Reference struct{ White, Black Level }

// Assumed reflectance of the lightest part of a picture, and which part that is
// (own judgement).
const (
	assumedWhite = 0.85
	lightest     = 0.98 // of the pixels are darker
)

// Shot is a picture with its light as reflectance.
type Shot struct {
	plane.Raster
	Assumed bool     // nothing told what is white and what is black
	Words   say.Text // how reflectance was got
	quality int      // of JPEG, 1 to 100; 0 where nothing was lost
	ends    []uint8  // whether a pixel is as dark or as light as one can be
}

// Ends of what a pixel can be.
const (
	darkEnd  = 1
	lightEnd = 2
)

// About is what is known of a picture besides its pixels.
type About struct {
	Tone      Tone
	Reference Reference
	Pixel     unit.Length // side of a pixel on the card; 0 where it is not known
	Quality   int         // of the JPEG it was, 1 to 100; 0 where nothing was lost
}

// leastContrast is how far apart white and black must be stated to be, in
// reflectance (own judgement).
const leastContrast = 0.05

// NewShot makes reflectances of a picture's sRGB pixels, three bytes each, row by
// row. It refuses patches that are not on the picture or show no difference.
func NewShot(rgb []uint8, w, h int, a About) (Shot, error) {
	s := Shot{Raster: plane.Raster{W: w, H: h, V: make([]float32, w*h), StepX: a.Pixel, StepY: a.Pixel}, quality: a.Quality, ends: make([]uint8, w*h)}
	if len(rgb) < 3*w*h || !s.Sound() {
		return Shot{}, say.Errorf("%d bytes are no picture of %d x %d pixels", len(rgb), w, h)
	}
	weights := [...][3]float32{Luma: {0.2126, 0.7152, 0.0722}, Red: {1, 0, 0}, Green: {0, 1, 0}, Blue: {0, 0, 1}}[a.Tone%4]
	for i := range s.V {
		p := rgb[3*i : 3*i+3]
		s.V[i] = weights[0]*linear[p[0]] + weights[1]*linear[p[1]] + weights[2]*linear[p[2]]
		switch {
		case s.V[i] >= linear[254]:
			s.ends[i] = lightEnd
		case s.V[i] <= linear[1]:
			s.ends[i] = darkEnd
		}
	}
	return s, s.calibrate(a.Reference)
}

// linear is the light of an sRGB value (IEC 61966-2-1).
var linear = func() (t [256]float32) {
	for i := range t {
		v := float64(i) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		t[i] = float32(v)
	}
	return t
}()

func (s *Shot) calibrate(f Reference) error {
	white, black := f.White, f.Black
	lightWhite, lightBlack := 1.0, 0.0
	switch {
	case white == (Level{}) && black == (Level{}):
		s.Assumed = true
		white.R, lightWhite = assumedWhite, s.quantile(lightest)
		s.Words = say.F("reflectance is assumed: the lightest part is taken for %.0f %%, no light for none", 100*assumedWhite)
	case !(white.R-black.R >= leastContrast && white.R <= 1.2 && black.R >= 0):
		return say.Errorf("white of reflectance %v and black of %v cannot be told apart: state the white and the black that were measured", white.R, black.R)
	default:
		s.Words = say.F("reflectance by a white of %.0f %% and a black of %.0f %%", 100*white.R, 100*black.R)
	}
	for _, l := range []struct {
		patch plane.Rect
		light *float64
	}{{white.Patch, &lightWhite}, {black.Patch, &lightBlack}} {
		if l.patch == (plane.Rect{}) {
			continue
		}
		v, err := s.patch(l.patch)
		if err != nil {
			return err
		}
		*l.light = v
	}
	if lightWhite-lightBlack < 0.02 {
		return say.Errorf("the white of the picture is no lighter than its black: choose other patches, or a picture with more light")
	}
	scale := (white.R - black.R) / (lightWhite - lightBlack)
	for i, v := range s.V {
		s.V[i] = float32(min(max(black.R+(float64(v)-lightBlack)*scale, 0), 1.5))
	}
	return nil
}

// patch is the mean light of a rectangle.
func (s *Shot) patch(p plane.Rect) (float64, error) {
	if p.Empty() || !p.In(plane.Rect{X1: s.W, Y1: s.H}) {
		return 0, say.Errorf("the patch %d,%d,%d,%d is not on the picture of %d x %d pixels", p.X0, p.Y0, p.W(), p.H(), s.W, s.H)
	}
	sum := 0.0
	for y := p.Y0; y < p.Y1; y++ {
		for x := p.X0; x < p.X1; x++ {
			sum += float64(s.V[y*s.W+x])
		}
	}
	return sum / float64(p.W()*p.H()), nil
}

// quantile is the light that a share of the pixels stay below.
func (s *Shot) quantile(share float64) float64 {
	var count [1024]int
	for _, v := range s.V {
		count[int(min(max(v, 0), 1)*1023)]++
	}
	left := int(share * float64(len(s.V)))
	for i, n := range count {
		if left -= n; left < 0 {
			return max(float64(i)/1023, 0.02)
		}
	}
	return 1
}
