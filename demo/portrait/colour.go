package portrait

import "math"

// rgb is light or reflectance in linear sRGB primaries.
type rgb struct{ r, g, b float64 }

func (c rgb) times(k float64) rgb { return rgb{c.r * k, c.g * k, c.b * k} }

func (c rgb) by(d rgb) rgb { return rgb{c.r * d.r, c.g * d.g, c.b * d.b} }

func (c rgb) plus(d rgb) rgb { return rgb{c.r + d.r, c.g + d.g, c.b + d.b} }

func (c rgb) blend(d rgb, k float64) rgb {
	return rgb{c.r + (d.r-c.r)*k, c.g + (d.g-c.g)*k, c.b + (d.b-c.b)*k}
}

func (c rgb) f32() rgb32 { return rgb32{float32(c.r), float32(c.g), float32(c.b)} }

// rgb32 is an rgb as pictures keep it.
type rgb32 struct{ r, g, b float32 }

func (c rgb32) f64() rgb { return rgb{float64(c.r), float64(c.g), float64(c.b)} }

func (c rgb32) times(k float32) rgb32 { return rgb32{c.r * k, c.g * k, c.b * k} }

func (c rgb32) by(d rgb32) rgb32 { return rgb32{c.r * d.r, c.g * d.g, c.b * d.b} }

func (c rgb32) plus(d rgb32) rgb32 { return rgb32{c.r + d.r, c.g + d.g, c.b + d.b} }

func (c rgb32) blend(d rgb32, k float32) rgb32 {
	return rgb32{c.r + (d.r-c.r)*k, c.g + (d.g-c.g)*k, c.b + (d.b-c.b)*k}
}

// srgb decodes an 8-bit sRGB colour (IEC 61966-2-1).
func srgb(r, g, b float64) rgb {
	f := func(v float64) float64 {
		v /= 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return rgb{f(r), f(g), f(b)}
}

// decay is close to exp(x) for small x, by the limit that defines it.
func decay(x float64) float64 {
	x = 1 + x/256
	for range 8 {
		x *= x
	}
	return x
}

// pigments is the reflectance of skin with the given melanin (0 to 1) and
// blood (0 pale, 1 flushed): each absorbs by its own law, so the logarithm is
// linear in both. Fitted by eye to photographs' usual colours.
func pigments(melanin, blood float64) rgb {
	blood *= 1 - 0.55*melanin
	return rgb{
		0.74 * decay(-1.80*melanin-0.09*blood),
		0.555 * decay(-2.12*melanin-0.50*blood),
		0.455 * decay(-2.36*melanin-0.52*blood),
	}
}
