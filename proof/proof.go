// Package proof proves a whole run of cards before one is printed: for every
// card which panel each code, text and photo will come from, what every reader
// on the site will see, and what to change.
//
// Everything said here is predicted, before wear and print faults, never a
// verification of a printed card.
package proof

import (
	"fmt"
	"slices"
	"sync"

	"unspool/code"
	"unspool/design"
	"unspool/face"
	"unspool/grade"
	"unspool/ink"
	"unspool/light"
	"unspool/panel"
	"unspool/plane"
	"unspool/ribbon"
	"unspool/site"
	"unspool/unit"
)

// Row is one card to prove.
type Row struct {
	Key    string // names the card
	Where  string // where the row stands: "crew.csv:17"
	Person design.Person
	Found  []Finding // what the roster already says of the row
	// Margins asks for what is to spare and for the loss of single head elements,
	// which costs many times what a card costs.
	Margins bool
}

// Options are the choices of one proof that are no part of the programme.
type Options struct {
	Edition grade.Edition
	// Advice tries every black rule on every card.
	Advice bool
	// Last is a proof of an earlier state of the same programme, made from the same
	// files: what of it still holds is taken over. Nil where there is none.
	Last *Proof
}

// Proof is a programme made ready: what is the same for every card of the run
// has been composed, separated and lit. It is immutable and serves any number
// of workers.
type Proof struct {
	Programme *design.Programme
	Readers   []site.Reader
	Codes     []CodeRef // every code of both faces, in the order of the file
	options   Options
	sides     [2]*side
	readers   []reader
	inks
}

// CodeRef names a code element of the programme.
type CodeRef struct {
	Side    site.Side
	Element int // index among the face's elements
	Name    string
}

// side is one printed face made ready.
type side struct {
	site.Side
	face     *design.Face
	lie      site.Lie
	dead     []int
	card     site.Card
	keepOuts []site.KeepOut
	carbon   site.Carbon
	plan     *face.Plan
	setup    *panel.Setup
	scene    light.Scene
	lit      []lighting // by reader
	mrzLight mrzLights  // zero where the side has no machine readable zone
	eye      func() *light.Eye
	trials   []trial
}

// lighting is a side under one reader's light.
type lighting struct {
	table   *ink.Table // one dot
	special *ink.Table // one dot of the metallic, white or coloured resin
	usual   *light.Lit // as the printer's growth is stated
	grown   *light.Lit // with as much growth again, for the margin
}

// dot is the reflectance of one dot.
func (l lighting) dot(p *panel.Panels, i int) float32 {
	var y, m, c uint8
	if p.Y != nil {
		y, m, c = p.Y[i], p.M[i], p.C[i]
	}
	if p.S != nil && p.S[i] != 0 {
		return l.special.R(y, m, c, true)
	}
	return l.table.R(y, m, c, p.K != nil && p.K[i] != 0)
}

// reader is a reader with what is worked out of it once.
type reader struct {
	site.Reader
	lamp ink.Lamp
	// carbonOnly: the dyes' black does not show in this light.
	carbonOnly bool
}

// New makes a programme ready. An error names the element or file at fault.
func New(p *design.Programme, assets face.Assets, o Options) (*Proof, error) {
	last := o.Last.earlier()
	o.Last = nil // or a long row of changes would be kept in memory
	inks, err := last.inksOf(p.Ribbon.Ink)
	if err != nil {
		return nil, err
	}
	pf := &Proof{Programme: p, Readers: p.Readers, options: o, inks: inks}
	for _, r := range p.Readers {
		pf.readers = append(pf.readers, last.reader(r, inks.model))
	}
	var sep *ink.Separator
	if p.Dye == site.Match {
		sep = inks.separator()
	}
	for s, f := range p.Faces {
		if f == nil {
			continue
		}
		if pf.sides[s], err = pf.newSide(site.Side(s), f, assets, sep, last); err != nil {
			return nil, err
		}
		for i := range f.Elements {
			if f.Elements[i].Code != nil {
				pf.Codes = append(pf.Codes, CodeRef{site.Side(s), i, f.Elements[i].Name})
			}
		}
	}
	return pf, nil
}

// inks is an ink model with the separator that goes with it, which takes a
// fifth of a second to make.
type inks struct {
	model     *ink.Model
	separator func() *ink.Separator
}

func newInks(m *ink.Model) inks { return inks{m, sync.OnceValue(m.Separator)} }

// The presets are made once, however many programmes use them.
var (
	usualInks    = sync.OnceValue(func() inks { return newInks(ink.Usual()) })
	cautiousInks = sync.OnceValue(func() inks { return newInks(ink.Cautious()) })
)

// inksOf is what a programme's ribbon names.
func inksOf(i site.Ink) (inks, error) {
	switch {
	case i.Table != nil:
		m, err := ink.Custom(dyeTable(i.Table))
		if err != nil {
			return inks{}, fmt.Errorf("ribbon.ink: %w", err)
		}
		return newInks(m), nil
	case i.Preset == "cautious":
		return cautiousInks(), nil
	}
	return usualInks(), nil
}

