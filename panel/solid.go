package panel

import (
	"unspool/face"
	"unspool/ink"
)

// splitSolid prints a whole face from resin alone. Codes, text and line art are
// cut at half coverage; pictures and photos are halftoned by error diffusion,
// which is never let near a code or a letter.
func (u *Setup) splitSolid(dst *Panels, a *face.Art, counts []Count) {
	mono := dst.K
	if !u.resin {
		mono = dst.S
	}
	s := splitter{Setup: u, dst: dst, art: a, counts: counts}
	d := newDiffuser(u.grid.W)
	for y := range u.grid.H {
		d.nextRow()
		for n := range u.grid.W {
			x := n
			if d.back {
				x = u.grid.W - 1 - n
			}
			i := y*u.grid.W + x
			s.clear(i)
			on := x >= u.print.X0 && x < u.print.X1 && y >= u.print.Y0 && y < u.print.Y1 && u.solidDot(a, d, i, x)
			set(mono, i, on)
			set(dst.F, i, a.Mark[i]&face.Fluor != 0)
			if u.resin {
				set(dst.S, i, a.Mark[i]&face.Special != 0)
			}
			s.count(i, on, false, 0)
		}
	}
	u.overlay(dst, u.grid.Rect())
	u.blank(dst, u.grid.Rect())
}

func (u *Setup) solidDot(a *face.Art, d *diffuser, i, x int) bool {
	switch mark := a.Mark[i]; {
	case mark&face.Resin != 0, mark&face.Special != 0 && !u.resin:
		return true
	case mark&(face.Dye|face.Fluor|face.Special) != 0:
		return false
	}
	r, g, b := a.Page[3*i], a.Page[3*i+1], a.Page[3*i+2]
	if c := a.Class[i]; c == face.Picture || c == face.Photo {
		return d.dot(x, linear[r]*0.2126+linear[g]*0.7152+linear[b]*0.0722)
	}
	return 2126*int(r)+7152*int(g)+722*int(b) <= 10000*127
}

// linear turns an sRGB byte into light, IEC 61966-2-1, so that a halftone has
// the mean reflectance of the tone it stands for. The luminance weights above
// are those of the same standard's primaries.
var linear = func() (t [256]float32) {
	for i := range t {
		t[i] = float32(ink.Decode(float64(i) / 255))
	}
	return t
}()

// diffuser is Floyd and Steinberg's error diffusion (Proc. SID 17(2), 1976:
// weights 7, 3, 5, 1 of 16), run to and fro so that no worms lean one way. Error
// that falls on a dot which is no picture is dropped.
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
