package ink

import "math"

// DeltaE2000 is the colour difference CIEDE2000 with kL = kC = kH = 1
// (ISO/CIE 11664-6). Both colours are relative to the same white. About 1 is
// just noticeable side by side (common practice, no source). Steps and branches
// follow G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30(1), 21-30 (2005),
// from memory; all pairs of its table 1 are held by a test.
func DeltaE2000(p, q Lab) float64 {
	c1, c2 := math.Hypot(p.A, p.B), math.Hypot(q.A, q.B)
	g := 0.5 * (1 - chromaRatio((c1+c2)/2))
	c1, h1 := polar(p.A*(1+g), p.B)
	c2, h2 := polar(q.A*(1+g), q.B)

	dl, dc := q.L-p.L, c2-c1
	dh := hueTurn(c1*c2, h1, h2)
	dH := 2 * math.Sqrt(c1*c2) * sin(dh/2)
	l, c, h := (p.L+q.L)/2, (c1+c2)/2, meanHue(c1*c2, h1, h2)

	t := 1 - 0.17*cos(h-30) + 0.24*cos(2*h) + 0.32*cos(3*h+6) - 0.20*cos(4*h-63)
	turn := 30 * math.Exp(-square((h-275)/25))
	rt := -2 * chromaRatio(c) * sin(2*turn)
	sl := 1 + 0.015*square(l-50)/math.Sqrt(20+square(l-50))
	sc := 1 + 0.045*c
	sh := 1 + 0.015*c*t

	dl, dc, dH = dl/sl, dc/sc, dH/sh
	return math.Sqrt(max(0, dl*dl+dc*dc+dH*dH+rt*dc*dH))
}

// chromaRatio is sqrt(c^7 / (c^7 + 25^7)).
func chromaRatio(c float64) float64 {
	c7 := c * c * c * c * c * c * c
	return math.Sqrt(c7 / (c7 + 6103515625))
}

// polar gives chroma and the hue angle in degrees, 0 <= h < 360; the hue of a
// grey is 0.
func polar(a, b float64) (c, h float64) {
	if a == 0 && b == 0 {
		return 0, 0
	}
	h = math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return math.Hypot(a, b), h
}

// hueTurn is the way from hue h1 to h2 in degrees, at most half a turn; 0 where
// one of the colours is a grey.
func hueTurn(chroma, h1, h2 float64) float64 {
	d := h2 - h1
	switch {
	case chroma == 0:
		return 0
	case d > 180:
		return d - 360
	case d < -180:
		return d + 360
	}
	return d
}

// meanHue is the hue halfway along the shorter arc; where one of the colours is
// a grey it is the other's hue.
func meanHue(chroma, h1, h2 float64) float64 {
	sum := h1 + h2
	switch {
	case chroma == 0:
		return sum
	case math.Abs(h1-h2) <= 180:
		return sum / 2
	case sum < 360:
		return (sum + 360) / 2
	}
	return (sum - 360) / 2
}

func sin(degrees float64) float64 { return math.Sin(degrees * math.Pi / 180) }
func cos(degrees float64) float64 { return math.Cos(degrees * math.Pi / 180) }
func square(x float64) float64    { return x * x }
