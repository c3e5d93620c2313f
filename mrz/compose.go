package mrz

import (
	"strings"

	"unspool/say"
)

// maxField bounds a value; longer ones fit no field.
const maxField = 200

// Compose writes the lines of a zone, check digits and all. A value that no field
// of the format can take is an error that names it; a name that is too long is
// shortened as Doc 9303 has it. Errors are those of package say.
func Compose(f Format, d Fields) ([]string, error) {
	l := &layouts[f%3]
	w := writer{sheet: newSheet(l), l: l}
	w.code(f, d.Document)
	w.letters(l.state, d.State, true)
	w.letters(l.nationality, d.Nationality, false)
	w.optional(l.optional, d.Optional, w.number(d.Number))
	if l.optional2.from > 0 {
		w.optional(l.optional2, d.Optional2, 0)
	} else if strings.TrimSpace(d.Optional2) != "" {
		w.fail(say.Errorf("only the middle line of a td1 has room for more optional data; leave it out"))
	}
	w.date(l.born, d.Born, true)
	w.date(l.expires, d.Expires, false)
	w.sex(d.Sex)
	w.name(d.Surname, d.Given)
	if w.err != nil {
		return nil, w.err
	}
	w.checks()
	lines := make([]string, l.lines)
	for i, line := range w.sheet {
		lines[i] = string(line)
	}
	return lines, nil
}

// writer writes fields into a sheet up to the first that does not fit.
type writer struct {
	sheet
	l    *layout
	long bool // the document number goes on in the optional data
	err  error
}

func (w *writer) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// code writes the document code: Doc 9303-5 and 9303-6 4.2.2 note k, 9303-4
// 4.2.2.1.
func (w *writer) code(f Format, s string) {
	s = strings.ToUpper(strings.TrimSpace(s))
	first := "ACI"
	if f == TD3 {
		first = "P"
	}
	ok := len(s) >= 1 && len(s) <= 2 && strings.Contains(first, s[:1]) && strings.Trim(s, letters) == ""
	switch {
	case !ok && f == TD3:
		w.fail(say.Errorf("the document code is %q; write P, or P and one letter more", s))
	case !ok:
		w.fail(say.Errorf("the document code is %q; write A, C or I, or one of them and one letter more", s))
	case f != TD3 && (s[1:] == "V" || s == "AI"):
		w.fail(say.Errorf("the document code %q is kept for other documents; write another second letter", s))
	default:
		copy(w.at(w.l.document.span), s)
	}
}

// letters writes a code of up to three letters.
func (w *writer) letters(p place, s string, must bool) {
	s = strings.ToUpper(strings.TrimRight(strings.TrimSpace(s), "<"))
	if must && s == "" || len(s) > p.len() || strings.Trim(s, letters) != "" {
		w.fail(say.Errorf("the %s is %q; write its code of up to three letters", p.name, s))
		return
	}
	copy(w.at(p.span), s)
}

// number writes the document number and gives how much of the optional data it
// took: what is beyond nine characters stands there, with the check digit and a
// filler (Doc 9303-5 and 9303-6 4.2.2 note j).
func (w *writer) number(s string) int {
	p := w.l.number
	text, bad := plain(s)
	switch rest := len(text) - p.len(); {
	case bad != 0:
		w.fail(say.Errorf("the %s %q holds %q, which cannot be written; write letters A to Z and digits", p.name, s, bad))
	case text == "":
		w.fail(say.Errorf("the %s is empty; write it", p.name))
	case rest <= 0:
		copy(w.at(p.span), text)
	case w.l.ownCheck.name != "":
		w.fail(say.Errorf("the %s %q has %d characters; a td3 takes 9", p.name, s, len(text)))
	case rest+2 > w.l.optional.len():
		w.fail(say.Errorf("the %s %q has %d characters; there is room for %d", p.name, s, len(text), p.len()+w.l.optional.len()-2))
	case strings.Contains(text[p.len():], "<"):
		w.fail(say.Errorf("the %s %q has a space or mark beyond its ninth character, where it would end; leave it out", p.name, s))
	default:
		copy(w.at(p.span), text)
		o := w.l.optional.span
		copy(w.at(o), text[p.len():])
		tail := span{o.line, o.from, o.from + rest - 1}
		w.at(o)[rest] = w.digit(p.span, tail)
		w.long = true
		return rest + 2
	}
	return 0
}

