package symbol_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
)

// tiny is a two-width symbol of two characters: narrow bar, wide space, narrow
// bar; gap; wide bar.
func tiny() symbol.Logical {
	l := symbol.Logical{Family: symbol.TwoWidth}
	l.Append("a", 0, []uint8{1, 2, 1})
	l.AppendGap()
	l.Append("b", 1, []uint8{2})
	return l
}

// Arithmetic on paper.
func TestWidths(t *testing.T) {
	modular := symbol.Logical{Family: symbol.Modular}
	modular.Append("start", 0, []uint8{2, 1, 4, 3, 1})
	for _, c := range []struct {
		name  string
		l     symbol.Logical
		s     symbol.Size
		want  []int
		width int
		err   string
	}{
		{"two-width", tiny(), symbol.Size{X: 3, Wide: 8, Gap: 4}, []int{3, 8, 3, 4, 8}, 26, ""},
		{"reduced", tiny(), symbol.Size{X: 3, Wide: 8, Gap: 4, Reduce: 1}, []int{2, 9, 2, 5, 7}, 26, ""},
		{"widened", tiny(), symbol.Size{X: 3, Wide: 8, Gap: 4, Reduce: -1}, []int{4, 7, 4, 3, 9}, 26, ""},
		{"modular", modular, symbol.Size{X: 2}, []int{4, 2, 8, 6, 2}, 22, ""},
		{"bar gone", tiny(), symbol.Size{X: 3, Wide: 8, Gap: 4, Reduce: 3}, nil, 26, `bar 1 (element 1, in "a") has 0 dots after a bar-width reduction of 3: use a smaller reduction or a larger X`},
		{"gap gone", tiny(), symbol.Size{X: 3, Wide: 8, Gap: 1, Reduce: -1}, nil, 23, "space 2 (element 4) has 0 dots after a bar-width reduction of -1: use a smaller reduction or a larger X"},
		{"no X", tiny(), symbol.Size{Wide: 8, Gap: 1}, nil, 17, "X is 0, wide 8, gap 1 and reduction 0 dots: X must be at least 1 and none beyond 268435456"},
		{"huge X", modular, symbol.Size{X: 1 << 40}, nil, 11 << 40, "X is 1099511627776, wide 0, gap 0 and reduction 0 dots: X must be at least 1 and none beyond 268435456"},
		{"wide as narrow", tiny(), symbol.Size{X: 3, Wide: 3, Gap: 1}, nil, 13, "the wide element is 3 dots and the narrow one 3: wide must be larger"},
		{"bad unit", symbol.Logical{Units: []uint8{3}}, symbol.Size{X: 1, Wide: 2}, nil, 2, "bar 1 (element 1) is 3 units wide, which this family does not have"},
	} {
		got, err := c.l.Widths(c.s)
		if !slices.Equal(got, c.want) || errText(err) != c.err {
			t.Errorf("%s: %v, %v; want %v, %q", c.name, got, err, c.want, c.err)
		}
		if w := c.l.Width(c.s); w != c.width {
			t.Errorf("%s: width %d, want %d", c.name, w, c.width)
		}
		if sum := total(got); err == nil && sum != c.width-c.s.Reduce {
			t.Errorf("%s: widths add up to %d", c.name, sum)
		}
	}
}

