package design

import (
	"strings"
	"unicode/utf8"
)

// template reads "{given} {family}". Two braces of a kind in a row stand for one.
func (v value) template(s string) Template {
	t := Template{Pos: v.at}
	literal := ""
	flush := func() {
		if literal != "" {
			t.Parts = append(t.Parts, Part{Literal: literal})
		}
		literal = ""
	}
	for s != "" {
		at := strings.IndexAny(s, "{}")
		if at < 0 {
			literal += s
			break
		}
		literal, s = literal+s[:at], s[at:]
		if strings.HasPrefix(s, "{{") || strings.HasPrefix(s, "}}") {
			literal, s = literal+s[:1], s[2:]
			continue
		}
		name, rest, closed := strings.Cut(s[1:], "}")
		switch {
		case s[0] == '}':
			v.fault("has a } without its {; write }} for a brace that is printed")
			return t
		case !closed || strings.Contains(name, "{"):
			v.fault("has a { that is not closed; write {field}, or {{ for a brace that is printed")
			return t
		case strings.TrimSpace(name) != name || name == "" || utf8.RuneCountInString(name) > 100:
			v.fault("has %s in braces; write the name of a column without spaces round it", show(name))
			return t
		}
		flush()
		t.Parts = append(t.Parts, Part{Field: name})
		s = rest
	}
	flush()
	return t
}

// maxFields and maxParts bound the derived fields: fields made of fields could
// otherwise double with each step.
const (
	maxFields = 100
	maxParts  = 200
)

// fields reads the derived fields.
func (p *reading) fields(v value) {
	p.out.Fields = v.named(`names with their texts such as full: "{given} {family}"`)
	p.checkCycles()
}

// sample reads the invented person whom pictures show.
func (p *reading) sample(v value) {
	p.out.Sample = v.named(`columns with invented values such as given: Ida`)
	for _, f := range p.out.Sample {
		if !f.Text.Fixed() {
			p.faults.add(f.Pos, "sample."+f.Name, "names a field; write a plain invented value")
		}
	}
}

// named reads a group of texts by name, in the order of the file.
func (v value) named(example string) (list []Field) {
	if v.kind != object {
		v.wrong("a group of keys", example)
		return nil
	}
	if len(v.pairs) > maxFields {
		v.fault("has %d fields, more than %d; take some out", len(v.pairs), maxFields)
		return nil
	}
	seen := map[string]Pos{}
	for _, pair := range v.pairs {
		item := v.under(pair)
		if first, again := seen[pair.name]; again {
			item.fault("is written twice, first on line %d; keep one", first.Line)
			continue
		}
		seen[pair.name] = pair.at
		if strings.TrimSpace(pair.name) != pair.name || pair.name == "" || strings.ContainsAny(pair.name, "{}\n") {
			item.fault("cannot be the name of a field; write a name without braces or spaces round it")
			continue
		}
		var t Template
		intoTemplate(&t)(item)
		list = append(list, Field{Name: pair.name, Text: t, Pos: pair.at})
	}
	return list
}

// checkCycles finds derived fields that lead back to themselves, and those that
// grow out of bounds.
func (p *reading) checkCycles() {
	byName := map[string]*Field{}
	for i := range p.out.Fields {
		byName[p.out.Fields[i].Name] = &p.out.Fields[i]
	}
	parts := map[string]int{} // leaves of fields already walked
	onPath := map[string]int{}
	var path []string
	var walk func(f *Field) int
	walk = func(f *Field) int {
		if n, done := parts[f.Name]; done {
			return n
		}
		if at, open := onPath[f.Name]; open {
			loop := strings.Join(append(path[at:len(path):len(path)], f.Name), " -> ")
			p.faults.add(f.Pos, "fields."+f.Name, "is made of itself: %s; take one step out", loop)
			return 1
		}
		onPath[f.Name] = len(path)
		path = append(path, f.Name)
		n := 0
		for _, part := range f.Text.Parts {
			if of := byName[part.Field]; of != nil && part.Field != "" {
				n += walk(of)
			} else {
				n++
			}
		}
		path = path[:len(path)-1]
		delete(onPath, f.Name)
		if n > maxParts {
			p.faults.add(f.Pos, "fields."+f.Name, "grows to more than %d parts; write a shorter text", maxParts)
			n = 1
		}
		parts[f.Name] = n
		return n
	}
	for i := range p.out.Fields {
		walk(&p.out.Fields[i])
	}
}
