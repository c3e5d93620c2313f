package code39

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// Options are the choices Code 39 leaves to the application.
type Options struct {
	Mod43     bool // the last data character is the modulo 43 check
	Given     bool // the text brings that character; otherwise Encode adds it
	FullASCII bool // pairs of characters stand for all of ASCII
}

// Encode makes the symbol for text: 0-9, A-Z, - . space $ / + %, or any ASCII
// with FullASCII. An empty text, a character that Code 39 lacks and a wrong
// given check character are errors.
func Encode(text string, o Options) (symbol.Logical, error) {
	data, carried, err := characters(text, o)
	if err != nil {
		return symbol.Logical{}, err
	}
	l := symbol.Logical{Family: symbol.TwoWidth, Text: carried}
	l.Append("start", guard, units[guard])
	for i := range len(data) {
		label := symbol.Label(data[i])
		if o.Mod43 && i == len(data)-1 {
			label = "check " + label
		}
		v := strings.IndexByte(alphabet, data[i])
		l.AppendGap()
		l.Append(label, v, units[v])
	}
	l.AppendGap()
	l.Append("stop", guard, units[guard])
	return l, nil
}

// characters gives the data characters of the symbol, pairs spelt out and check
// included, and the text they carry.
func characters(text string, o Options) (data, carried string, err error) {
	body, given := text, ""
	if o.Mod43 && o.Given && text != "" {
		body, given = text[:len(text)-1], text[len(text)-1:]
	}
	if body == "" {
		return "", "", say.Errorf("Code 39 needs at least one character of text")
	}
	if data, err = spell(body, text, o.FullASCII); err != nil {
		return "", "", err
	}
	if !o.Mod43 {
		return data, text, nil
	}
	check := string(alphabet[mod43(data)])
	if o.Given && given != check {
		return "", "", say.Errorf("%q ends in %q, but its modulo 43 check character is %q: correct the text, or leave the check character out and have it added", text, given, check)
	}
	return data + check, body + check, nil
}

// spell writes body, the beginning of text, in the 43 characters of Code 39.
func spell(body, text string, full bool) (string, error) {
	var b strings.Builder
	for i, r := range body {
		switch {
		case r > 0x7f:
			return "", symbol.CannotCarry("Code 39", text, i, "only ASCII can be coded")
		case strings.ContainsRune(alphabet[:guard], r) && (!full || !strings.ContainsRune("$/+%", r)):
			b.WriteByte(byte(r))
		case full:
			b.Write(pairOf[r][:])
		case r >= 'a' && r <= 'z':
			return "", symbol.CannotCarry("Code 39", text, i, "use capital letters, or full ASCII if every reader is set for it")
		default:
			return "", symbol.CannotCarry("Code 39", text, i, "it carries 0-9, A-Z, - . space $ / + % and no more, unless full ASCII is chosen and every reader is set for it")
		}
	}
	return b.String(), nil
}

// mod43 is the value of the check character of data: the sum of all values
// modulo 43 (read in GOST 30742-2001 A.1.1, which adopts the standard of Code 39).
func mod43(data string) int {
	sum := 0
	for i := range len(data) {
		sum += strings.IndexByte(alphabet, data[i])
	}
	return sum % 43
}

// units are the patterns as symbol.Logical holds them.
var units = func() (u [len(patterns)][]uint8) {
	for v, p := range patterns {
		u[v] = symbol.Units(p)
	}
	return u
}()

// pairOf is the pair for each ASCII character that needs one.
var pairOf = func() (p [128][2]byte) {
	for i := len(pairs) - 1; i >= 0; i-- {
		for k := range pairs[i].n {
			p[int(pairs[i].first)+k] = [2]byte{pairs[i].shift, pairs[i].letter + byte(k)}
		}
	}
	return p
}()
