package proof

import (
	"iter"
	"slices"

	"unspool/face"
	"unspool/grade"
	"unspool/panel"
	"unspool/plane"
	"unspool/say"
	"unspool/site"
)

// blame names what keeps a code that is otherwise in order from being decoded,
// the deepest cause first: a code that has no carbon also fails in contrast, and
// one whose contrast fails also fails to decode.
func (x *exam) blame(read seen, worst *grade.Scan) Cause {
	if cause := x.blameCarbon(); cause.ID != "" {
		return cause
	}
	if cause := x.blameCut(); read.cut && cause.ID != "" {
		return cause
	}
	if cause := x.blameDead(); cause.ID != "" {
		return cause
	}
	if cause := x.blameContrast(worst); cause.ID != "" {
		return cause
	}
	if cause := x.blameCut(); cause.ID != "" {
		return cause
	}
	if cause := x.blameQuiet(worst); cause.ID != "" {
		return cause
	}
	if x.c.Matrix != nil {
		return Cause{"decode-fails", read.why, say.Words("not decoded"), say.Words("decoded"), 1}
	}
	return Cause{"decode-fails", read.why, say.F("%d of %d lines decode", read.good, len(read.lines)), say.Words("all"), 1}
}

// blameContrast looks for bars the light does not see and for a dark ground.
func (x *exam) blameContrast(worst *grade.Scan) Cause {
	switch {
	case worst.Rmax < groundLeast:
		return Cause{"dark-ground", say.F("under the code the card sends back only %.0f %% of the light at %s", 100*worst.Rmax, x.r.Peak),
			say.F("spaces reflect %.0f %%", 100*worst.Rmax), say.F("%.0f %%", 100*groundLeast), groundLeast - worst.Rmax}
	case worst.PCS < leastContrast:
		return Cause{"colour-vanishes", say.F("its bars send back %.0f %% of the light at %s, nearly as much as the spaces", 100*worst.Rmin, x.r.Peak),
			say.F("print contrast %.2f", worst.PCS), say.F("%.2f", leastContrast), leastContrast - worst.PCS}
	}
	return Cause{}
}

// groundLeast is the least reflectance of a space, read in a published label
// specification ("Bar Code Label Quality", eprm.ardent-tool.com/epr3e/16461.htm:
// at least 50 %).
const groundLeast = 0.5

// blameDead looks for a dead head element on the reader's line or along a bar.
func (x *exam) blameDead() Cause {
	for _, e := range x.dead {
		line, ok := panel.Line(x.setup.Grid(), x.lie, e)
		if !ok || line.And(x.c.Bars).Empty() {
			continue
		}
		if x.c.Matrix != nil {
			return Cause{"dead-bar", say.F("head element %d prints nothing and runs through the code", e),
				say.F("element %d", e), say.Words("no dead element in the code"), 1}
		}
		if x.c.AlongX != x.lie.AlongX() {
			if at, bar := x.barAt(line); bar {
				return Cause{"dead-bar", say.F("head element %d prints nothing and lies along bar %d of the code", e, at/2+1),
					say.F("element %d", e), say.Words("no dead element along a bar"), 1}
			}
			continue
		}
		if x.r.Kind != site.Slot || x.r.Track.Side != x.Side {
			continue
		}
		at, half := x.track()
		row := float64(line.Y0) + 0.5
		if !x.c.AlongX {
			row = float64(line.X0) + 0.5
		}
		if row >= at-half && row <= at+half {
			return Cause{"dead-line", say.F("head element %d prints nothing and lies on the read line, %s ± %s from the %s edge",
				e, x.r.Track.Line, x.r.Track.Tolerance, x.r.Track.From), say.F("element %d", e), say.Words("no dead element on the line"), 1}
		}
	}
	return Cause{}
}

// barAt is the element of a code that a line of dots lies along, and whether it
// is a bar.
func (x *exam) barAt(line plane.Rect) (element int, bar bool) {
	at, length := line.X0-x.c.Bars.X0, x.c.Bars.W()
	if !x.c.AlongX {
		at, length = line.Y0-x.c.Bars.Y0, x.c.Bars.H()
	}
	if x.c.Reverse {
		at = length - 1 - at
	}
	for i, w := range x.c.Widths {
		if at < w {
			return i, i%2 == 0
		}
		at -= w
	}
	return 0, false
}

// blameCut looks for an edge of the printable face, or a keep-out, that cuts
// into the bars.
func (x *exam) blameCut() Cause {
	g := x.setup.Grid()
	if print := x.setup.Printable(); !x.c.Bars.In(print) {
		return Cause{"code-cut", say.Words("the edge of what the printer reaches cuts its bars"), say.Words("bars beyond the edge"), say.Words("whole bars"), 1}
	}
	for _, k := range x.keepOuts {
		if box := g.Box(k.Box); k.Kind != site.Bump && !x.c.Bars.And(box).Empty() {
			return Cause{"code-cut", say.F("its bars run over the %s", k.Kind), say.F("bars over the %s", k.Kind), say.Words("clear of it"), 1}
		}
	}
	return Cause{}
}

