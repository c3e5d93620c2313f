package picture

import "math"

// Crop is a part of a picture as it is seen, in pixels from its top-left corner;
// the edges need not fall between pixels.
type Crop struct{ X0, Y0, X1, Y1 float64 }

// Scaler resamples pictures and keeps its buffers from one to the next. It is for
// one goroutine.
type Scaler struct {
	across, down kernel
	sums         []int32
	planes       [3][]uint8
}

// kernel says how the samples of a line make a shorter or longer line: output i
// is the sum of weights[i*taps+k] * sample[first[i]+k].
type kernel struct {
	taps    int
	first   []int32
	weights []int32
	floats  []float64
}

// Weights add up to 1<<weightBits for every output, so that flat areas stay
// exactly as they are.
const weightBits = 14

// fill makes the kernel that takes the part from..to of a line of n samples to
// out samples: Catmull-Rom's cubic (Keys 1981, a = -1/2), stretched over the
// source pixels when the line gets shorter so that nothing aliases. Samples
// beyond the ends are left out and the rest weigh more.
func (k *kernel) fill(n, out int, from, to float64) {
	step := (to - from) / float64(out)
	stretch := max(step, 1)
	reach := 2 * stretch
	k.taps = min(int(math.Ceil(2*reach)), n)
	k.first = resize(k.first, out)
	k.weights = resize(k.weights, out*k.taps)
	k.floats = resize(k.floats, k.taps)
	for i := range out {
		centre := from + (float64(i)+0.5)*step
		first := int(math.Ceil(centre - reach - 0.5))
		first = min(max(first, 0), n-k.taps)
		sum := 0.0
		for j := range k.floats {
			k.floats[j] = cubic((float64(first+j) + 0.5 - centre) / stretch)
			sum += k.floats[j]
		}
		k.first[i] = int32(first)
		k.round(k.weights[i*k.taps:(i+1)*k.taps], sum)
	}
}

// round makes whole weights of the floats; what rounding leaves over goes to the
// largest.
func (k *kernel) round(weights []int32, sum float64) {
	left, largest := int32(1<<weightBits), 0
	for j, f := range k.floats {
		if sum != 0 {
			f /= sum
		}
		weights[j] = int32(math.Round(f * (1 << weightBits)))
		left -= weights[j]
		if weights[j] > weights[largest] {
			largest = j
		}
	}
	weights[largest] += left
}

func cubic(x float64) float64 {
	x = math.Abs(x)
	switch {
	case x < 1:
		return (1.5*x-2.5)*x*x + 1
	case x < 2:
		return ((-0.5*x+2.5)*x-4)*x + 2
	}
	return 0
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// scale resamples the part c of a plane, in its own samples, to w x h dots. Rows
// are summed first and then columns, one row of dots after the other. Sums keep
// six bits below the sample's unit in between.
func (s *Scaler) scale(dst []uint8, w, h int, p plane, c Crop) {
	s.across.fill(p.w, w, c.X0, c.X1)
	s.down.fill(p.h, h, c.Y0, c.Y1)
	x0 := int(s.across.first[0])
	x1 := int(s.across.first[w-1]) + s.across.taps
	s.sums = resize(s.sums, (x1-x0)*p.n)
	for y := range h {
		s.sumRows(p, int(s.down.first[y]), s.down.weights[y*s.down.taps:(y+1)*s.down.taps], x0*p.n)
		row := dst[y*w*p.n : (y+1)*w*p.n]
		if p.n == 1 {
			s.sumColumns(row, x0)
		} else {
			s.sumColumns4(row, x0)
		}
	}
}

const (
	betweenBits = 8 // dropped after the rows
	lastBits    = 2*weightBits - betweenBits
)

// sumRows adds up weighted rows of the plane, four at a time.
func (s *Scaler) sumRows(p plane, first int, weights []int32, x0 int) {
	sums := s.sums
	for i := range sums {
		sums[i] = 1 << (betweenBits - 1)
	}
	row := func(k int) []uint8 {
		from := (first+k)*p.stride + x0
		return p.pix[from : from+len(sums)]
	}
	k := 0
	for ; k+4 <= len(weights); k += 4 {
		a, b, c, d := row(k), row(k+1), row(k+2), row(k+3)
		wa, wb, wc, wd := weights[k], weights[k+1], weights[k+2], weights[k+3]
		b, c, d = b[:len(a)], c[:len(a)], d[:len(a)]
		t := sums[:len(a)]
		for i := range a {
			t[i] += wa*int32(a[i]) + wb*int32(b[i]) + wc*int32(c[i]) + wd*int32(d[i])
		}
	}
	for ; k < len(weights); k++ {
		a, wa := row(k), weights[k]
		t := sums[:len(a)]
		for i := range a {
			t[i] += wa * int32(a[i])
		}
	}
	for i := range sums {
		sums[i] >>= betweenBits
	}
}

func (s *Scaler) sumColumns(dst []uint8, x0 int) {
	taps := s.across.taps
	for x := range dst {
		weights := s.across.weights[x*taps : (x+1)*taps]
		line := s.sums[int(s.across.first[x])-x0:]
		line = line[:len(weights)]
		sum := int32(1) << (lastBits - 1)
		for k, w := range weights {
			sum += w * line[k]
		}
		dst[x] = clamp8(sum >> lastBits)
	}
}

// sumColumns4 is sumColumns for four interleaved samples.
func (s *Scaler) sumColumns4(dst []uint8, x0 int) {
	taps := s.across.taps
	for x := range len(dst) / 4 {
		weights := s.across.weights[x*taps : (x+1)*taps]
		line := s.sums[4*(int(s.across.first[x])-x0):]
		const half = int32(1) << (lastBits - 1)
		r, g, b, a := half, half, half, half
		for k, w := range weights {
			px := line[4*k : 4*k+4]
			r += w * px[0]
			g += w * px[1]
			b += w * px[2]
			a += w * px[3]
		}
		dst[4*x], dst[4*x+1], dst[4*x+2], dst[4*x+3] =
			clamp8(r>>lastBits), clamp8(g>>lastBits), clamp8(b>>lastBits), clamp8(a>>lastBits)
	}
}

func clamp8(v int32) uint8 {
	if uint32(v) > 255 {
		if v < 0 {
			return 0
		}
		return 255
	}
	return uint8(v)
}