// dyeTable turns the rows of a programme into columns. A column that every row
// leaves at 0 was not stated: the resin and the card are then the preset's.
func dyeTable(rows []site.InkRow) ink.DyeTable {
	var t ink.DyeTable
	k, card := false, false
	for _, r := range rows {
		t.NM = append(t.NM, r.NM)
		t.Y, t.M, t.C = append(t.Y, r.Y), append(t.M, r.M), append(t.C, r.C)
		t.K, t.Card = append(t.K, r.K), append(t.Card, r.White)
		k, card = k || r.K != 0, card || r.White != 0
	}
	if !k {
		t.K = nil
	}
	if !card {
		t.Card = nil
	}
	return t
}

func (pf *Proof) newSide(s site.Side, f *design.Face, assets face.Assets, sep *ink.Separator, last earlier) (*side, error) {
	p := pf.Programme
	plan, err := face.Recompile(p, s, assets, last.plan(s))
	if err != nil {
		return nil, err
	}
	d := &side{Side: s, face: f, card: p.Card, lie: p.Printer.Lie[s], dead: p.Printer.Dead, carbon: p.Ribbon.Carbon, plan: plan}
	for _, k := range p.Card.KeepOuts {
		if k.Side == s {
			d.keepOuts = append(d.keepOuts, k)
		}
	}
	if d.setup = last.setup(pf, s); d.setup == nil {
		d.setup = panel.New(p.Card, p.Printer, p.Ribbon, p.Black[s], s, sep)
	}
	gx, gy := p.Printer.Growth(d.lie)
	d.scene = light.Scene{Model: pf.model, Resin: resin(p.Ribbon), Special: special(d.setup.Set()), GrowthX: gx, GrowthY: gy,
		SpreadDye: p.Printer.SpreadDye, SpreadResin: p.Printer.SpreadResin}
	d.eye = last.eye(d)
	grown := d.scene
	grown.GrowthX, grown.GrowthY = 2*gx, 2*gy
	if d.lit = last.lit(pf, d); d.lit == nil {
		for _, r := range pf.readers {
			d.lit = append(d.lit, lighting{pf.model.UnderResin(r.lamp, d.scene.Resin), pf.model.UnderResin(r.lamp, d.scene.Special), d.scene.Under(r.lamp), grown.Under(r.lamp)})
		}
	}
	if slices.ContainsFunc(f.Elements, func(e design.Element) bool { return e.MRZ != nil }) {
		d.mrzLight = d.mrzLights(pf.model)
	}
	if pf.options.Advice {
		d.trials = pf.newTrials(d, sep)
	}
	return d, nil
}

// resin is how the ribbon's black behaves. One that is not known to be carbon
// is lit as carbon; the verdict is then withheld, not the picture.
func resin(r site.Ribbon) ink.Resin {
	if r.Carbon == site.CarbonNo {
		return ink.NotCarbon()
	}
	return ink.Carbon()
}

func special(set []site.Panel) ink.Resin {
	for _, p := range set {
		switch {
		case p.Kind == site.WhiteResin:
			return ink.White()
		case p.Kind == site.Metallic && p.Letter == 'G':
			return ink.Gold()
		case p.Kind == site.Metallic:
			return ink.Metallic()
		case p.Kind == site.ColourResin:
			return ink.Coloured(p.Colour)
		}
	}
	return ink.Metallic()
}

// leastContrast is the print contrast signal (space - bar)/space from which a
// mark counts as dark to a reader: an older rule, from memory.
const leastContrast = 0.75

func newReader(r site.Reader, m *ink.Model) reader {
	lamp := ink.Band(r.Peak, r.Width)
	t := m.Under(lamp)
	space, bar := t.R(0, 0, 0, false), t.R(255, 255, 255, false)
	return reader{Reader: r, lamp: lamp, carbonOnly: (space-bar)/space < leastContrast}
}

func (pf *Proof) element(r CodeRef) *design.Element {
	return &pf.Programme.Faces[r.Side].Elements[r.Element]
}

// Frames is how many panels of the web one card takes, those included that pass
// unused.
func (pf *Proof) Frames() int {
	p := pf.Programme
	return ribbon.Need(p.Ribbon, 1, p.Faces[site.Front] != nil, p.Faces[site.Back] != nil).Frames
}

// Grid is the raster of a side; ok is false where the side is not printed.
func (pf *Proof) Grid(s site.Side) (g plane.Grid, ok bool) {
	if pf.sides[s] == nil {
		return plane.Grid{}, false
	}
	return pf.sides[s].setup.Grid(), true
}

// along is the pitch of the direction a code runs in.
func along(c *face.Placed, g plane.Grid) unit.Pitch {
	if c.AlongX {
		return g.DX
	}
	return g.DY
}

// payload is the length of what a reader set to a symbology hands on: the text
// with its check character, without Codabar's guard letters. ok is false where it
// does not read the code at all.
func payload(c *face.Placed, kind string) (n int, ok bool) {
	k, known := code.ByName(kind)
	if !known {
		return 0, false
	}
	text, ok := c.Text(), k.Name == c.Kind.Name
	if c.Matrix == nil {
		text, ok = k.Reads(c.Kind, c.Logical)
	}
	n = len([]rune(text))
	if kind == "codabar" && n >= 2 {
		n -= 2
	}
	return n, ok
}
