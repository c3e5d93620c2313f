// Package demo makes the demonstration programme: the crew cards of the
// Sundhaven ferry line. The line, its people, their portraits and its mark are
// invented and drawn by this project.
package demo

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"iter"
	"sync"
	"text/template"

	"unspool/demo/art"
	"unspool/demo/crew"
	"unspool/demo/portrait"
)

// Cards is how many crew cards the demo has unless told otherwise.
const Cards = 60

// Setup is one of the three set-ups of the same cards. They differ in the black
// rule alone.
type Setup struct {
	File   string // card file, within the demo folder
	Folder string // where its results go, within the folder of results
	Title  string
	Lesson string // what the set-up teaches
	Name   string
	Black  string
	Why    string
	// Cause is the finding that must stop the run; empty where none may.
	Cause string
}

// Setups are the three, the right one first.
var Setups = []Setup{
	{File: "programme.yaml", Folder: "right", Title: "Right",
		Lesson: "Codes and text come from resin, the photo from dyes: every reader reads and the photo stays soft.",
		Name:   "Sundhaven crew 2027", Black: "objects",
		Why: "# Black text and codes that arrive as objects go to resin; photos never do."},
	{File: "too-much.yaml", Folder: "too-much", Title: "Too much in resin",
		Lesson: "Every dark dot goes to resin: the readers are content, but dark hair and shadows turn into hard black patches.",
		Name:   "Sundhaven crew 2027, too much in resin", Black: "{rule: dark, limit: 40}", Cause: "photo-in-resin",
		Why: "# WRONG ON PURPOSE: every dark dot goes to resin, hair and shadows too."},
	{File: "too-little.yaml", Folder: "too-little", Title: "Too little in resin",
		Lesson: "All black is mixed from the dyes: it looks right to the eye and to red light, and the infrared clock sees a blank card.",
		Name:   "Sundhaven crew 2027, too little in resin", Black: "none", Cause: "no-carbon",
		Why: "# WRONG ON PURPOSE: everything on the front comes from the dyes, the code too."},
}

//go:embed programme.yaml.tmpl
var programmeText string

var programmeTemplate = template.Must(template.New("programme").Parse(programmeText))

// portraits is how many different portraits there are; a larger crew shares
// them, since each takes a tenth of a second to draw.
const portraits = Cards

// File is one file of the demo, made when it is asked for.
type File struct {
	Name string
	Make func() ([]byte, error)
}

// Files yields every file of a demo programme with n cards.
func Files(n int) iter.Seq[File] {
	people := crew.Crew(n)
	return func(yield func(File) bool) {
		for _, s := range Setups {
			if !yield(File{s.File, s.programme}) {
				return
			}
		}
		fixed := []File{
			{"crew.csv", func() ([]byte, error) { return roster(people) }},
			{"art/front.png", art.Front},
			{"art/mark.svg", art.Mark},
		}
		for _, f := range fixed {
			if !yield(f) {
				return
			}
		}
		for i := range min(n, portraits) {
			if !yield(File{"photos/" + photo(i), func() ([]byte, error) { return portrait.JPEG(people[i].Portrait), nil }}) {
				return
			}
		}
	}
}

func (s Setup) programme() ([]byte, error) {
	var b bytes.Buffer
	err := programmeTemplate.Execute(&b, s)
	return b.Bytes(), err
}

// photo is the file name of the portrait of card i.
func photo(i int) string { return fmt.Sprintf("crew-%02d.jpg", i%portraits+1) }

func roster(people []crew.Member) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write([]string{"number", "name", "latin", "role", "port", "stores", "until", "photo"})
	for i, m := range people {
		w.Write([]string{m.Number, m.Name, m.Latin, m.Role, m.Port, m.Stores, m.Until, photo(i)})
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// Portrait is an invented person with near-black hair, shown wherever a picture
// of a card leaves the card office.
func Portrait() []byte { return sample() }

var sample = sync.OnceValue(func() []byte {
	for _, m := range crew.Crew(Cards) {
		if m.Portrait.Hair == portrait.Black && m.Portrait.Style == portrait.Long {
			return portrait.JPEG(m.Portrait)
		}
	}
	return portrait.JPEG(portrait.Person{Seed: 1, Hair: portrait.Black})
})
