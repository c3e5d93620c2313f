package light

import (
	"math"

	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

// Spots are the reflectances that a round aperture shows at the places (x, y) of
// a face for every x of xs and y of ys, in dots, row by row: those of a Profile
// along x at those places. Both lists rise. Of a face with nothing in it, and
// where the places are out of all bounds, they are none.
func (l *Lit) Spots(p *panel.Panels, xs, ys []float64, aperture unit.Length) []float32 {
	if len(xs) == 0 || len(ys) == 0 {
		return nil
	}
	q := l.Probe()
	n := float64(PerDot(p.DX))
	// The first place is the middle of the first sample, and all are where they
	// lie whole dots apart.
	scan := Scan{AlongX: true, From: xs[0] - 0.5/n, To: xs[len(xs)-1] + 1.5/n, Aperture: aperture}
	out := make([]float32, 0, len(xs)*len(ys))
	for _, y := range ys {
		scan.At = y
		samples := q.Profile(p, scan).Samples
		if len(samples) == 0 {
			return nil
		}
		for _, x := range xs {
			out = append(out, between(samples, (x-xs[0])*n))
		}
	}
	return out
}

// between is a line's value at a place in samples from the middle of its first,
// on a straight line between two of them.
func between(line []float32, at float64) float32 {
	at = min(max(at, 0), float64(len(line)-1))
	i := min(int(at), max(len(line)-2, 0))
	v := line[i]
	if part := float32(at - float64(i)); part > 0 && i+1 < len(line) {
		v += part * (line[i+1] - v)
	}
	return v
}

// Raster is the reflectance of a rectangle of dots through a round aperture, in
// so many samples a dot along x and along y.
func (l *Lit) Raster(p *panel.Panels, r plane.Rect, perDot int, aperture unit.Length) plane.Raster {
	const most = 1 << 24 // samples
	perDot = max(perDot, 1)
	if r.Empty() || r.W() > most/perDot || r.H() > most/perDot || r.W()*perDot > most/(r.H()*perDot) || p.DX < 1 || p.DY < 1 {
		return plane.Raster{}
	}
	middles := func(from, dots int) []float64 {
		at := make([]float64, dots*perDot)
		for i := range at {
			at[i] = float64(from) + (float64(i)+0.5)/float64(perDot)
		}
		return at
	}
	v := l.Spots(p, middles(r.X0, r.W()), middles(r.Y0, r.H()), aperture)
	if v == nil {
		return plane.Raster{}
	}
	step := func(pitch unit.Pitch) unit.Length {
		return unit.Length(math.Round(float64(unit.Inch) / float64(pitch) / float64(perDot)))
	}
	return plane.Raster{W: r.W() * perDot, H: r.H() * perDot, V: v, StepX: step(p.DX), StepY: step(p.DY)}
}
