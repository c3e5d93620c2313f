package ink

import "math"

// observer sums a reflectance sampled at the wavelengths of cie to XYZ under
// one light, as ASTM E308 (from memory) does without its bandpass terms: a plain
// sum at 5 nm from 380 to 780 nm, scaled so that the perfect diffuser has Y = 100.
type observer struct {
	weights [len(cie)]xyz
	white   xyz
}

var (
	underD50 = newObserver(func(r cieRow) float64 { return r.d50 })
	underD65 = newObserver(func(r cieRow) float64 { return r.d65 })
	// underA serves visual density, which uses its Y alone: illuminant A with
	// V(l) is the spectral product (ISO 5-3, from memory).
	underA = newObserver(func(r cieRow) float64 { return illuminantA(r.nm) })
)

func newObserver(power func(cieRow) float64) (o observer) {
	sum := 0.0
	for _, r := range cie {
		sum += power(r) * r.y
	}
	for i, r := range cie {
		s := 100 * power(r) / sum
		o.weights[i] = xyz{s * r.x, s * r.y, s * r.z}
		for j, w := range o.weights[i] {
			o.white[j] += w
		}
	}
	return o
}

func (o *observer) see(r []float64) (c xyz) {
	for i := range o.weights {
		w := &o.weights[i]
		c[0] += w[0] * r[i]
		c[1] += w[1] * r[i]
		c[2] += w[2] * r[i]
	}
	return c
}

// visible is a model sampled at the wavelengths of cie. Densities are in
// natural logarithms.
type visible struct {
	card    [len(cie)]float64 // beyond the surface
	y, m, c [len(cie)]float64
}

func sampleVisible(m *Model) (v visible) {
	for i, r := range cie {
		v.card[i] = m.card(r.nm) - surface
		v.y[i], v.m[i], v.c[i] = math.Ln10*m.y(r.nm), math.Ln10*m.m(r.nm), math.Ln10*m.c(r.nm)
	}
	return v
}

// reflect is the reflectance of dyes in amounts 0 to 1 on the card.
func (v *visible) reflect(y, m, c float64) (r [len(cie)]float64) {
	for i := range r {
		r[i] = surface + v.card[i]*math.Exp(-(y*v.y[i]+m*v.m[i]+c*v.c[i]))
	}
	return r
}

// reflectances are those of a dot at the wavelengths of cie; the resin is
// r.
func (m *Model) reflectances(a Amounts, r Resin) [len(cie)]float64 {
	s := m.eye.reflect(float64(a.Y)/255, float64(a.M)/255, float64(a.C)/255)
	if a.K {
		films := m.films(r)
		for i, row := range cie {
			s[i] = films(row.nm).over(s[i])
		}
	}
	return s
}

// VisualDensity is the density of a dot to the eye: illuminant A weighted by
// V(l), absolute (ISO 5-3, from memory). The resin is carbon.
func (m *Model) VisualDensity(a Amounts) float64 {
	s := m.reflectances(a, Carbon())
	return -math.Log10(underA.see(s[:])[1] / 100)
}

// Viewer says what the eye takes for white.
type Viewer uint8

// The two ways to show a card on a screen.
const (
	// Absolute shows the perfect diffuser as screen white: cards of different
	// whiteness differ, and bare stock is a light grey.
	Absolute Viewer = iota
	// CardWhite shows the bare card as screen white, as the eye sees it that has
	// adapted to the card.
	CardWhite
)

// Eye is the sRGB colour of a dot under D65, Absolute, clipped to what a screen
// can show (full yellow, green, blue and cyan cannot); the resin is carbon.
func (m *Model) Eye(a Amounts) [3]uint8 { return Absolute.Eye(m, a, Carbon()) }

// Eye is the sRGB colour of a dot under D65 to this viewer, with the given
// resin.
func (v Viewer) Eye(m *Model, a Amounts, r Resin) (rgb [3]uint8) {
	s := m.reflectances(a, r)
	for i, l := range linearOf(v.adapt(m, underD65.see(s[:]))) {
		rgb[i] = byteOf(Encode(l))
	}
	return rgb
}

// adapt scales XYZ so that the viewer's white becomes that of D65.
func (v Viewer) adapt(m *Model, c xyz) xyz {
	if v == CardWhite {
		bare := m.eye.reflect(0, 0, 0)
		card := underD65.see(bare[:])
		for i := range c {
			c[i] *= underD65.white[i] / card[i]
		}
	}
	return c
}

// linearOf turns XYZ under D65 (Y = 100 for white) into linear sRGB. The white
// summed from the tables is mapped to sRGB's own, 0.005 % away, so that it
// comes out neutral.
func linearOf(c xyz) xyz {
	for i := range c {
		c[i] *= rgbWhite[i] / underD65.white[i]
	}
	return xyzToRGB.times(c)
}
