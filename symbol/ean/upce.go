package ean

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// EncodeE makes a UPC-E: of 7 digits, the number system 0 or 1 first, of 8 whose
// last is the check digit and is proved, or of a UPC-A's 11 or 12 digits whose
// zeros can be left out. With o.Check, o.Given says which of the two it is.
func EncodeE(text string, o Options) (symbol.Logical, error) {
	const title = "UPC-E"
	if len(text) > 8 && symbol.Digits(text) {
		full, err := whole("UPC-A", text, 11, o, symbol.Mod10)
		if err != nil {
			return symbol.Logical{}, err
		}
		short, ok := compress(full[:11])
		if !ok {
			return symbol.Logical{}, say.Errorf("UPC-E cannot carry %q: it leaves out zeros that this number does not have; use UPC-A", text)
		}
		text, o = short+full[11:], Options{}
	}
	digits, err := whole(title, text, 7, o, checkE)
	if err != nil {
		return symbol.Logical{}, err
	}
	if digits[0] > '1' {
		return symbol.Logical{}, say.Errorf("UPC-E %q begins with %q: its number system must be 0 or 1", text, text[:1])
	}
	if again, ok := compress(expand(digits[:7])); !ok || again != digits[:7] {
		return symbol.Logical{}, say.Errorf("UPC-E %q stands for the UPC-A number %q, whose short form is %q: use that", text, expand(digits[:7]), again)
	}
	l := drawE(digits)
	l.Text = digits
	return l, nil
}

// drawE is the UPC-E of 8 digits: the first and the last are in the sets of the
// six between.
func drawE(digits string) symbol.Logical {
	l := symbol.Logical{Family: symbol.Modular}
	l.Append("guard", guard, []uint8{1, 1, 1})
	odd := parityE[digits[7]-'0']
	if digits[0] == '0' {
		odd = ^odd
	}
	for i := range 6 {
		add(&l, digits[1+i], set(odd>>(5-i)&1))
	}
	l.Append("guard", end, []uint8{1, 1, 1, 1, 1, 1})
	return l
}

// checkE is the check digit of a UPC-E's 7 digits: that of the UPC-A they stand
// for.
func checkE(digits string) byte { return symbol.Mod10(expand(digits)) }

// expand is the UPC-A number, without its check digit, that a UPC-E's 7 digits
// stand for: the last says where the zeros were. ISO/IEC 15420 Table 5 (from
// memory, checked against an independent encoder).
func expand(short string) string {
	d, last := short[1:6], short[6:]
	switch {
	case last <= "2":
		return short[:1] + d[:2] + last + "0000" + d[2:]
	case last == "3":
		return short[:1] + d[:3] + "00000" + d[3:]
	case last == "4":
		return short[:1] + d[:4] + "00000" + d[4:]
	}
	return short[:1] + d + "0000" + last
}

// compress is the UPC-E of a UPC-A number of 11 digits, both without their check
// digits; ok is false where there is none. Of the ways to leave out zeros the
// first that fits is the legal one.
func compress(full string) (short string, ok bool) {
	system, maker, item := full[:1], full[1:6], full[6:]
	switch {
	case system > "1":
		return "", false
	case maker[2] <= '2' && maker[3:] == "00" && item[:2] == "00":
		short = system + maker[:2] + item[2:] + maker[2:3]
	case maker[3:] == "00" && item[:3] == "000":
		short = system + maker[:3] + item[3:] + "3"
	case maker[4:] == "0" && item[:4] == "0000":
		short = system + maker[:4] + item[4:] + "4"
	case strings.HasPrefix(item, "0000") && item[4] >= '5':
		short = system + maker + item[4:]
	default:
		return "", false
	}
	return short, true
}
