package symbol

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"strings"

	"unspool/unit"
)

// GridDrawing says how the modules of a two-dimensional symbol are laid on a
// picture. Along is the direction of its rows when it is read upright.
type GridDrawing struct {
	Module [2]int // dots of a module along the rows and across them
	Quiet  [2]int // quiet zone on either side, in dots along and across
	Turn   int    // 0, 90, 180 or 270 degrees clockwise
}

// laidGrid is a grid as it lies on a picture: turned, with what goes with its
// columns first and with its rows second.
type laidGrid struct {
	Grid
	module, quiet [2]int
	w, h          int // of the picture, in dots
}

func (d GridDrawing) lay(g Grid) (l laidGrid, err error) {
	l = laidGrid{Grid: g, module: d.Module, quiet: d.Quiet}
	if !g.Sound() {
		return l, errors.New("a symbol without modules cannot be drawn")
	}
	if d.Turn != 0 && d.Turn != 90 && d.Turn != 180 && d.Turn != 270 {
		return l, fmt.Errorf("a turn of %d degrees is not one of 0, 90, 180 and 270", d.Turn)
	}
	for i := range 2 {
		if d.Module[i] < 1 || d.Module[i] > maxDots {
			return l, fmt.Errorf("a module of %d dots cannot be drawn", d.Module[i])
		}
		if d.Quiet[i] < 0 || d.Quiet[i] > maxDots {
			return l, fmt.Errorf("a quiet zone of %d dots cannot be drawn", d.Quiet[i])
		}
	}
	for range d.Turn / 90 {
		l.Grid = l.Grid.Turned()
	}
	if d.Turn%180 == 90 {
		l.module, l.quiet = [2]int{d.Module[1], d.Module[0]}, [2]int{d.Quiet[1], d.Quiet[0]}
	}
	l.w, l.h = l.W*l.module[0]+2*l.quiet[0], l.H*l.module[1]+2*l.quiet[1]
	if l.w > maxDots/l.h {
		return l, fmt.Errorf("a symbol of %d by %d dots is too large to draw", l.w, l.h)
	}
	return l, nil
}

// dark yields the rectangles of dark modules, those side by side as one.
func (l laidGrid) dark(yield func(image.Rectangle) bool) {
	for y := range l.H {
		for x := 0; x < l.W; x++ {
			from := x
			for x < l.W && l.At(x, y) {
				x++
			}
			r := image.Rect(from*l.module[0], y*l.module[1], x*l.module[0], (y+1)*l.module[1])
			if x > from && !yield(r.Add(image.Pt(l.quiet[0], l.quiet[1]))) {
				return
			}
		}
	}
}

// RasterGrid draws a two-dimensional symbol dot by dot as a picture of two
// colours, 0 white and 1 black, with its quiet zone all round.
func RasterGrid(g Grid, d GridDrawing) (*image.Paletted, error) {
	l, err := d.lay(g)
	if err != nil {
		return nil, err
	}
	m := image.NewPaletted(image.Rect(0, 0, l.w, l.h), color.Palette{color.Gray{255}, color.Gray{0}})
	for r := range l.dark {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			row := m.Pix[y*m.Stride:]
			for x := r.Min.X; x < r.Max.X; x++ {
				row[x] = 1
			}
		}
	}
	return m, nil
}

// SVGGrid draws a two-dimensional symbol as an SVG picture whose user unit is one
// dot, so that every edge has whole coordinates. along and across are the
// resolutions of the direction of its rows and of the other.
func SVGGrid(g Grid, d GridDrawing, along, across unit.Pitch, title string) (string, error) {
	l, err := d.lay(g)
	if err != nil {
		return "", err
	}
	if d.Turn%180 == 90 {
		along, across = across, along
	}
	var b strings.Builder
	svgHead(&b, l.w, l.h, along, across, title)
	for r := range l.dark {
		fmt.Fprintf(&b, "M%d %dh%dv%dh-%dz", r.Min.X, r.Min.Y, r.Dx(), r.Dy(), r.Dx())
	}
	b.WriteString("\"/>\n</svg>\n")
	return b.String(), nil
}
