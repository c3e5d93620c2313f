package code

import (
	"slices"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/codabar"
	"unspool/symbol/code39"
	"unspool/symbol/ean"
	"unspool/symbol/isbt128"
	"unspool/symbol/itf"
)

func encode39(text string, o Options) (symbol.Logical, error) {
	if err := o.only("Code 39", true, false, Mod43); err != nil {
		return symbol.Logical{}, err
	}
	return code39.Encode(text, options39(o))
}

func decode39(widths []float64, o Options) (symbol.Reading, error) {
	return code39.Decode(widths, options39(o))
}

func options39(o Options) code39.Options {
	return code39.Options{Mod43: o.Check == Mod43, Given: o.Given, FullASCII: o.FullASCII}
}

func encodeITF(text string, o Options) (symbol.Logical, error) {
	if err := o.only("Interleaved 2 of 5", false, false, Mod10, Luhn); err != nil {
		return symbol.Logical{}, err
	}
	return itf.Encode(text, optionsITF(o))
}

func decodeITF(widths []float64, o Options) (symbol.Reading, error) {
	return itf.Decode(widths, optionsITF(o))
}

func optionsITF(o Options) itf.Options {
	checks := map[Check]itf.Check{Mod10: itf.Mod10, Luhn: itf.Luhn}
	return itf.Options{Check: checks[o.Check], Given: o.Given}
}

func encodeCodabar(text string, o Options) (symbol.Logical, error) {
	if err := o.only("Codabar", false, true, Mod16, Luhn); err != nil {
		return symbol.Logical{}, err
	}
	return codabar.Encode(text, optionsCodabar(o))
}

func decodeCodabar(widths []float64, o Options) (symbol.Reading, error) {
	return codabar.Decode(widths, optionsCodabar(o))
}

func optionsCodabar(o Options) codabar.Options {
	checks := map[Check]codabar.Check{Mod16: codabar.Mod16, Luhn: codabar.Luhn}
	return codabar.Options{Check: checks[o.Check], Given: o.Given, Start: o.Start, Stop: o.Stop}
}

// The kinds of coders that the others are made of.
type (
	encoder func(text string, o Options) (symbol.Logical, error)
	decoder func(widths []float64, o Options) (symbol.Reading, error)
)

// plain makes an encoder of one that has no options.
func plain(title string, encode func(text string) (symbol.Logical, error)) encoder {
	return func(text string, o Options) (symbol.Logical, error) {
		if err := o.only(title, false, false); err != nil {
			return symbol.Logical{}, err
		}
		return encode(text)
	}
}

// unasked makes a decoder of one that has no options.
func unasked(decode func(widths []float64) (symbol.Reading, error)) decoder {
	return func(widths []float64, _ Options) (symbol.Reading, error) { return decode(widths) }
}

// retail makes an encoder of one whose check digit may be in the text or not.
// Where no rule is named, the length of the text tells.
func retail(title string, encode func(text string, o ean.Options) (symbol.Logical, error)) encoder {
	return func(text string, o Options) (symbol.Logical, error) {
		if err := o.only(title, false, false, Mod10); err != nil {
			return symbol.Logical{}, err
		}
		return encode(text, ean.Options{Check: o.Check == Mod10, Given: o.Given})
	}
}

// proved makes a decoder of one that reads nothing whose check digit is wrong.
func proved(decode func(widths []float64) (symbol.Reading, error)) decoder {
	return func(widths []float64, o Options) (symbol.Reading, error) {
		r, err := decode(widths)
		if err == nil && o.Check == Mod10 {
			r.Check = symbol.CheckGood
		}
		return r, err
	}
}

func encodeISBT(text string, o Options) (symbol.Logical, error) {
	if err := o.only("ISBT 128", false, false, Mod37); err != nil {
		return symbol.Logical{}, err
	}
	return isbt128.Encode(text, optionsISBT(o))
}

func decodeISBT(widths []float64, o Options) (symbol.Reading, error) {
	return isbt128.Decode(widths, optionsISBT(o))
}

func optionsISBT(o Options) isbt128.Options {
	return isbt128.Options{Mod37: o.Check == Mod37, Given: o.Given}
}

// anyOf writes rules as a choice: "mod10 or luhn".
func anyOf(rules []Check) say.Text {
	all := say.Data(string(rules[0]))
	for _, r := range rules[1:] {
		all = say.F("%s or %s", all, string(r))
	}
	return all
}

// only says which of the options a symbology does not have.
func (o Options) only(title string, fullASCII, guards bool, checks ...Check) error {
	switch {
	case o.Check != NoCheck && len(checks) == 0:
		return say.Errorf("%s has no optional check character: leave out %q", title, string(o.Check))
	case o.Check != NoCheck && !slices.Contains(checks, o.Check):
		return say.Errorf("%s has no check rule %q: use %s", title, string(o.Check), anyOf(checks))
	case o.Given && o.Check == NoCheck:
		return say.Errorf("%s: the check character is said to be given, but no check rule is: name the rule", title)
	case o.FullASCII && !fullASCII:
		return say.Errorf("%s has no full ASCII pairs: they belong to Code 39", title)
	case (o.Start != "" || o.Stop != "") && !guards:
		return say.Errorf("%s has no choice of start and stop letters: they belong to Codabar", title)
	case o.Level != "" || o.Oblong || o.Columns != 0 || o.Compact || o.GS1 || o.Binary:
		return say.Errorf("%s is no two-dimensional symbology: leave out error correction, form, columns, GS1 and binary data", title)
	}
	return nil
}
