package symbol

import (
	"unspool/say"
)

// Units is a row of a pattern table as Logical holds it: one digit an element.
func Units(pattern string) []uint8 {
	units := make([]uint8, len(pattern))
	for i := range units {
		units[i] = pattern[i] - '0'
	}
	return units
}

// Key is the units of a two-width pattern as a number, one bit an element, 1
// wide.
func Key(units []uint8) int {
	key := 0
	for _, u := range units {
		key = key<<1 | int(u-1)
	}
	return key
}

// Append adds a symbol character of these elements to the symbol.
func (l *Logical) Append(label string, value int, units []uint8) {
	from := len(l.Units)
	l.Units = append(l.Units, units...)
	l.Values = append(l.Values, value)
	l.Chars = append(l.Chars, Char{From: from, To: len(l.Units), Label: label})
}

// AppendGap adds an intercharacter gap.
func (l *Logical) AppendGap() { l.Units = append(l.Units, Gap) }

// Width is the symbol's width in dots without quiet zones. Bar-width reduction
// does not change it: the space after the last bar, which is the quiet zone,
// takes what that bar loses.
func (l Logical) Width(s Size) int {
	n := 0
	for _, u := range l.Units {
		n += l.nominal(u, s)
	}
	return n
}

// Widths are the element widths in dots, first bar to last. Bar-width reduction
// takes s.Reduce dots off the far side of each bar and gives them to the space
// that follows; what the last bar loses goes to the quiet zone, so the widths
// then add up to Width less s.Reduce. An element that would be left without a
// dot is an error.
func (l Logical) Widths(s Size) ([]int, error) {
	if err := l.check(s); err != nil {
		return nil, err
	}
	widths := make([]int, len(l.Units))
	for i, u := range l.Units {
		widths[i] = l.nominal(u, s) - s.Reduce
		if i%2 == 1 {
			widths[i] = l.nominal(u, s) + s.Reduce
		}
		if widths[i] < 1 {
			return nil, say.Errorf("%s has %d dots after a bar-width reduction of %d: use a smaller reduction or a larger X",
				l.element(i), widths[i], s.Reduce)
		}
	}
	return widths, nil
}

// nominal is an element's width in dots before bar-width reduction.
func (l Logical) nominal(u uint8, s Size) int {
	switch {
	case l.Family == Modular:
		return int(u) * s.X
	case u == Gap:
		return s.Gap
	case u == 1:
		return s.X
	}
	return s.Wide
}

func (l Logical) check(s Size) error {
	if s.X < 1 || max(s.X, s.Wide, s.Gap, s.Reduce, -s.Reduce) > maxDots {
		return say.Errorf("X is %d, wide %d, gap %d and reduction %d dots: X must be at least 1 and none beyond %d",
			s.X, s.Wide, s.Gap, s.Reduce, maxDots)
	}
	if l.Family == TwoWidth && s.Wide <= s.X {
		return say.Errorf("the wide element is %d dots and the narrow one %d: wide must be larger", s.Wide, s.X)
	}
	for i, u := range l.Units {
		if u == Gap && (l.Family == Modular || i%2 == 0) || u > 4 || u > 2 && l.Family == TwoWidth {
			return say.Errorf("%s is %d units wide, which this family does not have", l.element(i), u)
		}
	}
	return nil
}

// element names an element for a person: "bar 3 (element 5, in \"A\")".
func (l Logical) element(i int) say.Text {
	kind := say.Word("bar")
	if i%2 == 1 {
		kind = say.Word("space")
	}
	for _, c := range l.Chars {
		if c.From <= i && i < c.To {
			return say.F("%s %d (element %d, in %q)", kind, i/2+1, i+1, c.Label)
		}
	}
	return say.F("%s %d (element %d)", kind, i/2+1, i+1)
}
