package web

import (
	"net/http"

	"unspool/design/edit"
	"unspool/site"
)

// layoutForm is what the page asks to be changed. All of it is done or nothing.
type layoutForm struct {
	Revision int          `json:"revision"`
	Gesture  string       `json:"gesture"` // changes with the same one are undone as one
	Changes  []changeForm `json:"changes"`
}

// changeForm is one change of one element. Element counts from 0, in the list as
// the changes before it leave it; a box is in millimetres.
type changeForm struct {
	Do      string      `json:"do"`
	Side    string      `json:"side"`
	Element int         `json:"element"`
	Box     *[4]float64 `json:"box"`
	Key     string      `json:"key"`
	Value   *edit.Value `json:"value"` // null takes the key out
	Name    string      `json:"name"`
	To      int         `json:"to"`
	At      *int        `json:"at"` // absent: on top of all
	Kind    string      `json:"kind"`
	Text    string      `json:"text"` // of what is added, or the file of a picture
}

// maxChanges bounds the changes of one request: every element of a programme
// moved, and some more.
const maxChanges = 1000

func (b *Bench) postLayout(r *http.Request) (any, error) {
	var to layoutForm
	if err := take(r, &to); err != nil {
		return nil, err
	}
	if len(to.Changes) == 0 || len(to.Changes) > maxChanges {
		return nil, refused{"the request names no change, or too many", "load the page again"}
	}
	return b.after(b.layOut(to))
}

// layOut makes the changes that a page asks for, if it speaks of the programme
// as it now is.
func (b *Bench) layOut(to layoutForm) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	s := b.now.Load()
	if to.Revision != s.revision {
		return errOld
	}
	changes := make([]change, len(to.Changes))
	for i, c := range to.Changes {
		var err error
		if changes[i], err = s.changeOf(c); err != nil {
			return err
		}
	}
	return b.edit(to.Gesture, changes...)
}

// changeOf is the change of the text that a change of an element comes to. That
// there is such an element is for package edit to see.
func (s *snapshot) changeOf(c changeForm) (change, error) {
	side, err := sideOf(c.Side)
	if err != nil {
		return nil, err
	}
	if c.Element < 0 || c.To < 0 || c.At != nil && *c.At < 0 {
		return nil, refused{"elements count from 0", "load the page again"}
	}
	switch c.Do {
	case "box":
		if c.Box != nil {
			return boxed(side, c.Element, *c.Box), nil
		}
	case "set":
		if c.Key != "" {
			return set(edit.Element(side, c.Element).Key(c.Key), c.Value), nil
		}
	case "add":
		return s.added(side, c)
	case "delete":
		return always(edit.DeleteElement{Side: side, Index: c.Element}), nil
	case "duplicate":
		return always(edit.DuplicateElement{Side: side, Index: c.Element, Name: c.Name}), nil
	case "move":
		return always(edit.MoveElement{Side: side, From: c.Element, To: c.To}), nil
	case "rename":
		return always(edit.RenameElement{Side: side, Index: c.Element, Name: c.Name}), nil
	}
	return nil, refused{"the request is not a change that this page makes", "load the page again"}
}

// shapes have their box under the word that says what they are.
var shapes = []string{"rectangle", "ellipse", "line"}

// boxed gives an element another box.
func boxed(side site.Side, i int, box [4]float64) change {
	return func(src *edit.Source) (edit.Change, error) {
		at := edit.Element(side, i)
		key := "box"
		for _, shape := range shapes {
			if _, ok := src.Value(at.Key(shape)); ok {
				key = shape
			}
		}
		return edit.Set{Path: at.Key(key), Value: boxValue(box)}, nil
	}
}

func boxValue(box [4]float64) edit.Value {
	var items [4]edit.Value
	for i, v := range box {
		items[i] = edit.Number(v)
	}
	return edit.List(items[:]...)
}

// set gives a key of an element a value, or takes the key out.
func set(at edit.Path, v *edit.Value) change {
	return func(src *edit.Source) (edit.Change, error) {
		if v != nil {
			return edit.Set{Path: at, Value: *v}, nil
		}
		if _, ok := src.Value(at); !ok {
			return nil, nil
		}
		return edit.Remove{Path: at}, nil
	}
}

type saveForm struct {
	Revision int    `json:"revision"`
	Instead  string `json:"instead"` // keep or reload, where the file was changed on disk
}

// savedForm answers a save.
type savedForm struct {
	benchForm
	Kept string `json:"kept,omitempty"` // the copy that was written
}

func (b *Bench) postSave(r *http.Request) (any, error) {
	var to saveForm
	if err := take(r, &to); err != nil {
		return nil, err
	}
	var kept string
	var err error
	switch to.Instead {
	case "":
		err = b.save(to.Revision)
	case "keep":
		kept, err = b.keep()
	case "reload":
		err = b.reload()
	default:
		err = refused{"a changed file can be kept apart or taken up", "load the page again"}
	}
	if err != nil {
		return nil, err
	}
	return savedForm{b.benchForm(), kept}, nil
}
