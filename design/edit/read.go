package edit

import (
	"errors"
	"fmt"
	"strings"
)

// maxDepth bounds how deep groups and lists may lie in each other; programmes
// need six.
const maxDepth = 40

// reader reads the part of YAML that programmes use and notes where everything
// stands. What it does not know it turns away: a place that is not understood
// must not be changed.
type reader struct {
	src   string
	at    int
	depth int

	// A file has thousands of small parts, which are made by the hundred.
	nodes   []node
	open    []entry // of the groups and lists that are being read
	entries []entry
}

// chunk is how many parts are made at once.
const chunk = 256

// node is a new node that begins here.
func (r *reader) node(k kind) *node {
	if len(r.nodes) == 0 {
		r.nodes = make([]node, chunk)
	}
	n := &r.nodes[0]
	r.nodes = r.nodes[1:]
	n.kind, n.from, n.to = k, r.at, r.at
	return n
}

// close gives n the entries that were opened since there were mark of them.
func (r *reader) close(n *node, mark int) *node {
	k := len(r.open) - mark
	if k > len(r.entries) {
		r.entries = make([]entry, max(chunk, k))
	}
	n.entries, r.entries = r.entries[:k:k], r.entries[k:]
	copy(n.entries, r.open[mark:])
	r.open = r.open[:mark]
	return n
}

// unreadable is thrown where a text is not understood, and caught by read.
type unreadable struct {
	at   int
	what string
}

// read reads a whole file.
func read(src string) (root *node, err error) {
	r := &reader{src: src}
	defer func() {
		if u, ok := recover().(unreadable); ok {
			root, err = nil, fmt.Errorf("line %d: %s", strings.Count(src[:min(u.at, len(src))], "\n")+1, u.what)
		}
	}()
	r.at = len(src) - len(strings.TrimPrefix(src, bom))
	r.gap()
	if strings.HasPrefix(src[r.at:], "---") && restIdle(src, r.at+3) && opensLine(src, r.at) {
		r.at = nextLine(src, r.at)
		r.gap()
	}
	if r.done() || r.col() != 0 || !r.hasKey() {
		return nil, errors.New("is no programme; it begins with unspool: 1")
	}
	root = r.group(0)
	if !r.done() {
		r.fail("cannot be read here; look at the indent")
	}
	if r.at < len(src) { // after ... or ---
		if !restIdle(src, r.at+3) {
			r.fail("a second document begins here")
		}
		r.at = nextLine(src, r.at)
		if r.gap(); r.at < len(src) {
			r.fail("a second document begins here")
		}
	}
	return root, nil
}

// fail turns the text away.
func (r *reader) fail(what string) { panic(unreadable{r.at, what}) }

func (r *reader) enter() {
	if r.depth++; r.depth > maxDepth {
		r.fail("lies too deep")
	}
}

// peek is the byte n further on, 0 at the end.
func (r *reader) peek(n int) byte {
	if r.at+n >= len(r.src) {
		return 0
	}
	return r.src[r.at+n]
}

// done says whether the document has ended.
func (r *reader) done() bool {
	if r.at >= len(r.src) {
		return true
	}
	rest := r.src[r.at:]
	return (strings.HasPrefix(rest, "...") || strings.HasPrefix(rest, "---")) && lineStart(r.src, r.at) == r.at && spaceOrEnd(r.peek(3))
}

// col is how far from the begin of its line the reader stands.
func (r *reader) col() int { return r.at - lineStart(r.src, r.at) }

func spaceOrEnd(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == 0 }

// gap passes over spaces, line breaks and comments.
func (r *reader) gap() {
	for r.at < len(r.src) {
		switch c := r.src[r.at]; {
		case c == '\t' && opensLine(r.src, r.at):
			r.fail("is indented with a tab; use spaces")
		case c == '\r' && r.peek(1) != '\n':
			r.fail("has a line break that is not understood; save the file with ordinary line ends")
		case c == '#' && (r.at == 0 || spaceOrEnd(r.src[r.at-1]) || opensLine(r.src, r.at)):
			r.at = lineEnd(r.src, r.at)
			r.loneReturn()
		case !spaceOrEnd(c):
			return
		default:
			r.at++
		}
	}
}

// loneReturn turns away a carriage return inside the line that ends here, which
// other readers take for a line break.
func (r *reader) loneReturn() {
	if strings.Contains(r.src[lineStart(r.src, r.at):r.at], "\r") {
		r.fail("has a line break that is not understood; save the file with ordinary line ends")
	}
}

// blanks passes over spaces and tabs.
func (r *reader) blanks() {
	for r.peek(0) == ' ' || r.peek(0) == '\t' {
		r.at++
	}
}

// dash says whether an item of a list begins here.
func (r *reader) dash() bool { return r.peek(0) == '-' && spaceOrEnd(r.peek(1)) }

// hasKey says whether a key and its colon stand here.
func (r *reader) hasKey() bool {
	at := r.at
	defer func() { r.at = at }()
	switch r.peek(0) {
	case '"', '\'':
		end := lineEnd(r.src, r.at)
		q := r.quoted()
		if q.to > end {
			return false
		}
		r.blanks()
	case '[', '{':
		return false
	default:
		r.plainLine(false)
	}
	return r.at > at && r.peek(0) == ':' && spaceOrEnd(r.peek(1))
}

