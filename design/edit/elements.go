package edit

import (
	"fmt"
	"slices"

	"unspool/site"
)

// AddElement puts an element on a side, before element At or, where At is the
// number of elements, on top of all. A side that is not printed yet is added.
type AddElement struct {
	Side    site.Side
	At      int
	Element Value // Describe gives one
}

// DeleteElement takes an element off a side. Codes that named it as the text
// printed beside them no longer do.
type DeleteElement struct {
	Side  site.Side
	Index int
}

// MoveElement takes an element to another place in the order in which the side
// is laid down.
type MoveElement struct {
	Side     site.Side
	From, To int
}

// DuplicateElement puts a copy of an element on top of it. The copy has the given
// name or, where that is empty and the element states one, a free one made of
// it.
type DuplicateElement struct {
	Side  site.Side
	Index int
	Name  string
}

// RenameElement gives an element another name; codes that name it follow.
type RenameElement struct {
	Side  site.Side
	Index int
	Name  string
}

// placed is an element in the file, with the name it goes by.
type placed struct {
	path   Path
	node   *node
	name   string
	stated bool
}

// kinds are the keys that say what an element is.
var kinds = []string{"picture", "photo", "text", "code", "mrz", "rectangle", "ellipse", "line"}

// kindOf is the key that says what an element is; a code is told by it although
// it has a text.
func kindOf(n *node) string {
	if n.kind != group {
		return ""
	}
	if n.find("code") >= 0 {
		return "code"
	}
	for _, e := range n.entries {
		if slices.Contains(kinds, e.key) {
			return e.key
		}
	}
	return ""
}

// elements are all elements with their names; those that state none go by their
// kind and number as docs/programme.md says.
func elements(root *node) []placed {
	var all []placed
	faces := root.get("faces")
	if faces == nil || faces.kind != group {
		return nil
	}
	taken := map[string]bool{}
	for _, side := range faces.entries {
		for i, e := range side.value.entries {
			name := e.value.says("name")
			taken[name] = true
			all = append(all, placed{Keys("faces", side.key).Item(i), e.value, name, name != ""})
		}
	}
	count := map[string]int{}
	for i := range all {
		kind := kindOf(all[i].node)
		for e := &all[i]; e.name == "" && kind != ""; {
			count[kind]++
			if name := fmt.Sprintf("%s %d", kind, count[kind]); !taken[name] {
				e.name = name
			}
		}
	}
	return all
}

// element is the element at p.
func element(root *node, p Path) (placed, error) {
	if _, err := root.at(p); err != nil {
		return placed{}, err
	}
	for _, e := range elements(root) {
		if e.path.String() == p.String() {
			return e, nil
		}
	}
	return placed{}, fmt.Errorf("%s: is no element", p)
}

// printedBy are the codes that name an element as the text printed beside them.
func printedBy(root *node, name string) []Path {
	var codes []Path
	for _, e := range elements(root) {
		if name != "" && e.node.says("printed") == name {
			codes = append(codes, e.path.Key("printed"))
		}
	}
	return codes
}

// pin states the names that codes call elements by but that hang on the number
// of elements, which is about to change.
func pin(root *node) (steps []simple) {
	all := elements(root)
	printed := map[string]bool{}
	for _, e := range all {
		printed[e.node.says("printed")] = true
	}
	for _, e := range all {
		if !e.stated && e.name != "" && printed[e.name] {
			steps = append(steps, Set{e.path.Key("name"), Text(e.name)})
		}
	}
	return steps
}

func (c AddElement) steps(root *node) ([]simple, error) {
	return append(pin(root), Insert{Element(c.Side, c.At), c.Element}), nil
}

func (c MoveElement) steps(root *node) ([]simple, error) {
	return append(pin(root), Move{Element(c.Side, c.From), c.To}), nil
}

func (c DeleteElement) steps(root *node) ([]simple, error) {
	p := Element(c.Side, c.Index)
	e, err := element(root, p)
	if err != nil {
		return nil, err
	}
	steps := pin(root)
	for _, code := range printedBy(root, e.name) {
		steps = append(steps, Remove{code})
	}
	faces := root.get("faces")
	if side := faces.get(c.Side.String()); len(side.entries) == 1 && len(faces.entries) > 1 {
		p = Face(c.Side)
	}
	return append(steps, Remove{p}), nil
}

func (c DuplicateElement) steps(root *node) ([]simple, error) {
	p := Element(c.Side, c.Index)
	e, err := element(root, p)
	if err != nil {
		return nil, err
	}
	if c.Name == "" && e.stated {
		c.Name = free(root, e.name)
	}
	return append(pin(root), Duplicate{p, c.Name}), nil
}

// free is a name made of another that no element has.
func free(root *node, name string) string {
	all := elements(root)
	for i := 2; ; i++ {
		fresh := fmt.Sprintf("%s %d", name, i)
		if !slices.ContainsFunc(all, func(e placed) bool { return e.name == fresh }) {
			return fresh
		}
	}
}

func (c RenameElement) steps(root *node) ([]simple, error) {
	e, err := element(root, Element(c.Side, c.Index))
	if err != nil {
		return nil, err
	}
	steps := append(pin(root), Set{e.path.Key("name"), Text(c.Name)})
	for _, code := range printedBy(root, e.name) {
		steps = append(steps, Set{code, Text(c.Name)})
	}
	return steps, nil
}
