package plane

import (
	"math"

	"unspool/unit"
)

// Point is a place on a raster or a face, x to the right and y down, in samples
// or dots as whoever gives it says. The middle of the first sample or dot is at
// (0.5, 0.5).
type Point struct{ X, Y float64 }

// Raster is a rectangle of reflectances, simulated or taken from a picture.
// Reflectance is absolute, 0 to 1, where 1 is the perfect diffuser.
type Raster struct {
	W, H int       // samples
	V    []float32 // reflectance, row by row
	// StepX and StepY are the distances between samples along x and along y; 0
	// where a picture does not tell.
	StepX, StepY unit.Length
}

// Sound says whether a raster has as many samples as its sides say, and some.
func (r Raster) Sound() bool {
	const most = 1 << 16 // samples a side
	return r.W > 0 && r.H > 0 && r.W <= most && r.H <= most && len(r.V) == r.W*r.H
}

// Spot is the mean reflectance of a circle around a place in samples: what a
// round aperture of that diameter in samples shows there. A sample on the edge
// of the circle counts by its share, and one beyond the raster not at all; ok is
// false where none is left or the raster is not sound.
func (r Raster) Spot(p Point, diameter float64) (v float64, ok bool) {
	radius := max(diameter/2, 0)
	if !r.Sound() || !(math.Abs(p.X) < 1<<20 && math.Abs(p.Y) < 1<<20 && radius < 1<<12) {
		return 0, false
	}
	sum, weight := 0.0, 0.0
	reach := radius + 0.5
	for y := max(int(p.Y-reach), 0); y < min(int(p.Y+reach)+1, r.H); y++ {
		for x := max(int(p.X-reach), 0); x < min(int(p.X+reach)+1, r.W); x++ {
			// The share of a sample inside is taken from how far its middle is from the
			// circle: right to a hundredth of a sample's area for circles over it.
			off := math.Hypot(float64(x)+0.5-p.X, float64(y)+0.5-p.Y)
			if w := min(reach-off, 1); w > 0 {
				sum += w * float64(r.V[y*r.W+x])
				weight += w
			}
		}
	}
	if weight <= 0 {
		return 0, false
	}
	return sum / weight, true
}
