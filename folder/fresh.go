package folder

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"unspool/design"
	"unspool/roster"
)

// Fresh is a folder that has no card file yet: rosters and photos are put into
// it, and at last a card file. It is safe for use by several goroutines.
type Fresh struct {
	root    *os.Root
	letters *letters
	turns   chan struct{} // as many files are taken at a time

	mu     sync.Mutex // of what follows
	files  int        // that were added
	bytes  int64      // the same
	cached table
}

// atOnce is how many files are taken at a time: a picture is looked at in memory.
const atOnce = 4

// OpenFresh opens a folder in which a programme is to be begun. It is nil where
// path is no such folder: there is a card file in it, or it is no folder at all.
func OpenFresh(path string) (*Fresh, error) {
	if info, err := os.Stat(path); err != nil || !info.IsDir() {
		return nil, nil
	}
	if _, err := os.Lstat(filepath.Join(path, Name)); !errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, fmt.Errorf("%s %w", path, unread(err))
	}
	return &Fresh{root: root, letters: &letters{fonts: map[string][]byte{}}, turns: make(chan struct{}, atOnce)}, nil
}

// Close lets go of the folder and of programmes that were tried in it.
func (f *Fresh) Close() error { return f.root.Close() }

// Name is the last part of the folder's path.
func (f *Fresh) Name() string {
	path, err := filepath.Abs(f.root.Name())
	if err != nil {
		path = f.root.Name()
	}
	return filepath.Base(path)
}

// Listing is what lies in a folder: rosters in it, and photos in it or in folders
// right in it, by their names within it.
type Listing struct {
	Rosters, Photos []string
}

// maxListed bounds what is listed.
const maxListed = 200_000

// List lists what lies in the folder.
func (f *Fresh) List() (l Listing) {
	everywhere := func(string) bool { return true }
	looked(f.root, everywhere, func(name string) {
		switch k := kindOf(name); {
		case len(l.Rosters)+len(l.Photos) == maxListed:
		case k == aRoster && path.Dir(name) == ".":
			l.Rosters = append(l.Rosters, name)
		case k == aPhoto:
			l.Photos = append(l.Photos, name)
		}
	})
	return l
}

// kind of a file, told by its ending.
type kind uint8

const (
	another kind = iota
	aRoster
	aPhoto
)

// Endings of the files that a programme is begun from.
var (
	rosterEndings = []string{".csv", ".tsv", ".xlsx"}
	photoEndings  = []string{".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff"}
)

func kindOf(name string) kind {
	switch ext := strings.ToLower(path.Ext(name)); {
	case slices.Contains(rosterEndings, ext):
		return aRoster
	case slices.Contains(photoEndings, ext):
		return aPhoto
	}
	return another
}

// Table is a roster with the sheets of its workbook.
type Table struct {
	*roster.Roster
	Sheets []string // empty where it is no workbook
}

// table is the roster that was read last, for a page asks again and again.
type table struct {
	Table
	of      design.Roster
	changed time.Time
	size    int64
}

// Roster reads a roster as a programme would.
func (f *Fresh) Roster(of design.Roster) (Table, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	info, err := f.root.Stat(filepath.FromSlash(of.File))
	if err != nil {
		return Table{}, fmt.Errorf("%s %w", of.File, unread(err))
	}
	now := table{of: of, changed: info.ModTime(), size: info.Size()}
	if c := f.cached; c.Roster != nil && c.of == of && c.changed.Equal(now.changed) && c.size == now.size {
		return c.Table, nil
	}
	src, err := read(f.root, of.File, maxRoster)
	if err != nil {
		return Table{}, fmt.Errorf("%s %w", of.File, err)
	}
	now.Sheets = roster.Sheets(src)
	now.Roster, err = roster.Read(of.File, src, roster.Options{Sheet: of.Sheet, Separator: of.Separator, Encoding: of.Encoding})
	if err == nil {
		f.cached = now
	}
	return now.Table, err
}

// Try is the folder as it would be with a text as its card file. Nothing on disk
// is changed.
func (f *Fresh) Try(src []byte) (*Folder, error) {
	p, err := design.Parse(Name, src)
	if err != nil {
		return nil, err
	}
	t, err := f.Roster(design.Roster{File: p.Roster.File, Sheet: p.Roster.Sheet, Separator: p.Roster.Separator, Encoding: p.Roster.Encoding})
	if err != nil {
		return nil, err
	}
	return &Folder{Programme: p, Roster: t.Roster, Source: src, root: f.root, letters: f.letters}, p.CheckFields(t.Columns)
}

// ErrBegun says that somebody has put a card file into the folder meanwhile.
var ErrBegun = errors.New("there is a " + Name + " in the folder already; start unspool again to open it")

// Begin writes the card file of a programme that was tried. It is ErrBegun, and
// nothing is written, where there is one by now.
func (f *Fresh) Begin(begun *Folder) error {
	if err := place(f.root, ".", Name, begun.Source); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return ErrBegun
		}
		return told(filepath.Join(f.root.Name(), Name), err)
	}
	return nil
}

// place puts data under a name that must be free, as a whole or not at all.
func place(root *os.Root, dir, name string, data []byte) error {
	temp, err := hold(root, dir)
	if err != nil {
		return err
	}
	defer temp.drop()
	if _, err := temp.Write(data); err != nil {
		return err
	}
	return temp.settle(name)
}

// held is a file under a name of its own until it is whole.
type held struct {
	*os.File
	root      *os.Root
	dir, name string
}

func hold(root *os.Root, dir string) (*held, error) {
	for range 100 {
		name := path.Join(dir, ".taking-"+rand.Text())
		file, err := root.OpenFile(filepath.FromSlash(name), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
		if !errors.Is(err, fs.ErrExist) {
			return &held{file, root, dir, name}, err
		}
	}
	return nil, syscall.EEXIST
}

// settle brings the file to disk under a name that must be free.
func (h *held) settle(name string) error {
	if err := h.Sync(); err != nil {
		return err
	}
	name = path.Join(h.dir, name)
	err := h.root.Link(h.name, name)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	// A file system without links, such as that of a memory stick: the name is
	// taken first, then the file put in its place.
	claim, err := h.root.OpenFile(filepath.FromSlash(name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	claim.Close()
	if err = h.root.Rename(h.name, name); err != nil {
		h.root.Remove(name)
	}
	return err
}

// drop lets go of the file and of its own name, if it still has it.
func (h *held) drop() {
	h.Close()
	h.root.Remove(h.name)
}
