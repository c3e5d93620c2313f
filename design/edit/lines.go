package edit

import "strings"

// bom may stand before the first line of a UTF-8 file.
const bom = "\ufeff"

// lineStart is where the line of at begins, after a byte order mark.
func lineStart(s string, at int) int {
	start := strings.LastIndexByte(s[:at], '\n') + 1
	if start == 0 && strings.HasPrefix(s, bom) {
		return len(bom)
	}
	return start
}

// lineEnd is where the line of at ends, before its line break.
func lineEnd(s string, at int) int {
	n := strings.IndexByte(s[at:], '\n')
	if n < 0 {
		return len(s)
	}
	if n += at; n > at && s[n-1] == '\r' {
		n--
	}
	return n
}

// nextLine is where the line after that of at begins; the end of the text where
// there is none.
func nextLine(s string, at int) int {
	n := strings.IndexByte(s[at:], '\n')
	if n < 0 {
		return len(s)
	}
	return at + n + 1
}

// opensLine says whether only spaces stand before at on its line.
func opensLine(s string, at int) bool {
	return strings.Trim(s[lineStart(s, at):at], " ") == ""
}

// restIdle says whether nothing or only a comment stands from at to the end of
// its line.
func restIdle(s string, at int) bool {
	rest := strings.TrimLeft(s[at:lineEnd(s, at)], " \t")
	return rest == "" || rest[0] == '#'
}

// commentLine is whether the line that begins at start is a comment, and how far
// it is indented.
func commentLine(s string, start int) (indent int, is bool) {
	line := s[start:lineEnd(s, start)]
	text := strings.TrimLeft(line, " ")
	return len(line) - len(text), strings.HasPrefix(text, "#")
}

// blankLine says whether the line that begins at start has nothing on it.
func blankLine(s string, start int) bool {
	return start < len(s) && strings.TrimSpace(s[start:lineEnd(s, start)]) == ""
}

// lineBefore is where the line before the one that begins at start begins, and
// whether there is one.
func lineBefore(s string, start int) (int, bool) {
	if start == 0 || start == len(bom) && strings.HasPrefix(s, bom) {
		return 0, false
	}
	return lineStart(s, start-1), true
}

// commentsAbove is where the comment begins that stands right above the line
// that begins at start, no deeper or shallower than indent and not above bound;
// start where there is none.
func commentsAbove(s string, start, bound, indent int) int {
	for {
		above, ok := lineBefore(s, start)
		if !ok || above < bound {
			return start
		}
		if in, is := commentLine(s, above); !is || in != indent {
			return start
		}
		start = above
	}
}
