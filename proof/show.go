package proof

import (
	"image"
	"slices"

	"unspool/face"
	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/site"
)

// Shown is one card to be looked at closely: its proof together with what the
// proof was made of. It is a copy of its own, immutable and safe for concurrent
// use.
type Shown struct {
	Card  Card
	Sides []ShownSide // those that are printed
	pf    *Proof
}

// ShownSide is one side of a card.
type ShownSide struct {
	site.Side
	Panels *panel.Panels
	Owner  []uint16 // by dot: 1 + the index of the face's element it belongs to, 0 the bare card
	Codes  []face.Placed
	Texts  []face.SetText
	art    *face.Art
	d      *side
}

// Show proves the card of row i and keeps what it is made of.
func (w *Worker) Show(i int, row Row) (*Shown, error) {
	for _, s := range w.sides {
		s.settled = s.settled && s.whole
		s.whole = true
	}
	card, err := w.Card(i, row)
	if err != nil {
		return nil, err
	}
	shown := &Shown{Card: card, pf: w.pf}
	for _, s := range w.sides {
		shown.Sides = append(shown.Sides, s.show())
	}
	return shown, nil
}

// show copies what a side is made of. Where it is as it was shown last, that copy
// serves again.
func (s *sideWork) show() ShownSide {
	k := ShownSide{Side: s.Side, Codes: slices.Clone(s.codes), Texts: slices.Clone(s.made.Texts), d: s.side}
	if last := s.shown; last != nil && last.d.setup == s.setup && (s.asShown || last.art.Equal(s.made.Art)) {
		k.art, k.Panels = last.art, last.Panels
	} else {
		k.art, k.Panels = s.made.Art.Clone(), s.panels.Clone()
	}
	k.Owner = k.art.Owner
	s.shown, s.asShown = &k, true
	return k
}

// On is one side of the card; nil where it is not printed.
func (k *Shown) On(s site.Side) *ShownSide {
	for i := range k.Sides {
		if k.Sides[i].Side == s {
			return &k.Sides[i]
		}
	}
	return nil
}

// Eye is what the eye sees under D65, in sRGB, of panels on this side: its own,
// some of them, or those of another black rule.
func (s *ShownSide) Eye(p *panel.Panels) *image.RGBA { return s.EyeIn(p, p.Rect()) }

// EyeIn is a part of what Eye gives.
func (s *ShownSide) EyeIn(p *panel.Panels, in plane.Rect) *image.RGBA {
	return s.d.eye().Picture(p, in)
}

// Differs is the smallest rectangle beyond which this side and another of the
// same card, of an earlier state of the programme, look the same and belong to the
// same elements. A nil other differs everywhere.
func (s *ShownSide) Differs(o *ShownSide) plane.Rect {
	switch {
	case o == nil || o.Panels.Grid != s.Panels.Grid || o.d.scene != s.d.scene:
		return s.Panels.Rect()
	case o.Panels == s.Panels:
		return plane.Rect{}
	}
	return s.Panels.Differs(o.Panels).Or(plane.Differs(s.Panels.Grid, s.Owner, o.Owner, slices.Equal))
}

// Set is the panels of a side in the order of feeding; nil where it is not
// printed.
func (pf *Proof) Set(s site.Side) []site.Panel {
	if pf.sides[s] == nil {
		return nil
	}
	return pf.sides[s].setup.Set()
}

// Spectra is the ink model of a programme's ribbon by wavelength, and the
// metallic, white or coloured resin of each side, nil where it has none.
func (pf *Proof) Spectra() (s ink.Spectra, special [2]*ink.Film) {
	s = pf.model.Spectra(resin(pf.Programme.Ribbon), ink.Metallic())
	for _, d := range pf.sides {
		if d == nil {
			continue
		}
		set := d.setup.Set()
		if site.Has(set, site.Metallic) || site.Has(set, site.WhiteResin) || site.Has(set, site.ColourResin) {
			film := pf.model.Spectra(d.scene.Resin, d.scene.Special).Special
			special[d.Side] = &film
		}
	}
	return s, special
}

// code finds a code as it is laid on the card; nil where it could not be drawn.
func (k *Shown) code(code int) (*ShownSide, *face.Placed) {
	ref := k.pf.Codes[code]
	s := k.On(ref.Side)
	for i := range s.Codes {
		if s.Codes[i].Element == ref.Element {
			return s, &s.Codes[i]
		}
	}
	return s, nil
}

// exam looks at a code of the card with one reader.
func (k *Shown) exam(s *ShownSide, c *face.Placed, p *panel.Panels, reader int) exam {
	sight := &sight{edition: k.pf.options.Edition}
	return exam{s.d, sight, s.art, p, c, &k.pf.readers[reader], s.d.lit[reader]}
}

// judge judges a code of the card, separated as p, at every reader.
func (k *Shown) judge(s *ShownSide, c *face.Placed, p *panel.Panels) []Reading {
	w := Worker{pf: k.pf, sight: sight{edition: k.pf.options.Edition}}
	return w.judgeCode(&sideWork{side: s.d, made: &face.Composed{Art: s.art}}, c, p)
}

// area is the part of a face that a reader sees of a code.
func area(c *face.Placed, p *panel.Panels) plane.Rect {
	return c.Quiet.Grow(2 * c.Size.X).And(p.Rect())
}
