package design_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"unspool/design"
)

// Each case replaces one part of the short sample; the fault must be told in
// exactly these words.
func TestFaults(t *testing.T) {
	const text = `{text: "{full}", box: [5, 5, 40, 6], size: 4}`
	const bar = `{code: code39, text: "{number}", box: [5, 40, 70, 10]}`
	const rect = `{rectangle: [0, 0, 85.6, 3], fill: black}`
	const slot = `kind: slot, light: 940, accepts: [code39], side: front, from: bottom, line: 11`
	const beyond = `which is 86 mm wide and 54 mm high`
	for _, c := range []struct{ old, new, want string }{
		// the file
		{"unspool: 1", "unspool: 2", `1:10: unspool: is 2, a later format of programmes than the 1 that this Unspool reads; use a newer Unspool`},
		{"unspool: 1", "version: 1", `1:1: does not begin as a programme; write unspool: 1 as its first line`},
		{"name: Short", "name: *x", `2:7: * begins an alias, which a programme does not use; put quotes round a text that begins so`},
		{"name: Short", "name: &x Short", `2:7: & begins an anchor, which a programme does not use; put quotes round a text that begins so`},
		{"name: Short", "name: !x Short", `2:7: ! begins a tag, which a programme does not use; put quotes round a text that begins so`},
		{"name: Short", "name: Sh\xf6rt", `2:9: is not UTF-8; save the file as UTF-8 text`},
		{"name: Short", "name: Sh\x00rt", `2:9: has a zero byte; save the file as UTF-8 text`},
		{"name: Short", "name: 'Short", `2:7: cannot be read as YAML: could not find end character of single-quoted text; look at the indent, the brackets and the quotes here and just above`},
		{"name: Short", "name: Short\ncard: {a: #204060}", `3:11: # without quotes begins a comment, which hides the rest of the line and its bracket; put quotes round a colour: "#204060"`},
		{"name: Short", "name: [[[[[[[[[[[[[[1]]]]]]]]]]]]]]", `2:19: lies more than 12 brackets deep; no part of a programme does`},
		{"name: Short", "name: Short\n---\na: 1", `4:1: a second document begins here; write one programme a file`},
		{"name: Short\n", "", `1:1: has no name; write name: Crew cards 2027`},
		{"name: Short", "nam: Short", `2:1: nam: is not a key of a programme; write name`},
		{"name: Short", "name: Short\nname: Long", `3:1: name: is written twice, first on line 2; keep one`},
		{"name: Short", "name:", `2:1: name: is empty; write a value or leave the key out`},
		{"name: Short", "name: [a]", `2:7: name: is a list where a text belongs; write a text`},
		{"name: Short", `name: " "`, `2:7: name: is " "; write a name of one line, up to 100 characters`},
		{"name: Short", `name: "a\x07"`, `2:7: name: holds the control character U+0007; take it out`},
		{"name: Short", "name: Short\nprinter: 300", `3:10: printer: is "300" where a group of keys belongs; write keys of printer such as dpi, process, unprinted`},
		// lengths and numbers
		{"width: 86,", "width: 12 mm,", `3:15: card.width: is "12 mm"; lengths are plain millimetres: write 12`},
		{"width: 86,", "width: 0.5in,", `3:15: card.width: is "0.5in"; lengths are plain millimetres: write 12.7`},
		{"width: 86,", `width: "86",`, `3:15: card.width: is "86"; lengths are plain millimetres: write 86`},
		{"width: 86,", "width: 086,", `3:15: card.width: is "086"; lengths are plain millimetres: write 86`},
		{"width: 86,", "width: 8e1,", `3:15: card.width: is "8e1" where a length in millimetres belongs; write plain millimetres such as 12.7`},
		{"width: 86,", "width: .inf,", `3:15: card.width: is ".inf" where a length in millimetres belongs; write plain millimetres such as 12.7`},
		{"width: 86,", "width: 860,", `3:15: card.width: is 860 mm; write a length from 20 to 150`},
		{"width: 86,", "width: [86],", `3:15: card.width: is a list where a length in millimetres belongs; write plain millimetres such as 12.7`},
		{"size: 4}", "size: 4,5}", `10:52: faces.front[1].5: is not a key of a text element; if it follows a decimal comma, write a decimal point`},
		{"light: 940", "light: infrared", `14:38: readers[1].light: is "infrared" where a number belongs; write a plain number from 380 to 1000`},
		{slot, `kind: slot, light: 940, accepts: [code39, {code: qr}], side: front, from: bottom, line: 11`, `14:61: readers[1].accepts[2]: is QR Code, which a camera reads as a whole, and a slot looks at one line; take it out`},
		{slot, slot + ", rule: c-06-660", `14:105: readers[1].rule: is c-06-660, which judges a grade in light of 660 nm and says nothing of one in light of 940 nm; write least instead`},
		{slot, slot + ", rule: b-at-issue, least: C", `14:124: readers[1].least: has no effect: the rule b-at-issue states the least grade, 2.5; take one of them out`},
		{slot, slot + ", rule: C", `14:105: readers[1].rule: is "C"; write one of c-06-660, b-at-issue, c-at-receipt, gs1-healthcare-linear, gs1-healthcare-datamatrix, aamva`},
		{"light: 940", "light: 1050", `14:38: readers[1].light: is 1050; write a number from 380 to 1000`},
		// card
		{"width: 86, height: 54", "width: 86", `3:7: card: has no height; write height: 53.98`},
		{"width: 86, height: 54", "width: 86, height: 54, size: ID-1", `3:7: card: has width or height beside size or upright; write either a size or both width and height`},
		{"width: 86, height: 54", "size: A7", `3:14: card.size: is "A7"; write one of ID-1, CR80, CR79, CR100`},
		{"width: 86, height: 54", "keepouts: [{bump: front}]", `3:19: card.keepouts[1]: has no box; only on an ID-1 card that is not upright is there a usual place, and none for a bump: write box: [x, y, width, height]`},
		{"width: 86, height: 54", "keepouts: [{chip: front, punch: back}]", `3:19: card.keepouts[1]: must name one kind and its side; write one of stripe, chip, punch, signature or bump, such as {stripe: back}`},
		{"width: 86, height: 54", "keepouts: [{chip: front, box: [80, 1, 8, 8]}]", `3:19: card.keepouts[1]: lies beyond the card, which is 85.6 mm wide and 53.98 mm high; write a box on the card`},
		// printer
		{"name: Short", "name: Short\nprinter: {dpi: 300 x}", `3:16: printer.dpi: is "300 x" where a resolution belongs; write dots per inch from 100 to 2400 such as 300, or across the head and along the feed: 300x600`},
		{"name: Short", "name: Short\nprinter: {dpi: 2400}", `1:1: printer.dpi: gives 41458852 dots on a face of 86 mm x 54 mm, more than the 16000000 that are computed; write a lower resolution or a smaller card`},
		{"name: Short", "name: Short\nprinter: {dead: [638]}", `3:18: printer.dead[1]: is 638, but the card passes under the elements 0 to 637; write one of those, or state the offset of the card under printer.front`},
		{"name: Short", "name: Short\nprinter: {front: {leads: left, first: right}}", `3:18: printer.front: leads with the left edge while the head begins at the right edge, but these run the same way; write edges that meet at a corner`},
		// ribbon and black
		{"{panels: YMCKO}", "{panels: YMCXO}", `4:18: ribbon.panels: is "YMCXO", but "X" is no panel; write Y M C (dyes), K (black resin), O or T (overlay), F (fluorescent), S G W (silver, gold, white), or explain the letter under ribbon.inks`},
		{"{panels: YMCKO}", "{panels: YMCKSW}", `4:18: ribbon.panels: prints the front from YMCKSW, which has 2 metallic, white or coloured resins; write at most one for a side`},
		{"{panels: YMCKO}", "{panels: YMCKOK, back: again}", `4:18: ribbon.panels: prints the front from YMCKOK, which has black resin twice; write one of each for a side`},
		{"{panels: YMCKO}", "{panels: YMCKO, price: 78}", `4:32: ribbon.price: is "78" where a price belongs; write an amount and the letters of its currency such as 78.50 EUR`},
		{"{panels: YMCKO}", "{panels: YMCKO, short: {from: 50, to: 42}}", `4:32: ribbon.short: reaches from 50 to 42 mm; write from less than to, and to at most the 86 mm that the card is long along the feed`},
		{"{panels: YMCKO}", "{panels: YMCKO, ink: {table: [[500, 1, 1, 1, 1], [400, 1, 1, 1, 1]]}}", `4:58: ribbon.ink.table[2]: comes after 500 nm; write the rows by rising wavelength`},
		{"{panels: YMCKO}", "{panels: YMCKO, inks: {K: {name: red, colour: '#f00'}}}", `4:35: ribbon.inks.K: cannot be a panel of your own; write a capital letter other than Y M C K O T F S G W, once`},
		{"{panels: YMCKO}", "{panels: YMCKO, inks: {R: {name: red, colour: #f00\n}}}", `4:47: ribbon.inks.R.colour: is empty; a colour needs quotes, since # begins a comment: write colour: "#1b3a8a"`},
		{"black: objects", "", `1:1: black: is missing; write the rule by which the printer's driver puts dots on the black panel: none, exact, dark, objects, zones or all`},
		{"black: objects", "black: object", `5:8: black: is "object"; write objects`},
		{"black: objects", "black: zones", `5:8: black: needs its rectangles; write {rule: zones, zones: [[x, y, width, height]]}`},
		{"black: objects", "black: {rule: exact, limit: 3}", `5:29: black.limit: has no effect with the rule exact, only with dark, zones; take it out`},
		{"black: objects", "black: {rule: zones, zones: [[80, 50, 20, 20]]}", `5:30: black.zones[1]: lies beyond the card, ` + beyond + `; write a zone on the card`},
		// elements
		{text, `{text: {full}, box: [5, 5, 40, 6], size: 4}`, `10:14: faces.front[1].text: is a group of keys; a text that begins with { needs quotes: write "{field}"`},
		{text, `{text: "Zoë 漢字", bogus: 1, box: [5, 5, 40, 6], size: 4}`, `10:24: faces.front[1].bogus: is not a key of a text element; write one of text, font, bold, size, floor, wrap, align, valign, leading, colour, box, name, send, show`},
		{text, `{box: [5, 5, 40, 6]}`, `10:7: faces.front[1]: does not say what it is; write one of picture, photo, text, code, mrz, rectangle, ellipse, line`},
		{text, `{text: a, size: 4}`, `10:7: faces.front[1]: has no box; write box: [x, y, width, height]`},
		{text, `{text: a, box: [5, 5, 40], size: 4}`, `10:22: faces.front[1].box: has 3 numbers; write [x, y, width, height] in millimetres`},
		{text, `{text: a, box: [5, 5, 40, 0], size: 4}`, `10:33: faces.front[1].box[4]: is 0 mm; write a length from 0 to 200`},
		{text, `{text: a, box: [80, 5, 10, 6], size: 4}`, `10:22: faces.front[1].box: puts the text 4 mm beyond the right edge; write a box on the card, ` + beyond},
		{text, `{text: a, box: [-1, 50, 10, 6], size: 4}`, `10:22: faces.front[1].box: puts the text 1 mm beyond the left edge and 2 mm beyond the bottom edge; write a box on the card, ` + beyond},
		{text, `{text: a, box: [90, 5, 10, 6], size: 4}`, `10:22: faces.front[1].box: puts the text off the card; write a box on the card, ` + beyond},
		{text, `{picture: a.png, box: [-4, 0, 10, 6]}`, `10:29: faces.front[1].box: puts the picture 4 mm beyond the left edge; write a box that reaches at most 3 mm beyond the card, ` + beyond},
		{text, `{picture: ../a.png, box: [0, 0, 10, 6]}`, `10:17: faces.front[1].picture: is "../a.png"; write a name within the programme folder, with / between folders`},
		{text, `{text: "{full", box: [5, 5, 40, 6], size: 4}`, `10:14: faces.front[1].text: has a { that is not closed; write {field}, or {{ for a brace that is printed`},
		{text, `{text: "full}", box: [5, 5, 40, 6], size: 4}`, `10:14: faces.front[1].text: has a } without its {; write }} for a brace that is printed`},
		{text, `{text: "{ full}", box: [5, 5, 40, 6], size: 4}`, `10:14: faces.front[1].text: has " full" in braces; write the name of a column without spaces round it`},
		{text, `{text: a, box: [5, 5, 40, 6], size: 4, floor: 5}`, `10:53: faces.front[1].floor: is 5 mm, larger than the size of 4 mm; write the smallest size the text may shrink to`},
		{text, `{text: a, box: [5, 5, 40, 6], size: 4, align: left}`, `10:53: faces.front[1].align: is "left"; write one of start, middle, end`},
		{text, `{text: a, box: [5, 5, 40, 6], size: 4, bold: yes}`, `10:52: faces.front[1].bold: is "yes" where true or false belongs; write true or false`},
		{text, `{text: a, box: [5, 5, 40, 6], size: 4, colour: red}`, `10:54: faces.front[1].colour: is "red" where a colour belongs; write "#rrggbb", black or white`},
		{text, `{text: a, box: [5, 5, 40, 6], size: 4, name: bar}` + "\n    - {name: bar, text: b, box: [5, 5, 40, 6], size: 4}", `11:7: faces.front[2]: is named "bar" like the element on line 10; write another name`},
		{text, `{text: a, box: [5, 5, 40, 6], size: 4, show: {field: a, is: b, not: c}}`, `10:52: faces.front[1].show: has both is and not; write one of them`},
		{bar, `{code: code92, text: a, box: [5, 40, 70, 10]}`, `11:14: faces.front[2].code: is "code92", which is no code that is known; write one of code39, code128, itf, codabar, code93, gs1-128, isbt128, ean13, ean8, upca, upce, qr, datamatrix, aztec, pdf417`},
		{bar, `{code: code39, box: [5, 40, 70, 10]}`, `11:7: faces.front[2]: has no text; write text: "{number}"`},
		{bar, `{code: code39, text: a, box: [5, 40, 70, 10], check: mod10}`, `11:60: faces.front[2].check: is mod10, which Code 39 does not know; write mod43`},
		{bar, `{code: code128, text: a, box: [5, 40, 70, 10], check: mod10}`, `11:61: faces.front[2].check: is mod10, but Code 128 has no check rule to choose; take it out`},
		{bar, `{code: code128, text: a, box: [5, 40, 70, 10], ratio: 3}`, `11:61: faces.front[2].ratio: has no effect: Code 128 has no wide:narrow ratio; take it out`},
		{bar, `{code: code39, text: a, box: [5, 40, 70, 10], given: true}`, `11:60: faces.front[2].given: says the text ends in its check character, but there is no check rule; write check: beside it`},
		{bar, `{code: itf, text: a, box: [5, 40, 70, 10], full-ascii: true}`, `11:62: faces.front[2].full-ascii: belongs to code39 alone; take it out`},
		{bar, `{code: itf, text: a, box: [5, 40, 70, 10], x: 2, reduce: 2}`, `11:64: faces.front[2].reduce: is 2 dots, but the narrow bar has only 2; write less`},
		{bar, `{code: itf, text: a, box: [5, 40, 70, 10], turn: 45}`, `11:56: faces.front[2].turn: is "45"; write one of 0, 90, 180, 270`},
		{bar, `{code: itf, text: a, box: [5, 40, 70, 10], printed: nmber}`, `11:59: faces.front[2].printed: is "nmber", which is no text element; write one of text 1`},
		{text, `{mrz: td4, lines: [a, b], box: [5, 31, 75, 20]}`, `10:13: faces.front[1].mrz: is "td4"; write td1`},
		{text, `{mrz: td1, lines: [a, b], box: [5, 31, 75, 20]}`, `10:25: faces.front[1].lines: has 2 lines, but a td1 has 3; write one text for each`},
		{text, `{mrz: td2, lines: [a], box: [5, 31, 75, 20]}`, `10:25: faces.front[1].lines: has fewer than two lines; write every line of the zone`},
		{text, `{mrz: td2, lines: [a, b], sex: F, box: [5, 31, 75, 20]}`, `10:38: faces.front[1].sex: stands beside lines, which say all; take one of them out`},
		{text, `{mrz: td1, document: I, state: UTO, number: a, expires: b, surname: c, box: [5, 31, 75, 20]}`, `10:7: faces.front[1]: has no born; write born: "{born}"`},
		{text, `{mrz: td3, document: P, state: UTO, number: a, born: b, expires: b, surname: c, optional2: d, box: [5, 31, 75, 20]}`, `10:98: faces.front[1].optional2: belongs to a td1 alone; take it out`},
		{rect, `{rectangle: [0, 0, 10, 3]}`, `12:7: faces.front[3]: has neither fill nor stroke; write fill: white or stroke: black`},
		{rect, `{rectangle: [0, 0, 10, 3], fill: black, radius: 2}`, `12:55: faces.front[3].radius: is 2 mm, more than half of the shorter side; write at most 1.5`},
		{rect, `{rectangle: [0, 0, 10, 3], fill: black, width: 2}`, `12:54: faces.front[3].width: is the width of a stroke, but there is none; write stroke: black beside it`},
		{rect, `{line: [5, 5, 0, 0]}`, `12:14: faces.front[3].line: has no length; write [x, y, width, height] with a width or a height`},
		// readers
		{slot, `kind: slot, light: 940, accepts: [code39], side: front, line: 11`, `14:5: readers[1]: has no from; write from: bottom`},
		{slot, `kind: hand, light: 660, accepts: [code39], line: 11`, `14:68: readers[1].line: belongs to a slot reader, which looks at one line; a hand reader does not: take it out`},
		{slot, `kind: slot, light: 940, accepts: [code39], side: front, from: left, line: 11`, `14:81: readers[1].from: is the left edge, a short edge of this card; a card is swiped along a long edge: write top or bottom`},
		{slot, `kind: slot, light: 940, accepts: [code39], side: front, from: top, line: 53`, `14:92: readers[1].line: lies at 53 ± 2 mm from the top edge, beyond the card, which is 54 mm across; write a line on the card`},
		{slot, `kind: slot, light: 940, accepts: [], side: front, from: top, line: 11`, `14:52: readers[1].accepts: names no code; write the codes the reader is set to read such as [code39]`},
		{slot, `kind: hand, light: 940, accepts: [{code: itf, length: [8, 4]}]`, `14:73: readers[1].accepts[1].length: runs from 8 to 4; write the smaller number first`},
		// roster and fields
		{"file: crew.xlsx", "file: /crew.xlsx", `6:16: roster.file: is "/crew.xlsx"; write a name within the programme folder, with / between folders`},
		{"file: crew.xlsx", "file: crew.csv", `6:33: roster.sheet: belongs to an XLSX roster, which "crew.csv" is not; take it out`},
		{`"{given} {family}"`, `"{full}"`, `7:10: fields.full: is made of itself: full -> full; take one step out`},
		{`"{given} {family}"`, `"{a}", a: "{b}{c}", b: x, c: "{full}"`, `7:10: fields.full: is made of itself: full -> a -> c -> full; take one step out`},
	} {
		_, err := design.Parse("programme.yaml", []byte(edited(t, c.old, c.new)))
		if err == nil {
			t.Errorf("%s: no fault", c.new)
		} else if err.Error() != "programme.yaml:"+c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.new, err, "programme.yaml:"+c.want)
		}
	}
}

