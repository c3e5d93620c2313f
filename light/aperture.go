package light

import (
	"math"
	"slices"
)

// evenStrips is how many strips along the scan an aperture is cut into. With
// eight, boxes as long as their mean chords follow the circle well.
const evenStrips = 8

// strip is one strip of an aperture.
type strip struct {
	off    float64 // its middle across the scan, in dots from that of the aperture
	half   float64 // half its mean length along the scan, in samples
	weight float64 // its share of the aperture
}

// aperture cuts a circle into strips, from one side to the other: evenly, and
// at the given places across the scan, in dots from its middle. No strip thus
// lies in two rows, whose reflectances average where their amounts must not.
func aperture(strips []strip, across, along float64, places []float64) []strip {
	strips = strips[:0]
	if across <= 0 {
		return append(strips, strip{0, 0.5, 1})
	}
	cuts := make([]float64, 0, evenStrips+1+len(places))
	for i := range evenStrips + 1 {
		cuts = append(cuts, 2*float64(i)/evenStrips-1)
	}
	for _, p := range places {
		if u := p / across; math.Abs(u) < 1 {
			cuts = append(cuts, u)
		}
	}
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		if b-a < 1e-6 {
			continue
		}
		area := below(b) - below(a)
		strips = append(strips, strip{(a + b) / 2 * across, max(area/(b-a)/2*along, 0.5), area / math.Pi})
	}
	return strips
}

// below is the area of the unit circle from its middle to the height u.
func below(u float64) float64 { return u*math.Sqrt(1-u*u) + math.Asin(u) }

// summed fills sums so that sums[i] is the sum of the first i samples of line.
func summed(sums []float64, line []float32) []float64 {
	sums = sized(sums, len(line)+1)
	at := 0.0
	sums[0] = 0
	for i, v := range line {
		at += float64(v)
		sums[i+1] = at
	}
	return sums
}

// box is the mean of a stretch of a line around each of its samples, as weights
// of differences of its sums: weights[i] of the sum from i samples and a half
// before the middle of a sample to i and a half behind it.
type box []float64

// add adds the mean over a strip's length to the box, by its weight.
func (b box) add(t strip) box {
	i := int(t.half - 0.5)
	for len(b) < i+2 {
		b = append(b, 0)
	}
	share, scale := t.half-0.5-float64(i), t.weight/(2*t.half)
	b[i] += (1 - share) * scale
	b[i+1] += share * scale
	return b
}

// average adds to each sample of dst the mean of the line around the sample pad
// further on.
func (b box) average(dst []float32, sums []float64, pad int) {
	for i, w := range b {
		if w == 0 {
			continue
		}
		from, to := sums[pad-i:][:len(dst)], sums[pad+1+i:][:len(dst)]
		for k := range dst {
			dst[k] += float32(w * (to[k] - from[k]))
		}
	}
}
