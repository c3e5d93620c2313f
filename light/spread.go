package light

import "math"

const (
	// sigmas is how many standard deviations of an edge are drawn; beyond, less
	// than a five-thousandth of the step is left.
	sigmas = 3.5
	// leastSpread is the blur of a sample itself, in samples: the standard
	// deviation of an even spread over one sample is 0.29.
	leastSpread = 0.29
	// phiSteps is the number of entries a standard deviation has in phi.
	phiSteps = 32
)

// phi is the normal distribution from -sigmas to +sigmas.
var phi = func() (t [2*sigmas*phiSteps + 2]float32) {
	for i := range t {
		x := float64(i)/phiSteps - sigmas
		t[i] = float32(0.5 * math.Erfc(-x/math.Sqrt2))
	}
	return t
}()

// step is the normal distribution at x standard deviations.
func step(x float64) float64 {
	switch {
	case x <= -sigmas:
		return 0
	case x >= sigmas:
		return 1
	}
	f := (x + sigmas) * phiSteps
	i := int(f)
	return float64(phi[i]) + (f-float64(i))*float64(phi[i+1]-phi[i])
}

// ruler places samples on a line: sample i lies at the dot base + (i+0.5)/n.
type ruler struct {
	base float64
	n    float64 // samples a dot
}

// sample is the place of a dot in samples, where sample i reaches from i to i+1.
func (r ruler) sample(dot float64) float64 { return (dot - r.base) * r.n }

// dot is the inverse of sample.
func (r ruler) dot(sample float64) float64 { return r.base + sample/r.n }

// draw writes the runs to dst, whose first sample is number first, with edges of
// the given spread in dots, as shares of a full amount.
func (r ruler) draw(dst []float32, first int, runs []run, spread float64, full float32) {
	at := 0
	for i, u := range runs {
		end := len(dst)
		if i+1 < len(runs) {
			end = min(max(int(math.Ceil(r.sample(runs[i+1].from)-0.5))-first, at), len(dst))
		}
		v := float32(u.amount) / full
		for j := at; j < end; j++ {
			dst[j] = v
		}
		at = end
	}
	sigma := max(spread*r.n, leastSpread)
	for i := 1; i < len(runs); i++ {
		delta := (float32(runs[i].amount) - float32(runs[i-1].amount)) / full
		soften(dst, r.sample(runs[i].from)-float64(first), delta, sigma)
	}
}

// soften turns the step of height delta at the place at into the slope of a
// Gaussian blur.
func soften(dst []float32, at float64, delta float32, sigma float64) {
	from := max(int(math.Ceil(at-0.5-sigmas*sigma)), 0)
	to := min(int(math.Ceil(at-0.5+sigmas*sigma)), len(dst))
	if from >= to {
		return
	}
	middle := min(max(int(math.Ceil(at-0.5)), from), to)
	x := ((float64(from)+0.5-at)/sigma + sigmas) * phiSteps
	dx := phiSteps / sigma
	for j := from; j < to; j++ {
		i := min(max(int(x), 0), len(phi)-2)
		p := phi[i] + float32(x-float64(i))*(phi[i+1]-phi[i])
		if j >= middle {
			p--
		}
		dst[j] += delta * p
		x += dx
	}
}
