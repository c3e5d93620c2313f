package gs1

import (
	"strconv"
	"strings"
)

// The application identifiers and what each carries, by the GS1 General
// Specifications: from memory, checked row by row against the Barcode Syntax
// Dictionary that GS1 publishes (github.com/gs1/gs1-syntax-dictionary, read).
//
// An identifier may be a range, and its last digit n, where it says how many
// decimals the number has, is 0 to 5. What follows are the parts of the data: N
// digits, X any of the 82 characters, Y any of the 39, then how many, "..9" for 1
// to 9. A part in square brackets may be left out. "!" marks a row of digits that
// ends in its modulo 10 check digit, "d" a date YYMMDD whose day may be 00.
const table = `
00 N18!
01-02 N14!
10 X..20
11-13 N6d
15-17 N6d
20 N2
21-22 X..20
235 X..28
240-241 X..30
242 N..6
243 X..20
250-251 X..30
253 N13! [X..17]
254 X..20
255 N13! [N..12]
30 N..8
310n-316n N6
320n-337n N6
340n-357n N6
360n-369n N6
37 N..8
3900-3909 N..15
3910-3919 N3 N..15
3920-3929 N..15
3930-3939 N3 N..15
3940-3943 N4
395n N6
400-401 X..30
402 N17!
403 X..30
410-417 N13!
420 X..20
421 N3 X..9
422 N3
423 N..15
424 N3
425 N..15
426 N3
427 X..3
4300-4301 X..35
4302-4306 X..70
4307 X2
4308 X..30
4309 N20
4310-4311 X..35
4312-4316 X..70
4317 X2
4318 X..20
4319 X..30
4320 X..35
4321-4323 N1
4324-4325 N6d N4
4326 N6d
4330-4333 N6 [X1]
7001 N13
7002 X..30
7003 N6d N4
7004 N..4
7005 X..12
7006 N6d
7007 N6d [N6d]
7008 X..3
7009 X..10
7010 X..2
7011 N6d [N4]
7020-7022 X..20
7023 X..30
7030-7039 N3 X..27
7040 N1 X3
710-715 X..20
7230-7239 X2 X..28
7240 X..20
7241 N2
7242 X..25
8001 N14
8002 X..20
8003 N1 N13! [X..16]
8004 X..30
8005 N6
8006 N14! N4
8007 X..34
8008 N8 [N..4]
8009 X..50
8010 Y..30
8011 N..12
8012 X..20
8013 X..25
8017-8018 N18!
8019 N..10
8020 X..25
8026 N14! N4
8030 X..90
8110 X..70
8111 N4
8112 X..70
8200 X..70
90 X..30
91-99 X..90
`

// predefined are the first two digits of the identifiers whose data has a length
// that every reader knows, so that no separator follows it. GS1 General
// Specifications, figure of element strings with pre-defined length (from memory;
// the Syntax Dictionary marks the same).
var predefined = map[string]bool{
	"00": true, "01": true, "02": true, "03": true, "04": true,
	"11": true, "12": true, "13": true, "14": true, "15": true, "16": true, "17": true, "18": true, "19": true,
	"20": true, "31": true, "32": true, "33": true, "34": true, "35": true, "36": true, "41": true,
}

// part is a piece of an element's data.
type part struct {
	set         byte // 'N', 'X' or 'Y'
	least, most int
	optional    bool // it may be left out
	check, date bool
}

// formats is what each application identifier carries.
var formats = func() map[string][]part {
	all := map[string][]part{}
	for row := range strings.Lines(strings.TrimSpace(table)) {
		words := strings.Fields(row)
		var parts []part
		for _, w := range words[1:] {
			parts = append(parts, readPart(w))
		}
		for _, ai := range between(words[0]) {
			all[ai] = parts
		}
	}
	return all
}()

// between are the identifiers that the first word of a row names.
func between(word string) (all []string) {
	stem := strings.ReplaceAll(word, "n", "")
	first, last, isRange := strings.Cut(stem, "-")
	if !isRange {
		last = first
	}
	from, _ := strconv.Atoi(first)
	to, _ := strconv.Atoi(last)
	for n := from; n <= to; n++ {
		ai := strconv.Itoa(n)
		ai = strings.Repeat("0", len(first)-len(ai)) + ai
		if len(stem) == len(word) {
			all = append(all, ai)
			continue
		}
		for _, decimals := range "012345" {
			all = append(all, ai+string(decimals))
		}
	}
	return all
}

// readPart reads a part such as "N14!" or "[X..17]".
func readPart(w string) part {
	p := part{optional: strings.HasPrefix(w, "[")}
	w = strings.Trim(w, "[]")
	p.check, p.date = strings.HasSuffix(w, "!"), strings.HasSuffix(w, "d")
	size, upTo := strings.CutPrefix(strings.TrimRight(w[1:], "!d"), "..")
	p.most, _ = strconv.Atoi(size)
	if p.set, p.least = w[0], p.most; upTo {
		p.least = 1
	}
	return p
}
