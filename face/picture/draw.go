package picture

// Opaque says whether the picture covers all it lies on.
func (m *Image) Opaque() bool { return m.opaque }

// Draw resamples the part c of the picture to w x h dots, row by row. rgb holds
// 3*w*h bytes and takes R, G and B multiplied by alpha; alpha holds w*h bytes and
// is left alone where the picture is opaque. c must lie within the picture and
// have an area.
func (s *Scaler) Draw(rgb, alpha []uint8, w, h int, m *Image, c Crop) {
	d := m.stored(w, h, &c)
	for i, p := range m.planes {
		s.planes[i] = resize(s.planes[i], d.w*d.h*p.n)
		sx, sy := float64(p.sx), float64(p.sy)
		s.scale(s.planes[i], d.w, d.h, p, Crop{c.X0 / sx, c.Y0 / sy, c.X1 / sx, c.Y1 / sy})
	}
	switch {
	case len(m.planes) == 3:
		s.colours(rgb, d, m.swing)
	case m.planes[0].n == 1:
		s.gray(rgb, d)
	default:
		s.interleaved(rgb, alpha, d, m.opaque)
	}
	if m.profile != nil {
		m.applyProfile(rgb[:3*w*h], alpha)
	}
}

// drawing is how the dots of the picture as it is stored fall on those of the
// upright one: dot (x, y) goes to start + x*stepX + y*stepY.
type drawing struct {
	w, h                int
	start, stepX, stepY int
}

// stored turns the dots wanted and the crop back to the way the picture is
// stored.
func (m *Image) stored(w, h int, c *Crop) drawing {
	d := drawing{w: w, h: h, stepX: 1, stepY: w}
	if m.turn.swap {
		*c = Crop{c.Y0, c.X0, c.Y1, c.X1}
		d.w, d.h, d.stepX, d.stepY = h, w, w, 1
	}
	full := m.planes[0]
	if m.turn.flipX {
		c.X0, c.X1 = float64(full.w)-c.X1, float64(full.w)-c.X0
		d.start += (d.w - 1) * d.stepX
		d.stepX = -d.stepX
	}
	if m.turn.flipY {
		c.Y0, c.Y1 = float64(full.h)-c.Y1, float64(full.h)-c.Y0
		d.start += (d.h - 1) * d.stepY
		d.stepY = -d.stepY
	}
	return d
}

// each calls f with every stored dot's index and place.
func (d drawing) each(f func(i, at int)) {
	i := 0
	for y := range d.h {
		at := d.start + y*d.stepY
		for range d.w {
			f(i, at)
			i++
			at += d.stepX
		}
	}
}

func (s *Scaler) colours(rgb []uint8, d drawing, swing bool) {
	ys, cbs, crs := s.planes[0], s.planes[1], s.planes[2]
	convert := fullRGB
	if swing {
		convert = videoRGB
	}
	d.each(func(i, at int) {
		r, g, b := convert(int32(ys[i]), int32(cbs[i]), int32(crs[i]))
		o := rgb[3*at : 3*at+3]
		o[0], o[1], o[2] = r, g, b
	})
}

func (s *Scaler) gray(rgb []uint8, d drawing) {
	d.each(func(i, at int) {
		v := s.planes[0][i]
		o := rgb[3*at : 3*at+3]
		o[0], o[1], o[2] = v, v, v
	})
}

func (s *Scaler) interleaved(rgb, alpha []uint8, d drawing, opaque bool) {
	d.each(func(i, at int) {
		p := s.planes[0][4*i : 4*i+4]
		o := rgb[3*at : 3*at+3]
		if opaque {
			o[0], o[1], o[2] = p[0], p[1], p[2]
			return
		}
		a := p[3]
		o[0], o[1], o[2] = min(p[0], a), min(p[1], a), min(p[2], a)
		alpha[at] = a
	})
}

// applyProfile brings dots to sRGB; those that light shines through are divided
// by alpha for it.
func (m *Image) applyProfile(rgb, alpha []uint8) {
	if m.opaque {
		m.profile.apply(rgb)
		return
	}
	for i, a := range alpha[:len(rgb)/3] {
		if a == 0 {
			continue
		}
		o := rgb[3*i : 3*i+3]
		for c, v := range o {
			o[c] = uint8(min((int(v)*255+int(a)/2)/int(a), 255))
		}
		m.profile.apply(o)
		for c, v := range o {
			o[c] = scale255(v, uint32(a))
		}
	}
}

// fullRGB is the colour of Y, Cb and Cr that use all of 0 to 255, as in JPEG
// files (JFIF 1.02, page 3, which has the factors to five places), in 16 bits.
func fullRGB(y, cb, cr int32) (r, g, b uint8) {
	y, cb, cr = y<<16+1<<15, cb-128, cr-128
	return clamp8((y + 91881*cr) >> 16), // 1.402
		clamp8((y - 22554*cb - 46802*cr) >> 16), // 0.34414, 0.71414
		clamp8((y + 116130*cb) >> 16) // 1.772
}

// videoRGB is the colour of Y from 16 to 235 and Cb and Cr from 16 to 240, as in
// WebP files (RFC 6386 section 9.2, ITU-R BT.601), in 16 bits.
func videoRGB(y, cb, cr int32) (r, g, b uint8) {
	y, cb, cr = (y-16)*76309+1<<15, cb-128, cr-128 // 255/219
	return clamp8((y + 104597*cr) >> 16),          // 1.402 * 255/224
		clamp8((y - 25675*cb - 53279*cr) >> 16),
		clamp8((y + 132201*cb) >> 16)
}
