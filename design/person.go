package design

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Person reads row, whose fields are the columns of the roster, through the
// derived fields of the programme: a derived field's value is its text written
// for that row.
func (p *Programme) Person(row Person) Person {
	if len(p.Fields) == 0 {
		return row
	}
	return derived{p, row}
}

// Invented is the person whom pictures show that leave the card office: what
// the programme's sample says and, for the other columns of like, zeros for
// every digit of a number and the word Sample for anything else.
func (p *Programme) Invented(like Person) Person { return p.Person(invented{p, like}) }

// isInvented says whether a person is one that Invented made.
func isInvented(p Person) bool {
	if d, ok := p.(derived); ok {
		p = d.row
	}
	_, ok := p.(invented)
	return ok
}

type invented struct {
	p    *Programme
	like Person
}

func (i invented) Field(name string) string {
	for _, f := range i.p.Sample {
		if f.Name == name {
			return f.Text.Expand(nil)
		}
	}
	value := i.like.Field(name)
	switch {
	case value == "":
		return ""
	case strings.ContainsAny(value, "0123456789"):
		return strings.Map(hidden, value)
	}
	return "Sample"
}

// hidden is what stands for a letter or digit of a number that is not shown.
func hidden(r rune) rune {
	switch {
	case unicode.IsDigit(r):
		return '0'
	case unicode.IsLetter(r):
		return 'X'
	}
	return r
}

// derived is a row seen through the derived fields.
type derived struct {
	p   *Programme
	row Person
}

// Field ends, for Parse has seen to it that no field is made of itself.
func (d derived) Field(name string) string {
	for i := range d.p.Fields {
		if d.p.Fields[i].Name == name {
			return d.p.Fields[i].Text.Expand(d)
		}
	}
	return d.row.Field(name)
}

// CheckFields holds the programme to the columns of its roster: the key and
// every field that a text, a photo or a condition names must be a column or a
// derived field. The error is a *Faults with the places in the programme file.
func (p *Programme) CheckFields(columns []string) error {
	c := fieldCheck{Faults{File: p.File}, columns, slices.Clone(columns)}
	for _, f := range p.Fields {
		if slices.Contains(columns, f.Name) {
			c.add(f.Pos, "fields."+f.Name, "is a column of the roster too; write another name")
			continue
		}
		c.names = append(c.names, f.Name)
	}
	if !slices.Contains(columns, p.Roster.Key) {
		c.add(p.Roster.KeyPos, "roster.key", "is %s, which is no column of %s%s", show(p.Roster.Key), p.Roster.File, hint(p.Roster.Key, columns))
	}
	for _, f := range p.Fields {
		c.template("fields."+f.Name, f.Text)
	}
	for _, f := range p.Sample {
		if !slices.Contains(columns, f.Name) {
			c.add(f.Pos, "sample."+f.Name, "is no column of the roster%s", hint(f.Name, columns))
		}
	}
	for _, face := range p.Faces {
		if face == nil {
			continue
		}
		for i := range face.Elements {
			c.element(fmt.Sprintf("faces.%s[%d]", face.Side, i+1), &face.Elements[i])
		}
	}
	return c.err()
}

type fieldCheck struct {
	Faults
	columns []string
	names   []string // columns and derived fields
}

func (c *fieldCheck) element(path string, e *Element) {
	switch {
	case e.Photo != nil:
		c.template(path+".photo", e.Photo.File)
	case e.Text != nil:
		c.template(path+".text", e.Text.Text)
	case e.Code != nil:
		c.template(path+".text", e.Code.Text)
	case e.MRZ != nil:
		for _, f := range e.MRZ.fields() {
			c.template(path+"."+f.key, *f.to)
		}
		for i, t := range e.MRZ.Lines {
			c.template(fmt.Sprintf("%s.lines[%d]", path, i+1), t)
		}
	}
	if e.Show != nil {
		c.field(e.Show.Pos, path+".show.field", e.Show.Field)
	}
}

func (c *fieldCheck) template(path string, t Template) {
	for _, part := range t.Parts {
		if part.Field != "" {
			c.field(t.Pos, path, part.Field)
		}
	}
}

func (c *fieldCheck) field(at Pos, path, name string) {
	if !slices.Contains(c.names, name) {
		c.add(at, path, "names the field %s, which is no column of the roster%s", show(name), hint(name, c.names))
	}
}
