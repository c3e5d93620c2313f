package web

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"unspool/code"
	"unspool/design/edit"
	"unspool/report"
	"unspool/site"
	"unspool/unit"
)

// startForm is what a page would begin a programme with.
type startForm struct {
	Name string `json:"name"`
	sourceForm
	Roles   rolesAsked    `json:"roles"`
	DPI     int           `json:"dpi"`
	Panels  string        `json:"panels"`
	Resin   string        `json:"resin"` // carbon, not carbon or unknown
	Black   string        `json:"black"` // a black rule that needs no rectangles
	Readers []readerAsked `json:"readers"`
}

// sourceForm says which roster is meant and how it is read.
type sourceForm struct {
	Roster   string `json:"roster"` // a file; empty the first there is
	Sheet    string `json:"sheet"`
	Encoding string `json:"encoding"` // of a CSV; empty to find out
}

// rolesAsked are the columns that a person has chosen; what is null is guessed.
type rolesAsked struct {
	Key    *string    `json:"key"`
	Name   *[]string  `json:"name"`
	Lines  *[]string  `json:"lines"`
	Photo  *photoForm `json:"photo"`
	Folder *string    `json:"folder"`
	Code   *string    `json:"code"` // a symbology, or empty for none
}

// photoForm is the file name of a photo: the text of a column and an ending. An
// empty column is no photo.
type photoForm struct {
	Column string `json:"column"`
	Ending string `json:"ending"`
}

type readerAsked struct {
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Light   float64  `json:"light"`
	Accepts []string `json:"accepts"`
	Side    string   `json:"side"` // of a slot, as are the next two
	From    string   `json:"from"`
	Line    float64  `json:"line"`
}

// maxReaders bounds the readers of one request, as a card file does.
const maxReaders = 50

// start is what the page says, in the terms of package edit. What stays unsaid of
// the columns is guessed.
func (b *Bench) start(to startForm) (edit.Start, error) {
	if strings.TrimSpace(to.Name) == "" {
		return edit.Start{}, refused{"the programme has no name", "give it the name that is to stand on its cards"}
	}
	read, err := b.gather(to.sourceForm)
	if err != nil {
		return edit.Start{}, err
	}
	if read.Roster == nil {
		return edit.Start{}, refused{"there is no roster in the folder", "put one in first"}
	}
	s := edit.Start{Name: strings.TrimSpace(to.Name), Roster: read.of.Roster, Sheet: read.of.Sheet, Roles: read.roles(to.Roles), DPI: to.DPI, Panels: to.Panels}
	if read.of.Encoding != usualEncoding {
		s.Encoding = read.of.Encoding
	}
	if s.Carbon, err = oneOf(to.Resin, "resin", site.CarbonYes, site.CarbonNo, site.CarbonUnknown); err != nil {
		return edit.Start{}, err
	}
	if s.Black, err = oneOf(to.Black, "black rule", site.NoRule, site.Exact, site.Dark, site.Objects, site.All); err != nil {
		return edit.Start{}, err
	}
	if len(to.Readers) > maxReaders {
		return edit.Start{}, refused{"there are more readers than a programme takes", "leave out those that see the same as another"}
	}
	for _, r := range to.Readers {
		reader, err := r.reader()
		if err != nil {
			return edit.Start{}, err
		}
		s.Readers = append(s.Readers, reader)
	}
	return s, nil
}

func (r readerAsked) reader() (site.Reader, error) {
	out := site.Reader{Name: strings.TrimSpace(r.Name), Peak: unit.Nanometres(r.Light)}
	for _, a := range r.Accepts {
		out.Accepts = append(out.Accepts, site.Accept{Kind: a})
	}
	var err error
	if out.Kind, err = oneOf(r.Kind, "kind of reader", site.Slot, site.Hand, site.Counter, site.Camera); err != nil || out.Kind != site.Slot {
		return out, err
	}
	if out.Track.Side, err = sideOf(r.Side); err != nil {
		return out, err
	}
	if r.Line < 0 || r.Line > 1000 {
		return out, refused{"a slot reader's line lies off the card", "measure it from the edge of the card, in millimetres"}
	}
	out.Track.Line = unit.MM(r.Line)
	out.Track.From, err = oneOf(r.From, "edge", site.Top, site.Bottom)
	return out, err
}

// oneOf is the choice that goes by a word.
func oneOf[T interface{ String() string }](word, what string, choices ...T) (chosen T, err error) {
	for _, c := range choices {
		if c.String() == word {
			return c, nil
		}
	}
	return chosen, refused{"there is no such " + what, "load the page again"}
}

