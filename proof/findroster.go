package proof

import (
	"fmt"
	"slices"

	"unspool/code"
	"unspool/design"
	"unspool/roster"
	"unspool/site"
)

// RosterFindings lists what is wrong with the keys of a roster, numbers that have
// lost their leading zeros in the key column and in what is coded, and texts that
// have lost letters, and codes given a second check character.
func RosterFindings(r *roster.Roster, p *design.Programme) (out []Finding) {
	at := func(id string, row int, measure, limit, shared, detail string, args ...any) {
		f := Finding{ID: id, Level: About(id).Level, Row: row, Roster: true, Card: r.Rows[row].Field(p.Roster.Key), Measure: measure, Limit: limit, Value: 1}
		where := fmt.Sprintf("%s:%d: ", p.Roster.File, r.Rows[row].Line)
		f.Detail, f.Shared = where+fmt.Sprintf(detail, args...), where+shared
		out = append(out, f)
	}
	for _, k := range r.Keys(p.Roster.Key) {
		switch k.Kind {
		case roster.KeyMissing:
			at("key-missing", k.Row, "blank", "a key", "the key column is blank", "the column %q is blank", p.Roster.Key)
		case roster.KeyDouble:
			at("key-twice", k.Row, fmt.Sprintf("%q again", k.Value), "once", fmt.Sprintf("the key stands in line %d already", r.Rows[k.First].Line), "the key %q stands in line %d already", k.Value, r.Rows[k.First].Line)
		case roster.KeySpaced:
			at("key-spaced", k.Row, fmt.Sprintf("%q", k.Value), "no space round it", "the key begins or ends with a space", "the key %q begins or ends with a space", k.Value)
		}
	}
	for _, column := range r.Columns {
		if !slices.Contains(fields(p, texts), column) {
			continue
		}
		for _, row := range r.LostLetters(column) {
			v := r.Rows[row].Field(column)
			at("letters-lost", row, fmt.Sprintf("%q", v), "letters", fmt.Sprintf("column %q holds question marks where letters belong", column),
				"column %q holds %q: question marks where letters belong", column, v)
		}
	}
	for _, column := range r.Columns {
		if column != p.Roster.Key && !slices.Contains(fields(p, codes), column) {
			continue
		}
		for _, s := range r.LostZeros(column) {
			at("zeros-lost", s.Row, fmt.Sprintf("%q", s.Value), fmt.Sprintf("%q", s.Likely),
				fmt.Sprintf("column %q holds a number that is shorter than the others", column),
				"column %q holds %q where the others are longer; it was likely %q", column, s.Value, s.Likely)
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
				found := run("check-twice", site.Side(s), e, string(e.Code.Options.Check)+" added to a number that ends in one", "one check character",
					"a check character is added, but the number of every card ends in a valid one already")
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
func texts(e *design.Element) (t design.Template, ok bool) {
	if e.Text == nil {
		return t, false
	}
	return e.Text.Text, true
}

func codes(e *design.Element) (t design.Template, ok bool) {
	if e.Code == nil {
		return t, false
	}
	return e.Code.Text, true
}

// fields are the columns that go into such elements, derived fields followed to
// their columns.
func fields(p *design.Programme, into func(*design.Element) (design.Template, bool)) (columns []string) {
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
			if t, ok := into(&f.Elements[i]); ok {
				follow(t)
			}
		}
	}
	return columns
}
