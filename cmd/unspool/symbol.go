package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"unspool/code"
	"unspool/folder"
	"unspool/symbol"
	"unspool/unit"
)

// symbolCmd draws one symbol, or says what it would be.
type symbolCmd struct {
	Kind string `arg:"" help:"Symbology: ${kinds}."`
	Text string `arg:"" help:"Text to carry, or - to read it from standard input, whose last line break is left out."`

	Output string  `short:"o" placeholder:"FILE" help:"Picture to write: .png or .svg, quiet zones included."`
	X      int     `name:"x" default:"3" placeholder:"DOTS" help:"Narrow element or module in dots (default ${default})."`
	Ratio  float64 `placeholder:"N" help:"Wide:narrow ratio; N times X must be whole dots. By default the least legal one of 2.5 or more."`
	DPI    string  `name:"dpi" default:"300" placeholder:"DPI" help:"Dots per inch, or two such as 300x600: along the symbol, then across it (default ${default})."`
	Height string  `placeholder:"MM" help:"Bar height in millimetres. By default what is recommended for scanning by hand."`
	Turn   int     `default:"0" placeholder:"DEGREES" help:"Turn clockwise by 0, 90, 180 or 270 degrees."`
	Reduce int     `placeholder:"DOTS" help:"Bar-width reduction: dots taken off each bar and given to the space after it."`
	Widths bool    `help:"Print the element widths in dots, first bar to last, on one line."`

	Level   string `placeholder:"LEVEL" help:"Error correction: L, M, Q or H (qr), 0 to 8 (pdf417), a share of 5 to 95 per cent (aztec)."`
	Oblong  bool   `help:"Data Matrix only: a rectangular symbol."`
	Columns int    `placeholder:"N" help:"PDF417 only: codewords in a row, 1 to 30. By default as comes out nearest twice as wide as high."`
	Compact bool   `help:"PDF417 only: without right row indicators."`
	GS1     bool   `name:"gs1" help:"QR Code and Data Matrix: the text is GS1 element strings."`
	Binary  bool   `help:"Two-dimensional: the text is bytes in hexadecimal."`

	Check     string `placeholder:"RULE" help:"Check character: mod43 (code39), mod10 or luhn (itf), mod16 or luhn (codabar), mod37 (isbt128), mod10 (EAN and UPC, which always have it)."`
	Given     bool   `help:"The text already ends in its check character: prove it instead of adding one."`
	FullASCII bool   `name:"full-ascii" help:"Code 39 only: pairs of characters stand for all of ASCII."`
	Start     string `placeholder:"LETTER" help:"Codabar start, A to D."`
	Stop      string `placeholder:"LETTER" help:"Codabar stop, A to D."`
}

// Help is what --help says beyond the flags.
func (symbolCmd) Help() string {
	return `Every edge falls on a whole dot. A text that begins with a hyphen goes after --.

Examples:
  unspool symbol code39 S004217 --check mod43
  unspool symbol code128 "Sundhaven 42" --dpi 300x600 -o stores.png
  unspool symbol codabar -o label.svg -- A-42B
  unspool symbol gs1-128 "(01)09521234543213(21)S004217"
  unspool symbol qr "Sundhaven 42" --level Q --x 5 -o quay.png
  unspool symbol pdf417 "Sundhaven 42" --columns 3 -o ticket.svg

Exit status: 0 drawn, 1 drawn but the size breaks a rule of the symbology, 2 the
command or the text is wrong, 3 the file could not be written.`
}

// drawn is a symbol with all that its drawing needs.
type drawn struct {
	kind          code.Kind
	l             symbol.Logical
	size          symbol.Size
	along, across unit.Pitch
	drawing       symbol.Drawing
}

// Run does the command.
func (s *symbolCmd) Run(c *console) error {
	kind, ok := code.ByName(s.Kind)
	if !ok {
		return fmt.Errorf("no symbology is called %q: use one of %s", s.Kind, kindNames())
	}
	if !kind.Family.Linear() {
		return s.runGrid(c, kind)
	}
	d, err := s.lay(c.Stdin, kind)
	if err != nil {
		return err
	}
	widths, err := d.l.Widths(d.size)
	if err != nil {
		return err
	}
	if s.Output != "" {
		if err := d.write(s.Output); err != nil {
			return err
		}
	}
	if s.Widths {
		fmt.Fprintln(c.Stdout, strings.Trim(fmt.Sprint(widths), "[]"))
	} else if s.Output == "" {
		d.describe(c.Stdout)
	}
	if !code.RatioLegal(d.kind, d.along, d.size) {
		fmt.Fprintln(c.Stderr, "unspool: "+d.ratioFinding())
		return errFindings
	}
	return nil
}

