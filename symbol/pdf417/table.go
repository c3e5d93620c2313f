// Package pdf417 draws and reads PDF417 (ISO/IEC 15438), normal and compact.
//
// A symbol is 3 to 90 rows of 1 to 30 columns of symbol characters between row
// indicators, a start and a stop pattern. Each character is 17 modules of four
// bars and four spaces and stands for a codeword of 0 to 928, in one of three
// clusters of patterns; neighbouring rows are of different clusters, so that a
// scan line that wanders from row to row can be told.
//
// The grid of a symbol has one row of modules a row of the symbol. How high a row
// is drawn, at least three modules, is up to who draws it.
package pdf417

import (
	"slices"
	"sync"
)

const (
	prime    = 929 // codewords are 0 to 928
	modules  = 17  // of a symbol character
	elements = 8
	clusters = 3 // of patterns, 0, 3 and 6 in the standard, here 0, 1 and 2
	widest   = 6 // modules of an element
)

// pattern is the widths of a symbol character in modules, from its first bar.
type pattern [elements]uint8

// edges are E1 to E6, the distances in modules from a bar's edge to the similar
// edge of the next, which name a pattern among all that are used.
type edges [6]uint8

func (p pattern) edges() (e edges) {
	for i := range e {
		e[i] = p[i] + p[i+1]
	}
	return e
}

// cluster is K = (E1-E2+E5-E6+9) mod 9, 0 to 8 (ISO/IEC 15438, from memory).
// Characters have 0, 3 or 6.
func (e edges) cluster() int {
	return (int(e[0]) - int(e[1]) + int(e[4]) - int(e[5]) + 18) % 9
}

// The start and the stop pattern, in modules (ISO/IEC 15438 5.3; held against
// its Annex Q). A compact symbol ends in one bar of a module instead.
var (
	startWidths = []uint8{8, 1, 1, 1, 1, 1, 1, 3}
	stopWidths  = []uint8{7, 1, 1, 3, 1, 1, 1, 2, 1}
)

// used says for each cluster which of its patterns are characters. In the order
// of E2, E3, E4, E5, E6 and then the first bar, one bit each, they are the
// patterns of codewords 0 to 928: so Annex A of ISO/IEC 15438 lists them. The bits
// were taken from symbols that zint drew; a test has zint draw them all.
var used = [clusters]string{
	"ff4d3fd03fc3c5ff7d7ff1fcf7ff57fd7d7ffdff57ff545541ffd0ff53f5dfffcfaabad20fad720f6cffff7b59ead3ea" +
		"f2f77fffeb5db3dbd7fff57b528aa928003efabfebefffeed676c8f9bd3dbffef9d76afae4d3cc8f736befffcdeff596" +
		"dabdbaffedfee6faaaa5494000137f7ffff7df3aed5eddfffdabdf672db57b77ffbbfdcdff739dcfffeff6feeef55555" +
		"5004d557cff5aafefebaefb75bbfbafeefeeeefbfffe",
	"fffffffffffffdfeffffffffffffeffffffffffffffffffffffefcfffffffffffeffffdf9bdfeaf7fabdfeaf6f7fffdb" +
		"fdbfdbfdbfffeff7eff7fffffff3fffffffffffff6ff6ff6ff6fffffbffaffb7fb7fb7fffffffffffffffffffffffbfb" +
		"fbfbfffffffffffffffffffefffffffffffffffffff3f3ffffffff7ff",
	"ffe7ff7fffffeffefffffffffffffffeffffdfffffffffffabdffbffffffffdbfffffff7fffffffffffffff6ffffffff" +
		"f57bfb7fffff6fffffefffffffdffffdfffff77ffffffabdfdbfffffdbfffffbfffff3ffffffdfffffb7fffffabdfdbf" +
		"fff6ffffdffe3fffffff7fffbdffff7f6ffffffffffffeffffffffff",
}

// character is what a pattern stands for.
type character struct {
	cluster  int8
	codeword int16
}

// table is the symbol characters, both ways.
type table struct {
	patterns [clusters][prime]pattern
	of       map[edges]character
}

// characters lays out the table, once: a card office that draws no PDF417 pays
// nothing for it.
var characters = sync.OnceValue(func() *table {
	t := &table{of: make(map[edges]character, clusters*prime)}
	for c, all := range possible() {
		n := 0
		for i, p := range all {
			if !isUsed(c, i) {
				continue
			}
			t.patterns[c][n] = p
			t.of[p.edges()] = character{int8(c), int16(n)}
			n++
		}
	}
	return t
})

func isUsed(cluster, i int) bool {
	if i/4 >= len(used[cluster]) {
		return false
	}
	digit := used[cluster][i/4]
	if digit >= 'a' {
		digit -= 'a' - '9' - 1
	}
	return (digit-'0')>>(3-i%4)&1 == 1
}

// possible is every pattern of eight elements of 1 to 6 modules, 17 in all, of
// the three clusters, in the order of the table.
func possible() (all [clusters][]pattern) {
	var p pattern
	var fill func(i, left int)
	fill = func(i, left int) {
		if i == elements {
			if k := p.edges().cluster(); k%3 == 0 {
				all[k/3] = append(all[k/3], p)
			}
			return
		}
		after := elements - 1 - i // elements still to come, of 1 to 6 modules each
		for w := max(1, left-widest*after); w <= min(widest, left-after); w++ {
			p[i] = uint8(w)
			fill(i+1, left-w)
		}
	}
	fill(0, modules)
	for _, c := range all {
		slices.SortFunc(c, func(a, b pattern) int {
			ea, eb := a.edges(), b.edges()
			if d := slices.Compare(ea[1:], eb[1:]); d != 0 {
				return d
			}
			return int(a[0]) - int(b[0])
		})
	}
	return all
}