// beginForm is what lies in the folder and what becomes of it.
type beginForm struct {
	Folder  string      `json:"folder"`
	Rosters []string    `json:"rosters"`
	Photos  int         `json:"photos"`
	Codes   []kindForm  `json:"codes"`
	Rules   []ruleForm  `json:"rules"`             // that need no rectangles
	Table   *rosterForm `json:"table"`             // null where there is none that can be read
	Problem string      `json:"problem,omitempty"` // why the roster cannot be read
	sourceForm
	Sheets []string `json:"sheets"` // of a workbook
}

type rosterForm struct {
	Rows    int          `json:"rows"`
	Columns []columnForm `json:"columns"`
	Roles   rolesForm    `json:"roles"`
	Keys    keysForm     `json:"keys"`
	Photos  photosForm   `json:"photos"`
	Letters int          `json:"letters"` // rows whose letters were likely lost
}

type columnForm struct {
	Name    string   `json:"name"`
	Usable  bool     `json:"usable"`
	Samples []string `json:"samples"`
	Filled  int      `json:"filled"` // rows that have something there
}

type rolesForm struct {
	Key    string    `json:"key"`
	Name   []string  `json:"name"`
	Lines  []string  `json:"lines"`
	Photo  photoForm `json:"photo"`
	Folder string    `json:"folder"`
	Code   string    `json:"code"`
}

// keysForm says what is wrong with the keys, in rows.
type keysForm struct {
	Missing int      `json:"missing"`
	Double  int      `json:"double"`
	Spaced  int      `json:"spaced"`
	Zeros   int      `json:"zeros"` // that likely lost their leading zeros
	Some    []string `json:"some"`  // keys that are double
	Codes   []string `json:"codes"` // symbologies that can carry every key
}

// photosForm says who has a photo.
type photosForm struct {
	Found   int          `json:"found"` // rows that have theirs
	Without []string     `json:"without"`
	Unused  int          `json:"unused"` // photos of nobody
	Folders []folderForm `json:"folders"`
	Endings []string     `json:"endings"`
}

type folderForm struct {
	Name   string `json:"name"`
	Photos int    `json:"photos"`
}

// getBegin tells what lies in the folder.
func (b *Bench) getBegin(*http.Request) (any, error) { return b.look(startForm{}), nil }

// postLook tells the same for what a person has chosen.
func (b *Bench) postLook(r *http.Request) (any, error) {
	var to startForm
	if err := take(r, &to); err != nil {
		return nil, err
	}
	return b.look(to), nil
}

func (b *Bench) look(to startForm) beginForm {
	read, err := b.gather(to.sourceForm)
	f := beginForm{Folder: b.options.Fresh.Name(), Rosters: append([]string{}, read.Rosters...), Photos: len(read.Photos), Sheets: append([]string{}, read.Sheets...), sourceForm: read.of}
	for _, k := range code.All() {
		f.Codes = append(f.Codes, kindForm{k.Name, k.Title})
	}
	for _, r := range []site.Rule{site.NoRule, site.Exact, site.Dark, site.Objects, site.All} {
		f.Rules = append(f.Rules, ruleForm{r.String(), report.RuleWords(site.Black{Rule: r, Limit: 40})})
	}
	if err != nil {
		f.Problem = err.Error()
		return f
	}
	if read.Roster != nil {
		f.Table = read.form(to.Roles)
	}
	return f
}

// form is what becomes of a roster.
func (d gathered) form(asked rolesAsked) *rosterForm {
	r := d.roles(asked)
	f := &rosterForm{Rows: len(d.Rows), Columns: []columnForm{}, Keys: d.keys(r.Key), Photos: d.photos(r),
		Roles: rolesForm{Key: r.Key, Name: append([]string{}, r.Name...), Lines: append([]string{}, r.Lines...), Photo: parted(r.Photo), Folder: cmp.Or(r.Folder, "photos"), Code: r.Code}}
	lost := map[int]bool{}
	for _, c := range d.Columns {
		f.Columns = append(f.Columns, d.column(c))
		for _, row := range d.LostLetters(c) {
			lost[row] = true
		}
	}
	f.Letters = len(lost)
	return f
}

// sampleValues is how many values of a column are shown, sampleLetters how much of
// each.
const (
	sampleValues  = 3
	sampleLetters = 60
)

func (d gathered) column(name string) columnForm {
	f := columnForm{Name: name, Usable: edit.Usable(name), Samples: []string{}}
	for _, r := range d.Rows {
		v := r.Field(name)
		if strings.TrimSpace(v) == "" {
			continue
		}
		f.Filled++
		if v = shortened(v); len(f.Samples) < sampleValues && !slices.Contains(f.Samples, v) {
			f.Samples = append(f.Samples, v)
		}
	}
	return f
}

func shortened(s string) string {
	if letters := []rune(s); len(letters) > sampleLetters {
		return string(letters[:sampleLetters]) + "…"
	}
	return s
}
