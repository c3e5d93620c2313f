package grade

import "unspool/symbol"

// Thresholds of grades 4, 3, 2 and 1 of ISO/IEC 15415:2011, as the open work
// github.com/bashrc2/datamatrix grades by them in src/quality.c (read). Those of
// symbol contrast are contrastLimits.
var (
	moduleLimits = [4]float64{0.50, 0.40, 0.30, 0.20}
	axialLimits  = [4]float64{0.06, 0.08, 0.10, 0.12} // at most
	gridLimits   = [4]float64{0.38, 0.50, 0.63, 0.75} // at most, in X
	unusedLimits = [4]float64{0.62, 0.50, 0.37, 0.25}
)

// whole is a whole grade, 4 to 0: the edition of 2011 of ISO/IEC 15415 knows no
// other of a parameter (from memory).
func whole(v float64, limits [4]float64) int { return int(scale(v, limits, Ed2000)) }

// overlay is what codewords of uneven grades come to.
type overlay struct {
	grade  int
	unused float64 // error correction left where those below that grade are errors
	// below is how many of all codewords keep the grade from being one better:
	// were they errors, so much of the error correction would be left.
	below, all int
	spare      float64
}

// overlaid lays the error correction over the grades of codewords: at each grade
// those below it are taken for errors, and the lower of that grade and the grade
// of the unused error correction counts. The best that comes of it is the
// parameter's grade (ISO/IEC 15415:2011 7.8.4, from memory).
func overlaid(grades []int, blocks []symbol.Block) overlay {
	best := overlay{unused: 1}
	for level := range 5 {
		below, all, unused := 0, 0, 1.0
		for _, b := range blocks {
			bad := 0
			for _, c := range b.Codewords {
				if grades[c] < level {
					bad++
				}
			}
			below, all = below+bad, all+len(b.Codewords)
			unused = min(unused, left(bad, b))
		}
		best.all = all
		if g := min(level, whole(unused, unusedLimits)); g >= best.grade {
			best.grade, best.unused = g, unused
		}
		if level == best.grade+1 {
			best.below, best.spare = below, unused
		}
	}
	return best
}

// left is the error correction that so many wrong codewords leave of a block.
func left(wrong int, b symbol.Block) float64 {
	r := symbol.MatrixReading{Layout: symbol.Layout{Blocks: []symbol.Block{b}}, Errors: []int{wrong}, Erasures: []int{0}}
	return r.UEC()
}
