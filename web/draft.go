package web

import (
	"bytes"
	"errors"
	"reflect"
	"slices"

	"unspool/design"
	"unspool/design/edit"
)

// draft is the text of the programme on the bench, with the states it was in.
type draft struct {
	history *edit.History // nil where the file cannot be changed in place
	why     error         // then: why
	disk    []byte        // the card file as it was last read or written
	gesture string        // of the last change; "" where it stands alone
}

func newDraft(src []byte) draft {
	now, err := edit.Open(src)
	if err != nil {
		return draft{why: err, disk: src}
	}
	return draft{history: edit.NewHistory(now, maxPast), disk: src}
}

// errNothing says that there is no change to take back or to make again.
var errNothing = errors.New("there is nothing to take back")

// edit makes changes in the text of the programme and puts the outcome on the
// bench. Where that is no sound programme nothing changes. Changes of one gesture,
// such as the steps of a drag, are taken back as one.
func (b *Bench) edit(gesture string, changes ...change) error {
	d := &b.draft
	if d.history == nil {
		return conflict{d.why.Error(), "change the file by hand"}
	}
	was := d.history.Now()
	next := was
	for _, c := range changes {
		made, err := c(next)
		if err == nil && made != nil {
			next, err = next.Apply(made)
		}
		if err != nil {
			return refused{err.Error(), ""}
		}
	}
	if bytes.Equal(next.Bytes(), was.Bytes()) {
		return nil
	}
	if err := b.show(next); err != nil {
		return err
	}
	if gesture != "" && gesture == d.gesture {
		d.history.Undo()
	}
	d.history.Do(next)
	d.gesture = gesture
	return nil
}

// change is a change that is made out once the text it is for is known; nil
// where it comes to nothing there.
type change func(*edit.Source) (edit.Change, error)

func always(c edit.Change) change {
	return func(*edit.Source) (edit.Change, error) { return c, nil }
}

// show puts a text on the bench as the programme.
func (b *Bench) show(src *edit.Source) error {
	next, err := b.now.Load().files.With(src.Bytes())
	if err != nil {
		return err
	}
	return b.put(next)
}

// undo takes the last change back; redo makes it again.
func (b *Bench) undo() error { return b.step((*edit.History).Undo, (*edit.History).Redo) }
func (b *Bench) redo() error { return b.step((*edit.History).Redo, (*edit.History).Undo) }

func (b *Bench) step(there, back func(*edit.History) bool) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	h := b.draft.history
	if h == nil || !there(h) {
		return errNothing
	}
	if err := b.show(h.Now()); err != nil {
		back(h)
		return err
	}
	b.draft.gesture = ""
	return nil
}

// steps says whether there is something to undo and to redo, and whether the
// file on disk lacks something of what is on the bench.
func (b *Bench) steps() (undo, redo, unsaved bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	d := &b.draft
	if d.history == nil {
		return false, false, false
	}
	back, forth := d.history.Steps()
	return back > 0, forth > 0, !bytes.Equal(d.history.Now().Bytes(), d.disk)
}

// changedOnDisk says whether the card file is another than the one that was last
// read or written, be it changed or gone.
func (b *Bench) changedOnDisk() bool {
	now, err := b.now.Load().files.OnDisk()
	b.mu.Lock()
	defer b.mu.Unlock()
	return err != nil || !bytes.Equal(now, b.draft.disk)
}

// errChanged says that saving would lose what somebody else has saved.
var errChanged = conflict{"the file was changed on disk since it was read here", "keep this state as a copy beside it, or take up the file as it is on disk"}

// errOld says that a page speaks of a state that is no longer on the bench.
var errOld = conflict{"the programme has changed since this page was loaded", "look at it as it now is, and try again"}

// save writes the programme to its card file, unless that was changed on disk.
func (b *Bench) save(revision int) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	d := &b.draft
	s := b.now.Load()
	if revision != s.revision {
		return errOld
	}
	if d.history == nil {
		return conflict{d.why.Error(), "change the file by hand"}
	}
	if now, err := s.files.OnDisk(); err != nil || !bytes.Equal(now, d.disk) {
		return errChanged
	}
	src := d.history.Now().Bytes()
	if bytes.Equal(src, d.disk) {
		return nil
	}
	if err := s.files.Save(src); err != nil {
		return err
	}
	d.disk = src
	return nil
}

// keep writes the programme to a file beside its card file and gives the name.
func (b *Bench) keep() (string, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.draft.history == nil {
		return "", conflict{b.draft.why.Error(), "change the file by hand"}
	}
	return b.now.Load().files.KeepCopy(b.draft.history.Now().Bytes())
}

// reload takes up the programme as it is on disk, with all its files. What was on the bench can be
// had back by undo, as long as both files can be changed in place.
func (b *Bench) reload() error {
	b.mu.Lock()
	defer b.mu.Unlock()
	s := b.now.Load()
	if _, err := s.files.OnDisk(); err != nil {
		return refused{s.programme.File + " " + err.Error(), "keep this state as a copy, and put the file back"}
	}
	next, err := s.files.Again()
	if err != nil {
		return err
	}
	if err := b.put(next); err != nil {
		return err
	}
	fresh := newDraft(next.Source)
	if h := b.draft.history; h != nil && fresh.history != nil {
		h.Do(fresh.history.Now())
		fresh.history = h
	}
	b.draft = fresh
	return nil
}

// sameTexts says whether two programmes write the same texts from the same
// columns for the same readers, so that what was found in the roster holds for
// both.
func sameTexts(a, b *design.Programme) bool {
	if a.Roster.Key != b.Roster.Key || !reflect.DeepEqual(a.Readers, b.Readers) {
		return false
	}
	for side := range a.Faces {
		if !slices.EqualFunc(textsOf(a.Faces[side]), textsOf(b.Faces[side]), sameText) {
			return false
		}
	}
	return slices.EqualFunc(a.Fields, b.Fields, func(x, y design.Field) bool {
		return x.Name == y.Name && slices.Equal(x.Text.Parts, y.Text.Parts)
	})
}

func sameText(x, y *design.Element) bool {
	if x.Name != y.Name || kindOf(x) != kindOf(y) || !slices.EqualFunc(templatesOf(x), templatesOf(y), sameParts) {
		return false
	}
	return x.Code == nil || x.Code.Kind == y.Code.Kind && x.Code.Options == y.Code.Options
}

// textsOf are the elements of a face that write something of the roster.
func textsOf(f *design.Face) (all []*design.Element) {
	for i := 0; f != nil && i < len(f.Elements); i++ {
		if e := &f.Elements[i]; templatesOf(e) != nil {
			all = append(all, e)
		}
	}
	return all
}

func sameParts(x, y *design.Template) bool { return slices.Equal(x.Parts, y.Parts) }

// templatesOf are the texts of an element with fields in them; nil where it has
// none.
func templatesOf(e *design.Element) []*design.Template {
	switch {
	case e.Text != nil:
		return []*design.Template{&e.Text.Text}
	case e.Code != nil:
		return []*design.Template{&e.Code.Text}
	case e.Photo != nil:
		return []*design.Template{&e.Photo.File}
	case e.MRZ != nil:
		return e.MRZ.Templates()
	}
	return nil
}
