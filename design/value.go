package design

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"unspool/unit"
)

// value is a node with the key it stands under. Its methods read it as what the
// programme wants there; what does not fit is noted as a fault and gives the
// zero value, so that one pass finds every fault.
type value struct {
	*node
	path   string
	faults *Faults
}

func (v value) fault(format string, args ...any) {
	v.faults.add(v.at, v.path, format, args...)
}

// under is the value of a key of v.
func (v value) under(p pair) value {
	path := p.name
	if v.path != "" {
		path = v.path + "." + p.name
	}
	if p.value.at == (Pos{}) || p.value.kind == null {
		p.value.at = p.at
	}
	return value{p.value, path, v.faults}
}

// wrong notes that v is not what was wanted.
func (v value) wrong(want, example string) {
	switch v.kind {
	case null:
		v.fault("is empty; write %s", example)
	case list, object:
		v.fault("is %s where %s belongs; write %s", v.kind, want, example)
	default:
		v.fault("is %s where %s belongs; write %s", show(v.text), want, example)
	}
}

// show quotes a text of the file for a message, cut to a length that can be read.
func show(s string) string {
	if utf8.RuneCountInString(s) > 40 {
		s = string([]rune(s)[:40]) + "..."
	}
	return strconv.Quote(s)
}

// key is one key of an object and what reads its value.
type key struct {
	name string
	read func(value)
}

// group is an object that has been read.
type group struct {
	value
	seen map[string]value
}

// keys reads v as an object. Keys are read in the order of the file; unknown and
// repeated ones are faults. what names the object in messages: "card".
func (v value) keys(what string, known ...key) group {
	g := group{v, map[string]value{}}
	if v.kind != object {
		v.wrong("a group of keys", "keys of "+what+" such as "+strings.Join(words(known[:min(3, len(known))]), ", "))
		return g
	}
	for _, p := range v.pairs {
		at := value{&node{at: p.at}, v.under(p).path, v.faults}
		if first, again := g.seen[p.name]; again {
			at.fault("is written twice, first on line %d; keep one", first.at.Line)
			continue
		}
		i := find(known, p.name)
		if i < 0 {
			at.fault("is not a key of %s%s", what, unknownHint(p, known))
			if i = g.meant(p, known); i < 0 {
				continue
			}
		}
		name := known[i].name
		g.seen[name] = v.under(p)
		if p.value.kind == null {
			g.seen[name].empty()
			continue
		}
		known[i].read(g.seen[name])
	}
	return g
}

// meant is the index of the key that a misspelt one stands for, -1 where none is
// near or it is written as well. It is read in its place, so that one slip is not
// told as several faults.
func (g group) meant(p pair, known []key) int {
	name, near := nearest(p.name, words(known))
	near = near && !g.has(name)
	for _, other := range g.pairs {
		near = near && other.name != name
	}
	if !near {
		return -1
	}
	return find(known, name)
}

// empty notes a key without a value. A colour beginning with # outside quotes is
// a comment to YAML, which is how most of them come about.
func (v value) empty() {
	last := v.path[strings.LastIndexByte(v.path, '.')+1:]
	switch last {
	case "colour", "fill", "stroke":
		v.fault(`is empty; a colour needs quotes, since # begins a comment: write %s: "#1b3a8a"`, last)
	default:
		v.fault("is empty; write a value or leave the key out")
	}
}

func find(known []key, name string) int {
	for i, k := range known {
		if k.name == name {
			return i
		}
	}
	return -1
}

func unknownHint(p pair, known []key) string {
	if p.value.kind == null && strings.Trim(p.name, "0123456789") == "" {
		return "; if it follows a decimal comma, write a decimal point"
	}
	return hint(p.name, words(known))
}

func words(known []key) []string {
	names := make([]string, len(known))
	for i, k := range known {
		names[i] = k.name
	}
	return names
}

// has says whether the key was written, well or badly.
func (g group) has(name string) bool {
	_, ok := g.seen[name]
	return ok
}

// need notes a fault for each of the keys that is missing. example is shown
// after the key's name.
func (g group) need(name, example string) {
	if g.kind == object && !g.has(name) {
		g.fault("has no %s; write %s: %s", name, name, example)
	}
}

// each reads v as a list of at most limit items.
func (v value) each(limit int, example string, read func(i int, item value)) {
	if v.kind != list {
		v.wrong("a list", example)
		return
	}
	if len(v.items) > limit {
		v.fault("has %d entries, more than %d; take some out", len(v.items), limit)
		return
	}
	for i, n := range v.items {
		if n.at == (Pos{}) {
			n.at = v.at
		}
		read(i, value{n, fmt.Sprintf("%s[%d]", v.path, i+1), v.faults})
	}
}