func total(widths []int) (n int) {
	for _, w := range widths {
		n += w
	}
	return n
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// Check digits have worked examples in the folders; these are the edges.
func TestCheckDigits(t *testing.T) {
	for _, c := range []struct {
		digits       string
		mod10, luhn_ byte
	}{{"", '0', '0'}, {"0", '0', '0'}, {"1", '7', '8'}, {"9", '3', '1'}, {"5", '5', '9'}} {
		if m, l := symbol.Mod10(c.digits), symbol.Luhn(c.digits); m != c.mod10 || l != c.luhn_ {
			t.Errorf("%q: %c %c, want %c %c", c.digits, m, l, c.mod10, c.luhn_)
		}
	}
}

// The same symbol in every turn, on paper: quiet zone 2, X 1, wide 2, gap 1.
func TestRaster(t *testing.T) {
	const line = "..#..#.##.." // the last bar is reduced in the third case only
	down := strings.Split(line, "")
	up := slices.Clone(down)
	slices.Reverse(up)
	for _, c := range []struct {
		turn int
		want string
	}{
		{0, line + "\n" + line},
		{90, strings.Join(double(down), "\n")},
		{180, strings.Join(up, "") + "\n" + strings.Join(up, "")},
		{270, strings.Join(double(up), "\n")},
	} {
		m, err := symbol.Raster(tiny(), symbol.Size{X: 1, Wide: 2, Gap: 1}, symbol.Drawing{Quiet: [2]int{2, 2}, Height: 2, Turn: c.turn})
		if err != nil {
			t.Fatal(err)
		}
		var rows []string
		for y := range m.Rect.Dy() {
			row := ""
			for x := range m.Rect.Dx() {
				row += string(".#"[m.ColorIndexAt(x, y)])
			}
			rows = append(rows, row)
		}
		if got := strings.Join(rows, "\n"); got != c.want {
			t.Errorf("turn %d:\n%s\nwant\n%s", c.turn, got, c.want)
		}
	}
}

func double(rows []string) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = r + r
	}
	return out
}

// Bar-width reduction must not move the symbol or shorten the picture.
func TestRasterKeepsItsPlaceWhenReduced(t *testing.T) {
	for _, reduce := range []int{-2, 0, 2} {
		s := symbol.Size{X: 4, Wide: 8, Gap: 4, Reduce: reduce}
		m, err := symbol.Raster(tiny(), s, symbol.Drawing{Quiet: [2]int{10, 10}, Height: 1})
		if err != nil {
			t.Fatal(err)
		}
		if want := 20 + 28 + max(0, -reduce); m.Rect.Dx() != want {
			t.Errorf("reduction %d: %d dots long, want %d", reduce, m.Rect.Dx(), want)
		}
		if first := slices.Index(m.Pix, 1); first != 10 {
			t.Errorf("reduction %d: first bar at %d", reduce, first)
		}
	}
}

func TestDrawingRefuses(t *testing.T) {
	s := symbol.Size{X: 1, Wide: 2, Gap: 1}
	for _, c := range []struct {
		l    symbol.Logical
		s    symbol.Size
		d    symbol.Drawing
		want string
	}{
		{tiny(), s, symbol.Drawing{Quiet: [2]int{-1, -1}, Height: 1}, "a quiet zone of -1 dots cannot be drawn"},
		{tiny(), s, symbol.Drawing{Height: 0}, "bars 0 dots high cannot be drawn"},
		{tiny(), s, symbol.Drawing{Height: 1, Turn: 45}, "a turn of 45 degrees is not one of 0, 90, 180 and 270"},
		{tiny(), s, symbol.Drawing{Height: 1 << 27}, "a symbol of 7 by 134217728 dots is too large to draw"},
		{symbol.Logical{}, s, symbol.Drawing{Height: 1}, "a symbol without elements cannot be drawn"},
		{tiny(), symbol.Size{}, symbol.Drawing{Height: 1}, "X is 0, wide 0, gap 0 and reduction 0 dots: X must be at least 1 and none beyond 268435456"},
	} {
		if _, err := symbol.Raster(c.l, c.s, c.d); errText(err) != c.want {
			t.Errorf("Raster: %v, want %s", err, c.want)
		}
		if _, err := symbol.SVG(c.l, c.s, c.d, 300, 300, ""); errText(err) != c.want {
			t.Errorf("SVG: %v, want %s", err, c.want)
		}
	}
}

