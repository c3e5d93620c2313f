// Package mrz writes and proves the machine readable zone of documents made like
// travel documents: three lines of 30 characters (TD1, a card of ID-1 size), two
// of 36 (TD2) or two of 44 (TD3), as ICAO Doc 9303 parts 5, 6 and 4 lay them out.
//
// The parts were read in a public transcription of the eighth edition, not in the
// original. Lines and positions in this package count from 1, as they do there.
package mrz

import "unspool/say"

// Format is one of the three layouts of a machine readable zone.
type Format uint8

// Formats.
const (
	TD1 Format = iota // three lines of 30, Doc 9303-5
	TD2               // two lines of 36, Doc 9303-6
	TD3               // two lines of 44, Doc 9303-4
)

// String is the format's name in small letters: "td1".
func (f Format) String() string { return [...]string{"td1", "td2", "td3"}[f%3] }

// Size is the number of lines and of characters in each.
func (f Format) Size() (lines, length int) {
	l := layouts[f%3]
	return l.lines, l.length
}

// Fields are what a zone says, as people and registers write it. Case does not
// matter, and spaces round a value do not.
type Fields struct {
	Document    string // document code: I, A or C and one letter more at most; TD3: P and a letter
	State       string // who issues it: a code of up to three letters
	Number      string // of the document; TD1 and TD2 take more than nine characters
	Optional    string // TD1 upper line, TD2 and TD3 lower line
	Optional2   string // TD1 middle line alone
	Born        string // 1974-08-12, 12.08.1974, 19740812 or 740812; 00 for a month or day not known
	Sex         string // F, M, or X or nothing for unspecified
	Expires     string // as Born, but known whole
	Nationality string // a code of up to three letters; may be empty
	Surname     string // primary identifier
	Given       string // secondary identifier; may be empty
}

// Specimen is the invented holder of the examples in Doc 9303, of the state of
// Utopia.
func Specimen(f Format) Fields {
	d := Fields{Document: "I", State: "UTO", Number: "D23145890", Born: "740812", Sex: "F", Expires: "120415",
		Nationality: "UTO", Surname: "ERIKSSON", Given: "ANNA MARIA"}
	if f == TD3 {
		d.Document, d.Number, d.Optional = "P", "L898902C3", "ZE184226B"
	}
	return d
}

// span is a run of characters of one line, both ends included.
type span struct{ line, from, to int }

func (s span) len() int { return s.to - s.from + 1 }

// place is a field's span with what may stand in it.
type place struct {
	span
	name  say.Word
	takes string // characters
}

// check is a check digit: what it is worked out from, and where it stands.
type check struct {
	name say.Word
	of   []span
	at   span
}

// layout is where everything stands in a zone.
type layout struct {
	lines, length                                              int
	document, state, number, optional, optional2               place
	born, sex, expires, nationality, holder                    place
	numberCheck, bornCheck, expiresCheck, ownCheck, wholeCheck check // ownCheck: TD3 alone
}

// Characters are all that a zone may hold.
const Characters = both

// What may stand in a field: Doc 9303-3 4.3 and the data element directories.
const (
	digits  = "0123456789<"
	letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ<"
	both    = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ<"
	sexes   = "FM<"
)

// Names of fields and of check digits.
const (
	documentCode  = say.Word("document code")
	issuingState  = say.Word("issuing state")
	documentNo    = say.Word("document number")
	optionalData  = say.Word("optional data")
	dateOfBirth   = say.Word("date of birth")
	sex           = say.Word("sex")
	dateOfExpiry  = say.Word("date of expiry")
	nationality   = say.Word("nationality")
	nameOfHolder  = say.Word("name")
	wholeZone     = say.Word("whole zone")
	anyCheckDigit = say.Word("check digit")
)

