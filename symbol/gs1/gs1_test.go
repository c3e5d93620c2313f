package gs1

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Element strings from memory of the figures of the GS1 General Specifications,
// with their company prefix 952 for examples.
func TestParse(t *testing.T) {
	for _, c := range []struct{ text, want, raw string }{
		{"(01)09521234543213", "[{01 09521234543213}]", "0109521234543213"},
		{"(01)09521234543213(21)ABC", "[{01 09521234543213} {21 ABC}]", "010952123454321321ABC"},
		{"(10)LOT7(21)ABC(17)261231", "[{10 LOT7} {21 ABC} {17 261231}]", "10LOT7\x1d21ABC\x1d17261231"},
		{"(402)12345678901234560(10)A", "[{402 12345678901234560} {10 A}]", "40212345678901234560\x1d10A"},
		{"(17)260200(3102)000150(90)x(y)1(2", "[{17 260200} {3102 000150} {90 x(y)1(2}]", "172602003102000150" + "90x(y)1(2"},
		{"(253)9521234543213(8003)09521234543213", "[{253 9521234543213} {8003 09521234543213}]", "2539521234543213\x1d800309521234543213"},
		{"(7007)260101260228(8008)26010112", "[{7007 260101260228} {8008 26010112}]", "7007260101260228\x1d800826010112"},
		{"0109521234543213", "[{01 09521234543213}]", "0109521234543213"},
		{"010952123454321321ABC", "[{01 09521234543213} {21 ABC}]", "010952123454321321ABC"},
		{"0109521234543213\x1d21ABC", "[{01 09521234543213} {21 ABC}]", "010952123454321321ABC"}, // a separator too many
		{"10LOT7\x1d21ABC\x1d17261231", "[{10 LOT7} {21 ABC} {17 261231}]", "10LOT7\x1d21ABC\x1d17261231"},
	} {
		elements, err := Parse(c.text)
		if got := fmt.Sprint(elements); err != nil || got != c.want || Raw(elements) != c.raw {
			t.Errorf("%q: %s %q, %v; want %s %q", c.text, got, Raw(elements), err, c.want, c.raw)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "GS1 data needs at least one element such as (01)09521234543213",
		"(1)09521234543213":           `GS1 data "(1)09521234543213" must begin with an application identifier of 2 to 4 digits in brackets, such as (01)`,
		"(05)1":                       "(05), character 1 of the GS1 data, is no application identifier that is known",
		"(01)09521234543213(7)A":      `(01), character 1 of the GS1 data, carries "09521234543213(7)A": it needs 14 digits`,
		"(10)A(01)0952123454321":      `(01), character 6 of the GS1 data, carries "0952123454321": it needs 14 digits`,
		"(01)09521234543214":          `(01): "09521234543214" ends in "4", but its modulo 10 check digit is "3": correct the number`,
		"(01)0952123454321B":          `(01) cannot carry 'B', character 14 of its data "0952123454321B": it carries digits and nothing else`,
		"(10)Zoë":                     `(10) cannot carry 'ë', character 3 of its data "Zoë": it carries letters, digits and !"%&'()*+,-./:;<=>?_`,
		"(10)A B":                     `(10) cannot carry ' ', character 2 of its data "A B": it carries letters, digits and !"%&'()*+,-./:;<=>?_`,
		"(8010)12a":                   `(8010) cannot carry 'a', character 3 of its data "12a": it carries 0-9, A-Z and #-/`,
		"(17)261301":                  `(17): "261301" is no date: write year, month and day as YYMMDD, 00 for a day that is left open`,
		"(17)230229":                  `(17): "230229" is no date: write year, month and day as YYMMDD, 00 for a day that is left open`,
		"(10)":                        `(10), character 1 of the GS1 data, carries "": it needs 1 to 20 characters`,
		"(421)27":                     `(421), character 1 of the GS1 data, carries "27": it needs 3 digits, then 1 to 9 characters`,
		"(8003)0952123454321":         `(8003), character 1 of the GS1 data, carries "0952123454321": it needs 1 digit, then 13 digits, then up to 16 characters`,
		"(4330)12345":                 `(4330), character 1 of the GS1 data, carries "12345": it needs 6 digits, then 1 character or none`,
		"S004217":                     `GS1 data "S004217" has no known application identifier at character 1: "S004217"`,
		"0109521234543213A":           `GS1 data "0109521234543213A" has no known application identifier at character 17: "A"`,
		"01095212345432":              `(01), character 1 of the GS1 data, carries "095212345432": it needs 14 digits`,
		"10A\x1d":                     `GS1 data "10A\x1d" ends in a separator with nothing behind it: take it out`,
		"10A\x1d\x1d21B":              `GS1 data "10A\x1d\x1d21B" has no known application identifier at character 5: "\x1d21B"`,
		"40212345678901234560010952A": `(402), character 1 of the GS1 data, carries "12345678901234560010952A": it needs 17 digits`,
	} {
		if e, err := Parse(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v %v, want %s", text, e, err, want)
		}
	}
}

// No identifier begins with another, so that raw data can be cut; and the data of
// those without a separator has one length.
func TestTableCanBeCut(t *testing.T) {
	for ai, parts := range formats {
		for n := 2; n < len(ai); n++ {
			if _, known := formats[ai[:n]]; known {
				t.Errorf("(%s) begins with (%s)", ai, ai[:n])
			}
		}
		for i, p := range parts {
			varies := p.optional || p.least < p.most
			if predefined[ai[:2]] && varies || varies && i < len(parts)-1 {
				t.Errorf("(%s): %+v", ai, parts)
			}
			if p.most < 1 || p.most > 90 || !strings.ContainsRune("NXY", rune(p.set)) || p.check && p.set != 'N' || p.date && p.most != 6 {
				t.Errorf("(%s): %+v", ai, p)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "(01)09521234543213(21)ABC", "10LOT7\x1d21ABC\x1d17261231", "(", "(10)é", "(253)9521234543213", "\x1d", "8003"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		elements, err := Parse(text)
		if err != nil {
			return
		}
		again, err := Parse(Raw(elements))
		if err != nil || !slices.Equal(again, elements) {
			t.Errorf("%q: %v, raw %q: %v %v", text, elements, Raw(elements), again, err)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("(01)09521234543213(17)261231(10)LOT7(21)ABC"); err != nil {
			b.Fatal(err)
		}
	}
}
