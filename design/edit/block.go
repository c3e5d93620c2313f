package edit

import "strings"

// head is where the lines of an entry begin that is written by indent: with the
// comment right above it that stands as far in. What stands above the first key
// of the file is the file's own.
func (t *text) head(n *node, i int) int {
	start := lineStart(t.src, n.entries[i].from)
	bound := 0
	switch {
	case n == t.root && i == 0:
		return start
	case i > 0:
		bound = nextLine(t.src, n.entries[i-1].to())
	}
	return commentsAbove(t.src, start, bound, n.col)
}

// tail is where the lines of an entry end: after comments below it that stand
// further in than it does.
func (t *text) tail(n *node, i int) int {
	at := nextLine(t.src, n.entries[i].to())
	for at < len(t.src) {
		if in, is := commentLine(t.src, at); !is || in <= n.col {
			break
		}
		at = nextLine(t.src, at)
	}
	return at
}

// insertBlock writes an entry before the one at i, or after the last. apart is
// whether it may be set off by blank lines where its neighbours are.
func (t *text) insertBlock(n *node, i int, s string, apart bool) error {
	pad, gap := strings.Repeat(" ", n.col), ""
	if apart && t.spaced(n, i) {
		gap = t.nl
	}
	if i == 0 {
		first := n.entries[0].from
		if !opensLine(t.src, first) {
			return t.splice(first, first, s+t.nl+pad)
		}
		at := t.head(n, 0)
		return t.splice(at, at, pad+s+t.nl+gap)
	}
	at := t.tail(n, i-1)
	if at == len(t.src) && !strings.HasSuffix(t.src, "\n") {
		return t.splice(at, at, t.nl+gap+pad+s)
	}
	return t.splice(at, at, gap+pad+s+t.nl)
}

// spaced says whether blank lines set entries apart where one is to come in at
// i.
func (t *text) spaced(n *node, i int) bool {
	between := func(a int) bool { // a and the entry after it
		if a < 0 || a+1 >= len(n.entries) {
			return false
		}
		end := lineStart(t.src, n.entries[a+1].from)
		for at := nextLine(t.src, n.entries[a].to()); at < end; at = nextLine(t.src, at) {
			if blankLine(t.src, at) {
				return true
			}
		}
		return false
	}
	if i > 0 && i < len(n.entries) {
		return between(i - 1)
	}
	return between(i-2) || i == 0 && between(0)
}

// removeBlock takes out the lines of one of several entries.
func (t *text) removeBlock(n *node, i int) error {
	e := n.entries[i]
	if !opensLine(t.src, e.from) {
		return t.removeBesideDash(n.entries[0], n.entries[1])
	}
	from, to := t.head(n, i), t.tail(n, i)
	above, there := lineBefore(t.src, from)
	open := i == 0 || !there || blankLine(t.src, above)
	last := i == len(n.entries)-1
	if open && blankLine(t.src, to) {
		to = nextLine(t.src, to)
	} else if last {
		for ; there && blankLine(t.src, above); above, there = lineBefore(t.src, from) {
			from = above
		}
	}
	if to == len(t.src) {
		if !strings.HasSuffix(t.src, "\n") { // nor does the file end in one after this
			from = max(lineEnd(t.src, max(from-1, 0)), 0)
			if from > 0 && t.src[from-1] == '\r' {
				from--
			}
		}
	}
	return t.splice(from, to, "")
}

// removeBesideDash takes out a key that stands beside its item's dash; the next
// moves up to the dash, and comments between them move above it.
func (t *text) removeBesideDash(e, next entry) error {
	comments := ""
	start := lineStart(t.src, e.from)
	pad := t.src[start : start+len(t.src[start:])-len(strings.TrimLeft(t.src[start:], " "))]
	for at := nextLine(t.src, e.to()); at < lineStart(t.src, next.from); at = nextLine(t.src, at) {
		if _, is := commentLine(t.src, at); is {
			comments += pad + strings.TrimLeft(t.src[at:nextLine(t.src, at)], " ")
		}
	}
	return t.splice(start, next.from, comments+t.src[start:e.from])
}
