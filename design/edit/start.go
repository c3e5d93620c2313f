package edit

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"unspool/design"
	"unspool/site"
)

// Start is what a programme is begun with: what a card office knows on its first
// day. What it leaves empty takes the usual value.
type Start struct {
	Name     string
	Roster   string // file of the people
	Sheet    string // of a workbook; empty the first
	Encoding string // of a CSV file; empty is UTF-8
	Roles
	DPI    int    // dots per inch of the head; 0 is 300
	Panels string // letters of the ribbon in the order of feeding; empty is YMCKO
	Carbon site.Carbon
	Black  site.Rule
	// Readers take only what is stated here: name, kind, light, codes and, of a
	// slot, where its line lies.
	Readers []site.Reader
}

// usualPanels and usualDPI are what most card printers have (common practice, no
// source).
const (
	usualPanels = "YMCKO"
	usualDPI    = 300
)

// head is how every new programme begins.
const head = `# Lengths are millimetres from the top-left corner of the card as a person
# reads it; a box is [x, y, width, height]. docs/programme.md explains every key.
unspool: 1
name: %s

# The card stock: ID-1 is the usual 85.6 x 53.98.
card:
  size: ID-1

# Dots per inch of the printer's head.
printer:
  dpi: %d

# The letters stand on the ribbon's box, in the order of feeding. Whether the
# black resin holds carbon is for the supplier to say: carbon or not carbon.
# Until it is known, no infrared reader is said to read the card.
ribbon:
  panels: %s
  resin: %s
`

// blackSays tells what a rule does, for the comment above it.
var blackSays = map[site.Rule]string{
	site.NoRule:  "none: nothing; every\n# black is mixed from dyes.",
	site.Exact:   "exact: dots that are\n# exactly black.",
	site.Dark:    "dark: every dark dot,\n# photos too, up to a limit of 255.",
	site.Objects: "objects: black\n# text, lines and codes, never pictures.",
	site.All:     "all: everything;\n# there is nothing from dyes.",
}

// noReaders stands where no reader is known yet.
const noReaders = `# readers:
#   - {name: Gate, kind: slot, light: 940, accepts: [code39], side: front, from: bottom, line: 12}
#   - {name: Counter, kind: hand, light: 660, accepts: [code39]}
`

// New is a first programme: a portrait, the name, up to three further lines and
// a code of the key, laid out on an ID-1 card. The code lies where the first slot
// reader of a side looks, and on the back only where one looks there. Errors name
// what cannot be.
func New(s Start) (*Source, error) {
	if s.Key == "" {
		return nil, errors.New("no column names the cards; choose one that has another value in every row")
	}
	s.Panels, s.DPI = cmp.Or(s.Panels, usualPanels), cmp.Or(s.DPI, usualDPI)
	var b strings.Builder
	fmt.Fprintf(&b, head, quoted(s.Name), s.DPI, quoted(s.Panels), s.Carbon)
	s.black(&b)
	b.WriteString("\n# What is printed, in the order it is laid down. {column} is filled from the\n# roster.\nfaces:\n")
	for side, elements := range s.faces() {
		if len(elements) > 0 {
			fmt.Fprintf(&b, "  %s:\n", site.Side(side))
			items(&b, "    ", elements)
		}
	}
	s.readers(&b)
	s.people(&b)
	made, err := Open([]byte(b.String()))
	if err != nil {
		return nil, err
	}
	_, err = design.Parse("programme.yaml", made.Bytes())
	return made, err
}

func quoted(s string) string { return scalarText(Text(s).n, false, plain) }

func items(b *strings.Builder, indent string, values []Value) {
	for _, v := range values {
		b.WriteString(indent + "- " + inline(v.n, false, plain) + "\n")
	}
}

// black states the rule where there is both resin and dye to choose from.
func (s Start) black(b *strings.Builder) {
	if !strings.Contains(s.Panels, "K") || !strings.ContainsAny(s.Panels, "YMC") {
		return
	}
	rule := s.Black.String()
	if s.Black == site.Dark {
		rule = "{rule: dark, limit: 40}"
	}
	fmt.Fprintf(b, "\n# The printer driver's rule for what is printed from black resin. %s\nblack: %s\n", blackSays[s.Black], rule)
}

func (s Start) readers(b *strings.Builder) {
	b.WriteString("\n# Who reads the cards, and with which light in nanometres. A slot reads one line\n# at a distance from an edge.\n")
	if len(s.Readers) == 0 {
		b.WriteString(noReaders)
		return
	}
	b.WriteString("readers:\n")
	all := make([]Value, len(s.Readers))
	for i, r := range s.Readers {
		all[i] = readerValue(r)
	}
	items(b, "  ", all)
}

func readerValue(r site.Reader) Value {
	codes := make([]Value, len(r.Accepts))
	for i, a := range r.Accepts {
		codes[i] = Text(a.Kind)
	}
	pairs := []Pair{{"name", Text(r.Name)}, {"kind", Text(r.Kind.String())}, {"light", Number(float64(r.Peak))}, {"accepts", List(codes...)}}
	if r.Kind == site.Slot {
		pairs = append(pairs, Pair{"side", Text(r.Track.Side.String())}, Pair{"from", Text(r.Track.From.String())}, Pair{"line", MM(r.Track.Line)})
	}
	return Group(pairs...)
}

// people states the roster and an invented person.
func (s Start) people(b *strings.Builder) {
	fmt.Fprintf(b, "\n# The people. Every key is there once and names a card.\nroster:\n  file: %s\n  key: %s\n", quoted(s.Roster), quoted(s.Key))
	for _, more := range [...][2]string{{"sheet", s.Sheet}, {"encoding", s.Encoding}} {
		if more[1] != "" {
			fmt.Fprintf(b, "  %s: %s\n", more[0], quoted(more[1]))
		}
	}
	if len(s.Roles.Name) == 0 {
		return
	}
	b.WriteString("\n# The invented person on pictures that leave the card office.\nsample:\n")
	invented := []string{"Ida", "Example"}
	if len(s.Roles.Name) == 1 {
		invented = []string{"Ida Example"}
	}
	for i, column := range s.Roles.Name[:min(len(s.Roles.Name), len(invented))] {
		b.WriteString("  " + keyText(column, false) + ": " + invented[i] + "\n")
	}
}