// layouts are the data element directories of Doc 9303-5 4.2.2, 9303-6 4.2.2 and
// 9303-4 4.2.2, with the check digits of 4.2.4 of each.
var layouts = [...]layout{
	TD1: {
		lines: 3, length: 30,
		document:    place{span{1, 1, 2}, documentCode, letters},
		state:       place{span{1, 3, 5}, issuingState, letters},
		number:      place{span{1, 6, 14}, documentNo, both},
		optional:    place{span{1, 16, 30}, optionalData, both},
		born:        place{span{2, 1, 6}, dateOfBirth, digits},
		sex:         place{span{2, 8, 8}, sex, sexes},
		expires:     place{span{2, 9, 14}, dateOfExpiry, digits},
		nationality: place{span{2, 16, 18}, nationality, letters},
		optional2:   place{span{2, 19, 29}, optionalData, both},
		holder:      place{span{3, 1, 30}, nameOfHolder, letters},

		numberCheck:  check{documentNo, []span{{1, 6, 14}}, span{1, 15, 15}},
		bornCheck:    check{dateOfBirth, []span{{2, 1, 6}}, span{2, 7, 7}},
		expiresCheck: check{dateOfExpiry, []span{{2, 9, 14}}, span{2, 15, 15}},
		wholeCheck:   check{wholeZone, []span{{1, 6, 30}, {2, 1, 7}, {2, 9, 15}, {2, 19, 29}}, span{2, 30, 30}},
	},
	TD2: lower(36, 35, check{}),
	TD3: lower(44, 42, check{optionalData, []span{{2, 29, 42}}, span{2, 43, 43}}),
}

// lower is the layout of two lines, which TD2 and TD3 share but for the length
// of the lines, the end of the optional data and a check digit of these.
func lower(length, optionalTo int, own check) layout {
	return layout{
		lines: 2, length: length,
		document:    place{span{1, 1, 2}, documentCode, letters},
		state:       place{span{1, 3, 5}, issuingState, letters},
		holder:      place{span{1, 6, length}, nameOfHolder, letters},
		number:      place{span{2, 1, 9}, documentNo, both},
		nationality: place{span{2, 11, 13}, nationality, letters},
		born:        place{span{2, 14, 19}, dateOfBirth, digits},
		sex:         place{span{2, 21, 21}, sex, sexes},
		expires:     place{span{2, 22, 27}, dateOfExpiry, digits},
		optional:    place{span{2, 29, optionalTo}, optionalData, both},

		numberCheck:  check{documentNo, []span{{2, 1, 9}}, span{2, 10, 10}},
		bornCheck:    check{dateOfBirth, []span{{2, 14, 19}}, span{2, 20, 20}},
		expiresCheck: check{dateOfExpiry, []span{{2, 22, 27}}, span{2, 28, 28}},
		ownCheck:     own,
		wholeCheck:   check{wholeZone, []span{{2, 1, 10}, {2, 14, 20}, {2, 22, length - 1}}, span{2, length, length}},
	}
}

// places are all fields of a layout.
func (l *layout) places() []place {
	all := []place{l.document, l.state, l.number, l.optional, l.born, l.sex, l.expires, l.nationality, l.holder}
	if l.optional2.from > 0 {
		all = append(all, l.optional2)
	}
	return all
}

// sheet is the lines of a zone while they are written or read.
type sheet [][]byte

func newSheet(l *layout) sheet {
	s := make(sheet, l.lines)
	for i := range s {
		s[i] = make([]byte, l.length)
		for j := range s[i] {
			s[i][j] = '<'
		}
	}
	return s
}

// at is what stands in a span; it can be written to.
func (s sheet) at(p span) []byte { return s[p.line-1][p.from-1 : p.to] }

// digit is the check digit of what stands in spans, one after another: the values
// weighted 7, 3, 1 over and over, modulo 10; letters count from 10, the filler is
// 0 (Doc 9303-3 4.9).
func (s sheet) digit(of ...span) byte {
	sum, n := 0, 0
	for _, p := range of {
		for _, c := range s.at(p) {
			sum += value(c) * [...]int{7, 3, 1}[n%3]
			n++
		}
	}
	return byte('0' + sum%10)
}

func value(c byte) int {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0')
	case c >= 'A' && c <= 'Z':
		return int(c-'A') + 10
	}
	return 0
}
