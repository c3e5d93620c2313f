package edit

import "fmt"

// Set gives the key or item at Path a value. Keys on the way that are missing
// are added, each at the place that the documented order suggests. Where there
// is a value that already means the same, nothing changes; of a list or group
// only what differs.
type Set struct {
	Path  Path
	Value Value
}

// Remove takes the key or item at Path out, with its line and the comment right
// above it that is its own. Of the last key of a group or the last item of a
// list, {} or [] stays.
type Remove struct{ Path Path }

// Insert puts a value into a list, before the item at Path or, where that is one
// beyond the last, at the end. A list that is missing is added.
type Insert struct {
	Path  Path
	Value Value
}

// Move takes the item at Path to index To of its list, from 0, with the comment
// right above it that is its own.
type Move struct {
	Path Path
	To   int
}

// Duplicate puts a copy of the item at Path after it. Where Name is not empty it
// is the name of the copy.
type Duplicate struct {
	Path Path
	Name string
}

func (c Set) steps(*node) ([]simple, error)       { return []simple{c}, nil }
func (c Remove) steps(*node) ([]simple, error)    { return []simple{c}, nil }
func (c Insert) steps(*node) ([]simple, error)    { return []simple{c}, nil }
func (c Move) steps(*node) ([]simple, error)      { return []simple{c}, nil }
func (c Duplicate) steps(*node) ([]simple, error) { return []simple{c}, nil }

// with is the tree with the node at p changed. Nodes on the way are copied; keys
// that are missing are added where make is set.
func (n *node) with(done, rest Path, missing bool, change func(*node) (*node, error)) (*node, error) {
	if len(rest.steps) == 0 {
		return change(n)
	}
	s := rest.steps[0]
	rest = Path{rest.steps[1:]}
	if missing && s.item < 0 && (n.kind == null || n.kind == group && n.find(s.key) < 0) {
		v, err := (&node{}).with(done.with(s), rest, missing, change)
		if err != nil {
			return nil, err
		}
		out := node{kind: group, entries: n.entries}
		out.entries = append(out.entries[:len(out.entries):len(out.entries)], entry{key: s.key, value: v})
		return &out, nil
	}
	i, err := n.index(done, s)
	if err != nil {
		return nil, err
	}
	v, err := n.entries[i].value.with(done.with(s), rest, missing, change)
	if err != nil {
		return nil, err
	}
	out := *n
	out.entries = append([]entry(nil), n.entries...)
	out.entries[i].value = v
	return &out, nil
}

// items is the tree with the list that holds the item at p changed.
func (n *node) items(p Path, missing bool, change func([]entry, int) ([]entry, error)) (*node, error) {
	if len(p.steps) == 0 || p.steps[len(p.steps)-1].item < 0 {
		return nil, fmt.Errorf("%q is no item of a list; write one such as faces.front[2]", p)
	}
	up, s := p.up()
	return n.with(Path{}, up, missing, func(n *node) (*node, error) {
		if n.kind != list && !(missing && n.kind == null) {
			return nil, fmt.Errorf("%s: is no list", up)
		}
		entries, err := change(append([]entry(nil), n.entries...), s.item)
		return &node{kind: list, entries: entries}, err
	})
}

// there holds an index to the items there are.
func there(p Path, items []entry, i int) error {
	if i < 0 || i >= len(items) {
		return fmt.Errorf("%s: there is no such item; the list has %d", p, len(items))
	}
	return nil
}

func (c Set) said(root *node) (*node, error) {
	if len(c.Path.steps) == 0 {
		return nil, fmt.Errorf("the whole file cannot be set; name a key")
	}
	return root.with(Path{}, c.Path, true, func(n *node) (*node, error) { return merge(n, c.Value.node()), nil })
}

// write begins at the part nearest to the path that is there.
func (c Set) write(t *text, want *node) error {
	p := c.Path
	for n := len(p.steps); ; n-- {
		p = Path{c.Path.steps[:n:n]}
		if _, err := t.root.at(p); err == nil {
			break
		}
	}
	part, err := want.at(p)
	if err != nil {
		return err
	}
	return t.become(p, part)
}

func (c Remove) said(root *node) (*node, error) {
	if len(c.Path.steps) == 0 {
		return nil, fmt.Errorf("the whole file cannot be removed; name a key")
	}
	up, s := c.Path.up()
	return root.with(Path{}, up, false, func(n *node) (*node, error) {
		i, err := n.index(up, s)
		if err != nil {
			return nil, err
		}
		out := &node{kind: n.kind}
		out.entries = append(append(out.entries, n.entries[:i]...), n.entries[i+1:]...)
		return out, nil
	})
}

func (c Remove) write(t *text, _ *node) error { return t.remove(c.Path) }

func (c Insert) said(root *node) (*node, error) {
	return root.items(c.Path, true, func(items []entry, i int) ([]entry, error) {
		if i > len(items) {
			return nil, there(c.Path, items, i)
		}
		items = append(items, entry{})
		copy(items[i+1:], items[i:])
		items[i] = entry{value: c.Value.node()}
		return items, nil
	})
}

func (c Insert) write(t *text, want *node) error {
	up, _ := c.Path.up()
	if n, err := t.root.at(up); err == nil && n.kind == list && len(n.entries) > 0 {
		return t.insert(c.Path, c.Value.node())
	}
	v, err := want.at(up)
	if err != nil {
		return err
	}
	return Set{up, Value{v}}.write(t, want)
}

func (c Move) said(root *node) (*node, error) {
	return root.items(c.Path, false, func(items []entry, i int) ([]entry, error) {
		if err := there(c.Path, items, i); err != nil {
			return nil, err
		}
		up, _ := c.Path.up()
		if err := there(up.Item(c.To), items, c.To); err != nil {
			return nil, err
		}
		moved := items[i]
		items = append(items[:i], items[i+1:]...)
		items = append(items, entry{})
		copy(items[c.To+1:], items[c.To:])
		items[c.To] = moved
		return items, nil
	})
}

func (c Move) write(t *text, _ *node) error {
	if _, s := c.Path.up(); s.item == c.To {
		return nil
	}
	return t.move(c.Path, c.To)
}

func (c Duplicate) said(root *node) (*node, error) {
	return root.items(c.Path, false, func(items []entry, i int) ([]entry, error) {
		if err := there(c.Path, items, i); err != nil {
			return nil, err
		}
		twin := items[i]
		if c.Name != "" {
			v, err := twin.value.with(c.Path, Keys("name"), true, func(n *node) (*node, error) { return merge(n, Text(c.Name).n), nil })
			if err != nil {
				return nil, err
			}
			twin.value = v
		}
		items = append(items, entry{})
		copy(items[i+1:], items[i:])
		items[i+1] = twin
		return items, nil
	})
}

func (c Duplicate) write(t *text, want *node) error {
	if err := t.duplicate(c.Path); err != nil || c.Name == "" {
		return err
	}
	up, s := c.Path.up()
	twin := up.Item(s.item + 1)
	v, err := want.at(twin)
	if err != nil {
		return err
	}
	return t.become(twin, v)
}
