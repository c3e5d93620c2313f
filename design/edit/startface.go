package edit

import (
	"fmt"
	"strings"

	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// Heights of a first face in millimetres, on an ID-1 card. Own judgement.
const (
	cardHeight   = 53.98
	codeHeight   = 10.8
	numberHeight = 4.0
	titleHeight  = 6.0
	bodyHeight   = 24.0 // of portrait and lines, at most
	lastHeight   = 52.5 // nothing lies lower
	holderHeight = 7.0  // of the name, with the room under it
	leastPitch   = 3.2  // of lines that can be read
	left, across = 5.0, 75.6
)

// bands are where the parts of a first face begin, from the top.
type bands struct{ title, body, high, code, number float64 }

// usualBands is a face that no slot reader looks at: code and number at the foot.
var usualBands = bands{title: 3.5, body: 11, high: bodyHeight, code: 37, number: 48.3}

// bandsOf are the bands of a side. The code lies where the first slot reader of
// that side looks, the rest where there is most room.
func (s Start) bandsOf(side site.Side) bands {
	c, ok := s.line(side)
	switch {
	case !ok:
		return usualBands
	case c >= 30: // below the body; the number under the code, or over it where there is no room
		b := bands{title: 3.5, body: 11, code: min(c-codeHeight/2, 42.2)}
		foot := b.code
		if b.number = b.code + codeHeight + 0.5; b.number+numberHeight > lastHeight+0.7 {
			b.number = b.code - 0.5 - numberHeight
			foot = b.number
		}
		b.high = min(bodyHeight, foot-1.5-b.body)
		return b
	}
	b := bands{code: max(c-codeHeight/2, 1)}
	b.number = b.code + codeHeight + 0.5
	b.title, b.body = b.number+5, b.number+5+titleHeight+1.5
	if b.code > 11 {
		b.title, b.body = 3.5, b.number+5
	}
	b.high = min(bodyHeight, lastHeight-b.body)
	return b
}

// line is how far from the top the first slot reader of a side looks.
func (s Start) line(side site.Side) (mm float64, ok bool) {
	for _, r := range s.Readers {
		if r.Kind != site.Slot || r.Track.Side != side {
			continue
		}
		if r.Track.From == site.Top {
			return r.Track.Line.MM(), true
		}
		return cardHeight - r.Track.Line.MM(), true
	}
	return 0, false
}

// faces are the elements of a first programme, side by side.
func (s Start) faces() (faces [2][]Value) {
	b := s.bandsOf(site.Front)
	front := []Value{title(s.Name, b)}
	from, width := left, across
	if s.Photo != "" {
		front = append(front, portrait(s.Roles, b))
		from, width = 28, 52.6
	}
	front = append(front, lines(s.Roles, b, from, width)...)
	_, behind := s.line(site.Back)
	_, ahead := s.line(site.Front)
	if s.Code != "" && (ahead || !behind) {
		front = append(front, barCode(s.Roles, b, ""))
	}
	faces[site.Front] = append(front, number(s.Roles, b, ""))
	if s.Code != "" && behind {
		b := s.bandsOf(site.Back)
		faces[site.Back] = []Value{barCode(s.Roles, b, "back "), number(s.Roles, b, "back ")}
	}
	return faces
}

func at(x, y, w, h float64) Pair {
	return Pair{"box", Box(plane.Box{X: unit.MM(x), Y: unit.MM(y), W: unit.MM(w), H: unit.MM(h)})}
}

func textOf(name, words string, box Pair, size, floor float64, more ...Pair) Value {
	return Group(append([]Pair{{"name", Text(name)}, {"text", Text(words)}, box, {"size", Number(size)}, {"floor", Number(floor)}}, more...)...)
}

var (
	middle = Pair{"valign", Text("middle")}
	bold   = Pair{"bold", Flag(true)}
)

func title(name string, b bands) Value {
	escaped := strings.NewReplacer("{", "{{", "}", "}}").Replace(name)
	return textOf("title", escaped, at(left, b.title, across, titleHeight), 4.5, 2.5, bold, middle)
}

// portrait is the person's photo, as high as the body.
func portrait(r Roles, b bands) Value {
	photo := []Pair{{"name", Text("portrait")}, {"photo", Text(r.Photo)}}
	if r.Folder != "" && r.Folder != usualFolder {
		photo = append(photo, Pair{"folder", Text(r.Folder)})
	}
	return Group(append(photo, at(left, b.body, 0.775*b.high, b.high))...)
}

// lines are the person's name and what else is printed, down the body.
func lines(r Roles, b bands, from, width float64) (out []Value) {
	if len(r.Name) > 0 {
		out = append(out, textOf("holder", fields(r.Name, " "), at(from, b.body, width, 6.5), 4.5, 2.8, bold, middle))
	}
	more := rows(r.Lines[:min(len(r.Lines), guessLines)], int((b.high-holderHeight)/leastPitch))
	pitch := min(5.5, (b.high-holderHeight)/float64(max(len(more), 1)))
	for i, columns := range more {
		y, size := b.body+holderHeight+0.5+pitch*float64(i), min(3.2, 0.75*pitch)
		out = append(out, textOf(fmt.Sprintf("line %d", i+1), fields(columns, " · "), at(from, y, width, pitch-1), size, min(2.2, size), middle))
	}
	return out
}

// rows parts columns into at most n rows; what is too much shares the last.
func rows(columns []string, n int) (out [][]string) {
	for i, c := range columns {
		if i >= max(n, 1) {
			out[len(out)-1] = append(out[len(out)-1], c)
			continue
		}
		out = append(out, []string{c})
	}
	return out
}

func barCode(r Roles, b bands, side string) Value {
	return Group(Pair{"name", Text(side + "code")}, Pair{"code", Text(r.Code)}, Pair{"text", Text(fields([]string{r.Key}, ""))},
		at(left, b.code, across, codeHeight), Pair{"backing", Flag(true)}, Pair{"printed", Text(side + "number")})
}

func number(r Roles, b bands, side string) Value {
	return textOf(side+"number", fields([]string{r.Key}, ""), at(left, b.number, across, numberHeight), 3.2, 2.2, Pair{"align", Text("middle")}, middle)
}

// fields is a text of columns.
func fields(columns []string, between string) string {
	return "{" + strings.Join(columns, "}"+between+"{") + "}"
}