// any reads what begins here and stands further in than the column in.
func (r *reader) any(in int) *node {
	r.enter()
	defer func() { r.depth-- }()
	switch {
	case r.dash():
		return r.list(r.col())
	case r.hasKey():
		return r.group(r.col())
	}
	return r.value(in)
}

// group reads keys written by indent.
func (r *reader) group(col int) *node {
	n, mark := r.node(group), len(r.open)
	n.col = col
	for {
		e := entry{from: r.at}
		e.key = r.key()
		r.blanks()
		r.at++ // the colon
		e.mark = r.at
		e.value = r.after(col, true)
		r.open = append(r.open, e)
		n.to = e.to()
		if !r.goesOn(col) {
			return r.close(n, mark)
		}
		if !r.hasKey() {
			r.fail("cannot be read here; a key and a colon belong here")
		}
	}
}

// key reads the text of a key.
func (r *reader) key() string {
	switch c := r.peek(0); c {
	case '"', '\'':
		return r.quoted().text
	case '?', '&', '*', '!', '|', '>', '%', '@', '`', ',', ']', '}', '#':
		if c != '?' || spaceOrEnd(r.peek(1)) {
			r.fail("begins with a sign that a programme does not use")
		}
	}
	key := r.plainLine(false)
	if key == "<<" {
		r.fail("merges keys, which a programme does not use")
	}
	return key
}

// list reads items written by indent.
func (r *reader) list(col int) *node {
	n, mark := r.node(list), len(r.open)
	n.col = col
	for {
		e := entry{from: r.at, mark: r.at + 1}
		r.at++
		e.value = r.after(col, false)
		r.open = append(r.open, e)
		n.to = e.to()
		if !r.goesOn(col) || !r.dash() {
			return r.close(n, mark)
		}
	}
}

// goesOn passes on to the next line with something on it, and says whether it
// belongs to the group or list at col.
func (r *reader) goesOn(col int) bool {
	r.gap()
	if r.done() {
		return false
	}
	if !opensLine(r.src, r.at) || r.col() > col {
		r.fail("cannot be read here; look at the indent, the brackets and the quotes")
	}
	return r.col() == col
}

// after reads the value that follows a colon or a dash, which may stand further
// in on lines of its own. A list may stand as far out as its key.
func (r *reader) after(col int, key bool) *node {
	nothing := r.node(null)
	r.blanks()
	if restIdle(r.src, r.at) {
		r.gap()
		if !r.done() && (r.col() > col || key && r.col() == col && r.dash()) {
			return r.any(col)
		}
		return nothing
	}
	if !key {
		return r.any(col)
	}
	if r.dash() {
		r.fail("has a dash after a colon; begin the list on the next line")
	}
	return r.value(col)
}

// value reads a scalar, or what stands in brackets.
func (r *reader) value(in int) *node {
	switch c := r.peek(0); c {
	case '[', '{':
		return r.brackets()
	case '"', '\'':
		return r.quoted()
	case '|', '>':
		return r.blockText(in)
	case '&', '*', '!', '%', '@', '`', ',', ']', '}':
		r.fail("begins with a sign that a programme does not use; put the text in quotes")
	case '?':
		if spaceOrEnd(r.peek(1)) {
			r.fail("begins with a sign that a programme does not use; put the text in quotes")
		}
	}
	n := r.plain(in, false)
	if r.peek(0) == ':' {
		r.fail("has a second colon; put the text in quotes")
	}
	return n
}

// brackets reads a list or group in brackets.
func (r *reader) brackets() *node {
	r.enter()
	defer func() { r.depth-- }()
	n, mark := r.node(list), len(r.open)
	n.flow = true
	closing := byte(']')
	if r.peek(0) == '{' {
		n.kind, closing = group, '}'
	}
	for r.at++; ; {
		r.gap()
		if r.peek(0) == closing {
			r.at++
			n.to = r.at
			return r.close(n, mark)
		}
		if k := len(r.open); r.done() || k > mark && r.open[k-1].comma == 0 {
			r.fail("cannot be read here; look for a bracket or a comma that is missing")
		}
		e := r.inBrackets(n.kind == group)
		if r.gap(); r.peek(0) == ',' {
			r.at++
			e.comma = r.at
		}
		r.open = append(r.open, e)
	}
}

// inBrackets reads one entry in brackets.
func (r *reader) inBrackets(keyed bool) entry {
	e := entry{from: r.at, mark: r.at}
	if !keyed {
		e.value = r.bare()
		return e
	}
	k := r.bare()
	if k.kind != scalar && k.kind != null || k.text == "<<" {
		r.fail("has a key that is no word")
	}
	e.key = k.text
	r.blanks()
	if r.peek(0) != ':' {
		r.fail("has a key without a colon and a space")
	}
	r.at++
	e.mark = r.at
	if r.gap(); r.peek(0) == ',' || r.peek(0) == '}' {
		e.value = r.node(null)
		e.value.from, e.value.to = e.mark, e.mark
		return e
	}
	e.value = r.bare()
	return e
}

// bare reads a key or a value in brackets.
func (r *reader) bare() *node {
	switch r.peek(0) {
	case '[', '{':
		return r.brackets()
	case '"', '\'':
		return r.quoted()
	case '&', '*', '!', '%', '@', '`', '|', '>', '?', ',', ']', '}', ':', '#':
		r.fail("begins with a sign that a programme does not use; put the text in quotes")
	}
	if r.dash() {
		r.fail("has a dash in brackets; put the text in quotes")
	}
	return r.plain(-1, true)
}
