package proof

import (
	"slices"
	"strings"
	"testing"
)

// What a code could be instead at the slot of the base programme, whose smallest
// bar of 0.25 mm is 3 dots. By hand, for six digits: Interleaved 2 of 5 with wide
// bars of 7 dots has 3(4·7+6·3)+7+6·3 = 163 dots (ISO/IEC 16390) and 60 of quiet
// zone, 18.9 mm; Code 128 in set C has 68 X (ISO/IEC 15417) and 20 of quiet zone,
// 264 dots, 22.4 mm; QR Code of version 1 has 21 X and 8 of quiet zone (ISO/IEC
// 18004), 87 dots, 7.4 mm. The
// edges of the box fall on dots 354 and 969, 52.1 mm apart.
func TestWhatACodeCouldBeInstead(t *testing.T) {
	for _, c := range []struct{ reader, accepts, box, want string }{
		{"clock", "code128, itf", "52, 11", "Make it Interleaved 2 of 5, the narrowest that the reader takes and that fits: at 3 dots (0.254 mm) it needs 18.9 mm of the 52.1 mm there are. Or have the reader set to Code 39."},
		{"clock", "code128, {code: itf, length: 8}", "52, 11", "Make it Code 128, the narrowest that the reader takes and that fits: at 3 dots (0.254 mm) it needs 22.4 mm of the 52.1 mm there are. Or have the reader set to Code 39."},
		{"clock", "ean13, code128", "15, 11", "Nothing that the reader takes will do in this box: EAN-13 cannot carry its text; Code 128 at 3 dots (0.254 mm) needs 22.4 mm of the 15.0 mm there are. Change the box or the text, or have the reader set to Code 39."},
		{"clock", "{code: itf, length: 8}", "52, 11", "Nothing that the reader takes will do in this box: as Interleaved 2 of 5 it has 6 characters and the reader takes 8. Change the box or the text, or have the reader set to Code 39."},
		{"hand", "qr, code128", "52, 11", "Make it QR Code, the narrowest that the reader takes and that fits: at 3 dots (0.254 mm) it needs 7.4 by 7.4 mm of the 52.1 by 11.0 mm there are. Or have the reader set to Code 39."},
		{"hand", "qr", "52, 6", "Nothing that the reader takes will do in this box: QR Code at 3 dots (0.254 mm) needs 7.4 by 7.4 mm of the 52.1 by 6.0 mm there are. Change the box or the text, or have the reader set to Code 39."},
	} {
		changes := []string{"[30, 36, 52, 11]", "[30, 36, " + c.box + "]"}
		if c.reader == "clock" {
			changes = append(changes, "accepts: [{code: code39, length: 6}]", "accepts: ["+c.accepts+"]")
		} else {
			changes = append(changes, "min-x: 0.19, accepts: [{code: code39, length: 6}]", "min-x: 0.19, accepts: ["+c.accepts+"]")
		}
		all := findings(t, edit(t, changes...), somebody(), false)
		i := slices.IndexFunc(all, func(f Finding) bool { return f.ID == "wrong-kind" && f.Reader == c.reader })
		if i < 0 {
			t.Errorf("%s, %s: no wrong-kind", c.reader, c.accepts)
			continue
		}
		if got := all[i].Advise().String(); got != c.want {
			t.Errorf("%s, %s:\n%s\nwant\n%s", c.reader, c.accepts, got, c.want)
		}
	}
}

// matrixChanges make the code of the base programme a two-dimensional one that a
// camera reads.
func matrixChanges(kind string, more ...string) []string {
	name, _, _ := strings.Cut(kind, ",")
	return append([]string{"code: code39, text", "code: " + kind + ", text", "kind: hand", "kind: camera",
		"min-x: 0.19, accepts: [{code: code39, length: 6}]", "min-x: 0.19, accepts: [" + name + "]", ", printed: crew number", "",
		", min-x: 0.25, accepts: [{code: code39, length: 6}]", ", min-x: 0.25, accepts: [codabar]",
		"  - {name: clock, kind: slot", "  - {name: clock, kind: counter", ", side: front, from: bottom, line: 11, tolerance: 2", ""}, more...)
}

