package proof

import (
	"unspool/face"
	"unspool/ink"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
)

// Light in which a machine readable zone is looked at: the band B900 of ISO 1831,
// in which ICAO Doc 9303-3 4.11 has it read (its width from memory), and the middle
// of what the eye sees (own judgement).
var (
	b900   = ink.Band(900, 50)
	midEye = ink.Band(555, 100)
)

// mrzLights is a side in those lights.
type mrzLights struct{ infrared, eye lighting }

func (d *side) mrzLights(m *ink.Model) mrzLights {
	in := func(l ink.Lamp) lighting {
		return lighting{table: m.UnderResin(l, d.scene.Resin), special: m.UnderResin(l, d.scene.Special)}
	}
	return mrzLights{in(b900), in(midEye)}
}

// mrzInk looks at which panel a zone comes from.
func (f *finder) mrzInk(s *sideWork, z *face.SetZone) {
	n := s.counts[z.Element+1]
	is := func(measure, limit, detail say.Text, value float64) {
		f.add("mrz-no-carbon", s, z.Element, Finding{Measure: measure, Limit: limit, Detail: detail, Value: value})
	}
	switch share := float64(n.Resin) / float64(max(n.Dots, 1)); {
	case n.Dots == 0: // what lies on it is told of
	case n.Resin == 0:
		is(say.Words("0 % in black resin"), say.Words("100 %"), say.Words("none of it comes from the black resin panel, and only carbon shows in the near infrared in which it is read"), 1)
	case n.Resin < n.Dots:
		is(say.F("%s in black resin", percent(share)), say.Words("100 %"), say.F("%d of its %d dots are not from the black resin panel, and only carbon shows in the near infrared in which it is read", n.Dots-n.Resin, n.Dots), 1-share)
	case s.carbon == site.CarbonNo:
		is(say.Words("resin without carbon"), say.Words("carbon"), say.Words("the ribbon's black resin is not carbon, and only carbon shows in the near infrared in which it is read"), 1)
	case s.carbon == site.CarbonUnknown:
		is(say.Words("unknown"), say.Words("carbon"), say.Words("only carbon shows in the near infrared in which it is read, and the ribbon's black resin is not known to be carbon"), 1)
	}
}

// Limits of the ground behind a zone: a print contrast signal of 0.6 in the
// infrared (ICAO Doc 9303-3 4.11), and for the eye spaces that reflect at least half
// (own judgement, as of codes). Of the dots of a cell that are not the letter's, one
// in a hundred may be black resin (own judgement).
const (
	leastPCS    = 0.6
	leastGround = 0.5
	mostSpots   = 0.01
)

// cellGround is what lies behind a character: dots, how many are black resin, and
// their reflectance in the mean.
type cellGround struct {
	dots, resin   int
	infrared, eye float64
}

// mrzGround looks at what lies over a zone and behind it; of each fault the
// gravest place is told.
func (f *finder) mrzGround(s *sideWork, z *face.SetZone) {
	is := func(level Level, where plane.Box, measure, limit, detail say.Text, value float64) {
		f.add("mrz-ground", s, z.Element, Finding{Level: level, Where: where, Measure: measure, Limit: limit, Detail: detail, Value: value})
	}
	if hidden := z.Dots - s.counts[z.Element+1].Dots; hidden > 0 {
		is(Stop, plane.Box{}, say.F("%d dots", hidden), say.Words("0 dots"), say.F("%d of its %d dots lie under another element", hidden, z.Dots), float64(hidden))
	}
	bar := float64(s.mrzLight.infrared.table.R(0, 0, 0, true))
	spots, infrared, eye := 0.0, 1.0, 1.0
	var at [3]plane.Box
	for i, line := range z.Lines {
		for j := range []rune(line) {
			cell := z.Cell(i+1, j+1)
			c := s.groundOf(z, s.setup.Grid().Box(cell))
			if c.dots == 0 {
				continue
			}
			if share := float64(c.resin) / float64(c.dots); share > spots {
				spots, at[0] = share, cell
			}
			if c.infrared < infrared {
				infrared, at[1] = c.infrared, cell
			}
			if c.eye < eye {
				eye, at[2] = c.eye, cell
			}
		}
	}
	if pcs := (infrared - bar) / infrared; spots > mostSpots {
		is(Stop, at[0], say.F("%s black resin", percent(spots)), percent(mostSpots),
			say.F("%s of the ground behind a character is black resin of another element", percent(spots)), spots)
	} else if pcs < leastPCS {
		is(Stop, at[1], say.F("%.2f", pcs), say.F("%.2f", leastPCS), say.F("the print contrast signal of a character is %.2f at 900 nm", pcs), leastPCS-pcs)
	}
	if eye < leastGround {
		is(Look, at[2], say.F("%s reflected", percent(eye)), say.F("%s reflected", percent(leastGround)),
			say.F("the ground behind a character reflects only %s of visible light", percent(eye)), leastGround-eye)
	}
}

// groundOf looks at the dots of a cell that are not the zone's. Dots that its own
// letters cover by less than half are no ground.
func (s *sideWork) groundOf(z *face.SetZone, cell plane.Rect) (c cellGround) {
	a, own := s.made.Art, uint16(z.Element+1)
	for i := range dotsOf(s.panels.Grid, cell.And(s.panels.Rect())) {
		if a.Owner[i] == own || a.Mark[i]&(face.Touched|face.Object) == face.Touched {
			continue
		}
		c.dots++
		c.infrared += float64(s.mrzLight.infrared.dot(s.panels, i))
		c.eye += float64(s.mrzLight.eye.dot(s.panels, i))
		if s.panels.K != nil && s.panels.K[i] != 0 {
			c.resin++
		}
	}
	c.infrared /= float64(max(c.dots, 1))
	c.eye /= float64(max(c.dots, 1))
	return c
}
