package ribbon

import (
	"image"
	"image/color"
	"math"

	"unspool/site"
)

// Colours of a full panel on the web, lying on white paper, sRGB. They are
// pictures of web, not measurements; those of the dyes follow the card colours
// of the ink model (from memory).
var webColour = map[site.PanelKind][3]uint8{
	site.Yellow:      {250, 214, 24},
	site.Magenta:     {205, 28, 128},
	site.Cyan:        {20, 126, 190},
	site.BlackResin:  {26, 24, 24},
	site.Overlay:     {226, 232, 236},
	site.Fluorescent: {216, 228, 214},
	site.Metallic:    {168, 170, 174},
	site.WhiteResin:  {244, 244, 240},
	site.ColourResin: {70, 70, 150},
}

// Colour is that of a whole panel on the web, lying on white paper, in sRGB.
func Colour(p site.Panel) [3]uint8 {
	if (p.Kind == site.ColourResin || p.Kind == site.Metallic) && p.Colour != [3]uint8{} {
		return p.Colour
	}
	return webColour[p.Kind]
}

// bare is the clear carrier on white paper: where all of a panel has gone.
var bare = [3]uint8{255, 255, 255}

// Image paints the frame as it lies on white paper: the panel's colour where
// nothing left it, clear carrier where all of it did. Dye that has partly left
// is a lighter ghost.
func (f Frame) Image() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, f.W, f.H))
	ramp := f.ramp()
	for i, v := range f.Gone {
		c := ramp[v]
		m.Pix[4*i], m.Pix[4*i+1], m.Pix[4*i+2], m.Pix[4*i+3] = c.R, c.G, c.B, 255
	}
	return m
}

// Palette paints the frame with one palette entry a level: the smallest file.
func (f Frame) Palette() *image.Paletted {
	ramp := f.ramp()
	p := make(color.Palette, 256)
	for i, c := range ramp {
		p[i] = c
	}
	return &image.Paletted{Pix: f.Gone, Stride: f.W, Rect: image.Rect(0, 0, f.W, f.H), Palette: p}
}

// ramp goes from the full panel to the bare carrier. What is left of a dye
// weakens its colour by the law of Beer and Lambert, channel by channel.
func (f Frame) ramp() (r [256]color.RGBA) {
	full := Colour(f.Panel)
	for gone := range r {
		left := 1 - float64(gone)/255
		var c [3]uint8
		for k := range c {
			t := max(float64(full[k]), 1) / float64(bare[k])
			c[k] = uint8(math.Round(float64(bare[k]) * math.Pow(t, left)))
		}
		r[gone] = color.RGBA{c[0], c[1], c[2], 255}
	}
	return r
}
