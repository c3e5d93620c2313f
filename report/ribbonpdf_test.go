package report

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"unspool/plane"
)

// opened is what poppler makes of a PDF; Ghostscript reads it too. Neither may
// have anything to say of it.
func opened(t *testing.T, data []byte) (file, info, words string) {
	t.Helper()
	file = save(t, t.TempDir(), "made.pdf", data)
	if said := run(t, "gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-dPDFSTOPONWARNING", "-sDEVICE=nullpage", file); said != "" {
		t.Errorf("gs says %q", said)
	}
	return file, run(t, "pdfinfo", file), run(t, "pdftotext", "-layout", file, "-")
}

// drawnPage is one page of a PDF as poppler draws it.
func drawnPage(t *testing.T, file, page string) paper {
	t.Helper()
	to := filepath.Join(t.TempDir(), "page")
	run(t, "pdftoppm", "-r", "300", "-f", page, "-l", page, "-png", "-singlefile", file, to)
	data, err := os.ReadFile(to + ".png")
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return paper{m}
}

// Looked at by pdftoppm, a page is A4, its ruler is 100 mm and a frame as long
// and as wide as its dots: 1012 dots at 300 dpi are 85.68 mm, 638 are 54.02 mm.
func TestRibbonPDFIsTrueToSize(t *testing.T) {
	made, err := RibbonPDF(input(t, fine, right()))
	if err != nil {
		t.Fatal(err)
	}
	file, info, words := opened(t, made)
	for _, want := range []string{"Spent ribbon at true size: Sundhaven crew card 2027", "Pages:           2\n", "(A4)", "Tagged:          yes"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo lacks %q:\n%s", want, info)
		}
	}
	for _, want := range []string{"sheet 2 of 2", "People and scanners can read this.", "an invented person", "fed this way", "K black resin, front: panel 4 of 6", "strip 3 of 3", "100 mm. If this ruler"} {
		if !strings.Contains(strings.Join(strings.Fields(words), " "), want) {
			t.Errorf("pdftotext lacks %q:\n%s", want, words)
		}
	}
	p := drawnPage(t, file, "1")
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"page", float64(p.Bounds().Dx()) * 25.4 / sheetDPI, 297},
		{"ruler", p.span(198, 10, 118, dark) - hairline, 100},
		{"yellow frame along the feed", p.span(90, 10, 111, coloured), 1012 * 25.4 / 300},
		{"yellow frame across", p.column(40, 30, 105, coloured), 638 * 25.4 / 300},
		{"magenta frame along the feed", p.span(90, 111, 215, coloured), 1012 * 25.4 / 300},
	} {
		if math.Abs(c.got-c.want) > 0.2 {
			t.Errorf("%s measures %.2f mm, want %.2f", c.what, c.got, c.want)
		}
	}
	again, err := RibbonPDF(input(t, fine, right()))
	if err != nil || !bytes.Equal(made, again) {
		t.Errorf("two runs differ (%v)", err)
	}
}

// Names that the fonts cannot set, and long ones, leave a page that opens.
func TestPDFsTakeOddNames(t *testing.T) {
	for _, name := range []string{"", "بطاقة الطاقم 渡船", strings.Repeat("very long ", 400), strings.Repeat("W", 4000) + "\x00\x1b(\\)\xff Ελλάδα Щука"} {
		s := right()
		s.Programme.Name = name
		s.Readers[0].Name = name
		made, err := RibbonPDF(input(t, coarse, s))
		if err != nil {
			t.Fatalf("%.20q: %v", name, err)
		}
		opened(t, made)
	}
}

// However many panels there are, they are laid out; none is one page; one that
// is too wide is refused.
func TestRibbonPDFOfAnyLength(t *testing.T) {
	in := input(t, coarse, right())
	in.Samples[0].Views[0].Spent = nil
	for range 99 {
		in.Samples[0].Views[0].Spent = append(in.Samples[0].Views[0].Spent, frame(85, 54))
	}
	made, err := RibbonPDF(in)
	if err != nil {
		t.Fatal(err)
	}
	if _, info, _ := opened(t, made); !strings.Contains(info, "Pages:           25\n") { // 100 panels, 4 a sheet
		t.Errorf("pdfinfo says\n%s", info)
	}
	in.Samples = nil
	if made, err = RibbonPDF(in); err != nil {
		t.Fatal(err)
	}
	if _, info, words := opened(t, made); !strings.Contains(info, "Pages:           1\n") || !strings.Contains(words, "the roster is empty") {
		t.Errorf("no sample: %s%s", info, words)
	}
	in = input(t, plane.Grid{W: 900, H: 1500, DX: 300, DY: 100}, right())
	if _, err = RibbonPDF(in); err == nil || !strings.Contains(err.Error(), "does not fit") {
		t.Errorf("a panel 381 mm wide: %v", err)
	}
}
