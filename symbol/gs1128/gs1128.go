// Package gs1128 is GS1-128: Code 128 that begins with FNC1 and carries element
// strings of the GS1 system. GS1 General Specifications 5.4 (from memory).
package gs1128

import (
	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/code128"
	"unspool/symbol/gs1"
)

// longest is how many characters a GS1-128 may carry, identifiers and separators
// counted, the first FNC1 not: GS1 General Specifications 5.4.2 (from memory).
const longest = 48

// Encode makes the narrowest symbol for element strings in either way that they
// are written, see gs1.Parse. The symbol's text is as a reader passes it on.
func Encode(text string) (symbol.Logical, error) {
	elements, err := gs1.Parse(text)
	if err != nil {
		return symbol.Logical{}, err
	}
	raw := gs1.Raw(elements)
	if len(raw) > longest {
		return symbol.Logical{}, say.Errorf("GS1-128 carries %d characters at most, separators counted, and %q makes %d: leave an element out, or put it in a second code", longest, text, len(raw))
	}
	return code128.EncodeGS1(raw)
}

// Decode is the reference decode of Code 128 for a symbol that is GS1-128: one
// without FNC1 in front, or whose data are no element strings, is an error.
func Decode(widths []float64) (symbol.Reading, error) {
	r, err := code128.DecodeGS1(widths)
	if err != nil {
		return symbol.Reading{}, err
	}
	if _, err := gs1.Parse(r.Text); err != nil {
		return symbol.Reading{}, say.Errorf("GS1-128: %v", err)
	}
	return r, nil
}
