package edit

import (
	"fmt"
	"strconv"
	"strings"
)

// kind is what a node is.
type kind uint8

const (
	null kind = iota
	scalar
	list
	group // of keys
)

// style is how a scalar is written.
type style uint8

const (
	plain style = iota
	single
	double
	block // | or >
	words // not in a file yet: quotes only where it takes them
)

// node is a part of a file with its place in the text. The same type without
// places is what a file is to say after a change.
type node struct {
	kind     kind
	style    style  // of a scalar
	colour   bool   // of a scalar: any way to write the colour will do
	flow     bool   // of a list or group: in brackets
	text     string // of a scalar, read
	from, to int    // in the file; alike where nothing is written
	col      int    // of a list or group written by indent: of its dashes or keys
	entries  []entry
}

// entry is a key with its value, or an item of a list.
type entry struct {
	key   string
	from  int // of the key, the dash or, in brackets, the item
	mark  int // after the colon or the dash
	comma int // in brackets: after the comma that follows; 0 where none does
	value *node
}

// to is the end of the entry, without its comma.
func (e entry) to() int { return max(e.mark, e.value.to) }

// find is the index of the key, -1 where the group does not have it.
func (n *node) find(key string) int {
	for i, e := range n.entries {
		if e.key == key {
			return i
		}
	}
	return -1
}

// index is the entry that a step leads to.
func (n *node) index(p Path, s step) (int, error) {
	if s.item >= 0 {
		if n.kind != list || s.item >= len(n.entries) {
			return 0, fmt.Errorf("%s: there is no such item; the list has %d", p.with(s), len(n.entries))
		}
		return s.item, nil
	}
	i := -1
	if n.kind == group {
		i = n.find(s.key)
	}
	if i < 0 {
		return 0, fmt.Errorf("%s: is not in the file", p.with(s))
	}
	for _, e := range n.entries[i+1:] {
		if e.key == s.key {
			return 0, fmt.Errorf("%s: is written twice in the file; keep one", p.with(s))
		}
	}
	return i, nil
}

// at is the node that a path leads to.
func (n *node) at(p Path) (*node, error) {
	for i, s := range p.steps {
		j, err := n.index(Path{p.steps[:i]}, s)
		if err != nil {
			return nil, err
		}
		n = n.entries[j].value
	}
	return n, nil
}

// get is the node under keys, nil where there is none.
func (n *node) get(keys ...string) *node {
	for _, k := range keys {
		i := -1
		if n.kind == group {
			i = n.find(k)
		}
		if i < 0 {
			return nil
		}
		n = n.entries[i].value
	}
	return n
}

// says is the text of the scalar under a key, "" where there is none.
func (n *node) says(key string) string {
	if n == nil {
		return ""
	}
	if v := n.get(key); v != nil && v.kind == scalar {
		return v.text
	}
	return ""
}

// same says whether two nodes say the same, whatever the order of their keys and
// the way they are written.
func same(a, b *node) bool {
	if a.kind != b.kind || len(a.entries) != len(b.entries) {
		return false
	}
	if a.kind == scalar {
		return a.text == b.text && a.sort() == b.sort()
	}
	for i, e := range a.entries {
		other := b.entries[i]
		if a.kind == group && other.key != e.key {
			j := b.find(e.key)
			if j < 0 {
				return false
			}
			other = b.entries[j]
		}
		if !same(e.value, other.value) {
			return false
		}
	}
	return true
}

// sort is what a scalar is taken for by readers of YAML.
func (n *node) sort() string {
	if n.style != plain {
		return "text"
	}
	return sortOf(n.text)
}

// outline writes the node as design.Outline does.
func (n *node) outline(b *strings.Builder) {
	switch n.kind {
	case null:
		b.WriteString("null")
	case scalar:
		if n.style == plain {
			b.WriteString(n.text)
		} else {
			b.WriteString(strconv.Quote(n.text))
		}
	default:
		b.WriteByte("[{"[n.kind-list])
		for i, e := range n.entries {
			if i > 0 {
				b.WriteString(", ")
			}
			if n.kind == group {
				b.WriteString(strconv.Quote(e.key) + ": ")
			}
			e.value.outline(b)
		}
		b.WriteByte("]}"[n.kind-list])
	}
}