// What is found of two-dimensional codes: sides of what they need and what helps,
// what enters their quiet zones (4 X of QR Code, 1 X of Data Matrix, 2 X of PDF417:
// ISO/IEC 18004, 16022 and 15438), and low error correction. QR Code of version 1-M
// holds 14 bytes, of 1-L 17 (ISO/IEC 18004 table 7); of so little PDF417 Annex E
// recommends level 2.
func TestFindingsOfTwoDimensionalCodes(t *testing.T) {
	laid := func(s string) []string { return []string{"\"{number}\", box: [30, 36, 52, 11], x: 3", s} }
	bar := func(at string) []string {
		return []string{"    - {name: crew number", "    - {name: bar, rectangle: [" + at + "], fill: black}\n    - {name: crew number"}
	}
	hole := func(at string) []string {
		return []string{"size: ID-1", "size: ID-1\n  keepouts: [{punch: front, box: [" + at + "]}]"}
	}
	check(t, "QR Code of level L", matrixChanges("qr, level: L"), "level-low", "level L; M is what QR Code should have")
	check(t, "QR Code of level M", matrixChanges("qr"), "level-low", "")
	check(t, "too much", matrixChanges("qr", laid(`"sundhaven crew 04", box: [30, 36, 52, 7.5], x: 3`)...), "code-too-wide",
		"with 3 dots a module and its quiet zone the code needs 8.4 by 8.4 mm of the 52.1 by 7.5 mm there are\n"+
			"Give it a box of 8.4 by 8.4 mm, or write level: L, with which it fits, or shorten the text: 14 of its 17 characters fit.")
	check(t, "PDF417 of level 1", matrixChanges("pdf417, level: 1"), "level-low", "level 1; 2 is what PDF417 should have")
	check(t, "PDF417 of level 2", matrixChanges("pdf417, level: 2"), "level-low", "")
	check(t, "Aztec Code of 10 per cent", matrixChanges("aztec, level: 10"), "level-low", "level 10; 23 is")
	// A white stripe over the lower part of an otherwise sound symbol costs codewords.
	check(t, "half used up", matrixChanges("aztec, level: 60", "    - {name: crew number", strings.ReplaceAll(bar("30, 42.95, 52, 0.8")[1], "fill: black", "fill: white")), "level-low", "of its error correction is left when it is new")
	for _, kind := range []string{"qr", "datamatrix", "pdf417"} {
		over := matrixChanges(kind, bar("30, 36, 0.3, 11")...)
		check(t, kind, over, "quiet-entered", `"bar" enters its quiet zone: `)
		free := matrixChanges(kind, bar("29.5, 36, 0.3, 11")...)
		check(t, kind+" beside", free, "quiet-entered", "")
		punched := matrixChanges(kind, hole("27, 37, 3.2, 9")...)
		check(t, kind+" punched", punched, "quiet-entered", "the slot punch enters its quiet zone")
	}
}

// check holds a finding's sentence and remedy to what is wanted of them; with
// nothing wanted it is not to be found.
func check(t *testing.T, what string, changes []string, id, want string) {
	t.Helper()
	all := findings(t, edit(t, changes...), somebody(), false)
	i := slices.IndexFunc(all, func(f Finding) bool { return f.ID == id })
	if i < 0 || want == "" {
		if (i < 0) != (want == "") {
			t.Errorf("%s: %s is at %d of %v", what, id, i, all)
		}
		return
	}
	if said := all[i].Detail.String() + "\n" + all[i].Advise().String(); !strings.Contains(said, want) {
		t.Errorf("%s: %s\nwant %s", what, said, want)
	}
}
