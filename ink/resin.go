package ink

import (
	"unspool/say"
	"unspool/unit"
)

// Resin is the material of one mono panel. The zero value is carbon. Resins can
// be compared with ==.
type Resin struct {
	kind resinKind
	rgb  [3]uint8 // of a coloured resin
}

type resinKind uint8

const (
	carbon resinKind = iota
	notCarbon
	white
	silver
	gold
	coloured
)

// Carbon is black resin whose pigment is carbon: dark at every wavelength.
func Carbon() Resin { return Resin{kind: carbon} }

// NotCarbon is a dye-based black: as dark as carbon to the eye, transparent in
// the near infrared. That such blacks exist is common practice; where the edge
// lies (about 730 nm) is from memory.
func NotCarbon() Resin { return Resin{kind: notCarbon} }

// White is rutile resin, as used on dark cards: covers what lies below and is
// bright in red and near infrared. From memory.
func White() Resin { return Resin{kind: white} }

// Metallic is silver resin, aluminium flake. It reflects like a mirror, so its
// reading changes with the angle; the value here is that of a 45:0 head and no
// use for bars or spaces. From memory.
func Metallic() Resin { return Resin{kind: silver} }

// Gold is Metallic with a yellow tint. From memory.
func Gold() Resin { return Resin{kind: gold} }

// Coloured is a pigmented resin of the given sRGB colour, seen under D65. What
// its pigment does beyond the visible is not known; see InfraredKnown.
func Coloured(rgb [3]uint8) Resin { return Resin{kind: coloured, rgb: rgb} }

// InfraredKnown says whether the reflectance this package gives for the resin
// beyond 700 nm can be relied on. It is false for coloured resin, whose pigment
// is unknown there, and for metallic resin, which depends on the angle; their
// values must not pass or fail an infrared reader.
func (r Resin) InfraredKnown() bool {
	return r.kind == carbon || r.kind == notCarbon || r.kind == white
}

// Mirrors says whether the resin reflects like a mirror, so that no reader's
// view of it can be told from the one given here; from memory.
func (r Resin) Mirrors() bool { return r.kind == silver || r.kind == gold }

// Name is what people call the resin: "carbon resin".
func (r Resin) Name() say.Text {
	if r.kind == coloured {
		return say.F("coloured resin #%02x%02x%02x", r.rgb[0], r.rgb[1], r.rgb[2])
	}
	return [...]say.Text{say.Words("carbon resin"), say.Words("resin without carbon"), say.Words("white resin"), say.Words("silver resin"), say.Words("gold resin")}[r.kind]
}

// String is the name in English.
func (r Resin) String() string { return r.Name().String() }

// film is what a layer of resin does to light at one wavelength: body is the
// reflectance of the layer itself, through the share of light that reaches what
// lies below and comes back.
type film struct{ body, through float64 }

// over gives the reflectance of a dot whose card and dyes alone reflect under.
func (f film) over(under float64) float64 {
	return surface + f.body + f.through*(under-surface)
}

// veil is the share of light that gets through coloured and metallic resin and
// back; from memory.
const veil = 0.02

// films is the layer of the resin by wavelength. White lets more of the ground
// show than the other covering resins; from memory.
func (m *Model) films(r Resin) func(unit.Nanometres) film {
	switch r.kind {
	case notCarbon:
		return func(nm unit.Nanometres) film {
			return film{through: transmitted(m.k(nm) * (1 - rise(float64(nm), 730, 15)))}
		}
	case white:
		return func(nm unit.Nanometres) film { return film{0.85 * whitePVC(nm), 0.06} }
	case silver:
		return func(unit.Nanometres) film { return film{0.28, veil} }
	case gold:
		return func(nm unit.Nanometres) film {
			return film{0.28 * (0.30 + 0.70*rise(float64(nm), 520, 20)), veil}
		}
	case coloured:
		body := pigment(r.rgb)
		return func(nm unit.Nanometres) film { return film{body(nm), veil} }
	}
	return func(nm unit.Nanometres) film { return film{through: transmitted(m.k(nm))} }
}

// thirds splits the spectrum into a blue, a green and a red part that add up to
// 1 everywhere, with soft edges as pigments have them; from memory.
func thirds(nm unit.Nanometres) xyz {
	green, red := rise(float64(nm), 492, 10), rise(float64(nm), 588, 9)
	return xyz{red, green - red, 1 - green}
}

// pigment is a plausible reflectance curve of the given colour: the mix of the
// three thirds that D65 shows as that colour once the surface and the card below
// have added their part, kept within 0.5 and 85 %, which is as dark and as
// bright as pigments get (from memory).
func pigment(rgb [3]uint8) spectrum {
	var mix matrix // columns: linear sRGB of each third
	for j := range 3 {
		var r [len(cie)]float64
		for i, row := range cie {
			r[i] = thirds(row.nm)[j]
		}
		for i, v := range linearOf(underD65.see(r[:])) {
			mix[i][j] = v
		}
	}
	share := mix.inverse().times(xyz{decoded[rgb[0]], decoded[rgb[1]], decoded[rgb[2]]})
	added := surface + veil*(whitePVC(560)-surface)
	for i := range share {
		share[i] = min(max(share[i]-added, 0.005), 0.85)
	}
	return func(nm unit.Nanometres) float64 {
		t := thirds(nm)
		return t[0]*share[0] + t[1]*share[1] + t[2]*share[2]
	}
}

// overlay is the share of light left by the clear overlay, both ways: 0.985
// each way, and an ultraviolet absorber that cuts below about 385 nm. From
// memory.
func overlay(nm unit.Nanometres) float64 {
	return 0.985 * 0.985 * rise(float64(nm), 383, 1.5)
}