func TestSVG(t *testing.T) {
	got, err := symbol.SVG(tiny(), symbol.Size{X: 1, Wide: 2, Gap: 1},
		symbol.Drawing{Quiet: [2]int{2, 2}, Height: 30, Turn: 90}, 300, 600, "a<b\x00")
	if err != nil {
		t.Fatal(err)
	}
	// 30 dots across at 600 dpi are 1.27 mm; 11 dots along at 300 dpi 0.931 mm.
	want := `<svg xmlns="http://www.w3.org/2000/svg" width="1.270mm" height="0.931mm" viewBox="0 0 30 11" preserveAspectRatio="none" shape-rendering="crispEdges">
<title>a&lt;b` + "\u2400" + `</title>
<path fill="#fff" d="M0 0h30v11h-30z"/>
<path fill="#000" d="M0 2h30v1h-30zM0 5h30v1h-30zM0 7h30v2h-30z"/>
</svg>
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	d := xml.NewDecoder(strings.NewReader(got))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// The SVG, painted from its path's own rectangles, is the raster dot by dot.
func TestSVGIsTheRaster(t *testing.T) {
	s := symbol.Size{X: 3, Wide: 8, Gap: 4, Reduce: 1}
	for _, turn := range []int{0, 90, 180, 270} {
		d := symbol.Drawing{Quiet: [2]int{7, 7}, Height: 5, Turn: turn}
		m, err := symbol.Raster(tiny(), s, d)
		if err != nil {
			t.Fatal(err)
		}
		svg, err := symbol.SVG(tiny(), s, d, 300, 300, "")
		if err != nil {
			t.Fatal(err)
		}
		_, path, _ := strings.Cut(svg, `fill="#000" d="`)
		path, _, _ = strings.Cut(path, `"`)
		pix := make([]uint8, len(m.Pix))
		for r := range strings.SplitSeq(strings.TrimSuffix(path, "z"), "z") {
			var x, y, w, h, back int
			if _, err := fmt.Sscanf(r, "M%d %dh%dv%dh%d", &x, &y, &w, &h, &back); err != nil || back != -w {
				t.Fatalf("%s: %v", r, err)
			}
			for i := range w * h {
				pix[(y+i/w)*m.Stride+x+i%w] = 1
			}
		}
		if !slices.Equal(pix, m.Pix) {
			t.Errorf("turn %d: %s", turn, path)
		}
	}
}

func TestEitherEnd(t *testing.T) {
	// A decode that knows one symbol: widths 1 2 3.
	decode := func(w []float64) (symbol.Reading, error) {
		if w[0] != 1 {
			return symbol.Reading{}, fmt.Errorf("toy: %w", symbol.ErrNoStart)
		}
		if !slices.Equal(w, []float64{1, 2, 3}) {
			return symbol.Reading{}, errors.New("toy: damaged")
		}
		return symbol.Reading{Text: "toy", Margins: []float64{.1, .2, .3}, Chars: []symbol.Char{{From: 0, To: 2}, {From: 2, To: 3}}}, nil
	}
	for _, c := range []struct {
		widths []float64
		want   string
	}{
		{[]float64{1, 2, 3}, "toy [0.1 0.2 0.3] [{0 2 } {2 3 }] false <nil>"},
		{[]float64{3, 2, 1}, "toy [0.3 0.2 0.1] [{1 3 } {0 1 }] true <nil>"},
		{[]float64{1, 1, 3}, " [] [] false toy: damaged"},
		{[]float64{3, 1, 1}, " [] [] false toy: damaged"},
		{[]float64{3, 1, 3}, " [] [] false toy: no start pattern"},
		{[]float64{1, 2, -3}, " [] [] false element 3 is -3 wide: widths must be positive and finite"},
		{[]float64{1, math.NaN(), 3}, " [] [] false element 2 is NaN wide: widths must be positive and finite"},
		{[]float64{math.Inf(1), 2, 3}, " [] [] false element 1 is +Inf wide: widths must be positive and finite"},
		{[]float64{0, 2, 3}, " [] [] false element 1 is 0 wide: widths must be positive and finite"},
	} {
		r, err := symbol.Either(c.widths, decode)
		if got := fmt.Sprint(r.Text, " ", r.Margins, " ", r.Chars, " ", r.Reversed, " ", err); got != c.want {
			t.Errorf("%v: %s, want %s", c.widths, got, c.want)
		}
	}
}

func BenchmarkRaster(b *testing.B) {
	l := symbol.Logical{Family: symbol.Modular}
	for range 12 {
		l.Append("", 0, []uint8{2, 1, 2, 2, 2, 2})
	}
	for b.Loop() {
		if _, err := symbol.Raster(l, symbol.Size{X: 3}, symbol.Drawing{Quiet: [2]int{30, 30}, Height: 100, Turn: 90}); err != nil {
			b.Fatal(err)
		}
	}
}
