package edit

import (
	"errors"
	"fmt"
	"strings"

	"unspool/design"
	"unspool/plane"
	"unspool/unit"
)

// head is how every new programme begins. %s is its name.
const head = `# Lengths are millimetres from the top-left corner of the card as a person
# reads it; a box is [x, y, width, height]. docs/programme.md explains every key.
unspool: 1
name: %s

# The card stock: ID-1 is the usual 85.6 x 53.98.
card:
  size: ID-1

# Dots per inch of the printer's head.
printer:
  dpi: 300

# The letters stand on the ribbon's box, in the order of feeding. Whether the
# black resin holds carbon is for the supplier to say: carbon or not carbon.
# Until it is known, no infrared reader is said to read the card.
ribbon:
  panels: YMCKO
  resin: unknown

# The printer driver's rule for what is printed from black resin. objects: black
# text, lines and codes, never pictures.
black: objects

# What is printed, in the order it is laid down. {column} is filled from the
# roster.
faces:
  front:
`

// tail is how it ends.
const tail = `
# Who reads the cards, and with which light in nanometres. A slot reads one line
# at a distance from an edge.
# readers:
#   - {name: Gate, kind: slot, light: 940, accepts: [code39], side: front, from: bottom, line: 12}
#   - {name: Counter, kind: hand, light: 660, accepts: [code39]}

# The people. Every key is there once and names a card.
roster:
  file: %s
  key: %s
`

// New is a first programme: a portrait, the name, up to three further lines and
// a code of the key, laid out on an ID-1 card. roster is the file of the people.
func New(name, roster string, r Roles) (*Source, error) {
	if r.Key == "" {
		return nil, errors.New("no column names the cards; choose one that has another value in every row")
	}
	quoted := func(s string) string { return scalarText(Text(s).n, false, plain) }
	var b strings.Builder
	fmt.Fprintf(&b, head, quoted(name))
	for _, e := range first(name, r) {
		b.WriteString("    - " + inline(e.n, false, plain) + "\n")
	}
	fmt.Fprintf(&b, tail, quoted(roster), quoted(r.Key))
	if len(r.Name) > 0 {
		b.WriteString("\n# The invented person on pictures that leave the card office.\nsample:\n")
		invented := []string{"Ida", "Example"}
		if len(r.Name) == 1 {
			invented = []string{"Ida Example"}
		}
		for i, column := range r.Name[:min(len(r.Name), len(invented))] {
			b.WriteString("  " + keyText(column, false) + ": " + invented[i] + "\n")
		}
	}
	s, err := Open([]byte(b.String()))
	if err != nil {
		return nil, err
	}
	_, err = design.Parse("programme.yaml", s.Bytes())
	return s, err
}

// first are the elements of a first programme.
func first(name string, r Roles) []Value {
	mm := func(v float64) unit.Length { return unit.MM(v) }
	at := func(x, y, w, h float64) plane.Box { return plane.Box{X: mm(x), Y: mm(y), W: mm(w), H: mm(h)} }
	text := func(name, words string, b plane.Box, size float64, more ...Pair) Value {
		return Group(append([]Pair{{"name", Text(name)}, {"text", Text(words)}, {"box", Box(b)}, {"size", MM(mm(size))}}, more...)...)
	}
	floor := func(v float64) Pair { return Pair{"floor", MM(mm(v))} }
	middle, bold := Pair{"valign", Text("middle")}, Pair{"bold", Flag(true)}

	escaped := strings.NewReplacer("{", "{{", "}", "}}").Replace(name)
	out := []Value{text("title", escaped, at(5, 3.5, 75.6, 6), 4.5, floor(2.5), bold, middle)}
	left, width := 5.0, 75.6
	if r.Photo != "" {
		photo := []Pair{{"name", Text("portrait")}, {"photo", Text(r.Photo)}}
		if r.Folder != "" && r.Folder != usualFolder {
			photo = append(photo, Pair{"folder", Text(r.Folder)})
		}
		out = append(out, Group(append(photo, Pair{"box", Box(at(5, 11, 18.6, 24))})...))
		left, width = 28, 52.6
	}
	y := 11.0
	if len(r.Name) > 0 {
		out = append(out, text("holder", fields(r.Name, " "), at(left, y, width, 6.5), 4.5, floor(2.8), bold, middle))
	}
	for i, column := range r.Lines[:min(len(r.Lines), guessLines)] {
		y = 18.5 + 5.5*float64(i)
		out = append(out, text(fmt.Sprintf("line %d", i+1), fields([]string{column}, ""), at(left, y, width, 4.5), 3.2, floor(2.2), middle))
	}
	number := text("number", fields([]string{r.Key}, ""), at(5, 48.3, 75.6, 4), 3.2, floor(2.2), Pair{"align", Text("middle")}, middle)
	if r.Code == "" {
		return append(out, number)
	}
	return append(out, Group(Pair{"name", Text("code")}, Pair{"code", Text(r.Code)}, Pair{"text", Text(fields([]string{r.Key}, ""))},
		Pair{"box", Box(at(5, 37, 75.6, 10.8))}, Pair{"backing", Flag(true)}, Pair{"printed", Text("number")}), number)
}

// fields is a text of columns.
func fields(columns []string, between string) string {
	return "{" + strings.Join(columns, "}"+between+"{") + "}"
}
