// Package isbt128 is Code 128 with data of ISBT 128, the standard for blood,
// cells and tissue: a data identifier and what it announces. Of the donation
// identification number it knows the check by ISO 7064 mod 37,2. All but that
// check is from memory of the ISBT 128 Standard Technical Specification.
package isbt128

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/code128"
)

// Options says how the check of a donation identification number is treated.
type Options struct {
	Mod37 bool // its two flag characters are 60 to 96: 60 and the mod 37,2 check value
	Given bool // the text brings the flag characters: prove them, do not add them
}

// The donation identification number, data structure 001: "=", facility, year,
// serial number and two flag characters.
const (
	facility = 1 // where each begins; the first is the identifier's second character
	year     = facility + 5
	flags    = year + 2 + 6
	whole    = flags + 2
)

const (
	numerals = "0123456789"
	letters  = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	leading  = "123456789ABCDEFGHIJKLMNPQRSTUVWXYZ" // of a facility: neither 0 nor O
)

// values are the characters of ISO 7064 mod 37,2 by value.
const values = numerals + letters + "*"

// Encode makes the narrowest Code 128 for an ISBT 128 data structure: "=" or "&",
// its second identifying character and its data. A text that is none, an odd
// donation identification number and a wrong check are errors.
func Encode(text string, o Options) (symbol.Logical, error) {
	if !identified(text) {
		return symbol.Logical{}, say.Errorf("ISBT 128 data begins with = or & and a second identifying character, but the text is %q: correct it, or use Code 128", text)
	}
	if o.Mod37 || donation(text) {
		var err error
		if text, err = checked(text, o); err != nil {
			return symbol.Logical{}, err
		}
	}
	return code128.Encode(text)
}

// Decode is the reference decode of Code 128 for a symbol with ISBT 128 data; one
// without a data identifier is an error. A wrong mod 37,2 check is none but
// CheckBad.
func Decode(widths []float64, o Options) (symbol.Reading, error) {
	r, err := code128.Decode(widths)
	if err != nil {
		return symbol.Reading{}, err
	}
	if !identified(r.Text) {
		return symbol.Reading{}, say.Errorf("%q is Code 128 without the = or & that ISBT 128 data begins with", r.Text)
	}
	if o.Mod37 {
		r.Check = symbol.CheckBad
		if wellFormed(r.Text, whole) && r.Text[flags:] == flagsOf(r.Text[facility:flags]) {
			r.Check = symbol.CheckGood
		}
	}
	return r, nil
}

// identified says whether text begins with a data identifier and has data.
func identified(text string) bool {
	return len(text) > 2 && (text[0] == '=' || text[0] == '&')
}

// donation says whether text is meant for a donation identification number.
func donation(text string) bool {
	return text[0] == '=' && strings.IndexByte(leading, text[facility]) >= 0
}

// checked is a donation identification number with its flag characters.
func checked(text string, o Options) (string, error) {
	want := whole
	if o.Mod37 && !o.Given {
		want = flags
	}
	switch {
	case o.Mod37 && !donation(text):
		return "", say.Errorf("%q is no donation identification number, which begins with = and a facility: leave the check mod37 out", text)
	case len(text) == flags && want == whole:
		return "", say.Errorf("%q lacks its two flag characters: write 00 after it, or have the check mod37 added", text)
	case !wellFormed(text, want):
		return "", say.Errorf("%q is no donation identification number: write = and a facility of 5 letters and digits, then 2 digits of the year, 6 digits and, unless the check mod37 is added, 2 flag characters", text)
	case !o.Mod37:
		return text, nil
	}
	right := flagsOf(text[facility:flags])
	if o.Given && text[flags:] != right {
		return "", say.Errorf("%q ends in flags %q, but its mod 37,2 check character is %q and its flags are %q: correct the text, or leave the flags out and have them added",
			text, text[flags:], string(values[mod37(text[facility:flags])]), right)
	}
	return text[:flags] + right, nil
}

// wellFormed says whether text is a donation identification number of this
// length.
func wellFormed(text string, length int) bool {
	only := func(s, of string) bool { return strings.Trim(s, of) == "" }
	return len(text) == length && donation(text) && only(text[facility:year], numerals+letters) &&
		symbol.Digits(text[year:flags]) && only(text[flags:], numerals+letters)
}

// flagsOf are the flag characters that carry the check of a number.
func flagsOf(number string) string {
	v := 60 + mod37(number)
	return string([]byte{byte('0' + v/10), byte('0' + v%10)})
}

// mod37 is the value of the check character of ISO 7064 mod 37,2, which people
// key in after the number: the Red Book of transfusionguidelines.org.uk, Annex 2
// (read). number holds nothing but digits and capital letters.
func mod37(number string) int {
	p := 0
	for i := range len(number) {
		p = (p + strings.IndexByte(values, number[i])) * 2 % 37
	}
	return (38 - p) % 37
}
