package grade

import (
	"math"

	"unspool/say"
	"unspool/symbol"
)

// sampled is a symbol that decoded: its modules, what they should be, and the
// threshold and contrast they are measured by.
type sampled struct {
	m      Modules
	r      symbol.MatrixReading
	gt, sc float64
}

// fits says whether a reading is one of these modules, so that nothing it tells
// of them lies outside.
func fits(r symbol.MatrixReading, m Modules) bool {
	n := m.W * m.H
	if !r.Truth.Sound() || r.Truth.W != m.W || r.Truth.H != m.H || len(r.Of) != n ||
		len(r.Errors) != len(r.Blocks) || len(r.Erasures) != len(r.Blocks) {
		return false
	}
	for _, c := range r.Of {
		if c < symbol.NoCodeword {
			return false
		}
	}
	for _, p := range r.Parts {
		for _, i := range p.Modules {
			if i < 0 || int(i) >= n {
				return false
			}
		}
	}
	return sound(r.Blocks)
}

// sound says whether blocks number their codewords as a symbol may.
func sound(blocks []symbol.Block) bool {
	for _, b := range blocks {
		for _, c := range b.Codewords {
			if c < 0 || c > math.MaxInt16 {
				return false
			}
		}
	}
	return true
}

// codewords is how many codewords blocks number.
func codewords(blocks []symbol.Block) int {
	n := 0
	for _, b := range blocks {
		for _, c := range b.Codewords {
			n = max(n, c+1)
		}
	}
	return n
}

// margin is how far module i of R is on the side of the threshold where it
// should be, as a share of half the contrast: 0 at the threshold and beyond it.
func (s *sampled) margin(i int, dark bool) float64 {
	if s.sc <= 0 {
		return 0
	}
	off := 2 * (float64(s.m.R[i]) - s.gt) / s.sc
	if dark {
		off = -off
	}
	return max(off, 0)
}

// modulation grades MOD and RM. The modulation of a module is 2|R-GT|/SC; its
// reflectance margin is the same, but 0 where the module is wrong. A codeword is
// as good as its poorest module (ISO/IEC 15415:2011 7.8.4: the formula read in
// github.com/bashrc2/datamatrix, the rest from memory).
func (q *Quality) modulation(s sampled) {
	n := codewords(s.r.Blocks)
	mod, rm := make([]float64, n), make([]float64, n)
	for i := range mod {
		mod[i], rm[i] = 1, 1
	}
	q.Uniformity = 1
	for y := range s.m.H {
		for x := range s.m.W {
			i := y*s.m.W + x
			c := int(s.r.Of[i])
			if c == symbol.NoCodeword || c >= n {
				continue
			}
			k := s.m.at(x, y)
			right := s.margin(k, s.r.Truth.Dark[i])
			either := max(right, s.margin(k, !s.r.Truth.Dark[i]))
			q.Uniformity = min(q.Uniformity, either)
			mod[c], rm[c] = min(mod[c], either), min(rm[c], right)
		}
	}
	q.overlay(Modulation, overlaid(wholes(mod), s.r.Blocks))
	q.overlay(Margin, overlaid(wholes(rm), s.r.Blocks))
}

// wholes are the grades of modulations.
func wholes(modulations []float64) []int {
	grades := make([]int, len(modulations))
	for i, v := range modulations {
		grades[i] = whole(v, moduleLimits)
	}
	return grades
}

// overlay adds a parameter that is graded by codeword.
func (q *Quality) overlay(p Parameter, o overlay) {
	why := say.F("%s: no codeword is below its best grade", p)
	if o.grade < 4 {
		why = say.F("%s: %d of %d codewords are below grade %d; without them %s of the error correction is left",
			p, o.below, o.all, o.grade+1, percent(o.spare))
	}
	q.add(p, o.unused, o.grade, why)
}
