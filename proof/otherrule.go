package proof

import (
	"unspool/ink"
	"unspool/panel"
	"unspool/site"
)

// Ruling is one side of a card under one black rule.
type Ruling struct {
	Black site.Black
	View  View
	// Readings are of the side's codes, by code, then reader. They are of whole
	// codes, also where the view shows them broken.
	Readings []Reading
	Photo    int // photo dots in resin
}

// Rulings draws one side of a card under each of the black rules and says what
// every reader makes of it; nil where the side is not printed.
func (v *Viewer) Rulings(row Row, side site.Side, rules []site.Black) ([]Ruling, error) {
	for _, s := range v.sides {
		if s.Side != side {
			continue
		}
		made, err := s.work.Compose(row.Person)
		if err != nil {
			return nil, err
		}
		w := Worker{pf: v.pf, sight: sight{edition: v.pf.options.Edition}}
		out := make([]Ruling, len(rules))
		for i, b := range rules {
			s.side = v.pf.underRule(s.side, b)
			r := Ruling{Black: b, Photo: s.setup.PhotoResin(made.Art, s.panels.Rect())}
			s.setup.Split(s.panels, made.Art, s.panels.Rect(), nil)
			for c := range made.Codes {
				r.Readings = append(r.Readings, w.judgeCode(&sideWork{side: s.side, made: made}, &made.Codes[c], s.panels)...)
			}
			r.View = v.draw(&s, made)
			out[i] = r
		}
		return out, nil
	}
	return nil, nil
}

// underRule is a side with another black rule; nothing but its separation
// changes.
func (pf *Proof) underRule(d *side, b site.Black) *side {
	p := pf.Programme
	var sep *ink.Separator
	if p.Dye == site.Match {
		sep = pf.separator()
	}
	other := *d
	other.setup = panel.New(p.Card, p.Printer, p.Ribbon, b, d.Side, sep)
	return &other
}
