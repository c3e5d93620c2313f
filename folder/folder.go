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
	root      *os.Root
	installed installed
	mu        sync.Mutex
	fonts     map[string][]byte
}

// Open reads the programme at path, which is a card file or a folder with a
// programme.yaml in it, and its roster.
func Open(path string) (*Folder, error) {
	dir, name := path, Name
	if info, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("%s: there is no such file or folder", path)
	} else if !info.IsDir() {
		dir, name = filepath.Dir(path), filepath.Base(path)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	f := &Folder{root: root, fonts: map[string][]byte{}}
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
		return fmt.Errorf("%s: there is no %s in it; name the card file, or make one with unspool demo", f.root.Name(), name)
	}
	if err != nil {
		return err
	}
	p, err := design.Parse(name, src)
	if err != nil {
		return err
	}
	f.Programme = p
	return f.loadRoster(name)
}

func (f *Folder) loadRoster(name string) error {
	r := f.Programme.Roster
	src, err := f.read(r.File, maxRoster)
	if err != nil {
		return fmt.Errorf("%s: roster: %w", name, err)
	}
	f.Roster, err = roster.Read(r.File, src, roster.Options{Sheet: r.Sheet, Separator: r.Separator, Encoding: r.Encoding, Key: r.Key})
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

// read reads a file of the folder whole, up to a limit.
func (f *Folder) read(name string, limit int64) ([]byte, error) {
	file, err := f.root.Open(filepath.FromSlash(name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: %w", name, fs.ErrNotExist)
	case err != nil && strings.Contains(err.Error(), "escapes"):
		return nil, fmt.Errorf("%s leads out of the programme folder; copy the file into it", name)
	case err != nil:
		return nil, err
	}
	defer file.Close()
	if info, err := file.Stat(); err != nil {
		return nil, err
	} else if info.IsDir() {
		return nil, fmt.Errorf("%s is a folder, not a file", name)
	} else if info.Size() > limit {
		return nil, fmt.Errorf("%s has %d MB; at most %d MB are read", name, info.Size()>>20, limit>>20)
	}
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("%s has more than %d MB", name, limit>>20)
	}
	return data, nil
}

// Artwork reads a picture that an element names.
func (f *Folder) Artwork(name string) ([]byte, error) { return f.read(name, maxPicture) }

// Photo reads a person's picture.
func (f *Folder) Photo(name string) ([]byte, error) { return f.read(name, maxPicture) }
