package itf

import (
	"unspool/say"
	"unspool/symbol"
)

// Encode makes the symbol for a row of digits. Anything but digits, an odd count
// with the check digit counted, and a wrong given check digit are errors. The
// start and stop patterns are Chars of the symbol but have no value.
func Encode(text string, o Options) (symbol.Logical, error) {
	carried, err := digits(text, o)
	if err != nil {
		return symbol.Logical{}, err
	}
	l := symbol.Logical{Family: symbol.TwoWidth, Text: carried}
	guard(&l, "start", start)
	for i := 0; i < len(carried); i += 2 {
		from := len(l.Units)
		bars, spaces := patterns[carried[i]-'0'], patterns[carried[i+1]-'0']
		for k := range digit {
			l.Units = append(l.Units, bars[k]-'0', spaces[k]-'0')
		}
		l.Values = append(l.Values, int(carried[i]-'0'), int(carried[i+1]-'0'))
		l.Chars = append(l.Chars, symbol.Char{From: from, To: len(l.Units), Label: carried[i : i+2]})
	}
	guard(&l, "stop", stop)
	return l, nil
}

// digits is the text with its check digit, proved to be an even row of digits.
func digits(text string, o Options) (string, error) {
	if text == "" {
		return "", say.Errorf("Interleaved 2 of 5 needs at least two digits")
	}
	for i, r := range text {
		if r < '0' || r > '9' {
			return "", symbol.CannotCarry("Interleaved 2 of 5", text, i, "it carries the digits 0 to 9 and nothing else")
		}
	}
	body, carried := text, text
	if o.Check != NoCheck {
		if o.Given {
			body = text[:len(text)-1]
		}
		carried = body + string(o.Check.digit(body))
		if o.Given && (carried != text || body == "") {
			return "", say.Errorf("%q ends in %q, but its %v check digit is %q: correct the text, or leave the check digit out and have it added", text, text[len(body):], o.Check, carried[len(body):])
		}
	}
	switch odd := len(carried)%2 == 1; {
	case odd && o.Check == NoCheck:
		return "", say.Errorf("Interleaved 2 of 5 codes digits in pairs, and %q with %v makes %d: put a zero before it, or add a check digit", text, o.Check, len(carried))
	case odd:
		return "", say.Errorf("Interleaved 2 of 5 codes digits in pairs, and %q with %v makes %d: put a zero before it", text, o.Check, len(carried))
	}
	return carried, nil
}

// digit is the check digit of a row of digits.
func (c Check) digit(s string) byte {
	if c == Luhn {
		return symbol.Luhn(s)
	}
	return symbol.Mod10(s)
}

// String names the rule.
func (c Check) String() string { return [...]string{"no check digit", "modulo 10", "Luhn"}[c%3] }

func guard(l *symbol.Logical, label, pattern string) {
	from := len(l.Units)
	l.Units = append(l.Units, symbol.Units(pattern)...)
	l.Chars = append(l.Chars, symbol.Char{From: from, To: len(l.Units), Label: label})
}
