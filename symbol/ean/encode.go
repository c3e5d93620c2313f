package ean

import (
	"unspool/say"
	"unspool/symbol"
)

// Options says how the check digit of a text is treated.
type Options struct {
	// Check says that the text's length must be what Given says. Otherwise a text
	// of either length is taken.
	Check bool
	Given bool // the text already ends in its check digit
}

// Encode13 makes an EAN-13 of 12 digits, or of 13 whose last is proved.
func Encode13(text string, o Options) (symbol.Logical, error) {
	return encode("EAN-13", text, 12, o, draw13)
}

// EncodeA makes a UPC-A of 11 digits, or of 12 whose last is proved. Its symbol
// is that of the EAN-13 with a 0 before it.
func EncodeA(text string, o Options) (symbol.Logical, error) {
	return encode("UPC-A", text, 11, o, func(digits string) symbol.Logical { return draw13("0" + digits) })
}

// Encode8 makes an EAN-8 of 7 digits, or of 8 whose last is proved.
func Encode8(text string, o Options) (symbol.Logical, error) {
	return encode("EAN-8", text, 7, o, draw8)
}

// encode proves text or adds its check digit, and has it drawn.
func encode(title, text string, n int, o Options, draw func(digits string) symbol.Logical) (symbol.Logical, error) {
	digits, err := whole(title, text, n, o, symbol.Mod10)
	if err != nil {
		return symbol.Logical{}, err
	}
	l := draw(digits)
	l.Text = digits
	return l, nil
}

// whole is text with its check digit. Without it, text has n digits.
func whole(title, text string, n int, o Options, check func(digits string) byte) (string, error) {
	for i, r := range text {
		if r < '0' || r > '9' {
			return "", symbol.CannotCarry(title, text, i, "it carries digits and nothing else")
		}
	}
	switch {
	case o.Check && o.Given && len(text) != n+1:
		return "", say.Errorf("%s needs %d digits, the check digit last, but %q has %d: correct the text", title, n+1, text, len(text))
	case o.Check && !o.Given && len(text) != n:
		return "", say.Errorf("%s needs %d digits, to which a check digit is added, but %q has %d: correct the text", title, n, text, len(text))
	case len(text) != n && len(text) != n+1:
		return "", say.Errorf("%s needs %d digits, or %d with the check digit, but %q has %d: correct the text", title, n, n+1, text, len(text))
	}
	want := text[:n] + string(check(text[:n]))
	if len(text) > n && text != want {
		return "", say.Errorf("%q ends in %q, but its modulo 10 check digit is %q: correct the text, or leave the check digit out and have it added", text, text[n:], want[n:])
	}
	return want, nil
}

// draw13 is the EAN-13 of 13 digits: the first is in the sets of the next six.
func draw13(digits string) symbol.Logical {
	l := symbol.Logical{Family: symbol.Modular}
	l.Append("guard", guard, []uint8{1, 1, 1})
	odd := parity[digits[0]-'0']
	for i := range 6 {
		add(&l, digits[1+i], set(odd>>(5-i)&1))
	}
	right(&l, digits[7:])
	return l
}

// draw8 is the EAN-8 of 8 digits.
func draw8(digits string) symbol.Logical {
	l := symbol.Logical{Family: symbol.Modular}
	l.Append("guard", guard, []uint8{1, 1, 1})
	for i := range 4 {
		add(&l, digits[i], setA)
	}
	right(&l, digits[4:])
	return l
}

// right adds the centre, the right half and its guard.
func right(l *symbol.Logical, digits string) {
	l.Append("centre", centre, []uint8{1, 1, 1, 1, 1})
	for i := range len(digits) {
		add(l, digits[i], setC)
	}
	last := &l.Chars[len(l.Chars)-1]
	last.Label = "check " + last.Label
	l.Append("guard", guard, []uint8{1, 1, 1})
}

func add(l *symbol.Logical, digit byte, s set) {
	d := int(digit - '0')
	l.Append(string(digit), 10*int(s)+d, units[s][d])
}
