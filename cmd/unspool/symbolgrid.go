package main

import (
	"fmt"
	"io"
	"math"

	"unspool/code"
	"unspool/symbol"
	"unspool/unit"
)

// drawnGrid is a two-dimensional symbol with all that its drawing needs.
type drawnGrid struct {
	kind          code.Kind
	m             symbol.Matrix
	binary        bool
	along, across unit.Pitch
	x             int // dots of a module along the rows
	drawing       symbol.GridDrawing
}

// runGrid draws a two-dimensional symbol, or says what it would be.
func (s *symbolCmd) runGrid(c *console, kind code.Kind) error {
	d, err := s.layGrid(c.Stdin, kind)
	if err != nil {
		return err
	}
	if s.Output != "" {
		err = d.write(s.Output)
	} else {
		d.describe(c.Stdout)
	}
	if err != nil {
		return err
	}
	if why := d.uneven(); why != "" {
		fmt.Fprintln(c.Stderr, "unspool: "+why)
		return errFindings
	}
	return nil
}

// layGrid makes the symbol and settles its size.
func (s *symbolCmd) layGrid(stdin io.Reader, kind code.Kind) (d drawnGrid, err error) {
	for _, flag := range []struct {
		name string
		set  bool
	}{{"widths", s.Widths}, {"height", s.Height != ""}, {"reduce", s.Reduce != 0}} {
		if flag.set {
			return d, fmt.Errorf("--%s is for bars, and %s is made of modules: leave it out", flag.name, kind.Title)
		}
	}
	d.kind, d.binary = kind, s.Binary
	if d.along, d.across, err = pitches(s.DPI); err != nil {
		return d, err
	}
	if err = s.turnLegal(); err != nil {
		return d, err
	}
	size, err := code.PickSize(kind, symbol.Logical{Family: kind.Family}, d.along, s.X, s.Ratio)
	if err != nil {
		return d, err
	}
	text, err := s.text(stdin)
	if err != nil {
		return d, err
	}
	if d.m, err = kind.EncodeMatrix(text, s.options()); err != nil {
		return d, err
	}
	d.x = size.X
	square := float64(d.across) / float64(d.along) // dots across for each along
	dots := func(x int) int { return max(int(math.Round(float64(x)*square)), 1) }
	d.drawing = symbol.GridDrawing{Module: [2]int{d.x, dots(d.x * kind.RowX)}, Quiet: [2]int{kind.QuietX * d.x, 0}, Turn: s.Turn}
	if kind.QuietX > 0 {
		d.drawing.Quiet[1] = dots(kind.QuietX * d.x)
	}
	return d, nil
}

// write puts the picture into a file of the kind its name says.
func (d drawnGrid) write(name string) error {
	dx, dy := d.along, d.across
	if d.drawing.Turn%180 != 0 {
		dx, dy = dy, dx
	}
	return writePicture(name, func() ([]byte, error) {
		m, err := symbol.RasterGrid(d.m.Grid, d.drawing)
		if err != nil {
			return nil, err
		}
		return encodePNG(m, dx, dy)
	}, func() (string, error) {
		return symbol.SVGGrid(d.m.Grid, d.drawing, d.along, d.across, d.kind.Title+": "+d.carries())
	})
}

// carries says what the symbol carries: its text, or its bytes where it was given
// those.
func (d drawnGrid) carries() string {
	if d.binary {
		return fmt.Sprintf("% X", d.m.Data)
	}
	return d.m.Text
}

// describe says in a few lines what the symbol is.
func (d drawnGrid) describe(w io.Writer) {
	if d.binary {
		fmt.Fprintf(w, "%s carrying %d bytes, %s\n", d.kind.Title, len(d.m.Data), d.carries())
	} else {
		fmt.Fprintf(w, "%s carrying %q\n", d.kind.Title, d.carries())
	}
	bars := [2]int{d.m.W * d.drawing.Module[0], d.m.H * d.drawing.Module[1]}
	quiet := d.drawing.Quiet
	mm := func(along, across int) string {
		return fmt.Sprintf("%.1f x %.1f mm", d.along.MM(float64(along)), d.across.MM(float64(across)))
	}
	fmt.Fprintf(w, "  symbol  %s\n", d.m.Spec)
	fmt.Fprintf(w, "  X       %d dots, %s at %s\n", d.x, d.along.Span(d.x), d.along)
	if d.kind.Family == symbol.MultiRow {
		fmt.Fprintf(w, "  modules %d across, in %d rows each %s high\n", d.m.W, d.m.H, d.across.Span(d.drawing.Module[1]))
	} else {
		fmt.Fprintf(w, "  modules %d across, %d down\n", d.m.W, d.m.H)
	}
	fmt.Fprintf(w, "  size    %s with quiet zone, %s without (%d x %d dots)\n", mm(bars[0]+2*quiet[0], bars[1]+2*quiet[1]), mm(bars[0], bars[1]), bars[0], bars[1])
	if d.kind.QuietX == 0 {
		fmt.Fprintln(w, "  quiet   none needed")
		return
	}
	fmt.Fprintf(w, "  quiet   %s all round, %d X\n", d.along.Span(quiet[0]), d.kind.QuietX)
}

// mostUneven is how far the sides of a module may be apart, as a share: what axial
// nonuniformity may be for grade 2 (ISO/IEC 15415:2011; see package grade).
const mostUneven = 0.10

// uneven says that modules do not come out square in whole dots; rows of a
// multi-row symbol need not.
func (d drawnGrid) uneven() string {
	wide, high := d.along.Span(d.drawing.Module[0]), d.across.Span(d.drawing.Module[1])
	if d.kind.Family == symbol.MultiRow || 2*math.Abs(float64(wide-high)) <= mostUneven*float64(wide+high) {
		return ""
	}
	return fmt.Sprintf("its modules would be %s by %s, which is not square: use another X", wide, high)
}