// optional writes optional data behind what has been taken of its field.
func (w *writer) optional(p place, s string, taken int) {
	text, bad := plain(s)
	switch room := p.len() - taken; {
	case bad != 0:
		w.fail(say.Errorf("the %s %q holds %q, which cannot be written; write letters A to Z and digits", p.name, s, bad))
	case len(text) > room:
		w.fail(say.Errorf("the %s %q has %d characters; there is room for %d", p.name, s, len(text), room))
	default:
		copy(w.at(p.span)[taken:], text)
	}
}

// plain writes a number as a zone has it: capitals and digits, a filler for each
// space or mark between them (Doc 9303-4 4.2.2.2). bad is a character for which
// that cannot be done, 0 where there is none.
func plain(s string) (text string, bad rune) {
	var b strings.Builder
	for i, r := range strings.TrimSpace(s) {
		switch {
		case i > maxField:
			return b.String(), 0
		case r >= 'a' && r <= 'z':
			b.WriteRune(r - 'a' + 'A')
		case r >= 'A' && r <= 'Z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case strings.ContainsRune(" <-./_,:\u00a0", r):
			b.WriteByte('<')
		default:
			return "", r
		}
	}
	return strings.TrimRight(b.String(), "<"), 0
}

func (w *writer) sex(s string) {
	switch t := strings.ToUpper(strings.TrimSpace(s)); t {
	case "F", "M":
		copy(w.at(w.l.sex.span), t)
	case "", "X", "<":
	default:
		w.fail(say.Errorf("the %s is %q; write F, M, or X where it is not stated", w.l.sex.name, s))
	}
}

func (w *writer) date(p place, s string, partly bool) {
	text, ok := date(strings.TrimSpace(s), partly)
	if !ok {
		w.fail(say.Errorf("the %s %q is no date; write it as 1974-08-12", p.name, s))
		return
	}
	copy(w.at(p.span), text)
}

// date reads a date and writes it as YYMMDD (Doc 9303-3 4.8). Where part of it
// may be unknown, 00 stands for a month or day that is, and comes out as fillers.
func date(s string, partly bool) (string, bool) {
	switch {
	case len(s) == 10 && s[4] == '-' && s[7] == '-':
		s = s[:4] + s[5:7] + s[8:]
	case len(s) == 10 && s[2] == '.' && s[5] == '.':
		s = s[6:] + s[3:5] + s[:2]
	}
	year := -1 // of four digits
	if len(s) == 8 {
		if strings.Trim(s[:4], "0123456789") != "" {
			return "", false
		}
		year = two(s[:2])*100 + two(s[2:4])
		s = s[2:]
	}
	if len(s) != 6 {
		return "", false
	}
	out := ""
	for i, most := range [3]int{99, 12, days(year, s)} {
		part := s[2*i : 2*i+2]
		n := two(part)
		switch {
		case partly && (part == "<<" || i > 0 && n == 0 || year == 0 && i == 0):
			part = "<<"
		case n < 0 || n > most || i > 0 && n == 0:
			return "", false
		}
		out += part
	}
	return out, true
}

// two is the number that two digits write, -1 where they are none.
func two(s string) int {
	if strings.Trim(s, "0123456789") != "" {
		return -1
	}
	return int(s[0]-'0')*10 + int(s[1]-'0')
}

// days is the number of days of the month in YYMMDD. A year of two digits may be
// of any century, so that 29 February 00 is one.
func days(year int, s string) int {
	switch two(s[2:4]) {
	case 4, 6, 9, 11:
		return 30
	case 2:
		yy := two(s[:2])
		if yy%4 != 0 && yy >= 0 || year > 0 && year%100 == 0 && year%400 != 0 {
			return 28
		}
		return 29
	}
	return 31
}

// checks writes the check digits. That of a number which goes on in the optional
// data stands there already; a TD3 without optional data has a filler in its place
// (Doc 9303-4 4.2.2.2).
func (w *writer) checks() {
	l := w.l
	put := func(c check) { w.at(c.at)[0] = w.digit(c.of...) }
	if !w.long {
		put(l.numberCheck)
	}
	put(l.bornCheck)
	put(l.expiresCheck)
	if c := l.ownCheck; c.name != "" && strings.Trim(string(w.at(l.optional.span)), "<") != "" {
		put(c)
	}
	put(l.wholeCheck)
}
