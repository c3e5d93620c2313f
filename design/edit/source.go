// Package edit changes the text of a programme file in place. What a change does
// not touch stays byte for byte as it was: comments, order, spacing, quotes, line
// ends. What it adds follows the style of what stands around it and the order of
// docs/programme.md.
//
// Every change is checked before it is given out: the new text, read anew, must
// say what the old one said with exactly that change. A text that cannot be
// changed so is left alone and told with an error. Whether the result is a sound
// programme is for design.Parse to say.
package edit

import (
	"errors"
	"fmt"
	"strings"

	"unspool/design"
)

// maxBytes is the most that a programme file may hold; design.Parse turns away
// more.
const maxBytes = 1 << 20

// Source is the text of a programme file with what is needed to change it.
// It is immutable and safe for use by several goroutines: a change makes another
// Source.
type Source struct {
	src  string
	root *node
}

// Open takes a programme file. It may have faults as a programme, but must be
// readable as YAML of the kind that design.Parse reads; otherwise the error is
// that of design.Parse, or says which line cannot be changed in place.
func Open(src []byte) (*Source, error) {
	said, err := design.Outline("programme.yaml", src)
	if err != nil {
		return nil, err
	}
	root, err := read(string(src))
	if err != nil {
		return nil, fmt.Errorf("the file cannot be changed in place: %w", err)
	}
	var b strings.Builder
	if root.outline(&b); b.String() != said {
		return nil, errors.New("the file cannot be changed in place, for a part of it can be read in two ways; put texts of more than one line in quotes")
	}
	return &Source{string(src), root}, nil
}

// Bytes is the text of the file.
func (s *Source) Bytes() []byte { return []byte(s.src) }

// Value is what the file says at a path, and whether it says anything there.
// Numbers come as they are written.
func (s *Source) Value(p Path) (Value, bool) {
	n, err := s.root.at(p)
	return Value{n}, err == nil && n.kind != null
}

// Change is one change of a programme file: Set, Remove, Insert, Move or
// Duplicate of any part, or AddElement, DeleteElement, MoveElement,
// DuplicateElement, RenameElement and SetBlack, which see to what hangs on it.
type Change interface {
	// steps are the simple changes that make up this one in a file that says root.
	steps(root *node) ([]simple, error)
}

// simple is a change that is made in one go.
type simple interface {
	// said is what a file that says root is to say after the change.
	said(root *node) (*node, error)
	// write makes the change in the text; want is what said gave.
	write(t *text, want *node) error
}

// Apply makes changes one after the other. All of them are made or none: the
// error tells the first that cannot be made.
func (s *Source) Apply(changes ...Change) (*Source, error) {
	t := &text{src: s.src, root: s.root, layout: layoutOf(s.src, s.root)}
	for _, c := range changes {
		steps, err := c.steps(t.root)
		if err != nil {
			return nil, err
		}
		for _, step := range steps {
			if err := t.make(step); err != nil {
				return nil, err
			}
		}
	}
	return &Source{t.src, t.root}, nil
}

// make makes a change and holds the text to what it is to say.
func (t *text) make(c simple) error {
	want, err := c.said(t.root)
	if err != nil {
		return err
	}
	if err := c.write(t, want); err != nil {
		return fmt.Errorf("this cannot be changed in place; change it by hand: %w", err)
	}
	if !same(t.root, want) {
		return errors.New("this cannot be changed in place, for the rest of the file would change too; change it by hand")
	}
	return nil
}
