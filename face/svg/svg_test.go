package svg

import (
	"errors"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// drawings are small files, each about one idea, that another renderer draws too.
var drawings = []struct{ name, body string }{
	{"shapes", `<rect x="5" y="5" width="30" height="20" rx="4" fill="#c33"/><circle cx="60" cy="20" r="14" fill="steelblue"/>
		<ellipse cx="25" cy="60" rx="20" ry="10" fill="rgb(20%,60%,30%)"/><polygon points="60,45 90,50 75,80" fill="#fa0"/>
		<rect x="8" y="76" width="40" height="18" ry="6" fill="#4a4"/>`},
	{"paths", `<path d="M10 10h20v20H10zM50 10c10 0 20 10 20 20s-10 20-20 10q-10-5-10-15t10-15z" fill="#345"/>
		<path d="M10 60a20 12 30 1 1 25 15A10 10 0 0016 80L10 60m50 0A15 15 0 01 85 70 15 15 0 11 62 88z" fill="#873"/>`},
	{"rules", `<path fill-rule="evenodd" d="M50 5 80 95 5 35H95L20 95z"/>`},
	{"nonzero", `<path d="M50 5 80 95 5 35H95L20 95z" fill="#06c"/>`},
	{"strokes", `<g fill="none" stroke="#222" stroke-width="8"><path d="M10 20 30 40 50 15 70 40"/>
		<path d="M10 50 30 70 50 45 70 70" stroke-linejoin="round" stroke-linecap="round" stroke="#a22"/>
		<path d="M10 80 30 95 50 75 70 95" stroke-linejoin="bevel" stroke-linecap="square" stroke="#2a2"/>
		<path d="M80 10V90H92V10z" stroke-width="3"/></g>`},
	{"dashes", `<path d="M10 15H90" stroke="#000" stroke-width="6" stroke-dasharray="10 5"/>
		<circle cx="50" cy="60" r="30" fill="none" stroke="#36c" stroke-width="5" stroke-dasharray="6 3 1" stroke-dashoffset="4" stroke-linecap="round"/>`},
	{"transforms", `<g transform="translate(50 50) rotate(30)"><rect x="-30" y="-10" width="60" height="20" fill="#888"/>
		<g transform="scale(.5)"><circle r="30" fill="#d40" stroke="#000" stroke-width="4"/></g>
		<rect transform="matrix(1 .3 -.4 1 0 -30) skewX(20)" x="-10" y="-10" width="20" height="15" fill="teal"/></g>`},
	{"gradients", `<defs><linearGradient id="a"><stop offset="0" stop-color="#f00"/><stop offset="50%" stop-color="#ff0"/><stop offset="1" stop-color="#00f" stop-opacity=".3"/></linearGradient>
		<linearGradient id="b" href="#a" gradientUnits="userSpaceOnUse" x1="10" y1="50" x2="40" y2="90" spreadMethod="reflect"/>
		<radialGradient id="c" cx="40%" cy="40%" r="60%" fx="30%" fy="30%"><stop stop-color="#fff"/><stop offset="1" stop-color="#163"/></radialGradient></defs>
		<rect x="5" y="5" width="90" height="35" fill="url(#a)"/><rect x="5" y="45" width="42" height="50" fill="url(#b)"/>
		<ellipse cx="75" cy="70" rx="20" ry="25" fill="url(#c)" stroke="#000"/>`},
	{"opacity", `<g opacity=".5"><rect x="10" y="10" width="50" height="50" fill="#f00"/><rect x="40" y="40" width="50" height="50" fill="#00f"/></g>
		<circle cx="75" cy="25" r="18" fill="#080" fill-opacity=".4" stroke="#000" stroke-opacity=".6" stroke-width="6"/>`},
	{"classes", `<style>/* rules */ .a{fill:#a0a; stroke:#000} .b,.c{stroke-width:5}</style><rect class="a b" x="15" y="15" width="30" height="30"/>
		<rect class="a" style="fill:#0aa" x="55" y="55" width="30" height="30"/><g fill="none"><path class="c" stroke="#333" d="M10 90L40 60"/></g>`},
	{"hidden", `<rect x="5" y="5" width="20" height="20"/><rect display="none" width="99" height="99"/><g visibility="hidden"><rect width="50" height="50"/>
		<rect visibility="visible" x="60" y="60" width="20" height="20" fill="currentColor" color="#c60"/></g><title>t</title>`},
}

func file(body string) []byte {
	return []byte(`<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">` + body + `</svg>`)
}

// rsvg draws a file with librsvg on a picture of Cairo (Debian: librsvg2-2,
// libcairo2) and prints it as R, G, B, A multiplied by alpha.
const rsvg = `
import ctypes as c, sys
rsvg, cairo = c.CDLL("librsvg-2.so.2"), c.CDLL("libcairo.so.2")
class Box(c.Structure): _fields_ = [(n, c.c_double) for n in ("x", "y", "w", "h")]
p = c.c_void_p
rsvg.rsvg_handle_new_from_data.restype = p
rsvg.rsvg_handle_new_from_data.argtypes = [c.c_char_p, c.c_size_t, p]
rsvg.rsvg_handle_render_document.argtypes = [p, p, c.POINTER(Box), p]
for f in ("image_surface_create", "create", "image_surface_get_data"): getattr(cairo, "cairo_" + f).restype = p
cairo.cairo_create.argtypes = cairo.cairo_image_surface_get_data.argtypes = cairo.cairo_surface_flush.argtypes = [p]
for name in sys.argv[2:]:
    data, n = open(name, "rb").read(), int(sys.argv[1])
    s = cairo.cairo_image_surface_create(0, n, n)
    h = rsvg.rsvg_handle_new_from_data(data, len(data), None)
    if not rsvg.rsvg_handle_render_document(h, cairo.cairo_create(s), c.byref(Box(0, 0, n, n)), None): sys.exit(name)
    cairo.cairo_surface_flush(s)
    b = bytearray(c.string_at(cairo.cairo_image_surface_get_data(s), 4 * n * n))
    b[0::4], b[2::4] = b[2::4], b[0::4]
    sys.stdout.buffer.write(b)`

func TestAgainstLibrsvg(t *testing.T) {
	const n = 200
	dir := t.TempDir()
	args := []string{"-c", rsvg, "200"}
	for _, d := range drawings {
		path := filepath.Join(dir, d.name+".svg")
		if err := os.WriteFile(path, file(d.body), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	out, err := exec.Command("/usr/bin/python3", args...).Output()
	if err != nil || len(out) != len(drawings)*4*n*n {
		t.Fatal(err, len(out))
	}
	for i, d := range drawings {
		parsed, err := Parse(file(d.body))
		if err != nil {
			t.Errorf("%s: %v", d.name, err)
			continue
		}
		got := parsed.Draw(n, n, View{0, 0, 100, 100})
		want := out[i*4*n*n : (i+1)*4*n*n]
		far, sum := 0, 0
		for k, v := range got.Pix {
			diff := int(v) - int(want[k])
			diff = max(diff, -diff)
			sum += diff
			if diff > 40 {
				far++
			}
		}
		// Edges are cut into 15 levels there; a wrong shape moves whole areas.
		if mean := float64(sum) / float64(len(want)); mean > 0.5 || far > 60 {
			t.Errorf("%s: differs by %.2f in the mean, %d samples by more than 40", d.name, mean, far)
		}
	}
}

func TestRefused(t *testing.T) {
	deep := strings.Repeat("<g>", 60) + strings.Repeat("</g>", 60)
	for _, c := range []struct {
		body string
		line int
		want string
	}{
		{"\n\n<text x='1'>hello</text>", 3, "convert text to paths"},
		{"\n<use href='#a'/>", 2, "break clones"},
		{"<g>\n<image href='http://example.org/a.png'/></g>", 2, "image is not drawn"},
		{"<script>alert(1)</script>", 1, "script is not drawn"},
		{"<rect fill='url(http://example.org/a#b)' width='1' height='1'/>", 1, "outside the file"},
		{"<linearGradient id='a' href='other.svg#b'/>", 1, "outside the file"},
		{"<linearGradient id='a' href='#a'/>", 1, "takes after itself"},
		{"<rect fill='url(#none)' width='1' height='1'/>", 1, "no gradient"},
		{"\n<rect clip-path='url(#c)' width='1' height='1'/>", 2, "clip-path is not drawn"},
		{"<rect style='filter:url(#f)' width='1' height='1'/>", 1, "filter is not drawn"},
		{"<clipPath id='c'/>", 1, "cut the paths"},
		{"<blink/>", 1, "is not drawn"},
		{"<rect width='10%' height='1'/>", 1, "plain number"},
		{"<rect width='1e99' height='1'/>", 1, "plain number"},
		{"<path d='M0 0 L 10 x'/>", 1, "cannot be read"},
		{"<path d='10 10 L 10 10'/>", 1, "cannot be read"},
		{"<g transform='turn(5)'/>", 1, "cannot be read"},
		{"<rect fill='blau' width='1' height='1'/>", 1, "write a colour"},
		{"<style>g > rect {fill:red}</style>", 1, "not drawn"},
		{"<g>", 1, "not well formed"},
		{"\n&bomb;", 2, "not well formed"},
		{deep, 1, "deep"},
	} {
		_, err := Parse(file(c.body))
		var bad *Error
		if !errors.As(err, &bad) || bad.Line != c.line || !strings.Contains(bad.Text, c.want) {
			t.Errorf("%.60q: %v, want line %d and %q", c.body, err, c.line, c.want)
		}
	}
	for _, c := range []struct{ whole, want string }{
		{"", "no SVG"},
		{"<html/>", "no SVG"},
		{"<svg/>", "no size"},
		{"<svg viewBox='0 0 0 5'/>", "above 0"},
		{"<svg viewBox='0 0 5'/>", "four numbers"},
		{`<!DOCTYPE svg [<!ENTITY a "b">]><svg viewBox='0 0 1 1'/>`, "DOCTYPE"},
		{`<?xml-stylesheet href="a.css"?><svg viewBox='0 0 1 1'/>`, "another file"},
		{strings.Repeat(" ", maxBytes+1), "bytes"},
	} {
		if _, err := Parse([]byte(c.whole)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.60q: %v, want %q", c.whole, err, c.want)
		}
	}
}

func TestSize(t *testing.T) {
	d, err := Parse([]byte(`<svg width="40mm" height="20mm"><rect width="40" height="20"/></svg>`))
	if err != nil || d.W != 40 || d.H != 20 {
		t.Fatal(d, err)
	}
	// A view twice as wide as the drawing shows it in its left half.
	m := d.Draw(80, 20, View{0, 0, 80, 20})
	if m.RGBAAt(39, 10).A != 255 || m.RGBAAt(40, 10).A != 0 {
		t.Error(m.RGBAAt(39, 10), m.RGBAAt(40, 10))
	}
	if m.Bounds() != image.Rect(0, 0, 80, 20) {
		t.Error(m.Bounds())
	}
}

func FuzzParse(f *testing.F) {
	for _, d := range drawings {
		f.Add(d.body)
	}
	f.Fuzz(func(t *testing.T, body string) {
		d, err := Parse(file(body))
		if err == nil {
			d.Draw(9, 7, View{-10, -10, 110, 90})
		}
	})
}

func FuzzPath(f *testing.F) {
	f.Add("M10 60a20 12 30 1 1 25 15A10 10 0 0016 80L10 60m50 0z", "3 1", 2.0)
	f.Fuzz(func(t *testing.T, path, dashes string, width float64) {
		d, err := Parse(file(`<path stroke="#000" stroke-dasharray="` + strings.ReplaceAll(dashes, `"`, "") + `" d="` + strings.ReplaceAll(path, `"`, "") + `"/>`))
		if err == nil {
			d.Draw(5, 5, View{0, 0, 100, 100})
		}
	})
}

func BenchmarkDraw(b *testing.B) {
	d, err := Parse(file(drawings[7].body))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		d.Draw(600, 600, View{0, 0, 100, 100})
	}
}