func TestManyFaultsAreCut(t *testing.T) {
	var b strings.Builder
	for i := range 25 {
		fmt.Fprintf(&b, "key%d: 1\n", i)
	}
	_, err := design.Parse("p.yaml", []byte(string(read(t, "short.yaml"))+b.String()))
	var faults *design.Faults
	if !errors.As(err, &faults) || len(faults.List) != 20 || faults.More != 5 {
		t.Fatalf("%v", err)
	}
	if !strings.HasSuffix(err.Error(), "\np.yaml: and 5 more") {
		t.Errorf("%v", err)
	}
}

// Faults in sections that have nothing to do with each other are told together,
// in the order of the file.
func TestFaultsOfSeveralSections(t *testing.T) {
	s := edited(t, "width: 86", "width: 8600")
	s = strings.Replace(s, "light: 940", "light: red", 1)
	s = strings.Replace(s, "size: 4", "size: 4 mm", 1)
	_, err := design.Parse("p.yaml", []byte(s))
	want := `p.yaml:3:15: card.width: is 8600 mm; write a length from 20 to 150
p.yaml:10:50: faces.front[1].size: is "4 mm"; lengths are plain millimetres: write 4
p.yaml:14:38: readers[1].light: is "red" where a number belongs; write a plain number from 380 to 1000`
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

func TestTooLarge(t *testing.T) {
	for name, src := range map[string]string{
		"bytes":    "unspool: 1\n#" + strings.Repeat("x", 1<<20),
		"words":    "unspool: 1\nname: [" + strings.Repeat("1,", 30_000) + "1]",
		"keys":     "unspool: 1\nroster:\n  - a: 1\n" + strings.Repeat("    a: 1\n", 250),
		"sequence": "unspool: 1\nname:\n  " + strings.Repeat("- ", 10_000) + "x",
		"fields":   "unspool: 1\nname: a\nfields: {a: xx, b: '{a}{a}{a}{a}{a}{a}{a}{a}', c: '{b}{b}{b}{b}{b}{b}{b}{b}', d: '{c}{c}{c}{c}{c}{c}{c}{c}'}",
	} {
		_, err := design.Parse("p.yaml", []byte(src))
		if err == nil || !strings.Contains(err.Error(), "more than") {
			t.Errorf("%s: %.200v", name, err)
		}
	}
}
