package design

import (
	"strconv"
	"strings"

	"unspool/plane"
	"unspool/unit"
)

// The functions here make the readers that the tables of keys are written with:
// each puts what it reads where the pointer says, and leaves the default where
// the value does not fit.

func intoLength(to *unit.Length, lo, hi unit.Length) func(value) {
	return func(v value) {
		if l, ok := v.length(lo, hi); ok {
			*to = l
		}
	}
}

func intoDecimal(to *float64, lo, hi float64) func(value) {
	return func(v value) {
		if n, ok := v.decimal(lo, hi); ok {
			*to = n
		}
	}
}

func intoWhole(to *int, lo, hi int) func(value) {
	return func(v value) {
		if n, ok := v.whole(lo, hi); ok {
			*to = n
		}
	}
}

func intoNM(to *unit.Nanometres, lo, hi unit.Nanometres) func(value) {
	return func(v value) {
		if n, ok := v.decimal(float64(lo), float64(hi)); ok {
			*to = unit.Nanometres(n)
		}
	}
}

func intoFlag(to *bool) func(value)    { return func(v value) { *to = v.flag() } }
func intoLabel(to *string) func(value) { return func(v value) { *to = v.label() } }
func intoFile(to *string) func(value)  { return func(v value) { *to = v.file() } }

// choice is one of the words a value may be.
type choice[T any] struct {
	word  string
	means T
}

func intoChoice[T any](to *T, choices ...choice[T]) func(value) {
	return func(v value) {
		words := make([]string, len(choices))
		for i, c := range choices {
			words[i] = c.word
			if v.kind != object && v.kind != list && v.text == c.word {
				*to = c.means
				return
			}
		}
		if v.kind == object || v.kind == list {
			v.wrong("a word", "one of "+strings.Join(words, ", "))
			return
		}
		v.fault("is %s%s", show(v.text), hint(v.text, words))
	}
}

func intoTemplate(to *Template) func(value) {
	return func(v value) {
		if s, ok := v.words(); ok {
			*to = v.template(s)
		}
	}
}

// intoBox reads [x, y, width, height]. least is the smallest side.
func intoBox(to *plane.Box, least unit.Length) func(value) {
	const example = "[x, y, width, height] in millimetres"
	return func(v value) {
		if v.kind != list {
			v.wrong("a box", example)
			return
		}
		if len(v.items) != 4 {
			v.fault("has %d numbers; write %s", len(v.items), example)
			return
		}
		ok := true
		sides := [4]*unit.Length{&to.X, &to.Y, &to.W, &to.H}
		v.each(4, example, func(i int, item value) {
			lo := -maxSide
			if i >= 2 {
				lo = least
			}
			l, good := item.length(lo, maxSide)
			*sides[i], ok = l, ok && good
		})
		if !ok {
			*to = plane.Box{}
		}
	}
}

// intoColour reads "#rrggbb", "#rgb", black or white.
func intoColour(to *[3]uint8) func(value) {
	return func(v value) {
		if c, ok := v.colour(); ok {
			*to = c
		}
	}
}

func intoColourOrNone(to **[3]uint8) func(value) {
	return func(v value) {
		if c, ok := v.colour(); ok {
			*to = &c
		}
	}
}

func (v value) colour() (c [3]uint8, ok bool) {
	s := v.text
	switch s {
	case "black":
		s = "#000000"
	case "white":
		s = "#ffffff"
	}
	if len(s) == 4 {
		s = string([]byte{s[0], s[1], s[1], s[2], s[2], s[3], s[3]})
	}
	n, err := strconv.ParseUint(strings.TrimPrefix(s, "#"), 16, 32)
	if v.kind == list || v.kind == object || err != nil || len(s) != 7 || s[0] != '#' {
		v.wrong("a colour", `"#rrggbb", black or white`)
		return c, false
	}
	return [3]uint8{uint8(n >> 16), uint8(n >> 8), uint8(n)}, true
}
