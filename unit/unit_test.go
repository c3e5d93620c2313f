package unit

import (
	"math/big"
	"testing"
	"testing/quick"
)

func TestParseMM(t *testing.T) {
	for _, c := range []struct {
		in   string
		want Length
		ok   bool
	}{
		{"0.254", 254_000, true},
		{"85.60", 85_600_000, true},
		{"-3", -3_000_000, true},
		{".5", 500_000, true},
		{"0.000001", 1, true},
		{"0.0000001", 0, false},
		{"1e3", 0, false},
		{"12.7 mm", 0, false},
		{"", 0, false},
		{"1.", 0, false},
		{"-", 0, false},
		{"10000.1", 0, false},
		{"٣", 0, false},
	} {
		got, err := ParseMM(c.in)
		if (err == nil) != c.ok || got != c.want {
			t.Errorf("ParseMM(%q) = %d, %v; want %d, ok %v", c.in, got, err, c.want, c.ok)
		}
	}
}

// Three dots at 300 dpi are 3/300 in = 0.254 mm: arithmetic from the definition
// of the inch.
func TestThreeDotsMeetAQuarterMillimetre(t *testing.T) {
	for _, c := range []struct {
		p    Pitch
		n    int
		l    Length
		want int
	}{
		{300, 3, MM(0.254), 0},
		{300, 3, MM(0.254001), -1},
		{300, 3, MM(0.253999), 1},
		{600, 6, MM(0.254), 0},
		{300, 2, MM(0.17), -1},
		{300, 4, MM(0.339), -1}, // 4 dots are 0.338667 mm
	} {
		if got := c.p.Cmp(c.n, c.l); got != c.want {
			t.Errorf("%v.Cmp(%d, %v) = %d, want %d", c.p, c.n, c.l, got, c.want)
		}
	}
}

// Rounding agrees with exact rational arithmetic (math/big).
func TestRoundingIsExact(t *testing.T) {
	f := func(nm int32, dpi uint16) bool {
		p := MinPitch + Pitch(dpi)%(MaxPitch-MinPitch)
		l := Length(nm)
		exact := big.NewRat(int64(l)*int64(p), int64(Inch))
		floor, ceil := p.Floor(l), p.Ceil(l)
		lo, hi := big.NewRat(int64(floor), 1), big.NewRat(int64(ceil), 1)
		if lo.Cmp(exact) > 0 || hi.Cmp(exact) < 0 || ceil-floor > 1 {
			return false
		}
		off := new(big.Rat).Sub(exact, big.NewRat(int64(p.Round(l)), 1))
		return off.Abs(off).Cmp(big.NewRat(1, 2)) <= 0
	}
	if err := quick.Check(f, nil); err != nil {
		t.Error(err)
	}
}

func TestString(t *testing.T) {
	for _, c := range []struct {
		l    Length
		want string
	}{{MM(0.254), "0.254 mm"}, {MM(85.6), "85.6 mm"}, {0, "0 mm"}, {MM(-0.0001), "0 mm"}} {
		if got := c.l.String(); got != c.want {
			t.Errorf("%d: %q, want %q", c.l, got, c.want)
		}
	}
}

func FuzzParseMM(f *testing.F) {
	for _, s := range []string{"0.254", "-3", "", "1.", "999999.999999", "--1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseMM(s)
		if err == nil && (l > MaxLength || l < -MaxLength) {
			t.Errorf("%q: %d beyond the limit", s, l)
		}
	})
}
