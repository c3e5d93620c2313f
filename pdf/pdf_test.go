package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"unspool/font"
)

// run starts a program that is no part of the project. Whatever it says on
// standard error is a warning, and fails the test.
func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	var said bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil || said.Len() > 0 {
		t.Fatalf("%s %v: %v\n%s%s", name, args, err, said.String(), out)
	}
	return string(out)
}

func save(t *testing.T, d *Doc) string {
	t.Helper()
	data, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "made.pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func bundled(t testing.TB, d *Doc) *Font {
	t.Helper()
	f, err := d.Font(font.Bundled(false)[0].Data, font.Bundled(true)[0].Data)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func add(t testing.TB, d *Doc, m image.Image) *Image {
	t.Helper()
	out, err := d.Image(m)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// greetings has two-byte letters, a ligature-free composite and a script with
// marks above; NBSP and space share a glyph in most fonts.
const greetings = "Größe Žluťoučký Ελλάδα Щука naïve (a\\b) 5\u00a0mm"

// sample uses everything that the package can draw.
func sample(t testing.TB) *Doc {
	d := New("Spent ribbon — Größe", "en")
	d.TrueSize = true
	f := bundled(t, d)
	black := Style{f, 4, color.Black}
	chess := image.NewPaletted(image.Rect(0, 0, 10, 10), color.Palette{color.White, color.Black})
	for i := range chess.Pix {
		chess.Pix[i] = uint8(i+i/10) & 1
	}
	grey := image.NewGray(image.Rect(0, 0, 256, 1))
	colours := image.NewRGBA(image.Rect(0, 0, 32, 32))
	for i := range grey.Pix {
		grey.Pix[i] = uint8(i)
	}
	for i := range 32 * 32 {
		colours.SetRGBA(i%32, i/32, color.RGBA{uint8(8 * (i % 32)), uint8(8 * (i / 32)), 40, 255})
	}
	for n := range 2 {
		p := d.Page(210, 297)
		p.Tagged(Heading, "", func() { p.Text(black, 20, 20, fmt.Sprintf("Heading %d", n+1)) })
		p.Tagged(Paragraph, "", func() { p.Text(black, 20, 30, greetings) })
		p.Stroke(color.Black, 0.2, new(Path).Move(20, 40).Line(120, 40))
		p.Fill(color.RGBA{200, 30, 30, 255}, new(Path).Rect(20, 50, 50, 20))
		p.Tagged(Figure, "A chess board", func() {
			p.Clip(new(Path).Round(20, 80, 30, 30, 4), func() { p.Image(add(t, d, chess), 20, 80, 30, 30) })
		})
		p.Image(add(t, d, grey), 60, 80, 60, 10)
		p.Image(add(t, d, colours), 60, 95, 15, 15)
	}
	return d
}

// Ghostscript and poppler open what is written without a word of warning, and
// find in it what was put in.
func TestToolsOpenIt(t *testing.T) {
	file := save(t, sample(t))
	if said := run(t, "gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-dPDFSTOPONWARNING", "-sDEVICE=nullpage", file); said != "" {
		t.Errorf("gs says %q", said)
	}
	info := run(t, "pdfinfo", file)
	for _, want := range []string{`Title: +Spent ribbon — Größe`, `Tagged: +yes`, `Pages: +2`, `Page size: +595\.276 x 841\.89 pts \(A4\)`, `PDF version: +1\.7`} {
		if !regexp.MustCompile(want).MatchString(info) {
			t.Errorf("pdfinfo lacks %q:\n%s", want, info)
		}
	}
	if strings.Contains(info, "Date") {
		t.Errorf("a date stands in the file:\n%s", info)
	}
	if words := run(t, "pdftotext", "-layout", file, "-"); !strings.Contains(words, strings.ReplaceAll(greetings, "\u00a0", " ")) || !strings.Contains(words, "Heading 2") {
		t.Errorf("pdftotext finds %q", words)
	}
	fonts := strings.Split(strings.TrimSpace(run(t, "pdffonts", file)), "\n")[2:]
	for _, f := range fonts {
		if !regexp.MustCompile(`^[A-Z]{6}\+NotoSans-Regular +CID TrueType +Identity-H +yes yes yes`).MatchString(f) {
			t.Errorf("pdffonts: %s", f)
		}
	}
	if len(fonts) != 1 {
		t.Errorf("%d fonts are embedded, want the one that is used", len(fonts))
	}
}

// A reader by ear gets every part in order, with the words of the figure
// (poppler walks the tree).
func TestReadingOrder(t *testing.T) {
	tree := run(t, "pdfinfo", "-struct-text", save(t, sample(t)))
	want := `(?s)^Document.*H1.*"Heading 1".*P.*Größe.*Figure.*H1.*"Heading 2"`
	if !regexp.MustCompile(want).MatchString(tree) {
		t.Errorf("the tree is\n%s", tree)
	}
	if words := run(t, "pdfinfo", "-struct", save(t, sample(t))); strings.Count(words, "Figure") != 2 {
		t.Errorf("figures:\n%s", words)
	}
}

// Every picture is stored once, however often it is added and drawn: pdfimages
// lists each use with the object it comes from.
func TestPicturesAreStoredOnce(t *testing.T) {
	objects := map[string]bool{}
	lines := strings.Split(strings.TrimSpace(run(t, "pdfimages", "-list", save(t, sample(t)))), "\n")[2:]
	kinds := ""
	for _, l := range lines {
		f := strings.Fields(l) // page num type width height color comp bpc enc interp object
		objects[f[10]] = true
		kinds += f[5] + f[7] + " "
	}
	if len(lines) != 6 || len(objects) != 3 || !strings.HasPrefix(kinds, "index1 gray8 rgb8 ") {
		t.Errorf("%d uses of %d pictures, %s; want 6 of 3, index1 gray8 rgb8", len(lines), len(objects), kinds)
	}
}

// Pictures come back dot for dot: poppler unpacks them.
func TestPicturesComeBack(t *testing.T) {
	noise := image.NewRGBA(image.Rect(0, 0, 61, 17))
	few := image.NewPaletted(image.Rect(0, 0, 13, 9), nil)
	for i := range 11 {
		few.Palette = append(few.Palette, color.RGBA{uint8(20 * i), uint8(255 - 9*i), 7, 255})
	}
	seed := uint32(1)
	next := func() uint8 { seed = seed*1664525 + 1013904223; return uint8(seed >> 24) }
	for i := range noise.Pix {
		if noise.Pix[i] = next(); i%4 == 3 {
			noise.Pix[i] = 255
		}
	}
	for i := range few.Pix {
		few.Pix[i] = next() % 11
	}
	for name, m := range map[string]image.Image{"noise": noise, "few colours": few} {
		d := New("", "en")
		d.Page(100, 100).Image(add(t, d, m), 10, 10, 80, 80)
		at := filepath.Join(t.TempDir(), "p")
		run(t, "pdfimages", "-png", save(t, d), at)
		got := decode(t, at+"-000.png")
		for y := range m.Bounds().Dy() {
			for x := range m.Bounds().Dx() {
				a, b := color.RGBAModel.Convert(m.At(x, y)), color.RGBAModel.Convert(got.At(x, y))
				if a != b {
					t.Fatalf("%s: %d,%d is %v, want %v", name, x, y, b, a)
				}
			}
		}
	}
}

func decode(t *testing.T, file string) image.Image {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A millimetre on the page is a millimetre: poppler and Ghostscript draw at
// 600 dpi, and the edges of the filled rectangle are counted.
func TestTrueSize(t *testing.T) {
	file := save(t, sample(t))
	dir := t.TempDir()
	run(t, "pdftoppm", "-r", "600", "-f", "1", "-l", "1", "-png", "-singlefile", file, filepath.Join(dir, "poppler"))
	run(t, "gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-r600", "-dLastPage=1", "-sDEVICE=png16m", "-sOutputFile="+filepath.Join(dir, "gs.png"), file)
	red := func(c color.Color) bool { r, g, _, _ := c.RGBA(); return r > 0xa000 && g < 0x5000 }
	for _, by := range []string{"poppler.png", "gs.png"} {
		m := decode(t, filepath.Join(dir, by))
		left, right, top, bottom := math.MaxInt, 0, math.MaxInt, 0
		for y := 1000; y < 1800; y++ { // the rectangle and some round it
			for x := 300; x < 1800; x++ {
				if red(m.At(x, y)) {
					left, right, top, bottom = min(left, x), max(right, x+1), min(top, y), max(bottom, y+1)
				}
			}
		}
		mm := func(dots int) float64 { return float64(dots) * 25.4 / 600 }
		for _, c := range [][2]float64{{mm(left), 20}, {mm(right), 70}, {mm(top), 50}, {mm(bottom), 70}} {
			if math.Abs(c[0]-c[1]) > 0.06 {
				t.Errorf("%s: an edge lies at %.3f mm, want %.0f", by, c[0], c[1])
			}
		}
	}
}

func TestSameCallsSameBytes(t *testing.T) {
	a, errA := sample(t).Bytes()
	b, errB := sample(t).Bytes()
	if errA != nil || errB != nil || !bytes.Equal(a, b) {
		t.Errorf("two runs differ: %v, %v", errA, errB)
	}
	other := New("Another title", "en")
	other.Page(10, 10)
	c, _ := other.Bytes()
	id := func(b []byte) string { return regexp.MustCompile(`/ID\[.*\]`).FindString(string(b)) }
	if id(a) == "" || id(a) == id(c) {
		t.Errorf("identifiers %q and %q", id(a), id(c))
	}
}

// What no page can show is refused, with where and what.
func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		draw func(*Doc)
		want string
	}{
		"no page":       {func(*Doc) {}, "no page"},
		"page of zero":  {func(d *Doc) { d.Page(0, 100) }, "page 1 is 0 by 100 mm"},
		"page of NaN":   {func(d *Doc) { d.Page(math.NaN(), 100) }, "page 1"},
		"infinite line": {func(d *Doc) { d.Page(10, 10).Stroke(color.Black, 1, new(Path).Move(0, 0).Line(math.Inf(1), 0)) }, "page 1: +Inf"},
		"NaN in text": {func(d *Doc) {
			d.Page(10, 10).Text(Style{bundled(t, d), 3, color.Black}, math.NaN(), 1, "x")
		}, "page 1: NaN"},
		"nested parts": {func(d *Doc) {
			p := d.Page(10, 10)
			p.Tagged(Figure, "", func() { p.Tagged(Paragraph, "", func() {}) })
		}, "a P begins within another part"},
	} {
		d := New("", "en")
		c.draw(d)
		if _, err := d.Bytes(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	if _, err := New("", "").Image(image.NewGray(image.Rect(0, 0, 0, 5))); err == nil {
		t.Error("a picture without dots was taken")
	}
	if _, err := New("", "").Font(); err == nil {
		t.Error("a font without a file was taken")
	}
}
