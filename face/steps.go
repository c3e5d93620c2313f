package face

import (
	"unspool/design"
	"unspool/unit"
)

// Step is an X that a code may have, and the room that the code then takes.
type Step struct {
	X    int // dots
	Need int // dots along the code, quiet zones included
}

// Steps lists what X a code laid as p could have in dots of pitch, rising from the
// smallest that is chosen automatically, up to the first that needs more room than most dots. With the ratio left open it is
// the smallest legal one that counts, as where X is chosen automatically.
func (p *Placed) Steps(c *design.Code, pitch unit.Pitch, most int) (all []Step) {
	for x := leastAuto; x <= maxAuto; x++ {
		least := 0
		for _, s := range candidates(p.Kind, p.Logical, c, pitch, x) {
			s.Reduce = c.Reduce
			if need := needs(p.Kind, p.Logical, s); c.Reduce < x && (least == 0 || need < least) {
				least = need
			}
		}
		if least == 0 {
			continue
		}
		if all = append(all, Step{x, least}); least > most {
			return all
		}
	}
	return all
}
