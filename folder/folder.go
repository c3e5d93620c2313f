// Package folder is a programme on disk: the card file, the roster, photos,
// artwork and fonts of one folder. Nothing outside the folder is ever opened
// but installed fonts.
package folder

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"

	"unspool/design"
	"unspool/proof"
	"unspool/roster"
)

// Largest files that are read at all.
const (
	maxProgramme = 1 << 20
	maxRoster    = 64 << 20
	maxPicture   = 64 << 20
	maxFont      = 64 << 20
)

// Name is the card file's usual name.
const Name = "programme.yaml"

// Folder is one programme with its roster, read and checked.
type Folder struct {
	Programme *design.Programme
	Roster    *roster.Roster
	Source    []byte // the card file as it was read
	root      *os.Root
	*letters
}

// letters are the fonts that were looked up so far.
type letters struct {
	installed installed
	mu        sync.Mutex
	fonts     map[string][]byte
}

// Open reads the programme at path, which is a card file or a folder with a
// programme.yaml in it, and its roster.
func Open(path string) (*Folder, error) {
	dir, name := path, Name
	if info, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("%s: there is no such file or folder; name a programme folder, or make one with unspool demo", path)
	} else if !info.IsDir() {
		dir, name = filepath.Dir(path), filepath.Base(path)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("%s %w", dir, unread(err))
	}
	f := &Folder{root: root, letters: &letters{fonts: map[string][]byte{}}}
	if err := f.load(name); err != nil {
		root.Close()
		return nil, err
	}
	return f, nil
}

// Close lets go of the folder.
func (f *Folder) Close() error { return f.root.Close() }

func (f *Folder) load(name string) error {
	src, err := f.read(name, maxProgramme)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: there is no %s in it; name the card file, or begin a programme there with unspool serve", f.root.Name(), name)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", filepath.Join(f.root.Name(), name), err)
	}
	p, err := design.Parse(name, src)
	if err != nil {
		return err
	}
	f.Programme, f.Source = p, src
	return f.loadRoster(name)
}

func (f *Folder) loadRoster(name string) error {
	r := f.Programme.Roster
	src, err := f.read(r.File, maxRoster)
	if err != nil {
		fault := &design.Faults{File: name, List: []design.Fault{{Pos: r.FilePos, Path: "roster.file", Text: r.File + " " + err.Error()}}}
		if errors.Is(err, ErrMachine) {
			return Machine(fault)
		}
		return fault
	}
	f.Roster, err = roster.Read(r.File, src, roster.Options{Sheet: r.Sheet, Separator: r.Separator, Encoding: r.Encoding})
	if err != nil {
		return err
	}
	return f.Programme.CheckFields(f.Roster.Columns)
}

// Rows is every card of the roster, ready to be proved.
func (f *Folder) Rows() []proof.Row {
	rows := make([]proof.Row, len(f.Roster.Rows))
	for i := range f.Roster.Rows {
		r := f.Roster.Rows[i]
		rows[i] = proof.Row{Key: r.Field(f.Programme.Roster.Key), Where: fmt.Sprintf("%s:%d", f.Programme.Roster.File, r.Line), Person: f.Programme.Person(r)}
	}
	for _, found := range proof.RosterFindings(f.Roster, f.Programme) {
		rows[found.Row].Found = append(rows[found.Row].Found, found)
	}
	return rows
}

// read reads a file of the folder whole, up to a limit. It never waits for one
// that is no plain file: a pipe or a device could keep it waiting for ever. Errors
// say what is wrong with the file without its name, and what to do.
func (f *Folder) read(name string, limit int64) ([]byte, error) { return read(f.root, name, limit) }

func read(root *os.Root, name string, limit int64) ([]byte, error) {
	file, err := root.OpenFile(filepath.FromSlash(name), os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, unread(err)
	}
	defer file.Close()
	info, err := file.Stat()
	switch {
	case err != nil:
		return nil, unread(err)
	case info.IsDir():
		return nil, errors.New("is a folder; name a file")
	case !info.Mode().IsRegular():
		return nil, errors.New("is a pipe or a device; copy what it gives into a file")
	case info.Size() > limit:
		return nil, fmt.Errorf("has %d MB, and at most %d MB are read; save it smaller", info.Size()>>20, limit>>20)
	}
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, unread(err)
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("grew beyond %d MB while it was read; wait until it is whole", limit>>20)
	}
	return data, nil
}

// unread words why a file of the folder could not be read.
func unread(err error) error {
	why := reason(err)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return missing{}
	case strings.Contains(why.Error(), "escapes"):
		return errors.New("leads out of the programme folder; copy the file into it")
	}
	return Machine(fmt.Errorf("cannot be read (%w); see to its permissions and its disk", why))
}

// missing says that a file is not in the folder. It is an fs.ErrNotExist.
type missing struct{}

func (missing) Error() string {
	return "is not in the programme folder; put it there, or correct the name"
}

func (missing) Is(target error) bool { return target == fs.ErrNotExist }

// Artwork reads a picture that an element names.
func (f *Folder) Artwork(name string) ([]byte, error) { return f.read(name, maxPicture) }

// Photo reads a person's picture.
func (f *Folder) Photo(name string) ([]byte, error) { return f.read(name, maxPicture) }
