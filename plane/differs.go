package plane

// Differs is the smallest rectangle beyond which two planes of a raster are the
// same. equal compares two rows; the planes are of one length, or both are nil.
func Differs[T comparable](g Grid, a, b []T, equal func(a, b []T) bool) (r Rect) {
	for y := 0; y < g.H && len(a) > 0; y++ {
		u, v := a[g.At(0, y):g.At(g.W, y)], b[g.At(0, y):g.At(g.W, y)]
		if equal(u, v) {
			continue
		}
		x0, x1 := 0, g.W
		for u[x0] == v[x0] {
			x0++
		}
		for u[x1-1] == v[x1-1] {
			x1--
		}
		r = r.Or(Rect{X0: x0, Y0: y, X1: x1, Y1: y + 1})
	}
	return r
}
