package qr

import "strings"

// mode is how a stretch of data is packed.
type mode uint8

// The modes that the encoder uses; kanji is only read.
const (
	numeric mode = iota
	alphanumeric
	bytewise
	kanji
)

// indicator is the four bits that name a mode. ISO/IEC 18004 Table 2.
var indicator = [...]int{numeric: 1, alphanumeric: 2, bytewise: 4, kanji: 8}

// Other indicators. ISO/IEC 18004 Table 2.
const (
	terminator  = 0
	structured  = 3 // structured append
	fnc1First   = 5
	eciMode     = 7
	fnc1Second  = 9
	indicatorIs = 4 // bits
)

// counts is how many bits tell the length of a segment, by mode and range of
// versions: 1 to 9, 10 to 26, 27 to 40. ISO/IEC 18004 Table 3.
var counts = [...][3]int{numeric: {10, 12, 14}, alphanumeric: {9, 11, 13}, bytewise: {8, 16, 16}, kanji: {8, 10, 12}}

// span is the range of versions that a version is in.
func span(version int) int {
	switch {
	case version <= 9:
		return 0
	case version <= 26:
		return 1
	}
	return 2
}

// characters are those of alphanumeric mode by value. ISO/IEC 18004 Table 5.
const characters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// gs separates fields of GS1 data; in alphanumeric mode a % stands for it.
const gs = 0x1D

// segment is a stretch of data in one mode.
type segment struct {
	mode mode
	data string
}

// value is what a character is packed as, -1 where the mode cannot hold it.
func (m mode) value(c byte, gs1 bool) int {
	switch {
	case m == bytewise:
		return int(c)
	case m == numeric && c >= '0' && c <= '9':
		return int(c - '0')
	case m == alphanumeric && gs1 && c == gs:
		c = '%'
	case m == alphanumeric && gs1 && c == '%':
		return -1 // it would have to be doubled: leave it to byte mode
	case m == numeric:
		return -1
	}
	return strings.IndexByte(characters, c)
}

// bits is what a segment takes without its head.
func (s segment) bits() int {
	n := len(s.data)
	switch s.mode {
	case numeric:
		return n/3*10 + [...]int{0, 4, 7}[n%3]
	case alphanumeric:
		return n/2*11 + n%2*6
	}
	return n * 8
}

// sixths is what a character costs in a mode, in sixths of a bit: 10 bits for
// three digits, 11 for two characters, 8 for one.
var sixths = [...]int{numeric: 20, alphanumeric: 33, bytewise: 48}

// split cuts data into the segments that take the least bits at a range of
// versions. It goes through the data once, knowing for each mode the least bits
// with which the data so far can end in that mode; a started bit is whole when the
// mode changes.
func split(data string, span int, gs1 bool) []segment {
	const modes, never = 3, 1 << 40
	var cost [modes]int
	for m := range cost {
		cost[m] = 6 * (indicatorIs + counts[m][span])
	}
	from := make([][modes]mode, len(data)) // the mode of the character before
	for i := range len(data) {
		next := [modes]int{}
		for m := range mode(modes) {
			best, before := cost[m], m
			for o := range mode(modes) {
				if i == 0 || o == m {
					continue
				}
				if c := (cost[o]+5)/6*6 + 6*(indicatorIs+counts[m][span]); c < best {
					best, before = c, o
				}
			}
			if m.value(data[i], gs1) < 0 {
				best = never
			}
			next[m], from[i][m] = min(best+sixths[m], never), before
		}
		cost = next
	}
	last := mode(0)
	for m := range mode(modes) {
		if (cost[m]+5)/6 < (cost[last]+5)/6 {
			last = m
		}
	}
	return cut(data, from, last)
}

// cut follows the choices back from the last character.
func cut(data string, from [][3]mode, last mode) []segment {
	modes := make([]mode, len(data))
	for i := len(data) - 1; i >= 0; i-- {
		modes[i] = last
		last = from[i][last]
	}
	var segments []segment
	for i, m := range modes {
		if i == 0 || m != modes[i-1] {
			segments = append(segments, segment{mode: m})
		}
		s := &segments[len(segments)-1]
		s.data = data[i+1-len(s.data)-1 : i+1]
	}
	return segments
}
