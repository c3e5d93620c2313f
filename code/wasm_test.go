package code_test

import (
	"fmt"
	"io"
	"os/exec"
	"slices"
	"testing"

	"unspool/code"
	"unspool/symbol"
	"unspool/symbol/symboltest"
)

// A newer zxing-cpp than Debian's, built as zxing-wasm 3.1.4 (npm), reads every
// symbol of every symbology that is drawn, 500 texts each.
func TestZxingWasmReadsWhatIsDrawn(t *testing.T) {
	const texts = 500
	var names []string
	var pictures []shown
	for _, s := range sets() {
		for _, d := range s.draw(t, texts) {
			if _, in := s.zxing(d.plain); !in && s.kind == "codabar" {
				continue // refused: too little between the guards
			}
			size := d.picture.Rect.Size()
			p := shown{kind: s.kind, w: size.X, h: size.Y, want: forms(s.kind, d)}
			for y := range size.Y {
				p.dots = append(p.dots, d.picture.Pix[y*d.picture.Stride:][:size.X]...)
			}
			pictures, names = append(pictures, p), append(names, s.name)
		}
	}
	for _, k := range code.All() {
		if k.Family.Linear() {
			continue
		}
		for i := range texts {
			text := symboltest.Texts(uint64(7000+i), 1, 1+i%40, "0123456789 ABCXYZabcxyz-./:")[0]
			m, err := k.EncodeMatrix(text, code.Options{})
			if err != nil {
				t.Fatal(err)
			}
			p := gridPicture(m.Grid, k.RowX, 4)
			p.kind, p.want = k.Name, []string{text}
			pictures, names = append(pictures, p), append(names, k.Title)
		}
	}
	for i, found := range readWasm(t, pictures) {
		if len(found) != 1 || !slices.Contains(pictures[i].want, found[0]) {
			t.Errorf("%s: zxing-wasm read %q, want one of %q", names[i], found, pictures[i].want)
		}
	}
}

// shown is a picture to be read, 1 black, and what may be read from it.
type shown struct {
	kind string
	w, h int
	dots []byte
	want []string
}

// forms are the texts that the same data is given as: with or without guard
// letters, full ASCII pairs read or not, a UPC-A as an EAN-13.
func forms(kind string, d drawn) []string {
	all := []string{d.plain, d.text, d.l.Text}
	switch kind {
	case "codabar":
		all = append(all, d.plain[1:len(d.plain)-1])
	case "upca":
		all = append(all, "0"+d.l.Text)
	case "upce":
		all = append(all, "0"+expanded(d.l.Text))
	}
	return all
}

// expanded is the UPC-A that a UPC-E of eight digits stands for (GS1 General
// Specifications 5.2.2.4, from memory).
func expanded(e string) string {
	n, d, check := e[:1], e[1:7], e[7:]
	switch last := d[5]; {
	case last <= '2':
		return n + d[:2] + d[5:] + "0000" + d[2:5] + check
	case last == '3':
		return n + d[:3] + "00000" + d[3:5] + check
	case last == '4':
		return n + d[:4] + "00000" + d[4:5] + check
	}
	return n + d[:5] + "0000" + d[5:] + check
}

// gridPicture draws modules of so many dots a side with a quiet zone of five.
func gridPicture(g symbol.Grid, rowX, side int) (p shown) {
	const quiet = 5
	p.w, p.h = (g.W+2*quiet)*side, (g.H*rowX+2*quiet)*side
	p.dots = make([]byte, p.w*p.h)
	for y := range g.H * rowX * side {
		for x := range g.W * side {
			if g.At(x/side, y/side/rowX) {
				p.dots[(y+quiet*side)*p.w+x+quiet*side] = 1
			}
		}
	}
	return p
}

// readWasm has one process read all pictures.
func readWasm(t *testing.T, all []shown) (found [][]string) {
	t.Helper()
	feed := func(in io.Writer) {
		for _, p := range all {
			fmt.Fprintf(in, "%s %d %d\n", p.kind, p.w, p.h)
			in.Write(p.dots)
		}
	}
	for _, r := range answers[readings](t, exec.Command("node", "testdata/read.mjs"), len(all), feed) {
		found = append(found, r.Zxing)
	}
	return found
}
