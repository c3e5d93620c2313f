package proof

import (
	"unspool/ink"
	"unspool/panel"
	"unspool/site"
)

// Ruled is what one black rule would make of a side of a card.
type Ruled struct {
	Black    site.Black
	Current  bool // the programme's own rule
	Photo    int  // photo dots in resin
	Readings []Reading
}

// Rule is a black rule as it is tried on a side: with the limit the programme
// states and, where it states none, zones round code and text. ok is false where
// the side has no resin and dyes to choose between.
func (pf *Proof) Rule(s site.Side, r site.Rule) (b site.Black, ok bool) {
	for _, t := range pf.trialsOf(s) {
		if t.setup.Black().Rule == r {
			return t.setup.Black(), true
		}
	}
	return site.Black{}, false
}

// trialsOf is every rule for a side; empty where it has nothing to choose.
func (pf *Proof) trialsOf(s site.Side) []trial {
	d := pf.sides[s]
	if d == nil || d.trials != nil {
		return d.tried()
	}
	var sep *ink.Separator
	if pf.Programme.Dye == site.Match {
		sep = pf.separator()
	}
	return pf.newTrials(d, sep)
}

func (d *side) tried() []trial {
	if d == nil {
		return nil
	}
	return d.trials
}

// Rules is a side of the card under every black rule, in the order of
// site.Rules.
func (k *Shown) Rules(s site.Side) (out []Ruled) {
	side := k.On(s)
	if side == nil {
		return nil
	}
	trials := k.pf.trialsOf(s)
	if len(trials) == 0 {
		return nil
	}
	scratch := side.d.setup.NewPanels()
	for _, t := range trials {
		r := Ruled{Black: t.setup.Black(), Current: t.current, Photo: t.setup.PhotoResin(side.art, scratch.Rect())}
		for i := range side.Codes {
			c := &side.Codes[i]
			t.setup.Split(scratch, side.art, area(c, scratch), nil)
			r.Readings = append(r.Readings, k.judge(side, c, scratch)...)
		}
		out = append(out, r)
	}
	return out
}

// Under is a side of the card separated under a black rule; nil where the rule
// is none of the side's.
func (k *Shown) Under(s site.Side, r site.Rule) *panel.Panels {
	side := k.On(s)
	if side == nil {
		return nil
	}
	for _, t := range k.pf.trialsOf(s) {
		switch {
		case t.setup.Black().Rule != r:
		case t.current:
			return side.Panels
		default:
			p := t.setup.NewPanels()
			t.setup.Split(p, side.art, p.Rect(), nil)
			return p
		}
	}
	return nil
}
