package proof

import (
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/tiff"

	"unspool/demo"
	"unspool/design"
	"unspool/grade"
	"unspool/panel"
	"unspool/site"
)

// glue is what a user would otherwise put together from general-purpose tools
// for one card front: zint draws the code, ImageMagick composes the page and
// parts it into dye and black, Ghostscript makes plates of it, zbarimg reads the
// code off the black plate.
type glue struct {
	dir  string
	text string // the coded number
}

// step is one process of the chain.
type step struct {
	tool string
	args []string
}

func (g *glue) steps() []step {
	const w, h = "1011", "638"
	return []step{
		{"zint", []string{"-b", "CODE39", "--notext", "--scale", "2", "--height", "32", "-d", g.text, "-o", "code.png"}},
		{"convert", []string{"-size", w + "x" + h, "xc:white",
			"(", "photo.jpg", "-resize", "260x347^", "-gravity", "center", "-extent", "260x347", ")", "-gravity", "NorthWest", "-geometry", "+59+171", "-composite",
			"-fill", "black", "-pointsize", "58", "-annotate", "+366+220", "Ida Sund",
			"-pointsize", "38", "-annotate", "+366+330", "Deckhand, Sundhaven", "-annotate", "+366+380", "valid until 2031-12-31",
			"(", "code.png", ")", "-geometry", "+380+430", "-composite", "-alpha", "off", "-type", "TrueColor", "-depth", "8", "PNG24:page.png"}},
		{"convert", []string{"page.png", "-fill", "white", "-opaque", "black", "-depth", "8", "RGB:cmy.raw"}},
		{"convert", []string{"page.png", "-fill", "white", "+opaque", "black", "-colorspace", "Gray", "-depth", "8", "GRAY:k.raw"}},
		{"gs", []string{"-q", "-dNOPAUSE", "-dBATCH", "-dNOSAFER", "-sDEVICE=tiffsep", "-r300", "-sOutputFile=plate.tif", "-c", "/W " + w + " def /H " + h + " def", "-f", "plates.ps"}},
		{"zbarimg", []string{"-q", "--raw", "plate(ResinBlack).tif"}},
	}
}

func newGlue(t testing.TB) *glue {
	t.Helper()
	g := &glue{dir: t.TempDir(), text: "004217"}
	script, err := os.ReadFile("testdata/plates.ps")
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"plates.ps": script, "photo.jpg": demo.Portrait()} {
		if err := os.WriteFile(filepath.Join(g.dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return g
}

// run makes the plates and gives what was read off the black one.
func (g *glue) run(t testing.TB) string {
	t.Helper()
	var out []byte
	for _, s := range g.steps() {
		cmd := exec.Command(s.tool, s.args...)
		cmd.Dir = g.dir
		var err error
		if out, err = cmd.Output(); err != nil {
			t.Fatalf("%s (Debian packages zint, imagemagick, ghostscript, zbar-tools): %v", s.tool, err)
		}
	}
	return strings.TrimSpace(string(out))
}

// starts is how long the chain's processes take that do nothing.
func (g *glue) starts(t testing.TB) time.Duration {
	t.Helper()
	begin := time.Now()
	for _, s := range g.steps() {
		arg := "--version"
		if s.tool == "convert" {
			arg = "-version"
		}
		if err := exec.Command(s.tool, arg).Run(); err != nil {
			t.Fatal(err)
		}
	}
	return time.Since(begin)
}

func (g *glue) plate(t testing.TB, name string) *image.Gray {
	t.Helper()
	f, err := os.Open(filepath.Join(g.dir, "plate("+name+").tif"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := tiff.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return m.(*image.Gray)
}

// Given the page that the chain composed, Unspool's panels are Ghostscript's
// plates, dot for dot, and the chain reads the code that went in.
func TestPanelsAreThePlatesOfGeneralTools(t *testing.T) {
	g := newGlue(t)
	if got := g.run(t); got != g.text {
		t.Fatalf("zbarimg reads %q off the black plate, want %q", got, g.text)
	}
	page, err := os.ReadFile(filepath.Join(g.dir, "page.png"))
	if err != nil {
		t.Fatal(err)
	}
	p := edit(t, "black: {rule: objects, dyes: leave}", "colour: plain\nblack: {rule: exact, dyes: leave}",
		`{name: portrait, photo: "{photo}", box: [5, 14, 20, 26]}`, "{name: page, picture: page.png, box: [0, 0, 85.6, 53.98], fit: stretch}")
	p.Faces[site.Front].Elements = p.Faces[site.Front].Elements[:1]
	panels := split(t, p, files{"page.png": page})
	for name, own := range map[string][]uint8{"Cyan": panels.C, "Magenta": panels.M, "Yellow": panels.Y, "ResinBlack": panels.K} {
		plate := g.plate(t, name)
		if plate.Rect.Dx() != panels.W || plate.Rect.Dy() != panels.H {
			t.Fatalf("%s: plate of %v", name, plate.Rect)
		}
		wrong := 0
		for i, v := range own {
			if name == "ResinBlack" {
				v *= 255
			}
			if plate.Pix[i/panels.W*plate.Stride+i%panels.W] != 255-v { // tiffsep: 255 is no ink
				wrong++
			}
		}
		if wrong > 0 {
			t.Errorf("%s: %d of %d dots differ", name, wrong, len(own))
		}
	}
}

// split separates the front of a programme for nobody in particular.
func split(t testing.TB, p *design.Programme, have files) *panel.Panels {
	t.Helper()
	pf, err := New(p, have, Options{})
	if err != nil {
		t.Fatal(err)
	}
	w := pf.Worker()
	if _, err := w.Card(0, Row{Person: p.Person(somebody())}); err != nil {
		t.Fatal(err)
	}
	return w.sides[site.Front].panels
}

// BenchmarkGlue proves one card front and back for three readers, and has the
// chain make the plates of one front and read its code, in the same run. It
// reports how much slower the chain is, as it is and less the time its processes
// take to start.
func BenchmarkGlue(b *testing.B) {
	g := newGlue(b)
	pf, rows := sundhaven(b, 8, Options{Edition: grade.Ed2016})
	w := pf.Worker()
	prove := func(n int) {
		if _, err := w.Card(n, rows[n%len(rows)]); err != nil {
			b.Fatal(err)
		}
	}
	prove(0) // separates what no card changes
	var own, chain, start time.Duration
	n := 0
	for b.Loop() {
		t := time.Now()
		prove(n)
		own += time.Since(t)
		t = time.Now()
		g.run(b)
		chain += time.Since(t)
		start += g.starts(b)
		n++
	}
	each := own.Seconds() / float64(n)
	b.ReportMetric(each*1000, "ms/card")
	b.ReportMetric(chain.Seconds()*1000/float64(n), "ms/chain")
	b.ReportMetric(start.Seconds()*1000/float64(n), "ms/chain-start")
	b.ReportMetric(chain.Seconds()/float64(n)/each, "x-slower")
	b.ReportMetric((chain-start).Seconds()/float64(n)/each, "x-slower-less-start")
}
