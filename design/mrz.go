package design

import (
	"strings"

	"unspool/mrz"
	"unspool/unit"
)

// MRZ is a machine readable zone: lines of letters that a reader of travel
// documents takes. It is always black.
type MRZ struct {
	Format mrz.Format
	// What it says, field by field; all are empty where Lines are given.
	Document, State, Number, Optional, Optional2, Born, Sex, Expires, Nationality, Surname, Forenames Template
	// Lines are the lines as they are, check digits and all; nil where they are
	// composed.
	Lines []Template
	Font  string      // family or file within the programme folder; empty the bundled one
	Size  unit.Length // em size; 0 as large as fills the cells
	// Spacing is the distance of the lines.
	Spacing unit.Length
}

// Templates are all texts of the zone, in the order of docs/programme.md.
func (m *MRZ) Templates() []*Template {
	all := []*Template{&m.Document, &m.State, &m.Number, &m.Optional, &m.Optional2, &m.Born, &m.Sex, &m.Expires, &m.Nationality, &m.Surname, &m.Forenames}
	for i := range m.Lines {
		all = append(all, &m.Lines[i])
	}
	return all
}

// Fixed says whether the zone is the same for every person.
func (m *MRZ) Fixed() bool {
	for _, t := range m.Templates() {
		if !t.Fixed() {
			return false
		}
	}
	return true
}

// Write is the zone's lines for a person. Given lines are as they are, right or
// wrong; of fields that make no zone the error says why. An invented person, whose
// columns hold no dates and no codes of states, has the zone of the specimen of
// ICAO Doc 9303 where the programme's sample makes none.
func (m *MRZ) Write(p Person) ([]string, error) {
	lines, err := m.write(p)
	if isInvented(p) && (err != nil || len(mrz.Prove(m.Format, lines)) > 0) {
		return mrz.Compose(m.Format, mrz.Specimen(m.Format))
	}
	return lines, err
}

func (m *MRZ) write(p Person) (lines []string, err error) {
	if m.Lines != nil {
		for _, t := range m.Lines {
			lines = append(lines, strings.TrimSpace(t.Expand(p)))
		}
		return lines, nil
	}
	return mrz.Compose(m.Format, mrz.Fields{
		Document: m.Document.Expand(p), State: m.State.Expand(p), Number: m.Number.Expand(p),
		Optional: m.Optional.Expand(p), Optional2: m.Optional2.Expand(p),
		Born: m.Born.Expand(p), Sex: m.Sex.Expand(p), Expires: m.Expires.Expand(p),
		Nationality: m.Nationality.Expand(p), Surname: m.Surname.Expand(p), Given: m.Forenames.Expand(p),
	})
}

// Spacings of lines that can be told from a typing error, and the usual ones: of
// three lines 4.0 mm (ICAO Doc 9303-5, figure 6, read in a public transcription),
// of two a quarter of an inch (from memory).
const (
	minSpacing, maxSpacing             = 2 * mm, 20 * mm
	usualSpacing3                      = 4 * mm
	usualSpacing2          unit.Length = unit.Inch / 4
)

// mrzField is a field of a zone by its key.
type mrzField struct {
	key  string
	to   *Template
	must string // an example, where it is required
}

func (m *MRZ) fields() []mrzField {
	return []mrzField{
		{"document", &m.Document, "I"}, {"state", &m.State, "UTO"}, {"number", &m.Number, `"{number}"`},
		{"optional", &m.Optional, ""}, {"optional2", &m.Optional2, ""},
		{"born", &m.Born, `"{born}"`}, {"sex", &m.Sex, ""}, {"expires", &m.Expires, `"{expires}"`},
		{"nationality", &m.Nationality, ""}, {"surname", &m.Surname, `"{family}"`}, {"forenames", &m.Forenames, ""},
	}
}

// mrz reads a machine readable zone.
func (p *reading) mrz(v value, kind string, e *Element) group {
	m := &MRZ{}
	e.MRZ = m
	keys := []key{
		{"mrz", intoChoice(&m.Format, choice[mrz.Format]{"td1", mrz.TD1}, choice[mrz.Format]{"td2", mrz.TD2}, choice[mrz.Format]{"td3", mrz.TD3})},
		{"lines", m.lines},
		{"font", func(v value) { m.Font = v.font() }},
		{"size", intoLength(&m.Size, minEm, maxEm)},
		{"spacing", intoLength(&m.Spacing, minSpacing, maxSpacing)},
	}
	for _, f := range m.fields() {
		keys = append(keys, key{f.key, intoTemplate(f.to)})
	}
	g := boxed(v, kind, e, keys...)
	m.settle(g)
	return g
}

// lines reads the lines of a zone that is given whole.
func (m *MRZ) lines(v value) {
	v.each(3, `["{line1}", "{line2}", "{line3}"]`, func(_ int, v value) {
		var t Template
		intoTemplate(&t)(v)
		m.Lines = append(m.Lines, t)
	})
	if v.kind == list && len(v.items) < 2 {
		v.fault("has fewer than two lines; write every line of the zone")
	}
}

// settle holds what is stated of a zone together.
func (m *MRZ) settle(g group) {
	if m.Spacing == 0 {
		m.Spacing = usualSpacing2
		if m.Format == mrz.TD1 {
			m.Spacing = usualSpacing3
		}
	}
	whole := g.has("lines")
	for _, f := range m.fields() {
		switch {
		case whole && g.has(f.key):
			g.seen[f.key].fault("stands beside lines, which say all; take one of them out")
		case !whole && f.must != "":
			g.need(f.key, f.must)
		}
	}
	if m.Format != mrz.TD1 && g.has("optional2") {
		g.seen["optional2"].fault("belongs to a td1 alone; take it out")
	}
	if n, _ := m.Format.Size(); whole && g.seen["mrz"].text == m.Format.String() && len(m.Lines) > 1 && len(m.Lines) != n {
		g.seen["lines"].fault("has %d lines, but a %s has %d; write one text for each", len(m.Lines), m.Format, n)
	}
}
