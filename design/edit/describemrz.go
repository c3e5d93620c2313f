package edit

import (
	"unspool/design"
	"unspool/mrz"
	"unspool/unit"
)

// usualSpacing is the distance of a zone's lines where the key is left out.
func usualSpacing(f mrz.Format) unit.Length {
	if f == mrz.TD1 {
		return 4 * unit.Millimetre
	}
	return unit.Inch / 4
}

// mrzFields puts what a zone says field by field; those that a file must have also
// where they are empty.
func (d *described) mrzFields(m *design.MRZ) {
	for _, f := range []struct {
		key  string
		t    design.Template
		must bool
	}{
		{"document", m.Document, true}, {"state", m.State, true}, {"number", m.Number, true},
		{"optional", m.Optional, false}, {"optional2", m.Optional2, false},
		{"born", m.Born, true}, {"sex", m.Sex, false}, {"expires", m.Expires, true}, {"nationality", m.Nationality, false},
		{"surname", m.Surname, true}, {"forenames", m.Forenames, false},
	} {
		if text := templateText(f.t); f.must || text != "" {
			d.put(f.key, Text(text))
		}
	}
}

func (d *described) mrz(e design.Element) {
	m := e.MRZ
	d.put("mrz", Text(m.Format.String()))
	if m.Lines != nil {
		var lines []Value
		for _, t := range m.Lines {
			lines = append(lines, Text(templateText(t)))
		}
		d.put("lines", List(lines...))
	} else {
		d.mrzFields(m)
	}
	d.box(e.Box)
	d.unless("", "font", m.Font)
	if m.Size > 0 {
		d.put("size", MM(m.Size))
	}
	if m.Spacing > 0 && m.Spacing != usualSpacing(m.Format) {
		d.put("spacing", MM(m.Spacing))
	}
}
