package gs1128

import (
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/code128"
	"unspool/symbol/gs1"
	"unspool/symbol/symboltest"
)

const (
	digits = "0123456789"
	some   = digits + "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!%&*+,-./:;<=>?_"
)

// texts are random element strings for people.
func texts(seed uint64, count int) (all []string) {
	for i := uint64(0); len(all) < count; i++ {
		word := func(n uint64, longest int, alphabet string) string {
			return symboltest.Texts(seed<<40+i<<8+n, 1, longest, alphabet)[0]
		}
		long := strings.Join(symboltest.Texts(seed<<40+i<<8, 40, 1, digits), "")
		gtin := long[:13]
		elements := []string{
			"(01)" + gtin + string(symbol.Mod10(gtin)), "(21)" + word(1, 20, some), "(10)" + word(2, 20, digits),
			"(3102)" + long[:6], "(17)2" + long[:1] + "0" + string('1'+long[1]%9) + "1" + long[2:3], "(37)" + word(3, 8, digits),
			"(90)" + word(4, 30, some),
		}
		text, pick := "", int(long[20]-'0')*10+int(long[21]-'0')
		for k := range 1 + pick%3 {
			text += elements[(pick+int(long[22+k]-'0'))%len(elements)]
		}
		if parsed, err := gs1.Parse(text); err == nil && len(gs1.Raw(parsed)) <= longest {
			all = append(all, text)
		}
	}
	return all
}

// zint (2.11.1) chooses its code sets by other rules, see package code128: what it
// draws carries the same, its values make its very pattern, and it is never
// narrower. For the most part it is the same symbol.
func TestZintDrawsTheSameAndNoNarrower(t *testing.T) {
	all := texts(1, 500)
	squared := make([]string, len(all))
	for i, text := range all {
		squared[i] = strings.NewReplacer("(", "[", ")", "]").Replace(text)
	}
	same := 0
	for i, drawn := range symboltest.Zint(t, squared, "-b", "16") {
		ours := symboltest.Must(t, all[i], Encode)
		r, err := Decode(symboltest.Widths(drawn))
		if err != nil || r.Text != ours.Text {
			t.Errorf("%q: %q read from zint, %q ours, %v", all[i], r.Text, ours.Text, err)
		}
		if len(ours.Values) > len(r.Values) {
			t.Errorf("%q: %d characters, zint %d", all[i], len(ours.Values), len(r.Values))
		}
		if slices.Equal(ours.Values, r.Values) {
			same++
			if got := symboltest.Modules(t, ours, 0, 0); got != drawn {
				t.Errorf("%q:\nzint %s\nours %s", all[i], drawn, got)
			}
		}
	}
	if t.Logf("%d of %d are the same symbol", same, len(all)); same < len(all)/2 {
		t.Errorf("only %d of %d are the same symbol", same, len(all))
	}
}

func TestRoundTrip(t *testing.T) {
	for i, text := range texts(2, 500) {
		l := symboltest.Must(t, text, Encode)
		symboltest.Ideal(t, l, symbol.Size{X: 1 + i%6}, Decode)
		if again := symboltest.Must(t, l.Text, Encode); !slices.Equal(again.Values, l.Values) {
			t.Fatalf("%q: %v from %q, %v", text, again.Values, l.Text, l.Values)
		}
	}
}

func TestRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"(01)09521234543213(21)" + strings.Repeat("A", 20) + "(10)12345678": `GS1-128 carries 48 characters at most, separators counted, and "(01)09521234543213(21)AAAAAAAAAAAAAAAAAAAA(10)12345678" makes 49: leave an element out, or put it in a second code`,
		"S004217": `GS1 data "S004217" has no known application identifier at character 1: "S004217"`,
	} {
		if _, err := Encode(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	for _, c := range []struct {
		encode     func(string) (symbol.Logical, error)
		text, want string
	}{
		{code128.Encode, "0109521234543213", `"0109521234543213" is Code 128 without the FNC1 that GS1-128 begins with`},
		{code128.EncodeGS1, "0109521234543214", `GS1-128: (01): "09521234543214" ends in "4", but its modulo 10 check digit is "3": correct the number`},
	} {
		w, err := symboltest.Must(t, c.text, c.encode).Widths(symbol.Size{X: 2})
		if err != nil {
			t.Fatal(err)
		}
		if r, err := Decode(symboltest.Floats(w)); err == nil || err.Error() != c.want || r.Values != nil {
			t.Errorf("%q: %v, want %s", c.text, err, c.want)
		}
	}
}

// A GS1-128 is a Code 128: without its first FNC1, with GS for the others.
func TestReadsAsCode128(t *testing.T) {
	w, err := symboltest.Must(t, "(10)LOT7(21)ABC", Encode).Widths(symbol.Size{X: 2})
	if err != nil {
		t.Fatal(err)
	}
	if r, err := code128.Decode(symboltest.Floats(w)); err != nil || r.Text != "10LOT7\x1d21ABC" {
		t.Errorf("%q, %v", r.Text, err)
	}
}

func FuzzEncode(f *testing.F) {
	for _, s := range texts(3, 4) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if l, err := Encode(text); err == nil {
			symboltest.Ideal(t, l, symbol.Size{X: 2}, Decode)
		}
	})
}

func FuzzDecode(f *testing.F) {
	symboltest.FuzzDecode(f, symboltest.Must(f, "(10)LOT7(21)ABC", Encode), Decode)
}

func BenchmarkDecode(b *testing.B) {
	w, err := symboltest.Must(b, "(01)09521234543213(21)ABC", Encode).Widths(symbol.Size{X: 2})
	if err != nil {
		b.Fatal(err)
	}
	widths := symboltest.Floats(w)
	for b.Loop() {
		if _, err := Decode(widths); err != nil {
			b.Fatal(err)
		}
	}
}
