package proof

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"unspool/face"
	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// Advice says what one black rule would do to one side of the run.
type Advice struct {
	Side    site.Side
	Black   site.Black
	Current bool // the programme's own rule
	// Good: every reader reads every card's codes and no photo dot is in resin.
	Good bool
	// Breaks lists what the rule breaks, in sentences; empty where Good.
	Breaks     []string
	Fails      int // readings of the run that fail under the rule
	Little     int // readings with little to spare
	PhotoCards int // cards with a photo dot in resin
	PhotoDots  int // the most on any one card
	WorstRow   int // the card that has them
	ZoneCards  int // cards with a machine readable zone that is not all in black resin
}

// trial is one black rule tried on a side.
type trial struct {
	side    site.Side
	setup   *panel.Setup
	current bool
}

// trialCount is what a trial did to one card.
type trialCount struct {
	photo  int   // photo dots in resin
	fails  []int // the reader of every reading that fails
	zones  int   // machine readable zones that are not all in black resin
	little int
}

// trialTally adds trialCounts up.
type trialTally struct {
	photoCards, photoDots, worstRow int
	fails, little                   int
	zoneCards                       int
	failing                         map[int]int // reader -> cards
}

func (t *trialTally) add(row int, n trialCount) {
	if n.photo > 0 {
		t.photoCards++
	}
	if n.photo > t.photoDots {
		t.photoDots, t.worstRow = n.photo, row
	}
	if n.zones > 0 {
		t.zoneCards++
	}
	t.little += n.little
	t.fails += len(n.fails)
	if t.failing == nil {
		t.failing = map[int]int{}
	}
	for i, r := range n.fails {
		if !slices.Contains(n.fails[:i], r) {
			t.failing[r]++
		}
	}
}

// zoneMargin is how far the trial zones reach round code and text: wider than
// any registration error of a feed (common practice, no source).
const zoneMargin = unit.Millimetre

// newTrials prepares every rule for a side. Rules need resin and dyes to choose
// between; a side of one colour has nothing to try.
func (pf *Proof) newTrials(d *side, sep *ink.Separator) (trials []trial) {
	set := d.setup.Set()
	if !site.Has(set, site.BlackResin) || !site.Has(set, site.Cyan) {
		return nil
	}
	p := pf.Programme
	for _, rule := range site.Rules {
		b := p.Black[d.Side]
		if b.Rule == rule {
			trials = append(trials, trial{d.Side, d.setup, true})
			continue
		}
		b.Rule = rule
		if rule == site.Zones && len(b.Zones) == 0 {
			b.Zones = zonesOf(d)
		}
		trials = append(trials, trial{d.Side, panel.New(p.Card, p.Printer, p.Ribbon, b, d.Side, sep), false})
	}
	return trials
}

// zonesOf draws a zone round every code and text of a face.
func zonesOf(d *side) (zones []plane.Box) {
	for _, e := range d.face.Elements {
		if e.Code != nil || e.Text != nil || e.MRZ != nil {
			b := e.Box
			zones = append(zones, plane.Box{X: b.X - zoneMargin, Y: b.Y - zoneMargin, W: b.W + 2*zoneMargin, H: b.H + 2*zoneMargin})
		}
	}
	return zones
}

func (pf *Proof) trialCount() (n int) {
	for _, d := range pf.sides {
		if d != nil {
			n += len(d.trials)
		}
	}
	return n
}

// try judges a side of one card under every rule. A code whose dots come out as
// under a rule already judged reads the same, so it is judged once.
func (w *Worker) try(s *sideWork, card *Card) []trialCount {
	type judged struct {
		area     []byte
		readings []Reading
	}
	out := make([]trialCount, len(s.trials))
	for i, t := range s.trials {
		out[i].photo = s.photoFixed[i]
		for _, r := range s.dirty {
			out[i].photo += t.setup.PhotoResin(s.made.Art, r)
		}
	}
	for i := range s.made.Zones {
		s.tryZone(out, &s.made.Zones[i])
	}
	for ci := range s.codes {
		c := &s.codes[ci]
		area := c.Quiet.Grow(2 * c.Size.X).And(s.panels.Rect())
		done := []judged{{s.panels.Area(area, nil), card.of(w.pf.codeIndex(s.Side, c.Element))}}
		for i, t := range s.trials {
			p := s.panels
			if !t.current {
				p = s.scratch
				t.setup.Split(p, s.made.Art, area, nil)
			}
			dots := p.Area(area, nil)
			k := slices.IndexFunc(done, func(j judged) bool { return bytes.Equal(j.area, dots) })
			if k < 0 {
				k = len(done)
				done = append(done, judged{dots, w.judgeCode(s, c, p)})
			}
			out[i].add(done[k].readings)
		}
	}
	return out
}

// tryZone notes which rules leave dots of a machine readable zone to other panels.
func (s *sideWork) tryZone(out []trialCount, z *face.SetZone) {
	for i, t := range s.trials {
		p := s.panels
		if !t.current {
			p = s.scratch
			t.setup.Split(p, s.made.Art, z.Ink, nil)
		}
		for at := range dotsOf(p.Grid, z.Ink) {
			if s.made.Art.Owner[at] == uint16(z.Element+1) && p.K[at] == 0 {
				out[i].zones++
				break
			}
		}
	}
}

func (n *trialCount) add(readings []Reading) {
	for _, r := range readings {
		switch r.Verdict {
		case Fails:
			n.fails = append(n.fails, r.Reader)
		case Little:
			n.little++
		}
	}
}

// of is the card's readings of one code.
func (c *Card) of(code int) (out []Reading) {
	for _, r := range c.Readings {
		if r.Code == code {
			out = append(out, r)
		}
	}
	return out
}

func (pf *Proof) adviceOf(tallies []trialTally, cards int) (out []Advice) {
	i := 0
	for _, d := range pf.sides {
		if d == nil {
			continue
		}
		for _, t := range d.trials {
			n := tallies[i]
			i++
			a := Advice{Side: d.Side, Black: t.setup.Black(), Current: t.current, Fails: n.fails, Little: n.little,
				PhotoCards: n.photoCards, PhotoDots: n.photoDots, WorstRow: n.worstRow, ZoneCards: n.zoneCards}
			for r, reader := range pf.Readers {
				if k := n.failing[r]; k > 0 {
					a.Breaks = append(a.Breaks, fmt.Sprintf("%s does not read %d of %d cards", reader.Name, k, cards))
				}
			}
			if n.zoneCards > 0 {
				a.Breaks = append(a.Breaks, fmt.Sprintf("machine readable zones are not all in black resin, on %d of %d cards", n.zoneCards, cards))
			}
			if n.photoCards > 0 {
				a.Breaks = append(a.Breaks, fmt.Sprintf("photos lose up to %d dots to resin, on %d of %d cards", n.photoDots, n.photoCards, cards))
			}
			a.Good = len(a.Breaks) == 0 && n.little == 0 && cards > 0
			if len(a.Breaks) == 0 && n.little > 0 {
				a.Breaks = append(a.Breaks, fmt.Sprintf("%d readings have little to spare", n.little))
			}
			out = append(out, a)
		}
	}
	return out
}

// Sentence says what the rule would do, for a terminal line.
func (a Advice) Sentence() string {
	if a.Good {
		return "every reader reads every card and no photo dot is in resin"
	}
	return strings.Join(a.Breaks, "; ")
}
