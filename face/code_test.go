package face

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"unspool/code"
	"unspool/design"
	"unspool/plane"
	"unspool/unit"
)

func cmykJPEG(t *testing.T) []byte {
	t.Helper()
	out, err := exec.Command("convert", "-size", "8x8", "xc:orange", "-colorspace", "CMYK", "jpg:-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func barcode(kind, text string, b plane.Box) design.Element {
	return design.Element{Name: "code", Box: b, Code: &design.Code{Kind: kind, Text: literal(text), Align: design.Middle, Backing: true}}
}

// The page of the card, read by zxing-cpp (Debian: python3-zxing-cpp), with the
// dots brought to a square shape, each enlarged whole.
const zxing = `
import sys, zxingcpp
from PIL import Image
for name in sys.argv[1:]:
    m = Image.open(name).convert("L")
    sx, sy = (2, 1) if "300x600" in name else (1, 2) if "600x300" in name else (1, 1)
    m = m.resize((2 * m.width * sx, 2 * m.height * sy), Image.NEAREST)
    r = zxingcpp.read_barcode(m)
    print(r.text if r else "")`

func TestCodesReadBack(t *testing.T) {
	dir := t.TempDir()
	names, want := []string{}, []string{}
	for _, c := range []struct{ kind, text, read string }{
		{"code39", "SH-0042", "SH-0042"}, {"code128", "Sundhaven 42", "Sundhaven 42"}, {"itf", "00123456", "00123456"}, {"codabar", "A40156B", "A40156B"},
	} {
		for turn := 0; turn < 360; turn += 90 {
			for _, pitch := range [][2]unit.Pitch{{300, 300}, {300, 600}, {600, 300}} {
				if pitch[0] != pitch[1] && turn >= 180 {
					continue
				}
				b := box(10, 20, 60, 10)
				if turn%180 == 90 {
					b = box(30, 3, 10, 48)
				}
				e := barcode(c.kind, c.text, b)
				e.Code.Turn = turn
				made := compose(t, compile(t, programme(pitch[0], pitch[1], e), files{}).Work(), nil)
				if len(made.Notes) > 0 || len(made.Codes) != 1 {
					t.Fatalf("%s turned %d: %v", c.kind, turn, made.Notes)
				}
				checkBars(t, made)
				name := filepath.Join(dir, fmt.Sprintf("%s-%d-%dx%d.pgm", c.kind, turn, pitch[0], pitch[1]))
				saveGray(t, name, made.Art)
				names, want = append(names, name), append(want, c.read)
			}
		}
	}
	for i, got := range readByZxing(t, names) {
		if got != want[i] && !(strings.Contains(names[i], "codabar") && "A"+got+"B" == want[i]) {
			t.Errorf("%s: read %q, not %q", filepath.Base(names[i]), got, want[i])
		}
	}
}

// readByZxing is what zxing-cpp reads in each picture; nothing where it finds no
// code.
func readByZxing(t *testing.T, names []string) []string {
	t.Helper()
	out, err := exec.Command("/usr/bin/python3", append([]string{"-c", zxing}, names...)...).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	lines := strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
	if len(lines) != len(names) {
		t.Fatalf("%d answers for %d pictures\n%s", len(lines), len(names), out)
	}
	return lines
}

// saveGray writes the page's red as a portable gray map.
func saveGray(t *testing.T, name string, a *Art) {
	t.Helper()
	out := fmt.Appendf(nil, "P5 %d %d 255\n", a.W, a.H)
	for i := range a.Dots() {
		out = append(out, a.Page[3*i])
	}
	if err := os.WriteFile(name, out, 0o600); err != nil {
		t.Fatal(err)
	}
}

// checkBars holds what is drawn to what Placed says: every dot of the box is
// black or white, and bars lie where the widths put them.
func checkBars(t *testing.T, c *Composed) {
	t.Helper()
	p, a := c.Codes[0], c.Art
	var dots []bool
	for i, n := range p.Widths {
		for range n {
			dots = append(dots, i%2 == 0)
		}
	}
	for y := p.Quiet.Y0; y < p.Quiet.Y1; y++ {
		for x := p.Quiet.X0; x < p.Quiet.X1; x++ {
			at, length := x-p.Bars.X0, p.Bars.W()
			if !p.AlongX {
				at, length = y-p.Bars.Y0, p.Bars.H()
			}
			if p.Reverse {
				at = length - 1 - at
			}
			bar := at >= 0 && at < len(dots) && dots[at]
			i := a.At(x, y)
			if want := map[bool]uint8{true: 0, false: 255}[bar]; a.Page[3*i] != want || a.Under[3*i] != 255 || (a.Mark[i]&Object != 0) != bar || a.Class[i] != Code {
				t.Fatalf("dot %d, %d: %d, mark %b, bar %v", x, y, a.Page[3*i], a.Mark[i], bar)
			}
		}
	}
	if len(dots) != p.Bars.W() && len(dots) != p.Bars.H() {
		t.Fatalf("%d dots of bars in %v", len(dots), p.Bars)
	}
}

// A box of 50.5 mm takes 10 characters of Code 39 at 3 dots and N 2.67, or 3 dots
// and N 2.33 a little less, by the width formula of ISO/IEC 16388:
// (C+2)(3N+6)+(C+1)I+2Q narrow elements.
func TestAutomaticSize(t *testing.T) {
	for _, c := range []struct {
		kind       string
		text       string
		mm         float64
		x, wide    int
		turn       int
		ratio      float64
		pitch      unit.Pitch
		quietDots  int
		tooWideFor bool
	}{
		{kind: "code39", text: "0123456789", mm: 50.6, x: 3, wide: 8, pitch: 300},
		{kind: "code39", text: "0123456789", mm: 48, x: 3, wide: 7, pitch: 300},
		{kind: "code39", text: "0123456789", mm: 40, x: 2, wide: 5, pitch: 300},
		{kind: "code39", text: "0123456789", mm: 80, x: 4, wide: 10, pitch: 300},
		{kind: "code39", text: "0123456789", mm: 50.6, x: 3, wide: 9, ratio: 3, pitch: 300, tooWideFor: false},
		{kind: "code39", text: "0123456789", mm: 30, x: 2, wide: 5, pitch: 300, tooWideFor: true},
		{kind: "code128", text: "0123456789", mm: 28, x: 3, pitch: 300},
		{kind: "code128", text: "0123456789", mm: 28, x: 6, pitch: 600},
		{kind: "code128", text: "0123456789", mm: 28, x: 3, turn: 90, pitch: 300},
	} {
		b := box(5, 5, c.mm, 8)
		if c.turn == 90 {
			b = box(5, 5, 8, c.mm)
		}
		e := barcode(c.kind, c.text, b)
		e.Code.Turn, e.Code.Ratio = c.turn, c.ratio
		made := compose(t, compile(t, programme(c.pitch, c.pitch, e), files{}).Work(), nil)
		s := made.Codes[0].Size
		if c.ratio == 3 { // 3 dots at N 3 need 53 mm, so 2 dots
			c.x, c.wide = 2, 6
		}
		if s.X != c.x || s.Wide != c.wide || (len(made.Notes) > 0) != c.tooWideFor {
			t.Errorf("%s in %v mm: %+v, %v", c.kind, c.mm, s, made.Notes)
		}
	}
}

func TestCodePlace(t *testing.T) {
	for _, c := range []struct {
		align     design.Align
		turn      int
		low, high bool
	}{
		{design.Start, 0, true, false}, {design.End, 0, false, true}, {design.Middle, 0, false, false},
		{design.Start, 180, false, true}, {design.End, 180, true, false}, {design.Start, 90, true, false}, {design.Start, 270, false, true},
	} {
		b := box(10, 20, 60, 10)
		if c.turn%180 == 90 {
			b = box(30, 3, 10, 48)
		}
		e := barcode("code128", "42", b)
		e.Code.Align, e.Code.Turn, e.Code.X = c.align, c.turn, 2
		made := once(t, files{}, nil, e)
		q, r := made.Codes[0].Quiet, made.Art.Box(b)
		lo, hi := q.X0-r.X0, r.X1-q.X1
		if c.turn%180 == 90 {
			lo, hi = q.Y0-r.Y0, r.Y1-q.Y1
		}
		if (lo == 0) != c.low || (hi == 0) != c.high || !c.low && !c.high && max(lo-hi, hi-lo) > 1 {
			t.Errorf("%v turned %d: %d dots before, %d after", c.align, c.turn, lo, hi)
		}
	}
}

func TestCodeNotes(t *testing.T) {
	wide := barcode("code39", "0123456789012345678901234567", box(20, 10, 40, 8))
	wide.Code.X = 3
	reduced := barcode("code39", "42", box(10, 10, 60, 8))
	reduced.Code.X, reduced.Code.Reduce = 2, 2
	refused := barcode("itf", "12a4", box(10, 10, 60, 8))
	low := barcode("code39", "42", box(60, 10, 40, 8))
	for _, c := range []struct {
		name  string
		e     design.Element
		kinds []NoteKind
		codes int
	}{
		{"too wide", wide, []NoteKind{CodeTooWide, OffFace}, 1},
		{"bars all taken off", reduced, []NoteKind{CodeRefused}, 0},
		{"letter in ITF", refused, []NoteKind{CodeRefused}, 0},
		{"empty", barcode("code39", "", box(10, 10, 60, 8)), []NoteKind{CodeRefused}, 0},
		{"over the edge", low, []NoteKind{OffFace}, 1},
	} {
		got := once(t, files{}, nil, c.e)
		var kinds []NoteKind
		for _, n := range got.Notes {
			kinds = append(kinds, n.Kind)
		}
		if fmt.Sprint(kinds) != fmt.Sprint(c.kinds) || len(got.Codes) != c.codes {
			t.Errorf("%s: %v, %d codes", c.name, got.Notes, len(got.Codes))
		}
	}
	got := once(t, files{}, nil, wide)
	p, n := got.Codes[0], got.Notes[0]
	// ISO/IEC 16388: (28+2)(3N+6) + 29 gaps + 2 x 10 X at N 8/3 and 3 dots.
	if dots := (30*(3*8.0/3+6) + 29 + 20) * 3; math.Abs(n.Value-dots*25.4/300) > 0.01 || math.Abs(n.Limit-40) > 0.05 {
		t.Errorf("needs %.2f mm of %.2f, not %.2f", n.Value, n.Limit, dots*25.4/300)
	}
	if r := got.Art.Box(wide.Box); p.Quiet.X0 >= r.X0 || p.Quiet.X1 <= r.X1 || max(r.X0-p.Quiet.X0-(p.Quiet.X1-r.X1), 0) > 1 {
		t.Errorf("quiet zones at %v, box %v: not centred", p.Quiet, r)
	}
}

func TestReducedBars(t *testing.T) {
	e := barcode("code39", "42", box(10, 10, 60, 8))
	e.Code.X, e.Code.Reduce = 4, 1
	made := once(t, files{}, nil, e)
	checkBars(t, made)
	p := made.Codes[0]
	if p.Widths[0] != 3 || p.Bars.W() != p.Logical.Width(p.Size)-1 || p.Quiet.X0 != p.Bars.X0-code.Quiet(p.Kind, 4)[0] {
		t.Errorf("widths %v, bars %v, quiet %v", p.Widths[:3], p.Bars, p.Quiet)
	}
}