// blameQuiet looks for what enters a quiet zone, and names it. A scan that
// decodes and has its quiet zones settles it; otherwise the dots are asked.
func (x *exam) blameQuiet(worst *grade.Scan) Cause {
	first, last := x.c.Kind.QuietZones(worst.Reading.Reversed)
	measured := worst.QuietLeft >= float64(first) && worst.QuietRight >= float64(last) && x.c.Matrix == nil
	if worst.Decoded && measured && !slices.ContainsFunc(x.keepOuts, x.inQuiet) {
		return Cause{}
	}
	clear, need, by := x.clear(float32(worst.GT))
	if clear >= need {
		return Cause{}
	}
	return Cause{"quiet-entered", say.F("%s enters its quiet zone: %.1f X are clear, %.0f X are needed", by, clear, need),
		say.F("%.1f X", clear), say.F("%.0f X", need), need - clear}
}

// inQuiet says whether a keep-out that is seen lies in the code's quiet zones, of
// which no profile tells.
func (x *exam) inQuiet(k site.KeepOut) bool {
	return holed(k) && !x.setup.Grid().Box(k.Box).And(x.c.Quiet).Empty()
}

// clear is how far, in X, the worse quiet zone of a code is free of dots darker
// than threshold, how far it should be, and what the nearest of them belongs to.
func (x *exam) clear(threshold float32) (free, need float64, by say.Text) {
	g, bars := x.p.Grid, x.c.Bars
	if x.c.Matrix != nil {
		free, need, owner := x.clearAround(threshold)
		return free, need, x.named(owner)
	}
	const none, edge = noOwner, edgeOwner
	whole := x.c.Kind.QuietX * x.c.Size.X
	least, owner := whole, none
	for _, zone := range x.c.Quiet.Without([]plane.Rect{bars}) {
		in := zone.And(g.Rect())
		nearest, who := apart(x.c, zone), none
		if in != zone {
			nearest, who = min(nearest, apart(x.c, in)), edge
		}
		for i := range dotsOf(g, in) {
			if x.lit.dot(x.p, i) >= threshold {
				continue
			}
			at := plane.Rect{X0: i % g.W, Y0: i / g.W, X1: i%g.W + 1, Y1: i/g.W + 1}
			if d := distance(x.c, at, bars); d < nearest {
				nearest, who = d, int(x.art.Owner[i])
			}
		}
		for i, k := range x.keepOuts {
			if hole := g.Box(k.Box); holed(k) && !hole.And(zone).Empty() {
				if d := distance(x.c, hole, bars); d < nearest {
					nearest, who = d, holeOwner-i
				}
			}
		}
		if all := apart(x.c, zone); all-nearest > whole-least {
			whole, least, owner = all, nearest, who
		}
	}
	return float64(least) / float64(x.c.Size.X), float64(whole) / float64(x.c.Size.X), x.named(owner)
}

// Owners of a dot that are no element.
const (
	noOwner, edgeOwner = -1, -2
	holeOwner          = -3 // less the place among the keep-outs
)

// holed says whether a reader sees a keep-out as something dark or lit by chance: a
// punched hole and the contacts of a chip.
func holed(k site.KeepOut) bool { return k.Kind == site.Punch || k.Kind == site.Chip }

// named says what the owner of a dot is called.
func (x *exam) named(owner int) say.Text {
	switch {
	case owner == edgeOwner:
		return say.Words("the edge of the card")
	case owner <= holeOwner:
		return say.F("the %s", x.keepOuts[holeOwner-owner].Kind)
	case owner > 0:
		return say.F("%q", x.face.Elements[owner-1].Name)
	}
	return say.Words("something dark")
}

// distance is how many dots of clear ground lie between a rectangle and the
// bars, in the direction the code runs in.
func distance(c *face.Placed, r, bars plane.Rect) int {
	if c.AlongX {
		return max(bars.X0-r.X1, r.X0-bars.X1, 0)
	}
	return max(bars.Y0-r.Y1, r.Y0-bars.Y1, 0)
}

// apart is how far a quiet zone that the face cuts reaches.
func apart(c *face.Placed, zone plane.Rect) int {
	if zone.Empty() {
		return 0
	}
	if c.AlongX {
		return zone.W()
	}
	return zone.H()
}

// dotsOf yields the index of every dot of r.
func dotsOf(g plane.Grid, r plane.Rect) iter.Seq[int] {
	return func(yield func(int) bool) {
		for y := r.Y0; y < r.Y1; y++ {
			for i := g.At(r.X0, y); i < g.At(r.X1, y); i++ {
				if !yield(i) {
					return
				}
			}
		}
	}
}
