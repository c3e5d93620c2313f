package symbol

import (
	"strings"

	"unspool/say"
)

// Mod10 is the check digit of a row of digits by weights 3, 1, 3 ... from the
// right: ISO/IEC 15420 (from memory) and the GS1 General Specifications, whose
// figures the tests hold (read by way of the open-source encoder zint). digits
// holds nothing but '0' to '9'.
func Mod10(digits string) byte {
	sum := 0
	for i := range len(digits) {
		d := int(digits[len(digits)-1-i] - '0')
		if i%2 == 0 {
			d *= 3
		}
		sum += d
	}
	return byte('0' + (10-sum%10)%10)
}

// Luhn is the check digit of a row of digits by weights 2, 1, 2 ... from the
// right, the digits of each product added: ISO/IEC 7812-1 Annex B (from memory).
// digits holds nothing but '0' to '9'.
func Luhn(digits string) byte {
	sum := 0
	for i := range len(digits) {
		d := int(digits[len(digits)-1-i] - '0')
		if i%2 == 0 {
			d = d*2/10 + d*2%10
		}
		sum += d
	}
	return byte('0' + (10-sum%10)%10)
}

// Digits says whether s is one digit or more and nothing else.
func Digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// Label is what a person calls an ASCII character: itself, "space", or the
// control character's abbreviation (ISO/IEC 646).
func Label(c byte) string {
	switch {
	case c < ' ':
		return controls[c]
	case c == ' ':
		return "space"
	case c == 0x7f:
		return "DEL"
	}
	return string(rune(c))
}

var controls = [...]string{
	"NUL", "SOH", "STX", "ETX", "EOT", "ENQ", "ACK", "BEL",
	"BS", "HT", "LF", "VT", "FF", "CR", "SO", "SI",
	"DLE", "DC1", "DC2", "DC3", "DC4", "NAK", "SYN", "ETB",
	"CAN", "EM", "SUB", "ESC", "FS", "GS", "RS", "US",
}

// CannotCarry is the error for a character that a symbology lacks. pos is its
// byte offset in text; do says what the user may do instead.
func CannotCarry(title, text string, pos int, do string) error {
	r := []rune(text[pos:])[0]
	nth := len([]rune(text[:pos])) + 1
	return say.Errorf("%s cannot carry %q (U+%04X), character %d of %q: %s", title, r, r, nth, text, say.Word(do))
}
