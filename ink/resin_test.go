package ink

import (
	"math"
	"testing"

	"unspool/unit"
)

// What the trade says of each resin (common practice and from memory, no
// source): which is dark or bright to the eye, to red and to infrared readers.
func TestResins(t *testing.T) {
	m := Usual()
	black := Amounts{Y: 255, M: 255, C: 255, K: true}
	for _, c := range []struct {
		r                Resin
		nm               unit.Nanometres
		lo, hi           float64 // over the bare card
		hides            bool    // much the same over composite black
		infrared, carbon bool
	}{
		{Carbon(), 660, 0, 0.03, true, true, true},
		{Carbon(), 940, 0, 0.05, false, true, true},
		{NotCarbon(), 660, 0, 0.05, true, true, false},
		{NotCarbon(), 940, 0.85, 0.87, false, true, false},
		{White(), 660, 0.7, 0.85, true, true, false},
		{White(), 940, 0.7, 0.85, true, true, false},
		{Metallic(), 660, 0.2, 0.4, true, false, false},
		{Gold(), 660, 0.2, 0.4, true, false, false},
		{Gold(), 460, 0.05, 0.15, true, false, false},
		{Coloured([3]uint8{0, 0, 200}), 660, 0, 0.1, true, false, false},
		{Coloured([3]uint8{220, 0, 0}), 660, 0.6, 0.9, true, false, false},
	} {
		table := m.UnderResin(Line(c.nm), c.r)
		over := float64(table.R(0, 0, 0, true))
		if over < c.lo || over > c.hi {
			t.Errorf("%v at %v: %.3f, want %.2f to %.2f", c.r, c.nm, over, c.lo, c.hi)
		}
		onBlack := float64(table.R(black.Y, black.M, black.C, true))
		if hides := c.nm < 780 && math.Abs(over-onBlack) < 0.06; c.hides && c.nm < 780 && !hides {
			t.Errorf("%v at %v: %.3f on the card, %.3f on black", c.r, c.nm, over, onBlack)
		}
		if got := c.r.InfraredKnown(); got != c.infrared {
			t.Errorf("%v: infrared known: %t", c.r, got)
		}
		if got := c.r == Carbon(); got != c.carbon {
			t.Errorf("%v: carbon: %t", c.r, got)
		}
		if table.R(0, 0, 0, false) != m.Under(Line(c.nm)).R(0, 0, 0, false) {
			t.Errorf("%v changes dots that it does not cover", c.r)
		}
	}
	if (Resin{}) != Carbon() {
		t.Error("a resin not stated is not carbon")
	}
}

// A coloured resin shows the colour it was made with, as far as pigments go:
// moderate colours closely, the strongest as near as their darkest and
// brightest allow.
func TestColouredResinShowsItsColour(t *testing.T) {
	m := Usual()
	for _, c := range []struct {
		rgb [3]uint8
		tol int
	}{
		{[3]uint8{120, 120, 120}, 2}, {[3]uint8{60, 90, 160}, 2}, {[3]uint8{170, 60, 50}, 2}, {[3]uint8{60, 130, 70}, 2},
		{[3]uint8{200, 30, 30}, 30}, {[3]uint8{0, 60, 180}, 40},
	} {
		got := Absolute.Eye(m, Amounts{K: true}, Coloured(c.rgb))
		for i := range got {
			if d := int(got[i]) - int(c.rgb[i]); d > c.tol || d < -c.tol {
				t.Errorf("%v looks like %v", c.rgb, got)
				break
			}
		}
	}
}

func TestResinNames(t *testing.T) {
	for r, want := range map[Resin]string{
		Carbon(): "carbon resin", NotCarbon(): "resin without carbon", White(): "white resin",
		Metallic(): "silver resin", Gold(): "gold resin", Coloured([3]uint8{255, 0, 16}): "coloured resin #ff0010",
	} {
		if got := r.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
