package code

import "unspool/symbol"

// Reads is what a reader that is set to kind k hands on from a symbol of kind of;
// ok is false where it reads nothing. Some symbologies are others with a rule
// more, and reference decodes tell: a UPC-A is an EAN-13 that begins with 0, and
// GS1-128 and ISBT 128 are Code 128.
func (k Kind) Reads(of Kind, l symbol.Logical) (text string, ok bool) {
	if k.Name == of.Name {
		return l.Text, true
	}
	if k.Family != symbol.Modular || of.Family != symbol.Modular {
		return "", false
	}
	widths := make([]float64, len(l.Units))
	for i, u := range l.Units {
		widths[i] = float64(u)
	}
	r, err := k.Decode(widths, Options{})
	return r.Text, err == nil
}
