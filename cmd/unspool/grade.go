package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"unspool/code"
	"unspool/face/picture"
	"unspool/folder"
	"unspool/grade"
	"unspool/plane"
	"unspool/scan"
	"unspool/symbol"
	"unspool/unit"
)

// gradeCmd finds, reads and grades the symbols of a picture.
type gradeCmd struct {
	Image string `arg:"" help:"Picture of a real card: JPEG, PNG, WebP or TIFF, from a flatbed scanner or a camera."`

	Kind     []string `placeholder:"NAME" help:"Symbologies to look for, with commas between (default all): ${kinds}."`
	DPI      float64  `name:"dpi" placeholder:"N" help:"Pixels to the inch of the picture, as the scanner was set."`
	Width    string   `placeholder:"MM" help:"Or the width of what the whole picture shows, in millimetres."`
	Light    float64  `placeholder:"NM" help:"Peak of the light it was taken in, in nanometres; left out, white light."`
	Aperture string   `placeholder:"REF" help:"Reference number of the aperture, such as 06. By default the one that goes with X."`
	White    string   `placeholder:"R" help:"Reflectance of the picture's white, 0 to 1; or of a patch, X,Y,W,H=R in pixels."`
	Black    string   `placeholder:"R" help:"The same of its black."`
	Edition  int      `default:"2016" enum:"2000,2016" help:"Edition of ISO/IEC 15416 for linear symbols: 2000 or 2016 (default ${default})."`
	Check    string   `placeholder:"RULE" help:"Check character to prove, as of the symbol command."`
	Accept   string   `placeholder:"RULE" help:"Acceptance rule to hold every symbol to: ${acceptances}."`
	JSON     bool     `name:"json" help:"Print what was found as JSON, in the form of schema/grade.schema.json."`
}

// Help is shown below the flags.
func (gradeCmd) Help() string {
	return `Examples:
  unspool grade card.png --dpi 1200 --light 660
  unspool grade card.tif --dpi 1200 --light 940 --white 40,40,60,60=0.86 --black 40,120,60,60=0.04
  unspool grade photo.jpg --kind qr,pdf417

A grade needs the picture's scale, pixels fine enough, light that is even and
nowhere at its end, and little compression. Where one of them is missing, what was
read is reported and no grade. A camera picture is no verifier's measurement: state
white and black from a calibrated card, or reflectance is assumed and said so.

Exit status: 0 found (and accepted, where --accept says), 1 nothing found or not
accepted, 2 the command or the picture is wrong, 3 the machine failed.`
}

// Run does the command.
func (g *gradeCmd) Run(c *console) error {
	o, accept, err := g.options()
	if err != nil {
		return err
	}
	shot, err := g.shot()
	if err != nil {
		return err
	}
	all := shot.Judge(o)
	if g.JSON {
		if err := writeGrades(c.Stdout, &shot, all, accept); err != nil {
			return err
		}
	} else {
		tellGrades(c.Stdout, &shot, all, accept)
	}
	refused := func(j scan.Judged) bool {
		if accept == nil {
			return false
		}
		ok, _ := accept.Accepts(j.Grade)
		return len(j.Doubts) > 0 || !ok
	}
	if len(all) == 0 || slices.ContainsFunc(all, refused) {
		return errFindings
	}
	return nil
}

func (g *gradeCmd) options() (o scan.Options, accept *grade.Acceptance, err error) {
	o = scan.Options{Kinds: code.All(), Edition: grade.Ed2016, Light: unit.Nanometres(g.Light), Code: code.Options{Check: code.Check(g.Check)}}
	if g.Edition == 2000 {
		o.Edition = grade.Ed2000
	}
	if g.Light != 0 && !(g.Light >= 380 && g.Light <= 1000) {
		return o, nil, fmt.Errorf("--light: %v nm is beyond what is graded here: use 380 to 1000", g.Light)
	}
	if len(g.Kind) > 0 {
		o.Kinds = nil
		for _, name := range g.Kind {
			k, ok := code.ByName(name)
			if !ok {
				return o, nil, fmt.Errorf("--kind: no symbology is called %q: use one of %s", name, kindNames())
			}
			o.Kinds = append(o.Kinds, k)
		}
	}
	if g.Aperture != "" {
		a, ok := grade.ApertureOfRef(g.Aperture)
		if !ok {
			return o, nil, fmt.Errorf("--aperture: %q is no reference number: write thousandths of an inch, such as 06", g.Aperture)
		}
		o.Aperture = &a
	}
	if g.Accept != "" {
		a, ok := grade.AcceptanceByName(g.Accept)
		if !ok {
			return o, nil, fmt.Errorf("--accept: no acceptance rule is called %q: use one of %s", g.Accept, acceptanceNames())
		}
		accept = &a
	}
	return o, accept, nil
}

