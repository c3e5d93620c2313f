package design_test

import (
	"testing"

	"unspool/design"
	"unspool/site"
)

// row is a row of a roster.
type row map[string]string

func (r row) Field(name string) string { return r[name] }

func TestPersonResolvesDerivedFields(t *testing.T) {
	p := parse(t, edited(t, `{full: "{given} {family}"}`, `{full: "{title} {short}", short: "{given} {family}", again: "{full}/{full}"}`))
	who := p.Person(row{"given": "Zoë", "family": "Okonkwo-Marsh", "title": "Bosun"})
	for name, want := range map[string]string{
		"short": "Zoë Okonkwo-Marsh", "full": "Bosun Zoë Okonkwo-Marsh", "again": "Bosun Zoë Okonkwo-Marsh/Bosun Zoë Okonkwo-Marsh",
		"title": "Bosun", "nothing": "",
	} {
		equal(t, name, who.Field(name), want)
	}
	equal(t, "expanded", p.Faces[site.Front].Elements[0].Text.Text.Expand(who), "Bosun Zoë Okonkwo-Marsh")
	p.Fields = nil
	equal(t, "no derived fields", p.Person(row{"a": "b"}), design.Person(row{"a": "b"}))
}

func TestCheckFields(t *testing.T) {
	p := parse(t, edited(t, "size: 4}", "size: 4, show: {field: role}}"))
	for _, c := range []struct {
		columns []string
		want    string
	}{
		{[]string{"number", "given", "family", "role"}, ""},
		{[]string{"numbr", "given", "family", "role"}, `programme.yaml:6:45: roster.key: is "number", which is no column of crew.xlsx; write numbr
programme.yaml:11:28: faces.front[2].text: names the field "number", which is no column of the roster; write numbr`},
		{[]string{"number", "given", "family", "full"}, `programme.yaml:7:10: fields.full: is a column of the roster too; write another name
programme.yaml:10:59: faces.front[1].show.field: names the field "role", which is no column of the roster; write one of number, given, family, full`},
		{[]string{"number", "family", "role"}, `programme.yaml:7:16: fields.full: names the field "given", which is no column of the roster; write one of number, family, role, full`},
	} {
		got := ""
		if err := p.CheckFields(c.columns); err != nil {
			got = err.Error()
		}
		equal(t, "fault", got, c.want)
	}
}
