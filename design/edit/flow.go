package edit

import "strings"

// aLine says whether the entries in brackets have a line each.
func (t *text) aLine(n *node) bool {
	if len(n.entries) == 1 {
		return opensLine(t.src, n.entries[0].from)
	}
	for _, e := range n.entries[1:] {
		if !opensLine(t.src, e.from) {
			return false
		}
	}
	return true
}

// column is how far in the line of at begins that at opens.
func (t *text) column(at int) int { return at - lineStart(t.src, at) }

// insertFlow writes an entry in brackets before the one at i, or after the last.
func (t *text) insertFlow(n *node, i int, s string) error {
	if len(n.entries) == 0 {
		inner := t.src[n.from+1 : n.to-1]
		if strings.Trim(inner, " ") == "" {
			return t.splice(n.from+1, n.to-1, s)
		}
		return t.splice(n.from+1, n.from+1, s)
	}
	if i == 0 {
		at := n.entries[0].from
		if opensLine(t.src, at) {
			return t.splice(at, at, s+","+t.nl+strings.Repeat(" ", t.column(at)))
		}
		return t.splice(at, at, s+", ")
	}
	before := n.entries[i-1]
	end := before.to()
	if !t.aLine(n) {
		return t.splice(end, end, ", "+s)
	}
	model := before
	if !opensLine(t.src, model.from) { // the first, beside its bracket
		model = n.entries[len(n.entries)-1]
	}
	line := t.nl + strings.Repeat(" ", t.column(model.from)) + s
	if len(n.entries) == 1 && before.comma == 0 && !restIdle(t.src, end) || !opensLine(t.src, model.from) {
		return t.splice(end, end, ", "+s)
	}
	stop := lineEnd(t.src, end)
	switch {
	case before.comma > 0 && restIdle(t.src, before.comma):
		stop = lineEnd(t.src, before.comma)
		return t.splice(stop, stop, line+",")
	case before.comma == 0 && restIdle(t.src, end):
		return t.splice(end, stop, ","+t.src[end:stop]+line)
	}
	return t.splice(end, end, ","+line)
}

// removeFlow takes an entry out of brackets, and its line where it has one.
func (t *text) removeFlow(n *node, i int) error {
	e := n.entries[i]
	end := max(e.to(), e.comma)
	last, lone := i == len(n.entries)-1, len(n.entries) == 1
	before := n.from + 1
	if i > 0 {
		before = n.entries[i-1].to()
	}
	remark := strings.Contains(t.src[before:e.from], "#")
	whole := opensLine(t.src, e.from) && restIdle(t.src, end)
	switch {
	case whole && !lone:
		bound := nextLine(t.src, before)
		start := commentsAbove(t.src, lineStart(t.src, e.from), bound, t.column(e.from))
		if last && e.comma == 0 {
			comma := n.entries[i-1].comma
			return t.splice(before, nextLine(t.src, end), t.src[comma:start])
		}
		return t.splice(start, nextLine(t.src, end), "")
	case lone:
		from, to := e.from, end
		if strings.Trim(t.src[before:from]+t.src[to:n.to-1], " ") == "" {
			from, to = before, n.to-1
		}
		return t.splice(from, to, "")
	case last && remark:
		comma := n.entries[i-1].comma
		return t.splice(before, end, t.src[comma:e.from])
	case last, i > 0 && !remark && opensLine(t.src, n.entries[i+1].from):
		return t.splice(before, e.to(), "")
	}
	return t.splice(e.from, n.entries[i+1].from, "")
}

// moveFlow puts the items in another order; what stands between them stays.
func (t *text) moveFlow(n *node, from, to int) error {
	var written []string
	for _, e := range n.entries {
		written = append(written, t.src[e.from:e.to()])
	}
	moved := written[from]
	written = append(written[:from], written[from+1:]...)
	written = append(written[:to], append([]string{moved}, written[to:]...)...)
	var b strings.Builder
	at := n.from
	for i, e := range n.entries {
		b.WriteString(t.src[at:e.from] + written[i])
		at = e.to()
	}
	return t.splice(n.from, at, b.String())
}
