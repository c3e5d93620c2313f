package proof

import (
	"math"
	"slices"

	"unspool/grade"
	"unspool/light"
	"unspool/panel"
	"unspool/plane"
	"unspool/say"
	"unspool/unit"
)

// Margin is how much a code has to spare at a reader before its grade falls
// below C.
type Margin struct {
	Growth unit.Length // more growth than stated
	Loss   unit.Length // less growth than stated
	Spread unit.Length // more edge spread than stated, standard deviation
	// Contrast is the share of its contrast it can lose, 0 to 1.
	Contrast float64
}

// halvings is how often a margin's bounds are halved: to a two hundred and
// fiftieth of the range.
const halvings = 8

// margins adds what every code that reads has to spare, and which single head
// elements it could not do without.
func (w *Worker) margins(f *finder) {
	for _, s := range w.sides {
		for i := range s.codes {
			c := &s.codes[i]
			for _, r := range f.card.of(w.pf.codeIndex(s.Side, c.Element)) {
				if r.Verdict != Reads && r.Verdict != Little {
					continue
				}
				x := exam{s.side, &w.sight, s.made.Art, s.panels, c, &w.pf.readers[r.Reader], s.lit[r.Reader]}
				f.margin(s, &x, r)
				f.loss(s, &x)
			}
		}
	}
}

func (f *finder) margin(s *sideWork, x *exam, r Reading) {
	if r.Grade.Value < gradeC {
		return
	}
	m := x.margin()
	f.add("margin", s, x.c.Element, Finding{Reader: x.r.Name,
		Measure: say.F("%.0f µm growth, %.0f µm loss, %.0f µm spread, %.0f %% contrast", m.Growth.Micrometres(), m.Loss.Micrometres(), m.Spread.Micrometres(), 100*m.Contrast),
		Limit:   say.F("grade C (%.1f)", gradeC), Value: -m.Growth.Micrometres(),
		Detail: say.F("at grade %s it stands %.0f µm more growth, %.0f µm less, %.0f µm more edge spread, or the loss of %.0f %% of its contrast before grade C is lost",
			r.Grade.Text, m.Growth.Micrometres(), m.Loss.Micrometres(), m.Spread.Micrometres(), 100*m.Contrast)})
}

// margin finds by halving how far each thing can go.
func (x *exam) margin() Margin {
	narrow := along(x.c, x.setup.Grid()).Span(x.c.Size.X)
	under := func(change func(*light.Scene)) bool {
		scene := x.scene
		change(&scene)
		g, _ := x.gradeLines(scene.Under(x.r.lamp))
		return g.Value >= gradeC
	}
	grow := func(by unit.Length) bool {
		return under(func(s *light.Scene) {
			if x.c.AlongX {
				s.GrowthX += by
			} else {
				s.GrowthY += by
			}
		})
	}
	return Margin{
		Growth: furthest(narrow, grow),
		Loss:   furthest(narrow, func(by unit.Length) bool { return grow(-by) }),
		Spread: furthest(narrow, func(by unit.Length) bool {
			return under(func(s *light.Scene) { s.SpreadDye += by; s.SpreadResin += by })
		}),
		Contrast: float64(furthest(1000, func(by unit.Length) bool { return x.faded(float64(by)/1000) >= gradeC })) / 1000,
	}
}

// furthest is the largest length up to limit for which good holds, to within
// the halvings; good is taken to hold at 0 and to fail for good once it fails.
func furthest(limit unit.Length, good func(unit.Length) bool) unit.Length {
	if good(limit) {
		return limit
	}
	lo, hi := unit.Length(0), limit
	for range halvings {
		if mid := (lo + hi) / 2; good(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// faded is the grade when a share of the contrast is lost: every sample moves
// that far towards the lightest.
func (x *exam) faded(share float64) float64 {
	if x.c.Matrix != nil {
		return x.under(x.lit.usual).quality(share).Value
	}
	a := x.aperture()
	sum, lines := 0.0, 0
	x.each(x.lit.usual, a.Diameter, band(x.c), func(_ float64, n int, p plane.Profile) {
		p.Samples = slices.Clone(p.Samples)
		faded(p.Samples, share)
		sum += float64(n) * grade.Measure(p, x.c.Kind, x.c.Options, x.edition).Grade
		lines += n
	})
	return math.Floor(10*sum/float64(max(lines, 1))+0.5) / 10
}

// loss counts the head elements over a code whose loss alone would stop it.
func (f *finder) loss(s *sideWork, x *exam) {
	stops, tried := x.loss(s.panels)
	if tried == 0 {
		return
	}
	share := float64(stops) / float64(tried)
	detail, remedy := say.F("%d head elements print this code; the reader could do without any one of them", tried), say.Words("Nothing to do.")
	if stops > 0 {
		remedy = say.Text{}
		detail = say.F("%d head elements print this code; for %d of them (%s) the loss of that one alone would keep the reader from reading it", tried, stops, percent(share))
	}
	f.add("element-loss", s, x.c.Element, Finding{Reader: x.r.Name,
		Measure: say.F("%d of %d elements", stops, tried), Limit: say.Words("none"), Value: share, Detail: detail, Remedy: remedy})
}

// loss takes each head element over the code out in turn and reads the code
// without it.
func (x *exam) loss(p *panel.Panels) (stops, tried int) {
	g := x.setup.Grid()
	bars := x.c.Bars.And(g.Rect())
	from, to, n := bars.Y0, bars.Y1, g.H
	if !x.lie.AlongX() {
		from, to, n = bars.X0, bars.X1, g.W
	}
	lost := *x
	lost.p = p.Clone()
	for i := from; i < to; i++ {
		line, ok := panel.Line(g, x.lie, x.lie.Element(i, n))
		if !ok {
			continue
		}
		tried++
		lost.p.Clear(line)
		if lost.readLines(x.lit.usual).fails {
			stops++
		}
		lost.p.Copy(p, line)
	}
	return stops, tried
}
