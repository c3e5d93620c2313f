package edit

import (
	"fmt"
	"strconv"
	"strings"

	"unspool/site"
)

// Path leads to a part of a programme file: through keys, and through items of
// lists, which count from 0. Its text form is that of fault messages and counts
// items from 1, as people do: "faces.front[2].box". The zero Path is the whole
// file.
type Path struct{ steps []step }

// step is a key, or an item of a list where key is empty and item at least 0.
type step struct {
	key  string
	item int // -1: a key
}

// Keys is the path through keys: Keys("ribbon", "resin").
func Keys(keys ...string) Path {
	var p Path
	for _, k := range keys {
		p = p.Key(k)
	}
	return p
}

// Face is the list of the elements of a side.
func Face(s site.Side) Path { return Keys("faces", s.String()) }

// Element is the element i of a side, from 0.
func Element(s site.Side, i int) Path { return Face(s).Item(i) }

// Key is the path to a key under p.
func (p Path) Key(key string) Path { return p.with(step{key, -1}) }

// Item is the path to item i, from 0, of the list p.
func (p Path) Item(i int) Path { return p.with(step{"", max(i, 0)}) }

func (p Path) with(s step) Path {
	return Path{append(p.steps[:len(p.steps):len(p.steps)], s)}
}

// up is the path without its last step, and that step.
func (p Path) up() (Path, step) {
	n := len(p.steps) - 1
	return Path{p.steps[:n:n]}, p.steps[n]
}

// String writes the path: "faces.front[2].box". Keys that hold a dot, a bracket
// or a quote stand in double quotes.
func (p Path) String() string {
	var b strings.Builder
	for i, s := range p.steps {
		if s.item >= 0 {
			fmt.Fprintf(&b, "[%d]", s.item+1)
			continue
		}
		if i > 0 {
			b.WriteByte('.')
		}
		if s.key == "" || strings.ContainsAny(s.key, ".[]\"") {
			b.WriteString(strconv.Quote(s.key))
		} else {
			b.WriteString(s.key)
		}
	}
	return b.String()
}

// ParsePath reads the text form of a path.
func ParsePath(s string) (Path, error) {
	var p Path
	for rest := s; rest != ""; {
		next, after, err := parseStep(rest, len(p.steps) == 0)
		if err != nil {
			return Path{}, fmt.Errorf("%q is no path: %w; write one such as faces.front[2].box", s, err)
		}
		p, rest = p.with(next), after
	}
	return p, nil
}

// parseStep reads the first step of a path.
func parseStep(s string, first bool) (next step, rest string, err error) {
	if s[0] == '[' {
		number, rest, closed := strings.Cut(s[1:], "]")
		n, err := strconv.Atoi(number)
		if !closed || err != nil || n < 1 {
			return step{}, "", fmt.Errorf("items count from [1]")
		}
		return step{"", n - 1}, rest, nil
	}
	if !first {
		if s[0] != '.' || len(s) == 1 {
			return step{}, "", fmt.Errorf("a key stands after a dot")
		}
		s = s[1:]
	}
	if s[0] == '"' {
		quoted, err := strconv.QuotedPrefix(s)
		if err != nil {
			return step{}, "", fmt.Errorf("a quote is not closed")
		}
		key, err := strconv.Unquote(quoted)
		return step{key, -1}, s[len(quoted):], err
	}
	end := strings.IndexAny(s, ".[")
	if end < 0 {
		end = len(s)
	}
	if end == 0 {
		return step{}, "", fmt.Errorf("a key is missing")
	}
	return step{s[:end], -1}, s[end:], nil
}
