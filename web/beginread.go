package web

import (
	"path"
	"slices"
	"strings"

	"unspool/code"
	"unspool/design"
	"unspool/design/edit"
	"unspool/folder"
	"unspool/roster"
)

// gathered is a roster as a page has it read, beside what else lies in the folder.
type gathered struct {
	folder.Listing
	folder.Table            // without a roster where there is none
	of           sourceForm // with what was left open filled in
}

// usualEncoding is taken where nobody says otherwise.
const usualEncoding = "utf-8"

// gather reads the roster that a page names. Which one, and in which encoding, is
// found out where the page leaves it open.
func (b *Bench) gather(asked sourceForm) (d gathered, err error) {
	d = gathered{Listing: b.options.Fresh.List(), of: asked}
	if d.of.Roster == "" {
		if len(d.Rosters) == 0 {
			return d, nil
		}
		d.of.Roster = d.Rosters[0]
	}
	if !slices.Contains(d.Rosters, d.of.Roster) {
		return d, refused{"there is no such roster in the folder", "choose one of those that are there"}
	}
	tries := []string{d.of.Encoding}
	switch {
	case strings.EqualFold(path.Ext(d.of.Roster), ".xlsx"):
		tries = []string{""}
	case d.of.Encoding == "":
		tries = []string{usualEncoding, "windows-1252"}
	}
	var first error
	for _, encoding := range tries {
		d.Table, err = b.options.Fresh.Roster(design.Roster{File: d.of.Roster, Sheet: d.of.Sheet, Encoding: encoding})
		if err == nil {
			d.of.Encoding = encoding
			return d, nil
		}
		if first == nil {
			first = err
		}
	}
	d.of.Encoding = tries[0]
	return d, first
}

// guessRows is how many rows a guess looks at.
const guessRows = 500

// roles are the columns that a person chose, and a guess of the rest.
func (d gathered) roles(asked rolesAsked) edit.Roles {
	people := edit.People{Columns: d.Columns, Photos: d.Photos}
	if asked.Key != nil {
		people.Key = *asked.Key
	}
	for _, r := range d.Rows[:min(len(d.Rows), guessRows)] {
		cells := make([]string, len(d.Columns))
		for i, c := range d.Columns {
			cells[i] = r.Field(c)
		}
		people.Rows = append(people.Rows, cells)
	}
	r := edit.Guess(people)
	for _, set := range []struct {
		to    *string
		asked *string
	}{{&r.Folder, asked.Folder}, {&r.Code, asked.Code}} {
		if set.asked != nil {
			*set.to = *set.asked
		}
	}
	if asked.Name != nil {
		r.Name = *asked.Name
	}
	if asked.Lines != nil {
		r.Lines = *asked.Lines
	}
	if asked.Photo != nil {
		r.Photo = joined(*asked.Photo)
		if asked.Folder == nil {
			r.Folder = d.folderOf(r.Photo)
		}
	}
	return r
}

// joined is the file name of a photo as a card file writes it; parted takes it
// apart.
func joined(p photoForm) string {
	if p.Column == "" {
		return ""
	}
	return "{" + p.Column + "}" + strings.NewReplacer("{", "{{", "}", "}}").Replace(p.Ending)
}

func parted(photo string) photoForm {
	column, ending, _ := strings.Cut(strings.TrimPrefix(photo, "{"), "}")
	return photoForm{column, ending}
}

// photosIn counts the photos of each folder, in the order of their names.
func (d gathered) photosIn() (folders []folderForm) {
	for _, p := range d.Photos {
		name := path.Dir(p)
		i := slices.IndexFunc(folders, func(f folderForm) bool { return f.Name == name })
		if i < 0 {
			i, folders = len(folders), append(folders, folderForm{name, 0})
		}
		folders[i].Photos++
	}
	slices.SortFunc(folders, func(a, b folderForm) int { return strings.Compare(a.Name, b.Name) })
	return folders
}

// guessFolders is how many folders a guess looks into.
const guessFolders = 50

// folderOf is the folder that has the most photos of that file name.
func (d gathered) folderOf(photo string) (best string) {
	most, folders := 0, d.photosIn()
	for _, f := range folders[:min(len(folders), guessFolders)] {
		if found := d.photos(edit.Roles{Photo: photo, Folder: f.Name}).Found; found > most {
			best, most = f.Name, found
		}
	}
	return best
}

// someNamed is how many keys an answer names.
const someNamed = 12

// photos says who has a photo.
func (d gathered) photos(r edit.Roles) photosForm {
	f := photosForm{Without: []string{}, Folders: append([]folderForm{}, d.photosIn()...), Endings: []string{}, Unused: len(d.Photos)}
	there := make(map[string]bool, len(d.Photos))
	for _, p := range d.Photos {
		there[p] = true
		if end := path.Ext(p); !slices.Contains(f.Endings, end) {
			f.Endings = append(f.Endings, end)
		}
	}
	slices.Sort(f.Endings)
	if r.Photo == "" {
		return f
	}
	p := parted(r.Photo)
	for _, row := range d.Rows {
		name, cell := "", row.Field(p.Column)
		if cell != "" {
			name = path.Join(r.Folder, cell+p.Ending)
		}
		used, has := there[name]
		switch {
		case has:
			f.Found++
			if used {
				there[name] = false // counted
				f.Unused--
			}
		case len(f.Without) < someNamed:
			f.Without = append(f.Without, shortened(row.Field(r.Key)))
		}
	}
	return f
}

// keys says what is wrong with the keys, and which codes can carry them.
func (d gathered) keys(column string) keysForm {
	f := keysForm{Some: []string{}, Codes: []string{}, Zeros: len(d.LostZeros(column))}
	for _, k := range d.Keys(column) {
		switch k.Kind {
		case roster.KeyMissing:
			f.Missing++
		case roster.KeyDouble:
			if f.Double++; len(f.Some) < someNamed {
				f.Some = append(f.Some, shortened(k.Value))
			}
		default:
			f.Spaced++
		}
	}
	for _, k := range code.All() {
		if d.carries(k, column) {
			f.Codes = append(f.Codes, k.Name)
		}
	}
	return f
}

// carriedRows is how many keys are encoded to see whether a code can carry them;
// the proof looks at all.
const carriedRows = 5000

func (d gathered) carries(k code.Kind, column string) bool {
	for _, r := range d.Rows[:min(len(d.Rows), carriedRows)] {
		if key := r.Field(column); key != "" {
			if !k.Carries(key) {
				return false
			}
		}
	}
	return true
}