// lay makes the symbol and settles its size.
func (s *symbolCmd) lay(stdin io.Reader, kind code.Kind) (d drawn, err error) {
	d.kind = kind
	if s.Level != "" || s.Oblong || s.Columns != 0 || s.Compact || s.GS1 || s.Binary {
		return d, fmt.Errorf("--level, --oblong, --columns, --compact, --gs1 and --binary are for two-dimensional symbologies, and %s is none: leave them out", kind.Title)
	}
	if d.along, d.across, err = pitches(s.DPI); err != nil {
		return d, err
	}
	if err = s.turnLegal(); err != nil {
		return d, err
	}
	text, err := s.text(stdin)
	if err != nil {
		return d, err
	}
	if d.l, err = d.kind.Encode(text, s.options()); err != nil {
		return d, err
	}
	if d.size, err = code.PickSize(d.kind, d.l, d.along, s.X, s.Ratio); err != nil {
		return d, err
	}
	d.size.Reduce = s.Reduce
	d.drawing = symbol.Drawing{Quiet: code.Quiet(d.kind, d.size.X), Turn: s.Turn}
	d.drawing.Height, err = s.height(d)
	return d, err
}

func (s *symbolCmd) turnLegal() error {
	if !slices.Contains([]int{0, 90, 180, 270}, s.Turn) {
		return fmt.Errorf("--turn: a turn of %d degrees is not one of 0, 90, 180 and 270", s.Turn)
	}
	return nil
}

// text is what the symbol is to carry.
func (s *symbolCmd) text(stdin io.Reader) (string, error) {
	if s.Text == "-" {
		return line(stdin)
	}
	return s.Text, nil
}

// options are the choices made for the symbol.
func (s *symbolCmd) options() code.Options {
	return code.Options{
		Check: code.Check(s.Check), Given: s.Given, FullASCII: s.FullASCII, Start: s.Start, Stop: s.Stop,
		Level: s.Level, Oblong: s.Oblong, Columns: s.Columns, Compact: s.Compact, GS1: s.GS1, Binary: s.Binary,
	}
}

// height is the bar height in dots.
func (s *symbolCmd) height(d drawn) (int, error) {
	if s.Height == "" {
		dots := d.l.Width(d.size)
		if d.kind.HeightWithQuiet {
			dots += d.drawing.Quiet[0] + d.drawing.Quiet[1]
		}
		return d.across.Ceil(d.kind.MinHeight(d.along.Span(dots))), nil
	}
	mm, err := unit.ParseMM(s.Height)
	if err != nil {
		return 0, fmt.Errorf("--height: %w", err)
	}
	dots := d.across.Round(mm)
	if dots < 1 {
		return 0, fmt.Errorf("--height: bars %s high are less than a dot", mm)
	}
	return dots, nil
}

// write puts the picture into a file of the kind its name says.
func (d drawn) write(name string) error {
	return writePicture(name, func() ([]byte, error) {
		m, err := symbol.Raster(d.l, d.size, d.drawing)
		if err != nil {
			return nil, err
		}
		dx, dy := d.along, d.across
		if d.drawing.Turn%180 != 0 {
			dx, dy = dy, dx
		}
		return encodePNG(m, dx, dy)
	}, func() (string, error) {
		return symbol.SVG(d.l, d.size, d.drawing, d.along, d.across, d.kind.Title+": "+d.l.Text)
	})
}

// writePicture puts a picture into a file of the kind its name says.
func writePicture(name string, png func() ([]byte, error), svg func() (string, error)) error {
	var data []byte
	var err error
	switch strings.ToLower(filepath.Ext(name)) {
	case ".png":
		data, err = png()
	case ".svg":
		var text string
		text, err = svg()
		data = []byte(text)
	default:
		return fmt.Errorf("%q is neither .png nor .svg: name the picture so that its format is clear", name)
	}
	if err != nil {
		return err
	}
	return folder.WriteFile(name, data)
}

