package code_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"unspool/code"
	"unspool/symbol"
	"unspool/symbol/symboltest"
	"unspool/unit"
)

func kind(t testing.TB, name string) code.Kind {
	t.Helper()
	k, ok := code.ByName(name)
	if !ok {
		t.Fatalf("no symbology %q", name)
	}
	return k
}

func encode(t testing.TB, k code.Kind, text string, o code.Options) symbol.Logical {
	t.Helper()
	l, err := k.Encode(text, o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestTableIsWhole(t *testing.T) {
	var names []string
	for _, k := range code.Linear() {
		names = append(names, k.Name)
		if got, ok := code.ByName(k.Name); !ok || got.Title != k.Title {
			t.Errorf("ByName(%q) is %q, %v", k.Name, got.Title, ok)
		}
		if (k.Family == symbol.TwoWidth) != (k.MaxRatio > 0 && k.MinRatio(0) > 1) {
			t.Errorf("%s: ratio %v to %v", k.Name, k.MinRatio(0), k.MaxRatio)
		}
		if k.Always != code.NoCheck && !slices.Contains(k.Checks, k.Always) || k.MaxX > 0 && k.MaxX <= k.MinX {
			t.Errorf("%s: always %q, X %v to %v", k.Name, k.Always, k.MinX, k.MaxX)
		}
		l := encode(t, k, sample(k, code.NoCheck), code.Options{})
		if (slices.Contains(l.Units, symbol.Gap)) != k.HasGap || l.Family != k.Family {
			t.Errorf("%s: HasGap %v, family %v", k.Name, k.HasGap, k.Family)
		}
	}
	if got := strings.Join(names, " "); got != "code39 code128 itf codabar code93 gs1-128 isbt128 ean13 ean8 upca upce" {
		t.Errorf("order %s", got)
	}
	if k, ok := code.ByName("Code 39"); ok {
		t.Errorf("a title found %s", k.Name)
	}
}

// sample is a text that a symbology carries, its check character not in it.
func sample(k code.Kind, c code.Check) string {
	switch text := samples[k.Name]; {
	case text != "":
		return text
	case k.Name == "isbt128" && c == code.NoCheck:
		return "=G12349865432100"
	case k.Name == "isbt128":
		return "=G123498654321"
	case k.Name == "itf" && c == code.NoCheck:
		return "12345678"
	}
	return "1234567"
}

var samples = map[string]string{"gs1-128": "(01)09521234543213(21)ABC", "ean13": "451234567890", "upca": "01234567890"}

// Quiet zones: 10 X on both sides by the standards' clauses in kinds.go; those of
// EAN and UPC by the size guide at gs1.se.
func TestQuietZones(t *testing.T) {
	for _, k := range code.Linear() {
		want, ok := map[string][2]int{"ean13": {11, 7}, "ean8": {7, 7}, "upca": {9, 9}, "upce": {9, 7}}[k.Name]
		if !ok {
			want = [2]int{10, 10}
		}
		first, last := k.QuietZones(false)
		back, front := k.QuietZones(true)
		if [2]int{first, last} != want || back != last || front != first || code.Quiet(k, 3) != [2]int{3 * first, 3 * last} {
			t.Errorf("%s: %d and %d, want %v", k.Name, first, last, want)
		}
	}
}

// What a reader set to one hands on from another: a UPC-A is an EAN-13 with a 0
// in front, GS1-128 and ISBT 128 are Code 128 (ISO/IEC 15420 and 15417).
func TestReads(t *testing.T) {
	for _, c := range []struct{ set, of, text, want string }{
		{"ean13", "upca", "01234567890", "0012345678905"},
		{"upca", "ean13", "001234567890", "012345678905"},
		{"upca", "ean13", "451234567890", "no"},
		{"upca", "upce", "0012345", "no"},
		{"ean8", "ean13", "451234567890", "no"},
		{"code128", "gs1-128", "(10)A(21)B", "10A\x1d21B"},
		{"code128", "isbt128", "=%5100", "=%5100"},
		{"isbt128", "code128", "=%5100", "=%5100"},
		{"isbt128", "code128", "S004217", "no"},
		{"gs1-128", "code128", "0109521234543213", "no"},
		{"code39", "itf", "12345678", "no"},
		{"code128", "code93", "S004217", "no"},
		{"code39", "code39", "S004217", "S004217"},
	} {
		text, ok := kind(t, c.set).Reads(kind(t, c.of), encode(t, kind(t, c.of), c.text, code.Options{}))
		if !ok {
			text = "no"
		}
		if text != c.want {
			t.Errorf("%+v: %q", c, text)
		}
	}
}

// Every symbology, every check rule: encode, draw at every legal size, decode from
// both ends.
func TestDecodeReadsEncode(t *testing.T) {
	for _, k := range code.Linear() {
		for _, check := range append([]code.Check{code.NoCheck}, k.Checks...) {
			o := code.Options{Check: check}
			l := encode(t, k, sample(k, check), o)
			for x := 1; x <= 8; x++ {
				for _, s := range code.Sizes(k, 300, x) {
					symboltest.Ideal(t, l, s, func(w []float64) (symbol.Reading, error) {
						r, err := k.Decode(w, o)
						if err == nil && (check == code.NoCheck) != (r.Check == symbol.Unchecked) || r.Check == symbol.CheckBad {
							t.Errorf("%s %s: check %d", k.Name, check, r.Check)
						}
						return r, err
					})
				}
			}
			if again := encode(t, k, l.Text, code.Options{Check: check, Given: check != code.NoCheck}); !slices.Equal(again.Units, l.Units) {
				t.Errorf("%s %s: its own text makes another symbol", k.Name, check)
			}
		}
	}
}

func TestOptionsThatDoNotBelong(t *testing.T) {
	for _, c := range []struct {
		kind string
		o    code.Options
		want string
	}{
		{"code39", code.Options{Check: code.Luhn}, `Code 39 has no check rule "luhn": use mod43`},
		{"code128", code.Options{Check: code.Mod10}, `Code 128 has no optional check character: leave out "mod10"`},
		{"itf", code.Options{Check: "mod11"}, `Interleaved 2 of 5 has no check rule "mod11": use mod10 or luhn`},
		{"itf", code.Options{Given: true}, "Interleaved 2 of 5: the check character is said to be given, but no check rule is: name the rule"},
		{"codabar", code.Options{FullASCII: true}, "Codabar has no full ASCII pairs: they belong to Code 39"},
		{"gs1-128", code.Options{Check: code.Mod10}, `GS1-128 has no optional check character: leave out "mod10"`},
		{"isbt128", code.Options{Check: code.Mod10}, `ISBT 128 has no check rule "mod10": use mod37`},
		{"ean8", code.Options{Check: code.Luhn}, `EAN-8 has no check rule "luhn": use mod10`},
		{"code128", code.Options{Stop: "A"}, "Code 128 has no choice of start and stop letters: they belong to Codabar"},
	} {
		if _, err := kind(t, c.kind).Encode("12", c.o); err == nil || err.Error() != c.want {
			t.Errorf("%s %+v: %v, want %s", c.kind, c.o, err, c.want)
		}
	}
}

// The wide:narrow ratios that whole dots allow: arithmetic from the limits. N 2.0
// is legal from X 0.508 mm, exactly 6 dots at 300 dpi; N 2.2 is below the limit
// of "more than 2.2" at 5 dots and allowed at 10 dots of 0.847 mm.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		kind  string
		pitch unit.Pitch
		x     int
		want  string
	}{
		{"code39", 300, 0, "[]"},
		{"code39", 300, 1, "[3]"},
		{"code39", 300, 2, "[5 6]"},
		{"code39", 300, 3, "[7 8 9]"},
		{"code39", 300, 4, "[9 10 11 12]"},
		{"itf", 300, 5, "[12 13 14 15]"},
		{"itf", 300, 6, "[12 13 14 15 16 17 18]"},
		{"itf", 600, 6, "[14 15 16 17 18]"},
		{"code39", 300, 10, "[20 21 22 23 24 25 26 27 28 29 30]"},
		{"codabar", 300, 4, "[9 10 11 12]"},
		{"codabar", 300, 6, "[14 15 16 17 18]"},
		{"code128", 300, 3, "[0]"},
	} {
		wide := []int{}
		for _, s := range code.Sizes(kind(t, c.kind), c.pitch, c.x) {
			wide = append(wide, s.Wide)
			if s.X != c.x || s.Gap != 0 && s.Gap != c.x {
				t.Errorf("%+v: %+v", c, s)
			}
		}
		if got := fmt.Sprint(wide); got != c.want {
			t.Errorf("%s %v X %d: wide %s, want %s", c.kind, c.pitch, c.x, got, c.want)
		}
	}
}

