package symbol

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"strconv"
	"strings"

	"unspool/unit"
)

// Drawing says how a symbol's bars are laid on a picture.
type Drawing struct {
	Quiet  [2]int // quiet zones before the first bar and after the last, in dots
	Height int    // bar height in dots of the other direction
	Turn   int    // 0, 90, 180 or 270 degrees clockwise
}

// maxDots bounds a drawing: a hundred times the dots of a card at 600 dpi.
const maxDots = 1 << 28

// Raster draws a symbol dot by dot as a picture of two colours, 0 white and 1
// black, quiet zones at both ends and none above or below. Turned by 90 degrees
// the first bar is at the top.
func Raster(l Logical, s Size, d Drawing) (*image.Paletted, error) {
	widths, length, err := d.lay(l, s)
	if err != nil {
		return nil, err
	}
	line := make([]uint8, length)
	for at, bar := range d.bars(widths, length) {
		for i := at; i < at+bar; i++ {
			line[i] = 1
		}
	}
	size := image.Rect(0, 0, length, d.Height)
	if d.upright() {
		size = image.Rect(0, 0, d.Height, length)
	}
	m := image.NewPaletted(size, color.Palette{color.Gray{255}, color.Gray{0}})
	for y := range size.Dy() {
		row := m.Pix[y*m.Stride : y*m.Stride+size.Dx()]
		if !d.upright() {
			copy(row, line)
			continue
		}
		for x := range row {
			row[x] = line[y]
		}
	}
	return m, nil
}

// SVG draws a symbol as an SVG picture whose user unit is one dot, so that every
// edge has whole coordinates. along and across are the resolutions of the
// direction the symbol runs in and of the other.
func SVG(l Logical, s Size, d Drawing, along, across unit.Pitch, title string) (string, error) {
	widths, length, err := d.lay(l, s)
	if err != nil {
		return "", err
	}
	w, h, px, py := length, d.Height, along, across
	if d.upright() {
		w, h, px, py = h, w, across, along
	}
	var b strings.Builder
	svgHead(&b, w, h, px, py, title)
	for at, bar := range d.bars(widths, length) {
		if d.upright() {
			fmt.Fprintf(&b, "M0 %dh%dv%dh-%dz", at, w, bar, w)
		} else {
			fmt.Fprintf(&b, "M%d 0h%dv%dh-%dz", at, bar, h, bar)
		}
	}
	b.WriteString("\"/>\n</svg>\n")
	return b.String(), nil
}

// svgHead begins an SVG picture of w by h dots with its title and its ground, and
// the path of what is black.
func svgHead(b *strings.Builder, w, h int, px, py unit.Pitch, title string) {
	fmt.Fprintf(b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %d %d\" preserveAspectRatio=\"none\" shape-rendering=\"crispEdges\">\n",
		millimetres(px.MM(float64(w))), millimetres(py.MM(float64(h))), w, h)
	fmt.Fprintf(b, "<title>%s</title>\n<path fill=\"#fff\" d=\"M0 0h%dv%dh-%dz\"/>\n<path fill=\"#000\" d=\"", xmlText(title), w, h, w)
}

// lay gives the element widths and the drawing's length along the symbol, quiet
// zones included.
func (d Drawing) lay(l Logical, s Size) ([]int, int, error) {
	for _, q := range d.Quiet {
		if q < 0 || q > maxDots {
			return nil, 0, fmt.Errorf("a quiet zone of %d dots cannot be drawn", q)
		}
	}
	if d.Height < 1 || d.Height > maxDots {
		return nil, 0, fmt.Errorf("bars %d dots high cannot be drawn", d.Height)
	}
	if d.Turn != 0 && d.Turn != 90 && d.Turn != 180 && d.Turn != 270 {
		return nil, 0, fmt.Errorf("a turn of %d degrees is not one of 0, 90, 180 and 270", d.Turn)
	}
	widths, err := l.Widths(s)
	if err != nil {
		return nil, 0, err
	}
	if len(widths) == 0 {
		return nil, 0, errors.New("a symbol without elements cannot be drawn")
	}
	length := d.Quiet[0] + d.Quiet[1] + l.Width(s) + max(0, -s.Reduce)
	if length > maxDots/d.Height {
		return nil, 0, fmt.Errorf("a symbol of %d by %d dots is too large to draw", length, d.Height)
	}
	return widths, length, nil
}

// upright says whether the symbol runs down or up the picture.
func (d Drawing) upright() bool { return d.Turn == 90 || d.Turn == 270 }

// bars yields the place and width of each bar on a line of the given length, in
// the order of the symbol. Turned by 180 or 270 degrees, the line runs backwards.
func (d Drawing) bars(widths []int, length int) func(yield func(at, bar int) bool) {
	return func(yield func(at, bar int) bool) {
		at := d.Quiet[0]
		for i, w := range widths {
			from := at
			if d.Turn >= 180 {
				from = length - at - w
			}
			if i%2 == 0 && !yield(from, w) {
				return
			}
			at += w
		}
	}
}

// millimetres writes a length to the micrometre, the last figure that means
// anything on a card.
func millimetres(mm float64) string { return strconv.FormatFloat(mm, 'f', 3, 64) }

// xmlText makes text fit for an XML element: what XML cannot hold is shown by
// Unicode's pictures of control characters (U+2400 on).
func xmlText(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r < ' ':
			return r + 0x2400
		case r == 0x7f:
			return 0x2421
		}
		return r
	}, s)
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(s)
}
