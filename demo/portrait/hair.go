package portrait

// hairTone is the colour of hair: what it scatters, and the tint of its
// second, deeper gloss.
type hairTone struct {
	body, gloss rgb
	grey        float64 // share of white hairs
}

func hairTones(t *traits) (hairTone, rgb) {
	var h hairTone
	switch t.Hair {
	case Black:
		h.body, h.gloss = rgb{0.0062, 0.0056, 0.0054}, rgb{0.034, 0.034, 0.037}
	case DarkBrown:
		h.body, h.gloss = rgb{0.018, 0.0095, 0.0055}, rgb{0.06, 0.038, 0.025}
	case Brown:
		h.body, h.gloss = rgb{0.065, 0.034, 0.016}, rgb{0.14, 0.085, 0.05}
	case Red:
		h.body, h.gloss = rgb{0.17, 0.052, 0.017}, rgb{0.3, 0.14, 0.06}
	case Blond:
		h.body, h.gloss = rgb{0.34, 0.215, 0.105}, rgb{0.38, 0.29, 0.18}
	case Grey:
		h.body, h.gloss = rgb{0.24, 0.23, 0.215}, rgb{0.25, 0.25, 0.25}
	}
	if t.Age > 42 && t.Hair != Grey {
		h.grey = clamp(float64(t.Age-42)/90, 0, 0.22)
	}
	brow := h.body.blend(rgb{0.02, 0.013, 0.009}, 0.55)
	return h, brow
}
