package edit

import (
	"math"
	"strconv"
	"strings"

	"unspool/plane"
	"unspool/unit"
)

// Value is what a key may have: text, a number, a list and so on. It is written
// as a careful person would: no more digits than it is worth, quotes only where
// YAML needs them. The zero Value is an empty one.
type Value struct{ n *node }

// Pair is a key with its value.
type Pair struct {
	Key   string
	Value Value
}

func (v Value) node() *node {
	if v.n == nil {
		return &node{}
	}
	return v.n
}

func bare(text string) Value { return Value{&node{kind: scalar, text: text}} }

// Text is a text, such as a name, a file or a template.
func Text(s string) Value { return Value{&node{kind: scalar, style: words, text: s}} }

// Flag is true or false.
func Flag(b bool) Value { return bare(strconv.FormatBool(b)) }

// Whole is a whole number.
func Whole(n int) Value { return bare(strconv.Itoa(n)) }

// Number is a number, rounded to three decimals. What is no number at all is an
// empty value.
func Number(f float64) Value {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return Value{}
	}
	return bare(decimals(strconv.FormatFloat(f, 'f', 3, 64)))
}

// MM is a length in millimetres, rounded to the micrometre.
func MM(l unit.Length) Value {
	sign := ""
	um := (max(l, -l) + unit.Micrometre/2) / unit.Micrometre
	if l < 0 {
		sign = "-"
	}
	s := strconv.FormatInt(int64(um/1000), 10) + "." + strconv.FormatInt(int64(1000+um%1000), 10)[1:]
	return bare(decimals(sign + s))
}

// decimals takes needless zeros off a decimal number.
func decimals(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// Box is [x, y, width, height].
func Box(b plane.Box) Value { return List(MM(b.X), MM(b.Y), MM(b.W), MM(b.H)) }

// Colour is a colour; black and white go by their names.
func Colour(c [3]uint8) Value {
	v := Value{&node{kind: scalar, style: words, colour: true}}
	switch c {
	case [3]uint8{}:
		v.n.text = "black"
	case [3]uint8{255, 255, 255}:
		v.n.text = "white"
	default:
		v.n.text = "#"
		for _, part := range c {
			v.n.text += strconv.FormatInt(int64(part)+256, 16)[1:]
		}
	}
	return v
}

// List is a list.
func List(items ...Value) Value {
	n := &node{kind: list}
	for _, v := range items {
		n.entries = append(n.entries, entry{value: v.node()})
	}
	return Value{n}
}

// Group is a group of keys, in the order given. Of a key given twice the last
// counts.
func Group(pairs ...Pair) Value {
	n := &node{kind: group}
	for _, p := range pairs {
		if i := n.find(p.Key); i >= 0 {
			n.entries[i].value = p.Value.node()
			continue
		}
		n.entries = append(n.entries, entry{key: p.Key, value: p.Value.node()})
	}
	return Value{n}
}

// merge is what old is to become when it is set to want: all that already means
// the same stays as it is written.
func merge(old, want *node) *node {
	switch {
	case means(old, want):
		return old
	case old.kind != want.kind || want.kind < list:
		return want
	}
	out := &node{kind: want.kind}
	for i, e := range want.entries {
		switch j := old.find(e.key); {
		case want.kind == group && j >= 0:
			e.value = merge(old.entries[j].value, e.value)
		case want.kind == list && len(old.entries) == len(want.entries):
			e.value = merge(old.entries[i].value, e.value)
		}
		out.entries = append(out.entries, e)
	}
	return out
}

// means says whether a scalar of the file already means what is wanted: a number
// of the same value, a colour or a text written in another way.
func means(old, want *node) bool {
	if old.kind != scalar || want.kind != scalar {
		return false
	}
	number := want.style == plain && sortOf(want.text) == "number"
	switch {
	case number:
		return old.sort() == "number" && decimal(old.text) && decimals(old.text) == decimals(want.text)
	case want.colour:
		return fullColour(old.text) == fullColour(want.text)
	case want.style == plain && sortOf(want.text) == "flag":
		return old.sort() == "flag" && strings.EqualFold(old.text, want.text)
	}
	return old.text == want.text
}

// decimal says whether a text is a number in plain digits.
func decimal(s string) bool {
	s = strings.TrimPrefix(s, "-")
	whole, part, _ := strings.Cut(s, ".")
	digits := func(s string) bool { return strings.Trim(s, "0123456789") == "" }
	return whole != "" && digits(whole) && digits(part) && (len(whole) == 1 || whole[0] != '0')
}

// fullColour is a colour with two digits a part.
func fullColour(s string) string {
	switch {
	case s == "black":
		return "#000000"
	case s == "white":
		return "#ffffff"
	case len(s) == 4 && s[0] == '#':
		return strings.ToLower(string([]byte{'#', s[1], s[1], s[2], s[2], s[3], s[3]}))
	}
	return strings.ToLower(s)
}
