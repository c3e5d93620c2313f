package code

import (
	"encoding/hex"
	"strconv"
	"strings"
	"unicode"

	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/aztec"
	"unspool/symbol/datamatrix"
	"unspool/symbol/gs1"
	"unspool/symbol/pdf417"
	"unspool/symbol/qr"
)

// own is the options that a two-dimensional symbology has, besides Binary.
type own struct{ level, rectangle, rows, gs1 bool }

// fits refuses options that belong to other symbologies.
func (w own) fits(title string, o Options) error {
	if err := (Options{Check: o.Check, Given: o.Given, FullASCII: o.FullASCII, Start: o.Start, Stop: o.Stop}).only(title, false, false); err != nil {
		return err
	}
	for _, x := range []struct {
		name     say.Word
		set, has bool
	}{{say.Word("a level of error correction"), o.Level != "", w.level}, {say.Word("an oblong form"), o.Oblong, w.rectangle},
		{say.Word("columns"), o.Columns != 0, w.rows}, {say.Word("a compact form"), o.Compact, w.rows}, {say.Word("GS1 data"), o.GS1, w.gs1}} {
		if x.set && !x.has {
			return say.Errorf("%s has no choice of %s: leave it out", title, x.name)
		}
	}
	if o.GS1 && o.Binary {
		return say.Errorf("%s: GS1 data is text and cannot be binary: leave one out", title)
	}
	return nil
}

// content is the data that a text stands for: itself, bytes in hexadecimal, or
// GS1 element strings with their separators.
func content(title, text string, o Options) (string, error) {
	switch {
	case o.Binary:
		digits := strings.Map(func(r rune) rune {
			if unicode.IsSpace(r) {
				return -1
			}
			return r
		}, text)
		b, err := hex.DecodeString(digits)
		if err != nil {
			return "", say.Errorf("%s: %q is not bytes in hexadecimal: write two digits of 0 to 9 and A to F for each", title, text)
		}
		return string(b), nil
	case o.GS1:
		elements, err := gs1.Parse(text)
		if err != nil {
			return "", err
		}
		return gs1.Raw(elements), nil
	}
	return text, nil
}

func encodeQR(text string, o Options) (symbol.Matrix, error) {
	if err := (own{level: true, gs1: true}).fits("QR Code", o); err != nil {
		return symbol.Matrix{}, err
	}
	levels := map[string]qr.Level{"L": qr.L, "": qr.M, "M": qr.M, "Q": qr.Q, "H": qr.H}
	level, ok := levels[o.Level]
	if !ok {
		return symbol.Matrix{}, say.Errorf("QR Code has no error correction level %q: use L, M, Q or H", o.Level)
	}
	text, err := content("QR Code", text, o)
	if err != nil {
		return symbol.Matrix{}, err
	}
	return qr.Encode(text, qr.Options{Level: level, Binary: o.Binary, GS1: o.GS1})
}

func encodeDataMatrix(text string, o Options) (symbol.Matrix, error) {
	if err := (own{rectangle: true, gs1: true}).fits("Data Matrix", o); err != nil {
		return symbol.Matrix{}, err
	}
	text, err := content("Data Matrix", text, o)
	if err != nil {
		return symbol.Matrix{}, err
	}
	shape := datamatrix.Square
	if o.Oblong {
		shape = datamatrix.Rectangle
	}
	return datamatrix.Encode(text, datamatrix.Options{Shape: shape, Binary: o.Binary, GS1: o.GS1})
}

func encodeAztec(text string, o Options) (symbol.Matrix, error) {
	if err := (own{level: true}).fits("Aztec Code", o); err != nil {
		return symbol.Matrix{}, err
	}
	level, err := number(o.Level, 5, 95)
	if err != nil {
		return symbol.Matrix{}, say.Errorf("Aztec Code has no error correction of %q: use a share of 5 to 95 per cent", o.Level)
	}
	if text, err = content("Aztec Code", text, o); err != nil {
		return symbol.Matrix{}, err
	}
	return aztec.Encode(text, aztec.Options{Check: level, Binary: o.Binary})
}

func encodePDF417(text string, o Options) (symbol.Matrix, error) {
	if err := (own{level: true, rows: true}).fits("PDF417", o); err != nil {
		return symbol.Matrix{}, err
	}
	level, err := number(o.Level, 0, 8)
	if err != nil {
		return symbol.Matrix{}, say.Errorf("PDF417 has no error correction level %q: use 0 to 8", o.Level)
	}
	if o.Level != "" && level == 0 {
		level = pdf417.Least
	}
	if text, err = content("PDF417", text, o); err != nil {
		return symbol.Matrix{}, err
	}
	return pdf417.Encode(text, pdf417.Options{Columns: o.Columns, Level: level, Compact: o.Compact, Binary: o.Binary})
}

// number reads a level that is a number; an empty one is 0.
func number(s string, least, most int) (int, error) {
	if s == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < least || n > most || strconv.Itoa(n) != s {
		return 0, say.Errorf("%q is no level", s)
	}
	return n, nil
}
