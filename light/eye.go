package light

import (
	"image"

	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
)

// Eye is a scene made ready to be seen by the eye. It is immutable and safe for
// concurrent use.
type Eye struct{ table, special *ink.EyeTable }

// Eye prepares the view that v has of the scene under D65.
func (s Scene) Eye(v ink.Viewer) *Eye {
	e := &Eye{table: v.Eyes(s.Model, s.Resin)}
	e.special = e.table
	if s.Special != s.Resin {
		e.special = v.Eyes(s.Model, s.Special)
	}
	return e
}

// Picture is what the eye sees of r, in sRGB. Dots are shown as they are laid,
// without growth and spread, and the clear overlay is not shown: the eye notices
// neither. What of r lies beyond the face is left out.
func (e *Eye) Picture(p *panel.Panels, r plane.Rect) *image.RGBA {
	r = r.And(p.Rect())
	m := image.NewRGBA(image.Rect(0, 0, r.W(), r.H()))
	for y := range r.H() {
		i := p.At(r.X0, r.Y0+y)
		pix := m.Pix[y*m.Stride:][:4*r.W()]
		for ; len(pix) > 0; pix, i = pix[4:], i+1 {
			table, k := e.table, amount(p.K, i) != 0
			if amount(p.S, i) != 0 {
				table, k = e.special, true
			}
			pix[0], pix[1], pix[2] = table.At(amount(p.Y, i), amount(p.M, i), amount(p.C, i), k)
			pix[3] = 255
		}
	}
	return m
}

// amount is what a panel lays on a dot, 0 where there is no such panel.
func amount(plane []uint8, i int) uint8 {
	if plane == nil {
		return 0
	}
	return plane[i]
}
