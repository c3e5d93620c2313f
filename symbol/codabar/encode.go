package codabar

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// Encode makes the symbol for text: 0-9 - $ : / . +, which may stand between a
// start and a stop letter A to D of its own. Other characters, a start without
// its stop, letters unlike those of the options, and a wrong given check
// character are errors.
func Encode(text string, o Options) (symbol.Logical, error) {
	start, body, stop, err := parts(text, o)
	if err != nil {
		return symbol.Logical{}, err
	}
	if body, err = checked(start, body, stop, text, o); err != nil {
		return symbol.Logical{}, err
	}
	l := symbol.Logical{Family: symbol.TwoWidth, Text: start + body + stop}
	last := len(l.Text) - 1
	for i := range l.Text {
		v := strings.IndexByte(alphabet, l.Text[i])
		if i > 0 {
			l.AppendGap()
		}
		l.Append(label(l.Text, i, last, o.Check), v, units[v])
	}
	return l, nil
}

// label is what a person calls character i of the text.
func label(text string, i, last int, c Check) string {
	switch {
	case i == 0:
		return "start " + text[i:i+1]
	case i == last:
		return "stop " + text[i:i+1]
	case i == last-1 && c != NoCheck:
		return "check " + text[i:i+1]
	}
	return text[i : i+1]
}

// parts takes the text apart and settles start and stop.
func parts(text string, o Options) (start, body, stop string, err error) {
	start, body, stop = o.Start, text, o.Stop
	offset := 0
	if isGuard(text, 0) || isGuard(text, len(text)-1) {
		if len(text) < 2 || !isGuard(text, 0) || !isGuard(text, len(text)-1) {
			return "", "", "", say.Errorf("Codabar text %q has a start or a stop letter but not both: write both or neither", text)
		}
		start, body, stop, offset = text[:1], text[1:len(text)-1], text[len(text)-1:], 1
		if o.Start != "" && o.Start != start || o.Stop != "" && o.Stop != stop {
			return "", "", "", say.Errorf("Codabar text %q brings start %s and stop %s, but start %q and stop %q are asked for: leave one of them out", text, start, stop, o.Start, o.Stop)
		}
	}
	for _, g := range []*string{&start, &stop} {
		if *g == "" {
			*g = "A"
		}
		if len(*g) != 1 || !isGuard(*g, 0) {
			return "", "", "", say.Errorf("%q is no Codabar start or stop: use A, B, C or D", *g)
		}
	}
	for i, r := range body {
		if !strings.ContainsRune(alphabet[:firstGuard], r) {
			return "", "", "", symbol.CannotCarry("Codabar", text, i+offset, "it carries 0-9 - $ : / . + between its start and stop letters A to D")
		}
	}
	if body == "" {
		return "", "", "", say.Errorf("Codabar needs at least one character between start and stop")
	}
	return start, body, stop, nil
}

// checked is the body with its check character.
func checked(start, body, stop, text string, o Options) (string, error) {
	if o.Check == NoCheck {
		return body, nil
	}
	data := body
	if o.Given {
		data = body[:len(body)-1]
	}
	if data == "" || o.Check == Luhn && !symbol.Digits(data) {
		return "", say.Errorf("Codabar text %q cannot have a %v check character: it needs %s", text, o.Check, needs(o.Check))
	}
	check := o.Check.character(start, data, stop)
	if given := body[len(data):]; o.Given && given != check {
		return "", say.Errorf("%q has check character %q, but by %v it is %q: correct the text, or leave the check character out and have it added", text, given, o.Check, check)
	}
	return data + check, nil
}

func needs(c Check) say.Text {
	if c == Luhn {
		return say.Words("digits before it and nothing else")
	}
	return say.Words("a character before it")
}

// character is the check character. Modulo 16 is common practice, not EN 798,
// whose Annex A.3 leaves the check to the application: values are summed with
// start and stop, and the check brings the sum to a multiple of 16.
func (c Check) character(start, data, stop string) string {
	if c == Luhn {
		return string(rune(symbol.Luhn(data)))
	}
	sum := 0
	for _, b := range []byte(start + data + stop) {
		sum += strings.IndexByte(alphabet, b)
	}
	v := (16 - sum%16) % 16
	return alphabet[v : v+1]
}

// String names the rule.
func (c Check) String() string { return [...]string{"no", "modulo 16", "Luhn"}[c%3] }

func isGuard(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= 'A' && s[i] <= 'D' }

// units are the patterns as symbol.Logical holds them.
var units = func() (u [len(patterns)][]uint8) {
	for v, p := range patterns {
		u[v] = symbol.Units(p)
	}
	return u
}()
