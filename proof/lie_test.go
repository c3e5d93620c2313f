package proof

import (
	"fmt"
	"testing"

	"unspool/site"
)

// edges are those of a face, by their words in a card file.
var edges = []site.Edge{site.Left, site.Right, site.Top, site.Bottom}

// laid is a programme with one code in a box of its own, on a card that lies as
// asked for.
func laid(t *testing.T, size, leads, first, dpi, box string, turn int, from string, line float64) map[string]Reading {
	t.Helper()
	return verdicts(t, edit(t,
		"size: ID-1", "size: "+size,
		"dpi: 300,", fmt.Sprintf("dpi: %s, front: {leads: %s, first: %s},", dpi, leads, first),
		"    - {name: portrait, photo: \"{photo}\", box: [5, 14, 20, 26]}\n", "",
		"    - {name: holder, text: \"{name}\", box: [31, 14, 51, 6.5], size: 5}\n", "",
		"    - {name: crew number, text: \"{number}\", box: [30, 48, 52, 4], size: 3}\n", "",
		", printed: crew number", "",
		"[30, 36, 52, 11], x: 3", fmt.Sprintf("%s, turn: %d", box, turn),
		"align: start", "align: middle",
		"    - {name: return, text: Hand in at any quay, box: [5, 20, 60, 6], size: 3}\n", "    - {name: return, text: Hand in, box: [5, 20, 40, 6], size: 3}\n",
		"from: bottom, line: 11,", fmt.Sprintf("from: %s, line: %g,", from, line)))
}

// A code reads in whichever way the card passes the head, at every resolution
// and turn, and a slot finds it where the programme says, measured from either
// long edge. Geometry alone, no source.
func TestCodeReadsHoweverTheCardLies(t *testing.T) {
	for n, lead := range edges {
		firsts := []string{"top", "bottom"}
		if !lead.Horizontal() {
			firsts = []string{"left", "right"}
		}
		for i, c := range []struct {
			size, box string
			turns     [2]int
			from      string
			line      float64
		}{
			{"ID-1", "[15, 36, 60, 11]", [2]int{0, 180}, "bottom", 12.48}, // bars from 36 to 47 mm, 6.98 to 17.98 from below
			{"ID-1", "[15, 36, 60, 11]", [2]int{0, 180}, "top", 41.5},
			{"ID-1\n  upright: true", "[36, 15, 11, 60]", [2]int{90, 270}, "right", 12.48},
			{"ID-1\n  upright: true", "[36, 15, 11, 60]", [2]int{90, 270}, "left", 41.5},
		} {
			first, turn := firsts[i/2], c.turns[(n+i)%2]
			dpi := []string{"300", "300x600", "600x300", "600"}[(n+i)%4]
			for reader, r := range laid(t, c.size, lead.String(), first, dpi, c.box, turn, c.from, c.line) {
				if r.Verdict != Reads {
					t.Errorf("%s leads, %s first, %s dpi, %q turned %d, %s from %s: %v (%s)", lead, first, dpi, c.size, turn, reader, c.from, r.Verdict, r.Cause.Reason)
				}
			}
			r := laid(t, c.size, lead.String(), first, dpi, c.box, turn, c.from, c.line+4)["clock"]
			if r.Cause.ID != "off-line" {
				t.Errorf("%s leads, %s dpi, %q turned %d, 4 mm off the line from %s: %v %s", lead, dpi, c.size, turn, c.from, r.Verdict, r.Cause.ID)
			}
		}
	}
}

// The bars end 555 dots of 1/300 inch below the top edge, 46.990 mm, and so 6.990
// mm above the bottom edge of a card of 53.98 mm (ISO/IEC 7810), which is no
// whole number of dots.
func TestSlotMeasuresFromTheEdgeOfTheCard(t *testing.T) {
	for _, c := range []struct {
		line float64
		want string
	}{{8.99, ""}, {8.98, "off-line"}} {
		r := laid(t, "ID-1", "left", "top", "300", "[15, 36, 60, 11]", 0, "bottom", c.line)["clock"]
		if r.Cause.ID != c.want {
			t.Errorf("line %g ± 2 mm: %v, %s", c.line, r.Verdict, r.Cause.Reason)
		}
	}
}
