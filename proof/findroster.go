package proof

import (
	"slices"
	"strconv"

	"unspool/code"
	"unspool/design"
	"unspool/roster"
	"unspool/say"
	"unspool/site"
)

// RosterFindings lists what is wrong with the keys of a roster, numbers that have
// lost their leading zeros in the key column and in what is coded, and texts that
// have lost letters, and codes given a second check character.
func RosterFindings(r *roster.Roster, p *design.Programme) (out []Finding) {
	at := func(id string, row int, measure, limit, shared, detail say.Text) {
		f := Finding{ID: id, Level: About(id).Level, Row: row, Roster: true, Card: r.Rows[row].Field(p.Roster.Key), Measure: measure, Limit: limit, Value: 1}
		line := strconv.Itoa(r.Rows[row].Line)
		f.Detail, f.Shared = say.F("%s:%s: %s", p.Roster.File, line, detail), say.F("%s:%s: %s", p.Roster.File, line, shared)
		out = append(out, f)
	}
	for _, k := range r.Keys(p.Roster.Key) {
		switch k.Kind {
		case roster.KeyMissing:
			at("key-missing", k.Row, say.Words("blank"), say.Words("a key"), say.Words("the key column is blank"), say.F("the column %q is blank", p.Roster.Key))
		case roster.KeyDouble:
			line := strconv.Itoa(r.Rows[k.First].Line)
			at("key-twice", k.Row, say.F("%q again", k.Value), say.Words("once"), say.F("the key stands in line %s already", line), say.F("the key %q stands in line %s already", k.Value, line))
		case roster.KeySpaced:
			at("key-spaced", k.Row, say.F("%q", k.Value), say.Words("no space round it"), say.Words("the key begins or ends with a space"), say.F("the key %q begins or ends with a space", k.Value))
		}
	}
	for _, column := range r.Columns {
		if !slices.Contains(fields(p, texts), column) {
			continue
		}
		for _, row := range r.LostLetters(column) {
			v := r.Rows[row].Field(column)
			at("letters-lost", row, say.F("%q", v), say.Words("letters"), say.F("column %q holds question marks where letters belong", column),
				say.F("column %q holds %q: question marks where letters belong", column, v))
		}
	}
	for _, column := range r.Columns {
		if column != p.Roster.Key && !slices.Contains(fields(p, codes), column) {
			continue
		}
		for _, s := range r.LostZeros(column) {
			at("zeros-lost", s.Row, say.F("%q", s.Value), say.F("%q", s.Likely),
				say.F("column %q holds a number that is shorter than the others", column),
				say.F("column %q holds %q where the others are longer; it was likely %q", column, s.Value, s.Likely))
		}
	}
	return append(out, checkedTwice(r, p)...)
}

// leastAlike is how many cards must all have a number that ends in a valid check
// character before that is no chance: one number in ten has a valid digit.
const leastAlike = 4

// checkedTwice finds codes to which a check character is added though the number
// of every card ends in one already.
func checkedTwice(r *roster.Roster, p *design.Programme) (out []Finding) {
	if len(r.Rows) < leastAlike {
		return nil
	}
	for s, f := range p.Faces {
		if f == nil {
			continue
		}
		for i := range f.Elements {
			e := &f.Elements[i]
			if e.Code == nil || !hasCheck(e.Code, r, p) {
				continue
			}
			for row := range r.Rows {
				found := run("check-twice", site.Side(s), e, say.F("%s added to a number that ends in one", string(e.Code.Options.Check)), say.Words("one check character"),
					say.Words("a check character is added, but the number of every card ends in a valid one already"))
				found.Row, found.Card = row, r.Rows[row].Field(p.Roster.Key)
				out = append(out, found)
			}
		}
	}
	return out
}

// hasCheck says whether the text of every card proves under the rule by which a
// check character is to be added to it.
func hasCheck(c *design.Code, r *roster.Roster, p *design.Programme) bool {
	kind, ok := code.ByName(c.Kind)
	o := c.Options
	if !ok || o.Check == code.NoCheck || o.Given {
		return false
	}
	o.Given = true
	for _, row := range r.Rows {
		if _, err := kind.Encode(c.Text.Expand(p.Person(row)), o); err != nil {
			return false
		}
	}
	return true
}

// texts and codes are what fields go into.
func texts(e *design.Element) []*design.Template {
	switch {
	case e.Text != nil:
		return []*design.Template{&e.Text.Text}
	case e.MRZ != nil:
		return e.MRZ.Templates()
	}
	return nil
}

func codes(e *design.Element) []*design.Template {
	switch {
	case e.Code != nil:
		return []*design.Template{&e.Code.Text}
	case e.MRZ != nil:
		return []*design.Template{&e.MRZ.Number}
	}
	return nil
}

// fields are the columns that go into such elements, derived fields followed to
// their columns.
func fields(p *design.Programme, into func(*design.Element) []*design.Template) (columns []string) {
	var follow func(t design.Template)
	follow = func(t design.Template) {
		for _, part := range t.Parts {
			if i := slices.IndexFunc(p.Fields, func(f design.Field) bool { return f.Name == part.Field }); i >= 0 {
				follow(p.Fields[i].Text)
			} else if part.Field != "" {
				columns = append(columns, part.Field)
			}
		}
	}
	for _, f := range p.Faces {
		if f == nil {
			continue
		}
		for i := range f.Elements {
			for _, t := range into(&f.Elements[i]) {
				follow(*t)
			}
		}
	}
	return columns
}
