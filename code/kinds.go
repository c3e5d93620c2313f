package code

import (
	"math"
	"slices"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/codabar"
	"unspool/symbol/code128"
	"unspool/symbol/code39"
	"unspool/symbol/itf"
	"unspool/unit"
)

// All is every symbology, in a fixed order.
func All() []Kind { return slices.Clone(kinds) }

// ByName finds a symbology by its Name.
func ByName(name string) (Kind, bool) {
	for _, k := range kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// kinds is the table. Where a figure has no other source beside it, it comes
// from the comments of the open-source encoder zint, which cite the standards by
// clause.
var kinds = []Kind{
	{
		// ISO/IEC 16388:2007 4.4 d (quiet zone) and e (height, width without quiet
		// zones). The older floor, MinX for open systems and the ratios of 2.0 to 3.0
		// from X 0.508 mm on: barcode4j's Code 39 page. That page has 2.0 to 2.2 below
		// 0.508 mm, which looks like a misprint of its Interleaved 2 of 5 page; that
		// the ratio must be above 2.2 there is from memory.
		Name: "code39", Title: "Code 39", Family: symbol.TwoWidth, HasGap: true,
		Checks: []Check{Mod43},
		Encode: encode39, Decode: decode39,
		QuietX: 10, QuietFloor: unit.Micrometres(2540),
		MinRatio: above22, MaxRatio: 3,
		MinX: unit.Micrometres(190), MinHeight: fiveOrFifteenPercent,
	},
	{
		// ISO/IEC 15417:2007 4.4.2 (quiet zone). X and height are left to the
		// application; the height here is that of the other symbologies (common
		// practice, no source).
		Name: "code128", Title: "Code 128", Family: symbol.Modular,
		Encode: encode128, Decode: decode128,
		QuietX:   10,
		MinRatio: func(unit.Length) float64 { return 0 }, MinHeight: fiveOrFifteenPercent,
	},
	{
		// ISO/IEC 16390:2007 4.4 (quiet zone, height). The older floor, both ratios and
		// MinX: barcode4j's Interleaved 2 of 5 page.
		Name: "itf", Title: "Interleaved 2 of 5", Family: symbol.TwoWidth,
		Checks: []Check{Mod10, Luhn},
		Encode: encodeITF, Decode: decodeITF,
		QuietX: 10, QuietFloor: unit.Micrometres(6350),
		MinRatio: above22, MaxRatio: 3,
		MinX: unit.Micrometres(190), MinHeight: fiveOrFifteenPercent,
	},
	{
		// EN 798:1995 4.4.1 d (quiet zone) and its height rule, which counts the quiet
		// zones. Ratios: handwiki.org, Codabar; 2.0 is allowed at large X too (from
		// memory), which is not used here as the limit was not found. EN 798 D.1 gives X
		// only as an example.
		Name: "codabar", Title: "Codabar", Family: symbol.TwoWidth, HasGap: true,
		Checks: []Check{Mod16, Luhn},
		Encode: encodeCodabar, Decode: decodeCodabar,
		QuietX:   10,
		MinRatio: func(unit.Length) float64 { return 2.25 }, MaxRatio: 3,
		MinHeight: fiveOrFifteenPercent, HeightWithQuiet: true,
	},
}

// above22 is the least ratio of Code 39 and Interleaved 2 of 5: 2.0, but more
// than 2.2 where X is below 0.508 mm (20 mil). The least number beyond 2.2 says
// "more than" to a comparison that allows the limit itself.
func above22(x unit.Length) float64 {
	if x < unit.Micrometres(508) {
		return math.Nextafter(2.2, 3)
	}
	return 2
}

// fiveOrFifteenPercent is the larger of 5 mm and 15 % of the width, which ISO/IEC
// 16388, 16390 and EN 798 recommend for scanning by hand.
func fiveOrFifteenPercent(width unit.Length) unit.Length {
	return max(5*unit.Millimetre, width*15/100)
}

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

func encode128(text string, o Options) (symbol.Logical, error) {
	if err := o.only("Code 128", false, false); err != nil {
		return symbol.Logical{}, err
	}
	return code128.Encode(text)
}

func decode128(widths []float64, _ Options) (symbol.Reading, error) { return code128.Decode(widths) }

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
	}
	return nil
}