// maxImage bounds a picture's file.
const maxImage = 256 << 20

// shot reads the picture.
func (g *gradeCmd) shot() (scan.Shot, error) {
	f, err := os.Open(g.Image)
	if err != nil {
		return scan.Shot{}, fmt.Errorf("%s: there is no such file; name a picture", g.Image)
	}
	defer f.Close()
	if at, err := f.Stat(); err == nil && !at.Mode().IsRegular() {
		return scan.Shot{}, fmt.Errorf("%s: is no file; name a picture", g.Image)
	}
	data, err := io.ReadAll(io.LimitReader(f, maxImage+1))
	switch {
	case err != nil:
		return scan.Shot{}, folder.Machine(fmt.Errorf("%s: cannot be read (%w); see to its permissions and its disk", g.Image, err))
	case len(data) > maxImage:
		return scan.Shot{}, fmt.Errorf("%s: is larger than %d MB; save it smaller", g.Image, maxImage>>20)
	}
	m, err := picture.Decode(data)
	if err != nil {
		return scan.Shot{}, fmt.Errorf("%s: %w", g.Image, err)
	}
	rgb, alpha := make([]uint8, 3*m.W*m.H), make([]uint8, m.W*m.H)
	new(picture.Scaler).Draw(rgb, alpha, m.W, m.H, m, picture.Crop{X1: float64(m.W), Y1: float64(m.H)})
	about := scan.About{Quality: picture.Quality(data), Tone: tone(unit.Nanometres(g.Light))}
	if about.Pixel, err = g.pixel(m.W); err != nil {
		return scan.Shot{}, err
	}
	for _, l := range []struct {
		flag, text string
		to         *scan.Level
	}{{"--white", g.White, &about.Reference.White}, {"--black", g.Black, &about.Reference.Black}} {
		if l.text == "" {
			continue
		}
		if *l.to, err = level(l.flag, l.text); err != nil {
			return scan.Shot{}, err
		}
	}
	if (g.White == "") != (g.Black == "") {
		return scan.Shot{}, fmt.Errorf("--white and --black: state both, or neither and reflectance is assumed")
	}
	s, err := scan.NewShot(rgb, m.W, m.H, about)
	if err != nil {
		return scan.Shot{}, fmt.Errorf("%s: %w", g.Image, err)
	}
	return s, nil
}

// pixel is the side of a pixel on the card; 0 where nothing tells.
func (g *gradeCmd) pixel(w int) (unit.Length, error) {
	switch {
	case g.DPI != 0 && g.Width != "":
		return 0, fmt.Errorf("--dpi and --width: one is enough, leave the other out")
	case g.DPI != 0:
		if !(g.DPI >= 50 && g.DPI <= 20000) {
			return 0, fmt.Errorf("--dpi: %v is no resolution of a picture: use 50 to 20000", g.DPI)
		}
		return unit.Length(float64(unit.Inch)/g.DPI + 0.5), nil
	case g.Width != "":
		mm, err := unit.ParseMM(g.Width)
		if err != nil || mm <= 0 {
			return 0, fmt.Errorf("--width: %q is no width: write millimetres, such as 85.6", g.Width)
		}
		return mm / unit.Length(w), nil
	}
	return 0, nil
}

// tone is the colour of a picture that a light is nearest to.
func tone(peak unit.Nanometres) scan.Tone {
	switch {
	case peak >= 600 && peak < 720:
		return scan.Red
	case peak >= 500 && peak < 600:
		return scan.Green
	case peak >= 400 && peak < 500:
		return scan.Blue
	}
	return scan.Luma
}

