// Package art draws the artwork of the invented Sundhaven ferry line: its
// mark, and the backgrounds of both sides of its crew card.
package art

import (
	"bytes"
	_ "embed"
	"image"
	"image/color"
	"image/png"
	"math"
)

// Dots of a background: an ID-1 card, 85.60 by 53.98 mm (ISO/IEC 7810), at
// 300 dots per inch.
const (
	wide  = 1011
	high  = 638
	perMM = 300 / 25.4
)

//go:embed mark.svg
var mark []byte

// Mark is the line's mark as an SVG file: a sun over two waves.
func Mark() ([]byte, error) { return bytes.Clone(mark), nil }

// Front is the background of the front as a PNG file: sky, horizon and calm
// sea in pale colours that end in white where the bar code stands.
func Front() ([]byte, error) {
	return encode(func(x, y float64) tone { return front(x, y) })
}

// Back is the background of the back as a PNG file: white, with a low swell
// along the bottom edge.
func Back() ([]byte, error) {
	return encode(func(x, y float64) tone { return back(x, y) })
}

// tone is a colour with sRGB values from 0 to 255.
type tone [3]float64

func (t tone) mix(u tone, k float64) tone {
	for i := range t {
		t[i] += (u[i] - t[i]) * k
	}
	return t
}

var (
	white   = tone{255, 255, 255}
	zenith  = tone{206, 224, 236}
	haze    = tone{247, 240, 226}
	glow    = tone{255, 226, 178}
	shallow = tone{196, 221, 227}
	deep    = tone{170, 204, 216}
)

const horizon = 12.4 // millimetres below the top edge

func front(x, y float64) tone {
	const sunX = 66.0
	sky := zenith.mix(haze, ramp(0, horizon, y))
	dx, dy := x-sunX, (y-horizon)*1.6
	sky = sky.mix(glow, 0.75*math.Exp(-(dx*dx+dy*dy)/90))
	sea := shallow.mix(deep, 0.5*ramp(horizon+3, horizon, y))
	sea = sea.mix(haze, 0.55*math.Exp(-dx*dx/40)*ramp(horizon+9, horizon, y))
	c := sky.mix(sea, ramp(horizon-0.05, horizon+0.05, y))
	// each swell is a little paler than the one behind it
	for i := range 5 {
		f := float64(i)
		edge := horizon + 2.6 + f*(2.6+0.75*f) + (0.35+0.16*f)*math.Sin(x*2*math.Pi/(34+7*f)+1.9*f)
		lit := shallow.mix(white, 0.18+0.2*f)
		c = c.mix(lit, ramp(edge-0.05, edge+0.05, y))
	}
	return c.mix(white, ramp(25, 33.5, y))
}

func back(x, y float64) tone {
	c := white
	for i := range 3 {
		f := float64(i)
		edge := 47.6 + f*2.1 + (0.7-0.1*f)*math.Sin(x*2*math.Pi/(31+6*f)+2.3*f)
		c = c.mix(white.mix(shallow, 0.45+0.2*f), ramp(edge-0.05, edge+0.05, y))
	}
	return c
}

// ramp rises smoothly from 0 at a to 1 at b; a may exceed b.
func ramp(a, b, v float64) float64 {
	t := min(1, max(0, (v-a)/(b-a)))
	return t * t * (3 - 2*t)
}

// encode paints every dot by its place in millimetres from the top left.
func encode(at func(x, y float64) tone) ([]byte, error) {
	img := image.NewNRGBA(image.Rect(0, 0, wide, high))
	for j := range high {
		for i := range wide {
			c := at((float64(i)+0.5)/perMM, (float64(j)+0.5)/perMM)
			img.SetNRGBA(i, j, color.NRGBA{level(c[0]), level(c[1]), level(c[2]), 255})
		}
	}
	var b bytes.Buffer
	err := png.Encode(&b, img)
	return b.Bytes(), err
}

func level(v float64) uint8 { return uint8(min(255, max(0, math.Round(v)))) }