func TestPickSize(t *testing.T) {
	for _, c := range []struct {
		kind string
		x    int
		n    float64
		want string
	}{
		{"code39", 1, 0, "{1 3 1 0} <nil>"},
		{"code39", 2, 0, "{2 5 2 0} <nil>"},
		{"code39", 3, 0, "{3 8 3 0} <nil>"},
		{"itf", 4, 0, "{4 10 0 0} <nil>"},
		{"codabar", 5, 0, "{5 13 5 0} <nil>"},
		{"code128", 3, 0, "{3 0 0 0} <nil>"},
		{"code39", 3, 3, "{3 9 3 0} <nil>"},
		{"code39", 3, 2.33, "{3 7 3 0} <nil>"},
		{"code39", 3, 2.67, "{3 8 3 0} <nil>"},
		{"code39", 3, 2, "{3 6 3 0} <nil>"}, // drawn, but RatioLegal says no
		{"code39", 3, 2.5, "{0 0 0 0} a wide:narrow ratio of 2.5 at X 3 dots is not a whole number of dots: use 2.33, 2.67 or 3"},
		{"code39", 1, 2.5, "{0 0 0 0} a wide:narrow ratio of 2.5 at X 1 dots is not a whole number of dots: use 3"},
		{"code39", 3, 1, "{0 0 0 0} a wide:narrow ratio of 1 cannot be drawn: use 2.33, 2.67 or 3"},
		{"code39", 3, math.NaN(), "{0 0 0 0} a wide:narrow ratio of NaN cannot be drawn: use 2.33, 2.67 or 3"},
		{"code39", 3, math.Inf(1), "{0 0 0 0} a wide:narrow ratio of +Inf cannot be drawn: use 2.33, 2.67 or 3"},
		{"code128", 3, 2.5, "{0 0 0 0} Code 128 has no wide:narrow ratio to choose: leave it out"},
		{"itf", 0, 0, "{0 0 0 0} X is 0 dots: use 1 to 1000"},
		{"itf", 1001, 0, "{0 0 0 0} X is 1001 dots: use 1 to 1000"},
	} {
		k := kind(t, c.kind)
		s, err := code.PickSize(k, encode(t, k, "12", code.Options{}), 300, c.x, c.n)
		if got := fmt.Sprint(s, " ", err); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
	k := kind(t, "code39")
	if code.RatioLegal(k, 300, symbol.Size{X: 3, Wide: 6}) || !code.RatioLegal(k, 300, symbol.Size{X: 6, Wide: 12}) || code.RatioLegal(k, 300, symbol.Size{X: 3, Wide: 10}) {
		t.Error("N 2.0 is legal from 0.508 mm only, N above 3.0 never")
	}
}

// Widths in modules by the formulas of zint's comments, which follow the
// standards: Code 39 (C+2)(3N+6) + (C+1)I, Codabar (2N+5)C + (N-1)(D+2) + I(C-1),
// Interleaved 2 of 5 P(4N+6)+N+6, Code 128 11(n+2)+13, Code 93 9(C+4)+1.
func TestWidthFormulas(t *testing.T) {
	for _, x := range []int{2, 3, 4, 5} {
		for _, c := range []struct {
			kind, text string
			modules    func(n float64) float64
		}{
			{"code39", "ABC-1 $%", func(n float64) float64 { return 10*(3*n+6) + 9 }},
			{"codabar", "A12:3/+-$B", func(n float64) float64 { return (2*n+5)*10 + (n-1)*(3+2) + 9 }},
			{"itf", "00421788", func(n float64) float64 { return 4*(4*n+6) + n + 6 }},
			{"code128", "abcde", func(float64) float64 { return 11*(5+2) + 13 }},
			{"code93", "ABCDE", func(float64) float64 { return 9*(5+4) + 1 }},
		} {
			k := kind(t, c.kind)
			for _, s := range code.Sizes(k, 300, x) {
				want := c.modules(float64(s.Wide)/float64(s.X)) * float64(x)
				if got := encode(t, k, c.text, code.Options{}).Width(s); math.Abs(float64(got)-want) > 1e-9 {
					t.Errorf("%s X %d wide %d: %d dots, want %v", c.kind, x, s.Wide, got, want)
				}
			}
		}
	}
}

// What fits a card at 300 dpi, in millimetres with quiet zones: kept as a
// regression, computed from the same formulas.
func TestWidthsOnACardRegression(t *testing.T) {
	for _, c := range []struct {
		kind, text string
		mm         [3]float64 // at 2, 3 and 4 dots
	}{
		{"code39", "ABCDEFGHIJ", [3]float64{32.7, 50.5, 65.4}},
		{"code128", "ABCDEFGHIJ", [3]float64{27.9, 41.9, 55.9}},
		{"code128", "0123456789", [3]float64{18.6, 27.9, 37.3}},
		{"itf", "15400141288763", [3]float64{23.8, 36.9, 47.6}},
		{"codabar", "31117013206375", [3]float64{33.5, 51.7, 67.1}},
	} {
		k := kind(t, c.kind)
		l := encode(t, k, c.text, code.Options{})
		for i, want := range c.mm {
			s, err := code.PickSize(k, l, 300, i+2, 0)
			if err != nil {
				t.Fatal(err)
			}
			got := unit.Pitch(300).MM(float64(l.Width(s) + 2*code.Quiet(k, s.X)[0]))
			if math.Abs(got-want) > .051 {
				t.Errorf("%s at %d dots: %.2f mm, want %.1f", c.kind, i+2, got, want)
			}
		}
	}
}

// ISO/IEC 16388:2007 4.4 e, after zint's comment: the larger of 5 mm and 15 % of
// the width; ANSI/AIM BC5-1995 2.6, after the same: 0.2 in. EAN and UPC at X
// 0.33 mm: 22.85 mm, EAN-8 18.23 mm, by the size guide at gs1.se.
func TestMinHeight(t *testing.T) {
	retail := map[string]struct{ width, height unit.Length }{
		"ean13": {unit.MM(31.35), unit.MM(22.85)}, "upca": {unit.MM(31.35), unit.MM(22.85)},
		"ean8": {unit.MM(22.11), unit.MM(18.23)}, "upce": {unit.MM(16.83), unit.MM(22.85)},
	}
	for _, k := range code.Linear() {
		if r, ok := retail[k.Name]; ok {
			if got := k.MinHeight(r.width); got != r.height || k.MinHeight(2*r.width) != 2*r.height {
				t.Errorf("%s: %v", k.Name, got)
			}
			continue
		}
		least := unit.MM(5)
		if k.Name == "code93" {
			least = unit.MM(5.08)
		}
		if a, b := k.MinHeight(unit.MM(30)), k.MinHeight(unit.MM(60)); a != least || b != unit.MM(9) {
			t.Errorf("%s: %v and %v", k.Name, a, b)
		}
	}
}

func BenchmarkEncodeAndPick(b *testing.B) {
	for _, k := range code.Linear() {
		b.Run(k.Name, func(b *testing.B) {
			for b.Loop() {
				l, err := k.Encode(sample(k, code.NoCheck), code.Options{})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := code.PickSize(k, l, 300, 3, 0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
