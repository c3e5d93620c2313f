package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"unspool/design"
)

// With is the folder with another text in the place of its card file: a
// programme that has not been saved. The roster is read again only where the
// text names another one. Nothing on disk is changed; closing one of the two
// folders closes both.
func (f *Folder) With(src []byte) (*Folder, error) {
	name := f.Programme.File
	p, err := design.Parse(name, src)
	if err != nil {
		return nil, err
	}
	next := &Folder{Programme: p, Source: src, root: f.root, letters: f.letters}
	if sameRoster(f.Programme.Roster, p.Roster) {
		next.Roster = f.Roster
		return next, p.CheckFields(f.Roster.Columns)
	}
	return next, next.loadRoster(name)
}

// Again is the folder as it now is on disk: card file, roster and all that the card
// file names are read anew. Closing one of the two folders closes both.
func (f *Folder) Again() (*Folder, error) {
	next := &Folder{root: f.root, letters: &letters{fonts: map[string][]byte{}}}
	return next, next.load(f.Programme.File)
}

// sameRoster says whether two programmes read the same people.
func sameRoster(a, b design.Roster) bool {
	a.FilePos, a.KeyPos, a.Key = b.FilePos, b.KeyPos, b.Key
	return a == b
}

// OnDisk reads the card file as it is now.
func (f *Folder) OnDisk() ([]byte, error) { return f.read(f.Programme.File, maxProgramme) }

// Save puts a text in the place of the card file.
func (f *Folder) Save(src []byte) error { return WriteFile(f.at(f.Programme.File), src) }

func (f *Folder) at(name string) string { return filepath.Join(f.root.Name(), name) }

// maxCopies bounds the copies that are kept beside a card file.
const maxCopies = 100

// KeepCopy writes a text beside the card file, under a name that is free, and
// gives that name: programme.yaml.mine, programme.yaml.mine-2 and so on.
func (f *Folder) KeepCopy(src []byte) (name string, err error) {
	for i := 1; i <= maxCopies; i++ {
		name = f.Programme.File + ".mine"
		if i > 1 {
			name = fmt.Sprintf("%s-%d", name, i)
		}
		if _, err := f.root.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, WriteFile(f.at(name), src)
		}
	}
	return "", fmt.Errorf("there are %d copies of %s already; take some away", maxCopies, f.Programme.File)
}

// maxPictures bounds the list of artwork.
const maxPictures = 200

// Pictures lists the artwork there is, by the names that a programme calls it by:
// pictures in the folder itself and in folders right in it, but not those where
// the programme's photos lie.
func (f *Folder) Pictures() (names []string) {
	photos := map[string]bool{}
	for _, face := range f.Programme.Faces {
		if face == nil {
			continue
		}
		for _, e := range face.Elements {
			if e.Photo != nil {
				photos[path.Clean(e.Photo.Folder)] = true
			}
		}
	}
	looked(f.root, func(dir string) bool { return !photos[dir] }, func(name string) {
		if slices.Contains(artwork, strings.ToLower(path.Ext(name))) && len(names) < maxPictures {
			names = append(names, name)
		}
	})
	return names
}

// looked gives the plain files of a folder and of those folders right in it that
// are wanted, by their names within it. What begins with a full stop is hidden.
func looked(root *os.Root, want func(dir string) bool, give func(name string)) {
	list := func(dir string) (folders []string) {
		entries, err := fs.ReadDir(root.FS(), dir)
		if err != nil {
			return nil
		}
		for _, e := range entries {
			name := path.Join(dir, e.Name())
			switch {
			case strings.HasPrefix(e.Name(), "."):
			case e.IsDir() && want(name):
				folders = append(folders, name)
			case e.Type().IsRegular():
				give(name)
			}
		}
		return folders
	}
	for _, dir := range list(".") {
		list(dir)
	}
}

// artwork are the endings of the pictures that are drawn.
var artwork = []string{".png", ".jpg", ".jpeg", ".svg"}
