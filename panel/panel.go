// Package panel separates the artwork of a face into the panels of the ribbon,
// as the printer's driver will.
package panel

import "unspool/plane"

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
