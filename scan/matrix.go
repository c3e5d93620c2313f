package scan

import (
	"unspool/plane"
	"unspool/symbol"
)

// Matrix is a matrix symbol that was found in a picture.
type Matrix struct {
	Kind    string // as package code calls it
	Reading symbol.MatrixReading
	W, H    int            // modules
	Corners [4]plane.Point // of the symbol, from its top left corner round as it lies on the raster
	X       float64        // a module, in samples

	places mapping
}

// decoder reads a grid of modules.
type decoder func(symbol.Grid) (symbol.MatrixReading, error)

// take reads the modules that a mapping points at.
func take(r plane.Raster, kind string, m mapping, w, h int, decode decoder) (Matrix, bool) {
	if w < 1 || h < 1 || !m.within(r, w, h) {
		return Matrix{}, false
	}
	v := m.modules(r, w, h)
	for _, local := range []bool{true, false} {
		if got, err := decode(gridOf(v, w, h, local)); err == nil {
			return Matrix{Kind: kind, Reading: got, W: w, H: h, Corners: m.onRaster(w, h), X: m.module(w, h), places: m}, true
		}
	}
	return Matrix{}, false
}
