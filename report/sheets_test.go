package report

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"unspool/plane"
	"unspool/ribbon"
	"unspool/site"
)

// run starts a program that is no part of the project and gives what it says.
func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	var said bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, said.String())
	}
	return string(out)
}

// browser starts Chromium on a page.
func browser(t *testing.T, args ...string) string {
	t.Helper()
	return run(t, "chromium", append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
		"--user-data-dir=" + t.TempDir(), "--allow-file-access-from-files"}, args...)...)
}

func save(t *testing.T, dir, name string, data []byte) string {
	t.Helper()
	file := filepath.Join(dir, name)
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// sheetDPI is how finely a printed page is looked at.
const sheetDPI = 300

// paper is a printed page.
type paper struct{ image.Image }

// span measures, in millimetres, from the first to the last dot of a row that
// ink says is inked, both dots counted, within a part of the page in
// millimetres.
func (p paper) span(y, x0, x1 float64, ink func(color.Color) bool) float64 {
	dot := func(mm float64) int { return int(math.Round(mm * sheetDPI / 25.4)) }
	first, last := -1, -1
	for x := dot(x0); x < dot(x1); x++ {
		if ink(p.At(x, dot(y))) {
			if first < 0 {
				first = x
			}
			last = x
		}
	}
	return float64(last-first+1) * 25.4 / sheetDPI
}

// column is span down the page.
func (p paper) column(x, y0, y1 float64, ink func(color.Color) bool) float64 {
	return paper{turned{p}}.span(x, y0, y1, ink)
}

type turned struct{ image.Image }

func (t turned) At(x, y int) color.Color { return t.Image.At(y, x) }

func dark(c color.Color) bool { return color.GrayModel.Convert(c).(color.Gray).Y < 160 }

func coloured(c color.Color) bool {
	r, g, b, _ := c.RGBA()
	return max(r, g, b)-min(r, g, b) > 0x3000
}

// Printed by Chromium and looked at by pdftoppm, a sheet is A4, its ruler is
// 100 mm and a frame as long and as wide as its dots: 1012 dots at 300 dpi are
// 85.68 mm, 638 are 54.02 mm.
func TestSheetsAreTrueToSize(t *testing.T) {
	page, err := RibbonSheets(input(t, fine, right()))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file, pdf := save(t, dir, "ribbon.html", page), filepath.Join(dir, "ribbon.pdf")
	browser(t, "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+file)
	if info := run(t, "pdfinfo", pdf); !strings.Contains(info, "(A4)") || !strings.Contains(info, "Pages:           2\n") {
		t.Errorf("pdfinfo says\n%s", info)
	}
	run(t, "pdftoppm", "-r", "300", "-f", "1", "-l", "1", "-png", "-singlefile", pdf, filepath.Join(dir, "page"))
	data, err := os.ReadFile(filepath.Join(dir, "page.png"))
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	p := paper{m}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"page", float64(m.Bounds().Dx()) * 25.4 / sheetDPI, 297},
		{"ruler", p.span(198, 10, 118, dark) - hair, 100},
		{"yellow frame along the feed", p.span(90, 10, 111, coloured), 1012 * 25.4 / 300},
		{"yellow frame across", p.column(40, 30, 105, coloured), 638 * 25.4 / 300},
		{"magenta frame along the feed", p.span(90, 111, 215, coloured), 1012 * 25.4 / 300},
	} {
		if math.Abs(c.got-c.want) > 0.2 {
			t.Errorf("%s measures %.2f mm, want %.2f", c.what, c.got, c.want)
		}
	}
}

// hair is how wide the ruler's lines are.
const hair = 0.15

// frame is an empty panel of so many millimetres.
func frame(along, across float64) ribbon.Frame {
	g := plane.Grid{W: int(along * 100 / 25.4), H: int(across * 100 / 25.4), DX: 100, DY: 100}
	return ribbon.Frame{Panel: site.Panel{Letter: 'K', Kind: site.BlackResin, Name: "black resin"}, Grid: g, Gone: make([]uint8, g.Dots())}
}

// Panels share sheets as they fit, and one longer than a sheet is cut without
// losing any of it.
func TestLay(t *testing.T) {
	for _, c := range []struct {
		name                 string
		pitch, along, across float64
		panels               int
		sheets, strips       int
	}{
		{"along the long edge", 95, 85.6, 54, 6, 2, 3},
		{"pitch not known", 0, 85.6, 54, 6, 2, 3}, // 88.6 mm a panel: two in a strip of 265 mm
		{"short pitch", 60, 54, 40, 8, 1, 2},
		{"along the short edge", 60, 54, 85.6, 6, 2, 2},
		{"longer than a sheet", 300, 290, 54, 2, 2, 3},
		{"no panels", 95, 85.6, 54, 0, 0, 0},
	} {
		frames := make([]ribbon.Frame, c.panels)
		for i := range frames {
			frames[i] = frame(c.along, c.across)
		}
		made, err := lay(c.pitch, frames)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		strips, shown := 0, 0.0
		for _, s := range made {
			strips += len(s.Strips)
			for _, r := range s.Strips {
				for _, f := range r.Frames {
					shown += min(f.X+f.W, r.W) - max(f.X, 0)
				}
				if r.W > sheetAcross+1e-9 || r.Y+r.H > stripsEnd {
					t.Errorf("%s: a strip of %.1f by %.1f mm at %.1f hangs over", c.name, r.W, r.H, r.Y)
				}
			}
		}
		want := 0.0
		for _, f := range frames {
			w, _ := size(f)
			want += w
		}
		if len(made) != c.sheets || strips != c.strips || math.Abs(shown-want) > 0.01 {
			t.Errorf("%s: %d sheets, %d strips, %.2f mm of frames; want %d, %d, %.2f", c.name, len(made), strips, shown, c.sheets, c.strips, want)
		}
	}
	if _, err := lay(95, []ribbon.Frame{frame(85, 150)}); err == nil || !strings.Contains(err.Error(), "does not fit") {
		t.Errorf("a panel 150 mm wide: %v", err)
	}
}

// No page is wider than its window, from 360 px on: Chromium measures.
func TestPagesFitNarrowWindows(t *testing.T) {
	dir := t.TempDir()
	made := pages(t)
	save(t, dir, "report.html", made["report, too little"])
	save(t, dir, "compare.html", made["comparison"])
	frames := ""
	for _, page := range []string{"report.html", "compare.html"} {
		for _, width := range []string{"360", "768", "1280"} {
			frames += `<iframe src="` + page + `" title="` + page + ` at ` + width + `" style="border:0;width:` + width + `px;height:900px"></iframe>`
		}
	}
	measure := save(t, dir, "measure.html", []byte(`<!doctype html><pre></pre>`+frames+`<script>
addEventListener("load", () => {
  for (const f of document.querySelectorAll("iframe")) {
    const d = f.contentDocument.documentElement;
    document.querySelector("pre").append(f.title + ": " + (d.scrollWidth - d.clientWidth) + " over\n");
  }
});
</script>`))
	dom := browser(t, "--window-size=1400,1000", "--dump-dom", "file://"+measure)
	_, said, _ := strings.Cut(dom, "<pre>")
	said, _, _ = strings.Cut(said, "</pre>")
	if lines := strings.Split(strings.TrimSpace(said), "\n"); len(lines) != 6 {
		t.Fatalf("measured %q", said)
	} else {
		for _, l := range lines {
			if !strings.HasSuffix(l, ": 0 over") {
				t.Error(l, "px")
			}
		}
	}
}
