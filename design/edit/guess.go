package edit

import (
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"unspool/code"
)

// People is what is known of a roster and its photos when a programme is begun.
type People struct {
	Columns []string
	Rows    [][]string // cells, in the order of the columns; some hundred rows tell enough
	Photos  []string   // files within the programme folder, with / between folders
	Key     string     // the column that names a card, where it is known
}

// Roles says which columns of a roster are for what. Guess fills it in from the
// names; what it does not find is empty.
type Roles struct {
	Key    string   // the column that names a card
	Name   []string // the columns that make up a person's name, in order
	Lines  []string // further columns to print, at most three
	Photo  string   // file name of the photo: "{photo}" or "{number}.jpg"
	Folder string   // folder of the photos
	Code   string   // symbology that can carry every key; empty where none can
}

// What columns are commonly called, in English and German, word by word. Own
// judgement.
var (
	keyWords    = []string{"number", "no", "nr", "num", "nummer", "id", "card", "badge", "key", "code", "ausweis"}
	notKeyWords = []string{"phone", "mobile", "telefon", "post", "zip", "plz", "photo", "foto", "room", "house"}
	givenWords  = []string{"given", "first", "forename", "firstname", "givenname", "vorname"}
	familyWords = []string{"family", "last", "surname", "lastname", "familyname", "nachname", "familienname"}
	wholeWords  = []string{"name", "holder", "fullname", "person"}
	photoWords  = []string{"photo", "picture", "image", "portrait", "foto", "bild", "lichtbild"}
	lineWords   = []string{"role", "position", "function", "job", "department", "dept", "company", "team", "unit", "class", "group", "section",
		"port", "site", "until", "expires", "expiry", "valid", "funktion", "abteilung", "firma", "klasse", "gruppe", "bis"}
)

// Limits of a guess.
const (
	guessRows  = 500 // rows that are looked at
	guessLines = 3
	guess39    = 12 // characters of Code 39 that fit the width of a card with ease
	guess128   = 24 // the same of Code 128
)

// Guess finds out which columns are for what: by their names, by which column
// names every row once, and by which photos are named after one.
func Guess(p People) Roles {
	if len(p.Rows) > guessRows {
		p.Rows = p.Rows[:guessRows]
	}
	r := Roles{Key: p.Key}
	if r.Key == "" {
		r.Key = p.key()
	}
	given, family, whole := p.called(givenWords), p.called(familyWords), p.called(wholeWords)
	switch {
	case given != "" && family != "":
		r.Name = []string{given, family}
	case whole != "" && whole != r.Key:
		r.Name = []string{whole}
	case given+family != "":
		r.Name = []string{given + family}
	}
	for _, c := range p.usable() {
		if c != r.Key && !slices.Contains(r.Name, c) && hasWord(c, lineWords) && !hasWord(c, photoWords) && len(r.Lines) < guessLines {
			r.Lines = append(r.Lines, c)
		}
	}
	r.Photo, r.Folder = p.photo(r.Key)
	r.Code = p.symbology(r.Key)
	return r
}

// Usable says whether a text can name a column.
func Usable(column string) bool {
	c := column
	return c != "" && len(c) <= 100 && utf8.ValidString(c) && strings.TrimSpace(c) == c && !strings.ContainsAny(c, "{}") && !strings.ContainsFunc(c, unicode.IsControl)
}

// usable are the columns that a text can name.
func (p People) usable() []string {
	var out []string
	for _, c := range p.Columns {
		if Usable(c) {
			out = append(out, c)
		}
	}
	return out
}

// wordsOf splits the name of a column into words in small letters: "CardNo" and
// "card_no" are card and no.
func wordsOf(column string) []string {
	var b strings.Builder
	lower := false
	for _, r := range column {
		if lower && unicode.IsUpper(r) {
			b.WriteByte(' ')
		}
		lower = unicode.IsLower(r)
		b.WriteRune(unicode.ToLower(r))
	}
	return strings.FieldsFunc(b.String(), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

func hasWord(column string, words []string) bool {
	return slices.ContainsFunc(wordsOf(column), func(w string) bool { return slices.Contains(words, w) })
}

// called is the first column that goes by one of the words, those that it is
// made of alone before others.
func (p People) called(words []string) string {
	found := ""
	for _, c := range p.usable() {
		if !hasWord(c, words) {
			continue
		}
		if len(wordsOf(c)) == 1 {
			return c
		}
		if found == "" {
			found = c
		}
	}
	return found
}

// key is the column that names a card: one that has a value in every row, each
// once, and is called so if there is such.
func (p People) key() string {
	best, most := "", -1
	for _, c := range p.usable() {
		score := 0
		if hasWord(c, keyWords) && !hasWord(c, notKeyWords) {
			score = 1
		}
		if p.unique(c) {
			score += 2
		}
		if score > most {
			best, most = c, score
		}
	}
	return best
}

// cells are the values of a column.
func (p People) cells(column string) []string {
	i := slices.Index(p.Columns, column)
	out := make([]string, len(p.Rows))
	for r, row := range p.Rows {
		if i >= 0 && i < len(row) {
			out[r] = row[i]
		}
	}
	return out
}

func (p People) unique(column string) bool {
	seen := map[string]bool{"": true}
	for _, cell := range p.cells(column) {
		if seen[cell] {
			return false
		}
		seen[cell] = true
	}
	return len(p.Rows) > 0
}

// photo is the file name of a person's photo as a text, and its folder: what
// finds the most photos. Where there are photos but no column finds half of
// them, it is empty.
func (p People) photo(key string) (file, folder string) {
	named := p.called(photoWords)
	if len(p.Photos) == 0 {
		if named == "" {
			return "", ""
		}
		return "{" + named + "}", "photos"
	}
	there := map[string]bool{}
	var folders, endings []string
	for _, f := range p.Photos {
		there[f] = true
		folders = append(folders, path.Dir(f))
		endings = append(endings, path.Ext(f))
	}
	slices.Sort(folders)
	slices.Sort(endings)
	folders, endings = slices.Compact(folders), append([]string{""}, slices.Compact(endings)...)
	if len(folders)*len(endings) > 50 {
		return "", ""
	}
	most := 0
	for _, column := range append([]string{named, key}, p.usable()...) {
		cells := p.cells(column)
		for _, dir := range folders {
			for _, end := range endings {
				n := 0
				for _, cell := range cells {
					if cell != "" && there[path.Join(dir, cell+end)] {
						n++
					}
				}
				if n > most && !strings.ContainsAny(end, "{}") {
					file, folder, most = "{"+column+"}"+end, dir, n
				}
			}
		}
	}
	if 2*most < min(len(p.Photos), len(p.Rows)) {
		return "", ""
	}
	return file, folder
}

// symbology is the code that can carry every key and still fits a card.
func (p People) symbology(key string) string {
	longest := 0
	cells := p.cells(key)
	for _, c := range cells {
		longest = max(longest, len(c))
	}
	for _, try := range []struct {
		name string
		most int
	}{{"code39", guess39}, {"code128", guess128}} {
		kind, _ := code.ByName(try.name)
		fits := longest > 0 && longest <= try.most
		for _, c := range cells {
			if c == "" || !fits {
				continue
			}
			_, err := kind.Encode(c, code.Options{})
			fits = err == nil
		}
		if fits {
			return try.name
		}
	}
	return ""
}