// length reads millimetres within lo and hi.
func (v value) length(lo, hi unit.Length) (unit.Length, bool) {
	l, err := unit.ParseMM(v.text)
	switch {
	case v.kind != number || err != nil || octal(v.text):
		if n, ok := guessMM(v); ok {
			v.fault("is %s; lengths are plain millimetres: write %s", show(v.text), n)
			return 0, false
		}
		v.wrong("a length in millimetres", "plain millimetres such as 12.7")
		return 0, false
	case l < lo || l > hi:
		v.fault("is %s; write a length from %s to %s", l, plain(lo), plain(hi))
		return 0, false
	}
	return l, true
}

// octal says whether a number has a needless leading zero, which some readers
// of YAML take for base 8.
func octal(s string) bool {
	s = strings.TrimPrefix(s, "-")
	return len(s) > 1 && s[0] == '0' && s[1] >= '0' && s[1] <= '9'
}

// plain is a length in millimetres without its unit.
func plain(l unit.Length) string { return strings.TrimSuffix(l.String(), " mm") }

// inMM is how many millimetres a unit of length is; the point is the 72nd part of
// an inch, as page programs have it (common practice).
var inMM = map[string]float64{
	"": 1, "mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, `"`: 25.4, "pt": 25.4 / 72,
	"um": 0.001, "µm": 0.001, "μm": 0.001, "mil": 0.0254,
}

// guessMM finds the millimetres that a length with a unit, a decimal comma, a
// plus, quotes or leading zeros was meant to be.
func guessMM(v value) (string, bool) {
	if v.kind == list || v.kind == object {
		return "", false
	}
	s := strings.Replace(strings.TrimSpace(v.text), ",", ".", 1)
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("+-.0123456789", r) })
	if end < 0 {
		end = len(s)
	}
	factor, known := inMM[strings.ToLower(strings.TrimSpace(s[end:]))]
	n, err := strconv.ParseFloat(s[:end], 64)
	if !known || err != nil || n*factor > unit.MaxLength.MM() || n*factor < -unit.MaxLength.MM() {
		return "", false
	}
	return plain(unit.MM(n * factor)), true
}

// decimal reads a number within lo and hi.
func (v value) decimal(lo, hi float64) (float64, bool) {
	n, err := strconv.ParseFloat(v.text, 64)
	plainDigits := strings.Trim(v.text, "-.0123456789") == "" && !octal(v.text)
	switch {
	case v.kind != number || err != nil || !plainDigits:
		v.wrong("a number", fmt.Sprintf("a plain number from %v to %v", lo, hi))
		return 0, false
	case n < lo || n > hi:
		v.fault("is %s; write a number from %v to %v", v.text, lo, hi)
		return 0, false
	}
	return n, true
}

// whole reads a whole number within lo and hi.
func (v value) whole(lo, hi int) (int, bool) {
	n, err := strconv.Atoi(v.text)
	if v.kind != number || err != nil || octal(v.text) {
		v.wrong("a whole number", fmt.Sprintf("a whole number from %d to %d", lo, hi))
		return 0, false
	}
	if n < lo || n > hi {
		v.fault("is %d; write a whole number from %d to %d", n, lo, hi)
		return 0, false
	}
	return n, true
}

// flag reads true or false.
func (v value) flag() bool {
	if v.kind != boolean {
		v.wrong("true or false", "true or false")
	}
	return v.kind == boolean && strings.EqualFold(v.text, "true")
}

// maxText is the most characters of a text in the file.
const maxText = 2000

// words reads text of any scalar, as it is written in the file.
func (v value) words() (string, bool) {
	switch {
	case v.kind == object:
		v.fault(`is a group of keys; a text that begins with { needs quotes: write "{field}"`)
		return "", false
	case v.kind == list || v.kind == null:
		v.wrong("a text", "a text")
		return "", false
	case utf8.RuneCountInString(v.text) > maxText:
		v.fault("is longer than %d characters; write a shorter text", maxText)
		return "", false
	}
	for _, r := range v.text {
		if unicode.IsControl(r) && r != '\n' {
			v.fault("holds the control character %U; take it out", r)
			return "", false
		}
	}
	return v.text, true
}

// label reads a name of one line that is not blank.
func (v value) label() string {
	s, ok := v.words()
	if ok && (strings.TrimSpace(s) == "" || strings.Contains(s, "\n") || utf8.RuneCountInString(s) > 100) {
		v.fault("is %s; write a name of one line, up to 100 characters", show(s))
		return ""
	}
	return s
}

// file reads the name of a file within the programme folder.
func (v value) file() string {
	s := v.label()
	outside := strings.HasPrefix(s, "/") || strings.HasPrefix(s, "~") || strings.ContainsAny(s, `\:`)
	for part := range strings.SplitSeq(s, "/") {
		outside = outside || part == ".."
	}
	if outside {
		v.fault(`is %s; write a name within the programme folder, with / between folders`, show(s))
		return ""
	}
	return s
}
