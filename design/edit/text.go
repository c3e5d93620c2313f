package edit

import (
	"errors"
	"strings"
)

// text is a file while it is changed. Each step changes a few bytes and reads
// the whole again, so that places always hold.
type text struct {
	src  string
	root *node
	layout
}

// splice puts s in the place of the bytes from up to to.
func (t *text) splice(from, to int, s string) error {
	src := t.src[:from] + s + t.src[to:]
	if len(src) > maxBytes {
		return errors.New("the file would grow beyond what a programme may have")
	}
	root, err := read(src)
	if err != nil {
		return err
	}
	t.src, t.root = src, root
	return nil
}

// become makes the text at p say what want says, with as little change as it
// takes.
func (t *text) become(p Path, want *node) error {
	n, err := t.root.at(p)
	switch {
	case err != nil:
		return err
	case same(n, want):
		return nil
	case n.kind != want.kind || n.kind < list || len(n.entries) == 0 || len(want.entries) == 0:
		return t.replace(p, want)
	case n.kind == group:
		return t.becomeGroup(p, n, want)
	}
	return t.becomeList(p, n, want)
}

func (t *text) becomeGroup(p Path, n, want *node) error {
	for _, e := range want.entries {
		step := t.become
		if n.find(e.key) < 0 {
			step = t.add
		}
		if err := step(p.Key(e.key), e.value); err != nil {
			return err
		}
	}
	for _, e := range n.entries {
		if want.find(e.key) < 0 {
			if err := t.remove(p.Key(e.key)); err != nil {
				return err
			}
		}
	}
	return nil
}

// becomeList leaves the items alone that the two lists begin and end with.
func (t *text) becomeList(p Path, n, want *node) error {
	old, fresh := n.entries, want.entries
	a := 0
	for a < min(len(old), len(fresh)) && same(old[a].value, fresh[a].value) {
		a++
	}
	z := 0
	for z < min(len(old), len(fresh))-a && same(old[len(old)-1-z].value, fresh[len(fresh)-1-z].value) {
		z++
	}
	i := a
	for ; i < min(len(old), len(fresh))-z; i++ {
		if err := t.become(p.Item(i), fresh[i].value); err != nil {
			return err
		}
	}
	for ; i < len(fresh)-z; i++ {
		if err := t.insert(p.Item(i), fresh[i].value); err != nil {
			return err
		}
	}
	for k := len(old) - z - 1; k >= i; k-- {
		if err := t.remove(p.Item(k)); err != nil {
			return err
		}
	}
	return nil
}

// replace writes want in the place of the value at p.
func (t *text) replace(p Path, want *node) error {
	up, s := p.up()
	parent, err := t.root.at(up)
	if err != nil {
		return err
	}
	i, err := parent.index(up, s)
	if err != nil {
		return err
	}
	e := parent.entries[i]
	old := e.value
	depth := len(up.steps)
	if !parent.flow && parent.kind == group && t.tall(want, depth) {
		return t.replaceTall(e, t.value(want, parent.col, depth))
	}
	s1 := inline(want, parent.flow, old.style)
	end := lineEnd(t.src, e.mark)
	switch {
	case old.from == old.to: // nothing is written
		return t.splice(e.mark, e.mark, " "+s1)
	case old.from > end: // it stands below its key
		return t.splice(e.mark, old.to, " "+s1+t.src[e.mark:end])
	}
	return t.splice(old.from, old.to, s1)
}

// replaceTall puts lines below a key in the place of its value; a comment beside
// the key stays there.
func (t *text) replaceTall(e entry, lines string) error {
	old := e.value
	end := lineEnd(t.src, e.mark)
	if old.from > end {
		return t.splice(end, old.to, lines)
	}
	rest := lineEnd(t.src, old.to)
	return t.splice(e.mark, rest, strings.TrimRight(t.src[old.to:rest], " \t")+lines)
}

// add writes a key that is not there yet.
func (t *text) add(p Path, v *node) error {
	up, s := p.up()
	n, err := t.root.at(up)
	if err != nil {
		return err
	}
	i := slot(n.entries, s.key, keyOrder(up))
	if n.flow {
		return t.insertFlow(n, i, keyText(s.key, true)+": "+inline(v, true, v.style))
	}
	tall := t.tall(v, len(up.steps)) || i == 0 || strings.Contains(t.src[n.entries[i-1].from:n.entries[i-1].to()], "\n")
	return t.insertBlock(n, i, keyText(s.key, false)+":"+t.value(v, n.col, len(up.steps)), tall)
}

// insert writes an item before the one at p, or after the last.
func (t *text) insert(p Path, v *node) error {
	up, s := p.up()
	n, err := t.root.at(up)
	switch {
	case err != nil:
		return err
	case n.kind != list || len(n.entries) == 0:
		return t.replace(up, List(Value{v}).n)
	case n.flow:
		written := inline(v, true, v.style)
		return t.insertFlow(n, s.item, written)
	}
	beside := n.entries[max(s.item-1, 0)]
	return t.insertBlock(n, s.item, t.item(v, n.col, &beside), true)
}

// duplicate writes the item at p again after it.
func (t *text) duplicate(p Path) error {
	up, s := p.up()
	n, err := t.root.at(up)
	if err != nil {
		return err
	}
	e := n.entries[s.item]
	written := t.src[e.from:e.to()]
	if n.flow {
		return t.insertFlow(n, s.item+1, written)
	}
	return t.insertBlock(n, s.item+1, written, true)
}

// move takes the item at p to index to of its list, with the comments that are
// its own.
func (t *text) move(p Path, to int) error {
	up, s := p.up()
	n, err := t.root.at(up)
	if err != nil {
		return err
	}
	if n.flow {
		return t.moveFlow(n, s.item, to)
	}
	if !opensLine(t.src, n.entries[0].from) {
		return errors.New("the list begins beside another dash; begin it on a line of its own")
	}
	chunk := t.src[t.head(n, s.item):t.tail(n, s.item)]
	chunk = strings.TrimRight(strings.TrimLeft(chunk, " "), "\r\n")
	if err := t.removeBlock(n, s.item); err != nil {
		return err
	}
	if n, err = t.root.at(up); err != nil {
		return err
	}
	return t.insertBlock(n, to, chunk, true)
}

// remove takes a key or an item out, with the comments that are its own.
func (t *text) remove(p Path) error {
	up, s := p.up()
	n, err := t.root.at(up)
	if err != nil {
		return err
	}
	i, err := n.index(up, s)
	switch {
	case err != nil:
		return err
	case n.flow:
		return t.removeFlow(n, i)
	case len(n.entries) > 1:
		return t.removeBlock(n, i)
	case len(up.steps) == 0:
		return errors.New("nothing would be left of the file")
	}
	return t.replace(up, &node{kind: n.kind})
}
