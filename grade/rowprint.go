package grade

import "unspool/symbol"

// printed is what one codeword comes to: its grades by modulation, defects and
// decodability.
type printed [3]int

// print adds the print quality of the codewords: of each the best grade that a
// line gives it, but no better than the best of the row indicators of its row and
// the rows beside it, and the error correction laid over them (ISO/IEC 15415 6.2.5,
// read in a translator's copy at woaifanyi.com; the overlay is from memory).
func (q *Quality) print(rows []Row, blocks []symbol.Block) {
	quality := make([]printed, codewords(blocks))
	overhead := overheads(rows)
	for _, r := range rows {
		for _, c := range r.Characters {
			if !c.seen() || !c.Valid || c.Codeword < 0 || c.Codeword >= len(quality) {
				continue
			}
			g := c.grades()
			for i := range g {
				if lead, ok := leads(overhead, c.Row); ok {
					g[i] = min(g[i], lead[i])
				}
				quality[c.Codeword][i] = max(quality[c.Codeword][i], g[i])
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

// grades are those of a character by itself.
func (c Character) grades() printed {
	return printed{whole(c.Modulation, modulationLimits), whole(c.Defects, defectsLimits), whole(c.Decodability, decodabilityLimits)}
}

// overheads are the best grades of each row's indicators.
func overheads(rows []Row) map[int]printed {
	best := map[int]printed{}
	for _, r := range rows {
		for _, c := range r.Characters {
			if !c.seen() || c.Codeword != symbol.NoCodeword {
				continue
			}
			g, b := c.grades(), best[c.Row]
			for i := range g {
				b[i] = max(b[i], g[i])
			}
			best[c.Row] = b
		}
	}
	return best
}

// leads is the best of a row's indicators and its neighbours'; ok is false where
// none was seen.
func leads(overhead map[int]printed, row int) (best printed, ok bool) {
	for i := row - 1; i <= row+1; i++ {
		if g, seen := overhead[i]; seen {
			ok = true
			for k := range g {
				best[k] = max(best[k], g[k])
			}
		}
	}
	return best, ok
}
