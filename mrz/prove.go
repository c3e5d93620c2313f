package mrz

import (
	"strings"

	"unspool/say"
)

// Kind says what is wrong with a line.
type Kind uint8

// Kinds of faults.
const (
	Length    Kind = iota // a line, or the number of lines
	Character             // a character that may not stand where it does
	Digit                 // a check digit
)

// Fault is one thing wrong with the lines of a zone.
type Fault struct {
	Kind   Kind
	Line   int      // from 1; 0 where the number of lines is meant
	Column int      // from 1; 0 where the line as a whole is meant
	Field  say.Word // of a character the field it stands in, of a check digit what it proves
	Got    string   // the character that is there
	Want   string   // the digit that should be there; of a character those that may be
	Have   int      // of a length: characters or lines that there are
	Need   int      // of a length: how many there ought to be
}

// Prove says what is wrong with the lines of a zone, line by line; nothing where
// they are right. Lines of a wrong length are proved no further.
func Prove(f Format, lines []string) []Fault {
	l := &layouts[f%3]
	if faults := l.lengths(lines); len(faults) > 0 {
		return faults
	}
	s := make(sheet, len(lines))
	for i, line := range lines {
		s[i] = ascii(line)
	}
	var faults []Fault
	for line := 1; line <= l.lines; line++ {
		for _, p := range l.allowed() {
			if p.line == line {
				faults = append(faults, s.characters(p)...)
			}
		}
	}
	if len(faults) == 0 {
		return s.digits(l)
	}
	for i := range faults {
		x := &faults[i]
		x.Got = string([]rune(lines[x.Line-1])[x.Column-1])
	}
	return faults
}

func (l *layout) lengths(lines []string) (faults []Fault) {
	if len(lines) != l.lines {
		return []Fault{{Kind: Length, Have: len(lines), Need: l.lines}}
	}
	for i, line := range lines {
		if n := len([]rune(line)); n != l.length {
			faults = append(faults, Fault{Kind: Length, Line: i + 1, Have: n, Need: l.length})
		}
	}
	return faults
}

// ascii keeps a byte a character; what is no ASCII becomes a byte that no field
// takes.
func ascii(line string) []byte {
	var b []byte
	for _, r := range line {
		if r >= 0x80 {
			r = 0x7f
		}
		b = append(b, byte(r))
	}
	return b
}

// allowed are all places of a zone, check digits among them, with what may stand
// there.
func (l *layout) allowed() []place {
	all := l.places()
	for _, c := range []check{l.numberCheck, l.ownCheck} {
		if c.name != "" {
			all = append(all, place{c.at, anyCheckDigit, digits})
		}
	}
	for _, c := range []check{l.bornCheck, l.expiresCheck, l.wholeCheck} {
		all = append(all, place{c.at, anyCheckDigit, strings.TrimSuffix(digits, "<")})
	}
	return all
}

func (s sheet) characters(p place) (faults []Fault) {
	for i, c := range s.at(p.span) {
		if strings.IndexByte(p.takes, c) < 0 {
			faults = append(faults, Fault{Kind: Character, Line: p.line, Column: p.from + i, Field: p.name, Want: p.takes})
		}
	}
	return faults
}

// digits proves the check digits.
func (s sheet) digits(l *layout) (faults []Fault) {
	prove := func(c check) {
		if got, want := s.at(c.at)[0], s.digit(c.of...); got != want {
			faults = append(faults, Fault{Kind: Digit, Line: c.at.line, Column: c.at.from, Field: c.name, Got: string(rune(got)), Want: string(rune(want))})
		}
	}
	number := l.numberCheck
	if rest, digit, ok := s.goesOn(l); ok {
		number = check{number.name, []span{l.number.span, rest}, digit}
	}
	prove(number)
	prove(l.bornCheck)
	prove(l.expiresCheck)
	if c := l.ownCheck; c.name != "" && !(s.at(c.at)[0] == '<' && strings.Trim(string(s.at(l.optional.span)), "<") == "") {
		prove(c)
	}
	prove(l.wholeCheck)
	return faults
}

// goesOn finds the rest of a document number of more than nine characters and its
// check digit, which end at the first filler of the optional data; ok is false for
// a number of nine characters or fewer.
func (s sheet) goesOn(l *layout) (rest, digit span, ok bool) {
	o := l.optional.span
	n := strings.IndexByte(string(s.at(o)), '<')
	if l.ownCheck.name != "" || s.at(l.numberCheck.at)[0] != '<' || n < 2 {
		return rest, digit, false
	}
	last := o.from + n - 1
	return span{o.line, o.from, last - 1}, span{o.line, last, last}, true
}

// Parse reads the fields out of the lines of a zone; ok is false where the lines
// have not the length of the format. What it gives Compose writes as the same
// lines, if Prove finds nothing wrong with them. Of a name that was shortened it
// gives what is there.
func Parse(f Format, lines []string) (d Fields, ok bool) {
	l := &layouts[f%3]
	if len(l.lengths(lines)) > 0 {
		return d, false
	}
	s := make(sheet, len(lines))
	for i, line := range lines {
		s[i] = ascii(line)
	}
	get := func(p place) string { return strings.TrimRight(string(s.at(p.span)), "<") }
	d = Fields{Document: get(l.document), State: get(l.state), Number: get(l.number), Optional: get(l.optional),
		Born: string(s.at(l.born.span)), Sex: get(l.sex), Expires: string(s.at(l.expires.span)), Nationality: get(l.nationality)}
	if l.optional2.from > 0 {
		d.Optional2 = get(l.optional2)
	}
	if rest, digit, long := s.goesOn(l); long {
		d.Number = string(s.at(l.number.span)) + string(s.at(rest))
		behind := span{rest.line, digit.to + 2, l.optional.to}
		d.Optional = ""
		if behind.from <= behind.to {
			d.Optional = strings.TrimRight(string(s.at(behind)), "<")
		}
	}
	surname, given, _ := strings.Cut(get(l.holder), "<<")
	d.Surname, d.Given = strings.ReplaceAll(surname, "<", " "), strings.ReplaceAll(given, "<", " ")
	return d, true
}
