package gs1

import (
	"strconv"
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// prove holds an element's data to what its identifier asks for.
func (l located) prove() error {
	parts, known := formats[l.AI]
	if !known {
		return say.Errorf("(%s), character %d of the GS1 data, is no application identifier that is known", l.AI, l.at)
	}
	pieces := make([]string, len(parts))
	rest := l.Data
	for i, p := range parts {
		n := min(p.most, len(rest))
		if n < p.least && !(n == 0 && p.optional) {
			return l.wrongLength(parts)
		}
		pieces[i], rest = rest[:n], rest[n:]
	}
	if rest != "" {
		return l.wrongLength(parts)
	}
	for i, p := range parts {
		if err := p.prove(l.AI, pieces[i]); err != nil {
			return err
		}
	}
	return nil
}

func (l located) wrongLength(parts []part) error {
	needs := parts[0].describe()
	for _, p := range parts[1:] {
		needs = say.F("%s, then %s", needs, p.describe())
	}
	return say.Errorf("(%s), character %d of the GS1 data, carries %q: it needs %s", l.AI, l.at, l.Data, needs)
}

// describe says what a part is: "1 to 20 characters".
func (p part) describe() say.Text {
	unit, one := say.Word("characters"), say.Word("character")
	if p.set == 'N' {
		unit, one = say.Word("digits"), say.Word("digit")
	}
	if p.most == 1 {
		unit = one
	}
	switch {
	case p.optional && p.least == p.most:
		return say.F("%d %s or none", p.most, unit)
	case p.optional:
		return say.F("up to %d %s", p.most, unit)
	case p.least < p.most:
		return say.F("%d to %d %s", p.least, p.most, unit)
	}
	return say.F("%d %s", p.most, unit)
}

// Characters that data of the sets X and Y may hold besides letters and digits:
// GS1 General Specifications, GS1 AI encodable character sets 82 and 39 (from
// memory, checked against an independent encoder).
const (
	set82 = `!"%&'()*+,-./:;<=>?_`
	set39 = "#-/"
)

// prove holds a part's data to its characters, check digit and date.
func (p part) prove(ai, data string) error {
	for i, c := range data {
		if !p.holds(c) {
			return say.Errorf("(%s) cannot carry %q, character %d of its data %q: %s", ai, c, i+1, data, p.alphabet())
		}
	}
	if data == "" {
		return nil
	}
	if n := len(data) - 1; p.check && symbol.Mod10(data[:n]) != data[n] {
		return say.Errorf("(%s): %q ends in %q, but its modulo 10 check digit is %q: correct the number", ai, data, data[n:], string(symbol.Mod10(data[:n])))
	}
	if p.date && !isDate(data) {
		return say.Errorf("(%s): %q is no date: write year, month and day as YYMMDD, 00 for a day that is left open", ai, data)
	}
	return nil
}

func (p part) holds(c rune) bool {
	switch {
	case c >= '0' && c <= '9':
		return true
	case p.set == 'N':
		return false
	case c >= 'A' && c <= 'Z':
		return true
	case p.set == 'Y':
		return strings.ContainsRune(set39, c)
	}
	return c >= 'a' && c <= 'z' || strings.ContainsRune(set82, c)
}

func (p part) alphabet() say.Text {
	switch p.set {
	case 'N':
		return say.Words("it carries digits and nothing else")
	case 'Y':
		return say.F("it carries 0-9, A-Z and %s", set39)
	}
	return say.F("it carries letters, digits and %s", set82)
}

// isDate says whether six digits are a date, its day perhaps left open as 00. In
// which century does not matter: all years divisible by four are leap years in
// the one that the year 00 can be.
func isDate(digits string) bool {
	year, _ := strconv.Atoi(digits[:2])
	month, _ := strconv.Atoi(digits[2:4])
	day, _ := strconv.Atoi(digits[4:])
	if month < 1 || month > 12 {
		return false
	}
	days := [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[month-1]
	if month == 2 && year%4 == 0 {
		days++
	}
	return day <= days
}