// level reads a reflectance, with the patch it is seen on or without.
func level(flag, text string) (l scan.Level, err error) {
	where, r, patched := strings.Cut(text, "=")
	if !patched {
		where, r = "", text
	}
	if l.R, err = strconv.ParseFloat(r, 64); err != nil || !(l.R >= 0 && l.R <= 1.2) {
		return l, fmt.Errorf("%s: %q is no reflectance: write 0 to 1, such as 0.86", flag, r)
	}
	if !patched {
		return l, nil
	}
	parts := strings.Split(where, ",")
	var n [4]int
	for i := range n {
		if len(parts) != 4 {
			err = strconv.ErrSyntax
		} else if n[i], err = strconv.Atoi(strings.TrimSpace(parts[i])); err == nil {
			continue
		}
		return l, fmt.Errorf("%s: %q is no patch: write X,Y,W,H in pixels", flag, where)
	}
	l.Patch = plane.Rect{X0: n[0], Y0: n[1], X1: n[0] + n[2], Y1: n[1] + n[3]}
	if l.Patch.Empty() {
		return l, fmt.Errorf("%s: the patch %q has no area", flag, where)
	}
	return l, nil
}

func acceptanceNames() string {
	var names []string
	for _, a := range grade.Acceptances() {
		names = append(names, a.Name)
	}
	return strings.Join(names, ", ")
}

// tellGrades says in a few lines what each symbol is.
func tellGrades(w io.Writer, s *scan.Shot, all []scan.Judged, accept *grade.Acceptance) {
	if len(all) == 0 {
		fmt.Fprintln(w, "No symbol was found in this picture.")
		return
	}
	for i := range all {
		if i > 0 {
			fmt.Fprintln(w)
		}
		tellGrade(w, &all[i], accept)
	}
	fmt.Fprintf(w, "\n%s.\n", capital(s.Words.String()))
}

func tellGrade(w io.Writer, j *scan.Judged, accept *grade.Acceptance) {
	fmt.Fprintf(w, "%s carrying %q\n", j.Kind.Title, j.Text)
	if j.Spec != "" {
		fmt.Fprintf(w, "  form    %s\n", j.Spec)
	}
	if j.Kind.Family.Linear() {
		fmt.Fprintf(w, "  reads   on %d of %d lines%s\n", j.Good, j.Lines, checkWords[j.Check])
	}
	size := fmt.Sprintf("%.1f pixels", j.Pixels)
	if j.X > 0 {
		size = fmt.Sprintf("%s, %s", j.X, size)
	}
	if j.N > 0 {
		size += fmt.Sprintf("; N %.2f", j.N)
	}
	fmt.Fprintf(w, "  X       %s\n", size)
	fmt.Fprintf(w, "  place   %s; turned %.0f degrees\n", corners(j.Corners), j.Angle())
	if len(j.Doubts) > 0 {
		fmt.Fprintln(w, "  A reading, not a grade, for this picture bears none:")
		for _, d := range j.Doubts {
			fmt.Fprintf(w, "  - %s\n", d)
		}
		return
	}
	why := ""
	if q := j.Quality; q != nil {
		why = fmt.Sprintf("%s: %s", q.Edition, q.Why)
	} else if worst := worstOf(j.Scans); worst != nil {
		why = fmt.Sprintf("%d scans; the lowest has %.1f: %s", len(j.Scans), worst.Grade, worst.Why)
	}
	fmt.Fprintf(w, "  grade   %s, %s. %s\n", j.Grade.Text, j.Grade.Letter, capital(why))
	if q := j.Quality; q != nil {
		for _, f := range q.Figures {
			fmt.Fprintf(w, "          %.1f  %s\n", f.Grade, f.Why)
		}
	}
	if accept != nil {
		if ok, why := accept.Accepts(j.Grade); ok {
			fmt.Fprintf(w, "  rule    %s: accepted\n", accept.Title)
		} else {
			fmt.Fprintf(w, "  rule    %s: not accepted, %s\n", accept.Title, why)
		}
	}
}

var checkWords = map[symbol.Check]string{symbol.CheckGood: "; its check character is right", symbol.CheckBad: "; its check character is WRONG"}

func worstOf(scans []grade.Scan) *grade.Scan {
	var worst *grade.Scan
	for i := range scans {
		if worst == nil || scans[i].Grade < worst.Grade {
			worst = &scans[i]
		}
	}
	return worst
}

// corners writes four places: "(10, 12) (90, 12) (90, 40) (10, 40)".
func corners(q [4]plane.Point) string {
	var words []string
	for _, p := range q {
		words = append(words, fmt.Sprintf("(%.0f, %.0f)", p.X, p.Y))
	}
	return strings.Join(words, " ")
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
