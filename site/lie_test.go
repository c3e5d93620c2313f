package site

import "testing"

// Row and Element are each other's inverse, and the first element over the face
// prints at its low end. By the definition of Lie, no source.
func TestElementsAndRows(t *testing.T) {
	const n = 638
	for _, l := range []Lie{{Left, Top, 0}, {Right, Bottom, 12}, {Top, Left, -3}, {Bottom, Right, 40}} {
		for e := l.Offset; e < l.Offset+n; e++ {
			row, ok := l.Row(e, n)
			if !ok || l.Element(row, n) != e {
				t.Fatalf("%v: element %d prints row %d, which element %d prints", l, e, row, l.Element(row, n))
			}
		}
		low := 0
		if l.First == Right || l.First == Bottom {
			low = n - 1
		}
		if row, _ := l.Row(l.Offset, n); row != low {
			t.Errorf("%v: its first element prints row %d, want %d", l, row, low)
		}
		for _, e := range []int{l.Offset - 1, l.Offset + n} {
			if row, ok := l.Row(e, n); ok {
				t.Errorf("%v: element %d prints row %d, beyond the face", l, e, row)
			}
		}
	}
}

// The sets of panels by side; how ribbons are written is common practice, no
// source.
func TestSets(t *testing.T) {
	for _, c := range []struct {
		letters     string
		again       bool
		front, back string
	}{
		{"YMCKO", false, "YMCKO", ""},
		{"YMCKO", true, "YMCKO", "YMCKO"},
		{"YMCKOK", false, "YMCKO", "K"},
		{"YMCKK", false, "YMCK", "K"},
		{"YMCKFOKO", false, "YMCKFO", "KO"},
		{"KO", true, "KO", "KO"},
		{"K", true, "K", "K"},
	} {
		r := Ribbon{BackAgain: c.again}
		for _, l := range []byte(c.letters) {
			r.Panels = append(r.Panels, Panel{Letter: l})
		}
		if front, back := Letters(r.Set(Front)), Letters(r.Set(Back)); front != c.front || back != c.back {
			t.Errorf("%s: %q and %q, want %q and %q", c.letters, front, back, c.front, c.back)
		}
	}
}