// describe says in a few lines what the symbol is.
func (d drawn) describe(w io.Writer) {
	quiet, bars := d.drawing.Quiet, d.l.Width(d.size)
	fmt.Fprintf(w, "%s carrying %q\n", d.kind.Title, d.l.Text)
	fmt.Fprintf(w, "  X       %d dots, %s at %s\n", d.size.X, d.along.Span(d.size.X), d.along)
	if d.l.Family == symbol.TwoWidth {
		fmt.Fprintf(w, "  N       %s, wide elements %d dots\n", d.ratio(), d.size.Wide)
	}
	fmt.Fprintf(w, "  width   %.1f mm with quiet zones, %.1f mm without (%d dots)\n",
		d.along.MM(float64(bars+quiet[0]+quiet[1])), d.along.MM(float64(bars)), bars)
	if first, last := d.kind.QuietZones(false); first == last {
		fmt.Fprintf(w, "  quiet   %s on each side, %d X\n", d.along.Span(quiet[0]), first)
	} else {
		fmt.Fprintf(w, "  quiet   %s before it, %d X, and %s after it, %d X\n", d.along.Span(quiet[0]), first, d.along.Span(quiet[1]), last)
	}
	fmt.Fprintf(w, "  height  %.1f mm\n", d.across.MM(float64(d.drawing.Height)))
	if floor := d.kind.QuietFloor; floor > 0 && d.along.Cmp(min(quiet[0], quiet[1]), floor) < 0 {
		fmt.Fprintf(w, "  note    some older specifications want a quiet zone of at least %s\n", floor)
	}
	if least := d.kind.MinX; d.along.Cmp(d.size.X, least) < 0 {
		fmt.Fprintf(w, "  note    for readers of other sites X should be at least %s\n", least)
	}
	if most := d.kind.MaxX; most > 0 && d.along.Cmp(d.size.X, most) > 0 {
		fmt.Fprintf(w, "  note    for readers of other sites X should be at most %s\n", most)
	}
}

// ratioFinding says what is wrong with the wide:narrow ratio.
func (d drawn) ratioFinding() string {
	x := d.along.Span(d.size.X)
	var legal []string
	for _, s := range code.Sizes(d.kind, d.along, d.size.X) {
		legal = append(legal, drawn{size: s}.ratio())
	}
	return fmt.Sprintf("a wide:narrow ratio of %s is outside what %s allows at X %s: use %s",
		d.ratio(), d.kind.Title, x, strings.Join(legal, ", "))
}

func (d drawn) ratio() string {
	return strconv.FormatFloat(float64(d.size.Wide)/float64(d.size.X), 'f', 2, 64)
}

// kindNames lists the symbologies by name.
func kindNames() string {
	var names []string
	for _, k := range code.All() {
		names = append(names, k.Name)
	}
	return strings.Join(names, ", ")
}

// pitches reads a resolution: "300", or "300x600" for along and across.
func pitches(s string) (along, across unit.Pitch, err error) {
	first, second, two := strings.Cut(s, "x")
	if !two {
		second = first
	}
	for _, p := range []struct {
		text string
		to   *unit.Pitch
	}{{first, &along}, {second, &across}} {
		n, err := strconv.Atoi(p.text)
		if *p.to = unit.Pitch(n); err != nil || *p.to < unit.MinPitch || *p.to > unit.MaxPitch {
			return 0, 0, fmt.Errorf("--dpi: %q is no resolution: write one number of %d to %d, or two such as 300x600", s, int(unit.MinPitch), int(unit.MaxPitch))
		}
	}
	return along, across, nil
}

// line reads a text from standard input without its last line break.
func line(r io.Reader) (string, error) {
	const most = 1 << 16 // far beyond any symbol
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return "", folder.Machine(fmt.Errorf("cannot read standard input: %w; see to where it comes from", err))
	}
	if len(b) > most {
		return "", errors.New("standard input holds more text than any symbol carries")
	}
	text := strings.TrimSuffix(string(b), "\n")
	return strings.TrimSuffix(text, "\r"), nil
}
