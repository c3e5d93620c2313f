package proof

import (
	"unspool/face"
	"unspool/panel"
	"unspool/say"
	"unspool/site"
)

// refuseResin withholds the verdict where the light sees a resin of which too
// little is known; the zero Cause where it does not. An infrared pass is never
// given on such a resin, whatever the dyes are said to do there.
func (x *exam) refuseResin() Cause {
	infrared := x.r.carbonOnly || x.r.Peak.Infrared()
	if infrared && x.carbon == site.CarbonUnknown && inResin(x.c, x.p, x.p.K) > 0 {
		return Cause{"resin-unknown",
			say.F("only carbon shows at %s, and the ribbon's black resin is not known to be carbon", x.r.Peak),
			say.Words("unknown"), say.Words("carbon"), 1}
	}
	share := inResin(x.c, x.p, x.p.S)
	if share == 0 {
		return Cause{}
	}
	measure := say.F("%.0f %% of the bars in %s", 100*share, x.scene.Special.Name())
	switch {
	case x.scene.Special.Mirrors():
		return Cause{"resin-unproved",
			say.F("its bars are in %s, a mirror: how dark they look hangs on the angle of the card", x.scene.Special.Name()),
			measure, say.Words("black resin"), 1}
	case infrared && !x.scene.Special.InfraredKnown():
		return Cause{"resin-unproved",
			say.F("its bars are in %s, and what that pigment does at %s is not known", x.scene.Special.Name(), x.r.Peak),
			measure, say.Words("black resin"), 1}
	}
	return Cause{}
}

// blameCarbon looks for bars that a light to which only carbon shows cannot see.
func (x *exam) blameCarbon() Cause {
	if !x.r.carbonOnly {
		return Cause{}
	}
	black, other := inResin(x.c, x.p, x.p.K), inResin(x.c, x.p, x.p.S)
	percent := say.F("%.0f %% of the bars in resin", 100*black)
	switch {
	case x.carbon == site.CarbonNo && black > 0:
		return Cause{"no-carbon", say.F("only carbon shows at %s, and the ribbon's black resin is not carbon", x.r.Peak),
			say.Words("resin without carbon"), say.Words("carbon"), 1}
	case other > 0:
		return Cause{} // its own colour is to blame
	case black == 0:
		return Cause{"no-carbon", say.F("its black is mixed from the dye panels, and at %s dyes are as bright as the card", x.r.Peak),
			percent, say.Words("100 %"), 1}
	case black < 1:
		return Cause{"part-carbon", say.F("only part of its bars are in resin, the rest in dye, which is bright at %s", x.r.Peak),
			percent, say.Words("100 %"), 1 - black}
	}
	return Cause{}
}

// inResin is the share of a code's bar dots that lie in a resin panel; nil is a
// panel that the side lacks.
func inResin(c *face.Placed, p *panel.Panels, resin []uint8) float64 {
	if resin == nil {
		return 0
	}
	dots, k := 0, 0
	for dark := range c.Dark() {
		for i := range dotsOf(p.Grid, dark.And(p.Rect())) {
			dots++
			k += int(resin[i])
		}
	}
	if dots == 0 {
		return 0
	}
	return float64(k) / float64(dots)
}
