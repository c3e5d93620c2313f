package edit

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// plainLine passes over a text without quotes to where it or its line ends.
func (r *reader) plainLine(flow bool) string {
	from, end := r.at, r.at
	for r.at < len(r.src) {
		c := r.src[r.at]
		switch {
		case c == '\n' || c == '\r':
			if c == '\r' && r.peek(1) != '\n' {
				r.fail("has a line break that is not understood; save the file with ordinary line ends")
			}
			return r.src[from:end]
		case c == '#' && r.at > from && spaceOrEnd(r.src[r.at-1]):
			return r.src[from:end]
		case c == ':' && (spaceOrEnd(r.peek(1)) || flow && strings.IndexByte(",[]{}", r.peek(1)) >= 0):
			return r.src[from:end]
		case flow && strings.IndexByte(",[]{}", c) >= 0:
			return r.src[from:end]
		}
		r.at++
		if c != ' ' && c != '\t' {
			end = r.at
		}
	}
	return r.src[from:end]
}

// plain reads a text without quotes. It goes on over lines that stand further in
// than the column in.
func (r *reader) plain(in int, flow bool) *node {
	n := r.node(scalar)
	n.text = r.plainLine(flow)
	n.to = n.from + len(n.text)
	for r.at < len(r.src) && (r.src[r.at] == '\n' || r.src[r.at] == '\r') {
		stop := r.at
		fold := r.breaks()
		if r.done() || r.peek(0) == '#' || !flow && r.col() <= in {
			r.at = stop
			break
		}
		from := r.at
		more := r.plainLine(flow)
		if more == "" {
			r.at = stop
			break
		}
		n.text += fold + more
		n.to = from + len(more)
	}
	switch n.text {
	case "", "~", "null", "Null", "NULL":
		n.kind, n.text = null, ""
	}
	return n
}

// breaks passes over line breaks and the spaces round them, and is what they
// stand for: one is a space, more are one fewer.
func (r *reader) breaks() string {
	n := 0
	for r.at < len(r.src) {
		switch c := r.src[r.at]; {
		case c == '\n':
			n++
		case c == '\t' && opensLine(r.src, r.at):
			r.fail("is indented with a tab; use spaces")
		case c == '\r' && r.peek(1) != '\n':
			r.fail("has a line break that is not understood; save the file with ordinary line ends")
		case !spaceOrEnd(c):
			return folded(n)
		}
		r.at++
	}
	return folded(n)
}

func folded(breaks int) string {
	if breaks == 1 {
		return " "
	}
	return strings.Repeat("\n", max(breaks-1, 0))
}

// quoted reads a text in quotes.
func (r *reader) quoted() *node {
	quote := r.src[r.at]
	n := r.node(scalar)
	n.style = double
	if quote == '\'' {
		n.style = single
	}
	if i := strings.IndexAny(r.src[r.at+1:], "\"'\\\n\r"); i >= 0 && r.src[r.at+1+i] == quote && r.peek(i+2) != quote {
		n.text = r.src[r.at+1 : r.at+1+i] // as most are
		r.at += i + 2
		n.to = r.at
		return n
	}
	var b strings.Builder
	for r.at++; r.at < len(r.src); {
		switch c := r.src[r.at]; {
		case c == quote && quote == '\'' && r.peek(1) == '\'':
			b.WriteByte('\'')
			r.at += 2
		case c == quote:
			r.at++
			n.text, n.to = b.String(), r.at
			return n
		case c == '\\' && quote == '"':
			r.escape(&b)
		case c == '\n' || c == '\r':
			text := strings.TrimRight(b.String(), " \t")
			b.Reset()
			b.WriteString(text + r.breaks())
		default:
			b.WriteByte(c)
			r.at++
		}
	}
	r.at = n.from
	r.fail("has a quote that is not closed")
	return nil
}

// escapes are the one-letter escapes of YAML 1.2.2 section 5.7.
var escapes = map[byte]string{
	'0': "\x00", 'a': "\a", 'b': "\b", 't': "\t", '\t': "\t", 'n': "\n", 'v': "\v", 'f': "\f", 'r': "\r", 'e': "\x1b",
	' ': " ", '"': `"`, '/': "/", '\\': `\`, 'N': "\u0085", '_': "\u00a0", 'L': "\u2028", 'P': "\u2029",
}

// escape reads a backslash and what it stands for.
func (r *reader) escape(b *strings.Builder) {
	c := r.peek(1)
	digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[c]
	switch s, known := escapes[c]; {
	case known:
		b.WriteString(s)
		r.at += 2
	case c == '\n' || c == '\r':
		r.at++
		if strings.Contains(r.breaks(), "\n") {
			r.fail("has an empty line after a backslash")
		}
	case digits > 0 && r.at+2+digits <= len(r.src):
		n, err := strconv.ParseUint(r.src[r.at+2:r.at+2+digits], 16, 32)
		if err != nil || n > utf8.MaxRune || !utf8.ValidRune(rune(n)) {
			r.fail("has a backslash before what is no number of a letter")
		}
		b.WriteRune(rune(n))
		r.at += 2 + digits
	default:
		r.fail("has a backslash before a letter that means nothing")
	}
}

// blockText reads a text that begins with | or >, whose lines stand further in
// than the column in.
func (r *reader) blockText(in int) *node {
	n := r.node(scalar)
	n.style = block
	fold := r.peek(0) == '>'
	r.at++
	keep, indent := false, 0
	for ; !spaceOrEnd(r.peek(0)); r.at++ {
		switch c := r.peek(0); {
		case c == '+':
			keep = true
		case c >= '1' && c <= '9' && indent == 0:
			indent = max(in, 0) + int(c-'0')
		case c != '-':
			r.fail("has a sign after | or > that means nothing")
		}
	}
	if !restIdle(r.src, r.at) {
		r.fail("has a text beside | or >; begin it on the next line")
	}
	n.to = r.at
	var lines []string
	blanks := 0
	r.at = nextLine(r.src, r.at)
	for ; r.at < len(r.src); r.at = nextLine(r.src, r.at) {
		line := r.src[r.at:lineEnd(r.src, r.at)]
		if strings.Trim(line, " ") == "" && (indent == 0 || len(line) <= indent) {
			blanks++
			continue
		}
		depth := len(line) - len(strings.TrimLeft(line, " "))
		if indent == 0 && depth > in {
			indent = depth
		}
		if depth < indent || indent == 0 || r.done() {
			break
		}
		lines = append(lines, make([]string, blanks)...)
		lines, blanks = append(lines, line[indent:]), 0
		n.to = lineEnd(r.src, r.at)
	}
	r.at = n.to
	n.text = strings.Join(lines, "\n")
	if fold {
		n.text = foldLines(lines)
	}
	if keep {
		n.text += strings.Repeat("\n", blanks)
	}
	return n
}

// foldLines joins lines by spaces, but not those that stand further in.
func foldLines(lines []string) string {
	var b strings.Builder
	for i, line := range lines {
		inner := line != "" && (line[0] == ' ' || line[0] == '\t')
		if i > 0 {
			before := lines[i-1]
			deep := inner || before != "" && (before[0] == ' ' || before[0] == '\t')
			switch {
			case deep || before == "" || line == "" && i > 0 && deep:
				b.WriteByte('\n')
			case line != "":
				b.WriteByte(' ')
			}
		}
		b.WriteString(line)
	}
	return b.String()
}
