package symboltest

import (
	"bufio"
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"unspool/symbol"
)

// ZintGrids has zint draw each text, whose escapes it processes, as a matrix
// symbol. args choose the symbology. A missing zint fails the test.
func ZintGrids(t testing.TB, texts []string, args ...string) []symbol.Grid {
	t.Helper()
	dir := t.TempDir()
	list := filepath.Join(dir, "texts")
	var lines strings.Builder
	for _, text := range texts {
		lines.WriteString(escape(text) + "\n")
	}
	if err := os.WriteFile(list, []byte(lines.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	args = append(args, "--esc", "--batch", "-i", list, "-o", filepath.Join(dir, "~~~~~.txt"))
	if out, err := exec.Command("zint", args...).CombinedOutput(); err != nil {
		t.Fatalf("zint: %v: %s(Debian package zint)", err, out)
	}
	grids := make([]symbol.Grid, len(texts))
	for i := range grids {
		rows, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("%05d.txt", i+1)))
		if err != nil {
			t.Fatalf("%q: %v", texts[i], err)
		}
		grids[i] = GridOf(strings.Split(strings.TrimSpace(string(rows)), "\n"), func(row string) string { return bits(t, row) })
	}
	return grids
}

// GridOf makes a grid of rows of "1" and "0", which each row gives by modules. As
// wide as its last dark module.
func GridOf(rows []string, modules func(row string) string) symbol.Grid {
	width := 0
	for i, r := range rows {
		rows[i] = strings.TrimRight(modules(r), "0")
		width = max(width, len(rows[i]))
	}
	g := symbol.NewGrid(width, len(rows))
	for y, r := range rows {
		for x := range r {
			g.Set(x, y, r[x] == '1')
		}
	}
	return g
}

// Found is what two independent readers found in a picture of a grid: the bytes
// of zxing-cpp, in hexadecimal, and its text, and zbar's texts of a QR code. A nil
// is nothing found.
type Found struct {
	Bytes, Text *string
	Zbar        []string
}

//go:embed grids.py
var readGrids string

// ReadGrids draws each grid at so many dots a module with a quiet zone of four
// modules, and has one process read them all. kind is zxing-cpp's name of the
// symbology. A missing reader fails the test.
func ReadGrids(t testing.TB, kind string, dots int, grids []symbol.Grid) []Found {
	t.Helper()
	cmd := exec.Command(python(t), "-c", readGrids)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { // should the reader stop early, the count of its answers fails the test
		w := bufio.NewWriter(in)
		for _, g := range grids {
			picture(w, kind, dots, g)
		}
		w.Flush()
		in.Close()
	}()
	var found []Found
	for d := json.NewDecoder(out); ; {
		var f Found
		if err := d.Decode(&f); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		found = append(found, f)
	}
	if err := cmd.Wait(); err != nil || len(found) != len(grids) {
		t.Fatalf("%d answers for %d pictures: %v\n%s", len(found), len(grids), err, stderr.String())
	}
	return found
}

// picture writes a grid as grids.py takes it.
func picture(w io.Writer, kind string, dots int, g symbol.Grid) {
	const quiet = 4
	width, height := (g.W+2*quiet)*dots, (g.H+2*quiet)*dots
	fmt.Fprintf(w, "%s %d %d\n", kind, width, height)
	line := make([]byte, width)
	for y := range height {
		clear(line)
		if row := y/dots - quiet; row >= 0 && row < g.H {
			for x := range g.W * dots {
				if g.At(x/dots, row) {
					line[quiet*dots+x] = 1
				}
			}
		}
		w.Write(line)
	}
}

// python is the first Python that has the readers' modules: the one that comes
// first on the path may be another than the system's.
func python(t testing.TB) string {
	t.Helper()
	for _, dir := range append(filepath.SplitList(os.Getenv("PATH")), "/usr/bin") {
		p := filepath.Join(dir, "python3")
		if exec.Command(p, "-c", "import numpy, zbar, zxingcpp").Run() == nil {
			return p
		}
	}
	t.Fatal("no python3 has the modules numpy, zbar and zxingcpp: install the Debian packages python3-numpy, python3-zbar and python3-zxing-cpp")
	return ""
}
