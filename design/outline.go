package design

import (
	"strconv"
	"strings"
)

// Outline is what a programme file says, without comments, spacing and ways to
// write the same: one line in which text in quotes has double quotes, other
// scalars stand as they are written, and "null" stands for nothing. Files that
// say the same things in the same order have the same outline. The file need not
// make a sound programme, but must be readable as YAML of the kind that Parse
// reads; the error is a *Faults.
func Outline(name string, src []byte) (string, error) {
	root, fault := readYAML(src)
	if fault != nil {
		return "", &Faults{File: name, List: []Fault{*fault}}
	}
	var b strings.Builder
	root.outline(&b)
	return b.String(), nil
}

func (n *node) outline(b *strings.Builder) {
	switch n.kind {
	case null:
		b.WriteString("null")
	case quoted:
		b.WriteString(strconv.Quote(n.text))
	case list:
		b.WriteByte('[')
		for i, item := range n.items {
			if i > 0 {
				b.WriteString(", ")
			}
			item.outline(b)
		}
		b.WriteByte(']')
	case object:
		b.WriteByte('{')
		for i, p := range n.pairs {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(strconv.Quote(p.name) + ": ")
			p.value.outline(b)
		}
		b.WriteByte('}')
	default:
		b.WriteString(n.text)
	}
}
