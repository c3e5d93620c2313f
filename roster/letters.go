package roster

import (
	"strings"
	"unicode"
)

// LostLetters lists the rows whose cell in a column likely holds question marks
// instead of letters, which a program puts where the encoding it saves in does
// not have them. The rule is our own: two of them together, or one with a letter right
// after it, but not in what looks like an address of the web.
func (r *Roster) LostLetters(column string) (rows []int) {
	for i, row := range r.Rows {
		if lostLetters(row.Field(column)) {
			rows = append(rows, i)
		}
	}
	return rows
}

func lostLetters(v string) bool {
	if strings.ContainsAny(v, "/=") {
		return false
	}
	before := rune(0)
	for _, c := range v {
		if before == '?' && (c == '?' || unicode.IsLetter(c)) {
			return true
		}
		before = c
	}
	return false
}
