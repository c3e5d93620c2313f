package edit

import (
	"fmt"
	"strings"
	"unicode"
)

// sortOf is what readers of YAML may take a text without quotes for: "empty",
// "flag", "number" or "text". Where readers differ, the cautious answer.
func sortOf(s string) string {
	switch strings.ToLower(s) {
	case "", "~", "null":
		return "empty"
	case "true", "false", "yes", "no", "on", "off", "y", "n":
		return "flag"
	}
	t := strings.TrimLeft(s, "+-")
	if t == "" || s == "=" {
		return "text"
	}
	if digit := t[0] >= '0' && t[0] <= '9' || t[0] == '.'; digit && strings.Trim(strings.ToLower(t), "0123456789abcdefox_.:+-") == "" && !date(t) ||
		strings.EqualFold(t, ".inf") || strings.EqualFold(t, ".nan") {
		return "number"
	}
	return "text"
}

// date says whether s is a day such as 2031-12-31, which readers of a programme
// take for text.
func date(s string) bool {
	return len(s) == 10 && s[4] == '-' && s[7] == '-' && strings.Trim(s[:4]+s[5:7]+s[8:], "0123456789") == ""
}

// scalarText writes a scalar, within brackets where flow is set. Where it takes
// the place of one in quotes it keeps those quotes.
func scalarText(n *node, flow bool, was style) string {
	switch {
	case n.kind == null:
		return "null"
	case n.style == plain:
		return n.text
	case was == single && !strings.ContainsFunc(n.text, hard):
		return "'" + strings.ReplaceAll(n.text, "'", "''") + "'"
	case was != double && bareText(n.text, flow):
		return n.text
	}
	return doubleQuoted(n.text)
}

// bareText says whether a text can stand without quotes (YAML 1.2.2, section
// 7.3.3) and will not be taken for anything else.
func bareText(s string, flow bool) bool {
	if sortOf(s) != "text" || strings.TrimSpace(s) != s || strings.ContainsFunc(s, hard) {
		return false
	}
	if strings.ContainsRune("-?:,[]{}#&*!|>'\"%@`=<", rune(s[0])) || strings.HasPrefix(s, "...") {
		return false
	}
	if strings.Contains(s, "<<") || strings.Contains(s, ": ") || strings.Contains(s, " #") || strings.HasSuffix(s, ":") {
		return false
	}
	return !flow || !strings.ContainsAny(s, ",[]{}:")
}

// hard says whether a letter cannot stand as it is in any text of one line.
func hard(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == '\ufeff' || r == '\ufffd' || !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) && !unicode.Is(unicode.M, r) && !unicode.Is(unicode.Cf, r)
}

func doubleQuoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case hard(r) && r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		case hard(r) && r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		case hard(r):
			fmt.Fprintf(&b, `\U%08x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

// keyText writes a key.
func keyText(key string, flow bool) string {
	return scalarText(&node{kind: scalar, style: words, text: key}, flow, plain)
}

// inline writes a value on one line.
func inline(n *node, flow bool, was style) string {
	if n.kind < list {
		return scalarText(n, flow, was)
	}
	var b strings.Builder
	b.WriteByte("[{"[n.kind-list])
	for i, e := range n.entries {
		if i > 0 {
			b.WriteString(", ")
		}
		if n.kind == group {
			b.WriteString(keyText(e.key, true) + ": ")
		}
		b.WriteString(inline(e.value, true, e.value.style))
	}
	b.WriteByte("]}"[n.kind-list])
	return b.String()
}

// layout is how a file is laid out: what is added follows it.
type layout struct {
	nl       string // line break
	step     int    // how much further in the keys of a group stand
	dash     int    // how much further in than its key a list's dashes stand
	sections bool   // sections are written by indent
}

// layoutOf finds out how a file is laid out.
func layoutOf(src string, root *node) layout {
	l := layout{nl: "\n", step: 2, dash: 2}
	if i := strings.IndexByte(src, '\n'); i > 0 && src[i-1] == '\r' {
		l.nl = "\r\n"
	}
	groups, steps, dashes := 0, false, false
	var walk func(n *node, depth int)
	walk = func(n *node, depth int) {
		for _, e := range n.entries {
			v := e.value
			if v.kind == group && depth == 0 && e.key != "faces" {
				groups++
				l.sections = l.sections || !v.flow
			}
			if v.kind < list || v.flow || n.kind != group {
				continue
			}
			switch {
			case v.kind == group && !steps:
				l.step, steps = v.col-n.col, true
			case v.kind == list && !dashes:
				l.dash, dashes = v.col-n.col, true
			}
			walk(v, depth+1)
		}
	}
	walk(root, 0)
	l.sections = l.sections || groups == 0
	return l
}

// tall says whether a value takes lines of its own outside brackets: a list of
// groups, what holds one, and a section where sections do.
func (l layout) tall(n *node, depth int) bool {
	if n.kind < list || len(n.entries) == 0 {
		return false
	}
	for _, e := range n.entries {
		if n.kind == list && e.value.kind == group || n.kind == group && l.tall(e.value, depth+1) {
			return true
		}
	}
	return n.kind == group && depth == 0 && l.sections
}

// value writes what follows the colon of a key at col, depth groups down.
func (l layout) value(n *node, col, depth int) string {
	if !l.tall(n, depth) {
		return " " + inline(n, false, plain)
	}
	var b strings.Builder
	for _, e := range n.entries {
		b.WriteString(l.nl)
		if n.kind == list {
			b.WriteString(strings.Repeat(" ", col+l.dash) + "- " + inline(e.value, false, plain))
			continue
		}
		b.WriteString(strings.Repeat(" ", col+l.step) + keyText(e.key, false) + ":" + l.value(e.value, col+l.step, depth+1))
	}
	return b.String()
}

// item writes an item of a list whose dashes stand at col, like the item beside
// it: in brackets, or a key a line.
func (l layout) item(n *node, col int, beside *entry) string {
	if n.kind != group || len(n.entries) == 0 || beside == nil || beside.value.kind != group || beside.value.flow {
		return "- " + inline(n, false, plain)
	}
	gap := max(beside.value.col-col, 2) - 1
	col += 1 + gap
	lines := make([]string, len(n.entries))
	for i, e := range n.entries {
		lines[i] = keyText(e.key, false) + ":" + l.value(e.value, col, 2)
	}
	return "-" + strings.Repeat(" ", gap) + strings.Join(lines, l.nl+strings.Repeat(" ", col))
}
