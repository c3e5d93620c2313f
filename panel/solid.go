package panel

import (
	"unspool/face"
	"unspool/ink"
	"unspool/plane"
)

// halftone prints the dots in r from resin alone. Codes, text and line art are
// cut at half coverage; pictures and photos are halftoned by error diffusion,
// which is never let near a code or a letter. The halftone runs from the top of
// the face wherever r lies, so that pieces agree with the whole.
func (s *splitter) halftone(r plane.Rect, counts []Count) {
	d := newDiffuser(s.grid.W)
	for y := range r.Y1 {
		d.nextRow()
		for n := range s.grid.W {
			x := n
			if d.back {
				x = s.grid.W - 1 - n
			}
			i := y*s.grid.W + x
			on := s.toned(i) && d.dot(x, light(s.art, i))
			if inside(r, x, y) {
				s.toneDot(i, on, plane.Rect{X0: x, Y0: y, X1: x + 1, Y1: y + 1})
			}
		}
		s.tell(counts)
	}
}

// toneDot prints one dot of a face that has tones; on says what the halftone
// made of it.
func (s *splitter) toneDot(i int, on bool, at plane.Rect) {
	if s.toned(i) && inside(s.print, at.X0, at.Y0) {
		laid := s.mono(on, s.art.Mark[i])
		s.lay(i, &laid)
		c := s.of(s.art.Owner[i])
		c.Dots++
		if laid.k != 0 {
			c.Resin++
			c.within(at, 0, 0)
		}
		return
	}
	s.stretch(i, i+1, reach{print: inside(s.print, at.X0, at.Y0)}, at)
}

// cut prints a dot of a code, a letter or line art from resin alone.
func (s *splitter) cut(i int) dot {
	mark := s.art.Mark[i]
	on := false
	switch {
	case mark&face.Resin != 0, mark&face.Special != 0 && !s.resin:
		on = true
	case mark&face.Dye == 0:
		r, g, b := s.art.Page[3*i], s.art.Page[3*i+1], s.art.Page[3*i+2]
		on = 2126*int(r)+7152*int(g)+722*int(b) <= 10000*127
	}
	return s.mono(on, mark)
}

// mono is a dot of the one resin that prints everything, which is the ribbon's
// black or, where it has none, its other resin.
func (s *splitter) mono(on bool, mark face.Mark) dot {
	return dot{k: bit(on && s.resin), f: bit(mark&face.Fluor != 0), s: bit(on && !s.resin || s.resin && mark&face.Special != 0)}
}

// tone says whether any dot of r is to be halftoned.
func (s *splitter) tone(r plane.Rect) bool {
	for y := r.Y0; y < r.Y1; y++ {
		for i := y*s.grid.W + r.X0; i < y*s.grid.W+r.X1; i++ {
			if s.toned(i) {
				return true
			}
		}
	}
	return false
}

// toned says whether a dot is halftoned: it belongs to a picture or photo and
// was not sent anywhere by hand.
func (s *splitter) toned(i int) bool {
	c := s.art.Class[i]
	return (c == face.Picture || c == face.Photo) && s.art.Mark[i]&(face.Resin|face.Dye) == 0
}

// light is the luminance of a page dot, 0 to 1, so that a halftone has the mean
// reflectance of the tone it stands for; weights of the primaries of
// IEC 61966-2-1, the second row of package ink's matrix.
func light(a *face.Art, i int) float32 {
	return linear[a.Page[3*i]]*0.2126 + linear[a.Page[3*i+1]]*0.7152 + linear[a.Page[3*i+2]]*0.0722
}

var linear = func() (t [256]float32) {
	for i := range t {
		t[i] = float32(ink.Decode(float64(i) / 255))
	}
	return t
}()

// diffuser is Floyd and Steinberg's error diffusion (Proc. SID 17(2), 1976, from
// memory: weights 7, 3, 5, 1 of 16), run to and fro so that no worms lean one
// way. Error that falls on a dot which is not toned is dropped.
type diffuser struct {
	here, below []float32 // error carried into this row and the next
	back        bool      // this row runs right to left
}

func newDiffuser(w int) *diffuser {
	return &diffuser{here: make([]float32, w+2), below: make([]float32, w+2), back: true}
}

func (d *diffuser) nextRow() {
	d.here, d.below = d.below, d.here
	clear(d.below)
	d.back = !d.back
}

// dot decides one dot of reflectance v, 0 black to 1 white.
func (d *diffuser) dot(x int, v float32) bool {
	x++ // one dot of margin on either side
	v += d.here[x]
	on, e := v < 0.5, v
	if !on {
		e = v - 1
	}
	ahead := 1
	if d.back {
		ahead = -1
	}
	d.here[x+ahead] += e * 7 / 16
	d.below[x-ahead] += e * 3 / 16
	d.below[x] += e * 5 / 16
	d.below[x+ahead] += e * 1 / 16
	return on
}
