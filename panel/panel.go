// Package panel separates the artwork of a face into the panels of the ribbon,
// as the printer's driver will.
package panel

import (
	"bytes"
	"slices"

	"unspool/plane"
)

// Panels is what each panel of the ribbon lays on one face, row by row. A slice
// is nil where the ribbon has no such panel for this side.
type Panels struct {
	plane.Grid
	Y, M, C []uint8 // dye amounts, 255 the full amount
	K       []uint8 // black resin: 1 yes, 0 no
	O       []uint8 // overlay: 1 yes, 0 no
	F       []uint8 // fluorescent: 1 yes, 0 no
	S       []uint8 // the metallic, white or coloured resin: 1 yes, 0 no
}

// Area appends what every panel has in r to buf: two areas of one size are
// equal where these bytes are.
func (p *Panels) Area(r plane.Rect, buf []byte) []byte {
	for _, v := range p.all() {
		if v == nil {
			continue
		}
		for y := r.Y0; y < r.Y1; y++ {
			buf = append(buf, v[p.At(r.X0, y):p.At(r.X1, y)]...)
		}
	}
	return buf
}

// all lists the planes in a fixed order.
func (p *Panels) all() [7][]uint8 { return [...][]uint8{p.Y, p.M, p.C, p.K, p.O, p.F, p.S} }

// Clone is a copy with planes of its own.
func (p *Panels) Clone() *Panels {
	return &Panels{p.Grid, slices.Clone(p.Y), slices.Clone(p.M), slices.Clone(p.C), slices.Clone(p.K), slices.Clone(p.O), slices.Clone(p.F), slices.Clone(p.S)}
}

// Differs is the smallest rectangle beyond which two faces of one raster are the
// same.
func (p *Panels) Differs(o *Panels) (r plane.Rect) {
	a, b := p.all(), o.all()
	for k := range a {
		if len(a[k]) != len(b[k]) {
			return p.Rect()
		}
		r = r.Or(plane.Differs(p.Grid, a[k], b[k], bytes.Equal))
	}
	return r
}

// Clear takes everything but the overlay off the dots of r: what a dead head
// element does not print.
func (p *Panels) Clear(r plane.Rect) {
	for _, v := range [...][]uint8{p.Y, p.M, p.C, p.K, p.F, p.S} {
		if v == nil {
			continue
		}
		for y := r.Y0; y < r.Y1; y++ {
			clear(v[p.At(r.X0, y):p.At(r.X1, y)])
		}
	}
}

// Copy copies the dots of r from src, which has the same grid and panels.
func (p *Panels) Copy(src *Panels, r plane.Rect) {
	from, to := src.all(), p.all()
	for k := range to {
		if to[k] == nil {
			continue
		}
		for y := r.Y0; y < r.Y1; y++ {
			i, j := p.At(r.X0, y), p.At(r.X1, y)
			copy(to[k][i:j], from[k][i:j])
		}
	}
}
