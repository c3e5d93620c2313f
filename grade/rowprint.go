package grade

import "unspool/symbol"

// printed is what one codeword comes to: its grades by modulation, defects and
// decodability.
type printed [3]int

// print adds the print quality of the codewords: of each the best grade that a
// line gives it, but no better than the best of the row indicators of its row and
// the rows beside it, and the error correction laid over them (ISO/IEC 15415 6.2.5,
// read in a translator's copy at woaifanyi.com; the overlay is from memory).
func (q *Quality) print(rows []row, blocks []symbol.Block) {
	quality := make([]printed, codewords(blocks))
	indicators := map[int]printed{}
	for _, r := range rows {
		for _, c := range r.characters {
			if c.codeword == symbol.NoCodeword {
				indicators[c.row] = indicators[c.row].best(c.grades)
			} else {
				quality[c.codeword] = quality[c.codeword].best(c.grades)
			}
		}
	}
	for _, r := range rows {
		for _, c := range r.characters {
			if lead, ok := leads(indicators, c.row); ok && c.codeword != symbol.NoCodeword {
				for i := range lead {
					quality[c.codeword][i] = min(quality[c.codeword][i], lead[i])
				}
			}
		}
	}
	for i, p := range []Parameter{Modulation, Defects, Decodability} {
		grades := make([]int, len(quality))
		for c, g := range quality {
			grades[c] = g[i]
		}
		q.overlay(p, overlaid(grades, blocks))
	}
}

// best is the better of two in each.
func (a printed) best(b printed) printed {
	for i := range a {
		a[i] = max(a[i], b[i])
	}
	return a
}

// leads is the best of a row's indicators and its neighbours'; ok is false where
// none was seen.
func leads(indicators map[int]printed, row int) (best printed, ok bool) {
	for i := row - 1; i <= row+1; i++ {
		if g, seen := indicators[i]; seen {
			best, ok = best.best(g), true
		}
	}
	return best, ok
}
