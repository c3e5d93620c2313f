package folder

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"unspool/face/picture"
)

// Bounds of what is put into a folder. Own judgement: a card office's largest
// roster with photos straight from a camera.
const (
	MaxRosterFile = maxRoster
	MaxPhotoFile  = 32 << 20
	maxTaken      = 100_000
	maxTakenBytes = 32 << 30
	maxNameBytes  = 200
)

// photoFolder is where photos are put: where a programme looks for them unless it
// says otherwise.
const photoFolder = "photos"

// Unfit is why a file is not taken: a fault of the file, and not of the folder.
type Unfit struct {
	Why  UnfitKind
	What string // what is wrong with it, and what to do
}

func (u Unfit) Error() string { return u.What }

// UnfitKind sorts the reasons why a file is not taken.
type UnfitKind string

// Reasons why a file is not taken.
const (
	UnfitName  UnfitKind = "name"  // the name cannot be kept
	UnfitSort  UnfitKind = "kind"  // neither roster nor photo
	UnfitLarge UnfitKind = "large" // too many bytes
	UnfitPhoto UnfitKind = "photo" // no picture that can be read, or too many pixels
	UnfitTaken UnfitKind = "taken" // another file has the name
	UnfitCut   UnfitKind = "cut"   // it did not arrive whole
	UnfitMany  UnfitKind = "many"  // the folder is full
)

func unfit(why UnfitKind, format string, args ...any) error {
	return Unfit{why, fmt.Sprintf(format, args...)}
}

// Scripts such as Persian need these within a word.
const (
	nonJoiner = '\u200c'
	joiner    = '\u200d'
)

// cleanName is the name under which a file may be kept. Names are composed
// (Unicode Normalization Form C), as rosters write them; some systems hand them
// out decomposed.
func cleanName(name string) (string, error) {
	clean := norm.NFC.String(name)
	switch {
	case !utf8.ValidString(name) || strings.ContainsFunc(clean, func(r rune) bool {
		return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != nonJoiner && r != joiner
	}):
		return "", unfit(UnfitName, "its name holds characters that cannot be seen; name it anew")
	case strings.ContainsAny(clean, `/\`) || !filepath.IsLocal(clean):
		return "", unfit(UnfitName, "its name leads to another folder; give the name alone")
	case strings.HasPrefix(clean, "."):
		return "", unfit(UnfitName, "its name begins with a dot, so it would be hidden; name it anew")
	case len(clean) > maxNameBytes:
		return "", unfit(UnfitName, "its name is longer than %d bytes; give it a shorter one", maxNameBytes)
	case clean != strings.TrimSpace(clean):
		return "", unfit(UnfitName, "its name begins or ends with a space; name it anew")
	}
	return clean, nil
}

// limitOf is how many bytes a file of this name may have; 0 where it is not taken.
func limitOf(name string) int64 {
	switch kindOf(name) {
	case aRoster:
		return MaxRosterFile
	case aPhoto:
		return MaxPhotoFile
	}
	return 0
}

// sortOf says what to do with a file that is neither a roster nor a photo: some
// are one in another form.
func sortOf(name string) error {
	switch ending := strings.ToLower(path.Ext(name)); ending {
	case ".xls", ".xlsm", ".xlsb", ".ods":
		return unfit(UnfitSort, "a roster is not taken as %s; save it as XLSX or CSV", ending)
	case ".heic", ".heif", ".gif", ".bmp", ".avif":
		return unfit(UnfitSort, "a photo is not taken as %s; save it as JPEG or PNG", ending)
	}
	return unfit(UnfitSort, "it is neither a roster (%s) nor a photo (%s); leave it out", strings.Join(rosterEndings, ", "), strings.Join(photoEndings, ", "))
}

// Take puts a file into the folder, a roster in it and a photo in photos, as a
// whole or not at all, and gives its name within the folder. Where the same file
// is there already nothing changes; where another one has the name it is Unfit,
// and so is what is neither roster nor photo, or too large.
func (f *Fresh) Take(name string, from io.Reader) (kept string, err error) {
	base, err := cleanName(name)
	if err != nil {
		return "", err
	}
	dir := "."
	switch kindOf(base) {
	case another:
		return "", sortOf(base)
	case aPhoto:
		dir = photoFolder
	}
	f.turns <- struct{}{}
	defer func() { <-f.turns }()
	if err := f.room(); err != nil {
		return "", err
	}
	if err := f.root.Mkdir(dir, 0o777); dir != "." && err != nil && !errors.Is(err, fs.ErrExist) {
		return "", told(filepath.Join(f.root.Name(), dir), err)
	}
	kept = path.Join(dir, base)
	if err := f.take(dir, base, from); err != nil {
		var u Unfit
		switch {
		case errors.As(err, &u):
			return "", err
		case strings.Contains(err.Error(), "escapes"):
			return "", fmt.Errorf("%s leads out of the folder; put a folder of that name in its place", dir)
		}
		return "", told(filepath.Join(f.root.Name(), kept), err)
	}
	return kept, nil
}

// room says whether there is room for one more file.
func (f *Fresh) room() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.files >= maxTaken || f.bytes >= maxTakenBytes {
		return unfit(UnfitMany, "%d files and %d GB have been put into the folder; begin the programme, or put the rest there by hand", f.files, f.bytes>>30)
	}
	return nil
}

func (f *Fresh) take(dir, base string, from io.Reader) error {
	temp, err := hold(f.root, dir)
	if err != nil {
		return err
	}
	defer temp.drop()
	limit := limitOf(base)
	a := &arriving{Reader: io.LimitReader(from, limit+1)}
	n, err := io.Copy(temp, a)
	if a.cut != nil {
		return unfit(UnfitCut, "it did not arrive whole; put it in again")
	}
	if err != nil {
		return err
	}
	if n > limit {
		return unfit(UnfitLarge, "it has more than %d MB; save it smaller", limit>>20)
	}
	data, err := read(f.root, temp.name, limit)
	if err != nil {
		return err
	}
	if kindOf(base) == aPhoto {
		if err := picture.Check(data); err != nil {
			return unfit(UnfitPhoto, "%s", err)
		}
	}
	if err := temp.settle(base); errors.Is(err, fs.ErrExist) {
		there, err := read(f.root, path.Join(dir, base), limit)
		if err != nil || !bytes.Equal(there, data) {
			return unfit(UnfitTaken, "another file of this name is in the folder, and stays; give this one another name, or take that one out")
		}
		return nil
	} else if err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.files, f.bytes = f.files+1, f.bytes+n
	return nil
}

// arriving keeps the fault of what a file comes from apart from those of where it
// goes.
type arriving struct {
	io.Reader
	cut error
}

func (a *arriving) Read(p []byte) (int, error) {
	n, err := a.Reader.Read(p)
	if err != nil && err != io.EOF {
		a.cut = err
	}
	return n, err
}
