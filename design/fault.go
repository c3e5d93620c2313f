package design

import (
	"fmt"
	"slices"
	"strings"
)

// maxFaults is how many faults are told at once; more would not be read.
const maxFaults = 20

// Fault is one thing wrong with a programme file.
type Fault struct {
	Pos  Pos    // zero where the whole file is meant
	Path string // the key it stands under: "faces.front[2].box"; lists count from 1
	Text string // what is wrong and, after a semicolon, what to write
}

// Faults is everything found wrong with a programme file, in the order of the
// file. It is the error that Parse and CheckFields return.
type Faults struct {
	File string
	List []Fault // the first 20
	More int     // how many more there are
}

// Error writes one fault a line: "programme.yaml:17:9: card.width: ...".
func (f *Faults) Error() string {
	var b strings.Builder
	for i, fault := range f.List {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.File)
		if fault.Pos.Line > 0 {
			fmt.Fprintf(&b, ":%d:%d", fault.Pos.Line, fault.Pos.Column)
		}
		b.WriteString(": ")
		if fault.Path != "" {
			b.WriteString(fault.Path + ": ")
		}
		b.WriteString(fault.Text)
	}
	if f.More > 0 {
		fmt.Fprintf(&b, "\n%s: and %d more", f.File, f.More)
	}
	return b.String()
}

// add notes a fault.
func (f *Faults) add(at Pos, path, format string, args ...any) {
	f.List = append(f.List, Fault{at, path, fmt.Sprintf(format, args...)})
}

// err is the faults as an error, sorted and cut to what will be read; nil where
// there are none.
func (f *Faults) err() error {
	if len(f.List) == 0 {
		return nil
	}
	slices.SortStableFunc(f.List, func(a, b Fault) int {
		if a.Pos.Line != b.Pos.Line {
			return a.Pos.Line - b.Pos.Line
		}
		return a.Pos.Column - b.Pos.Column
	})
	if n := len(f.List); n > maxFaults {
		f.List, f.More = f.List[:maxFaults:maxFaults], n-maxFaults
	}
	return f
}

// nearest is the word most like the one written, and whether it is like enough
// to be what was meant: at most two letters off, and fewer than half of them.
func nearest(written string, words []string) (string, bool) {
	best, least := "", 3
	for _, w := range words {
		if d := distance(strings.ToLower(written), strings.ToLower(w)); d < least && 2*d < len([]rune(w)) {
			best, least = w, d
		}
	}
	return best, best != ""
}

// distance is the number of letters to insert, take out, change or swap with
// their neighbour to make b of a (optimal string alignment). Words of very
// unlike length are not compared.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 64 || len(t) > 64 {
		return 64
	}
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			change := rows[i-1][j-1]
			if s[i-1] != t[j-1] {
				change++
			}
			rows[i][j] = min(change, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
}

// hint is "; write WORD" where a word is near, otherwise the list of words;
// "" where there are none.
func hint(written string, words []string) string {
	if w, ok := nearest(written, words); ok {
		return "; write " + w
	}
	if len(words) == 0 {
		return ""
	}
	if len(words) > 30 {
		words = append(slices.Clone(words[:30]), "...")
	}
	return "; write one of " + strings.Join(words, ", ")
}
