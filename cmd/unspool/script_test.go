package main

import (
	"archive/zip"
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"

	"github.com/rogpeppe/go-internal/testscript"

	"unspool/font"
)

// scriptCommands are what the scripts can do besides what every script can.
var scriptCommands = map[string]func(*testscript.TestScript, bool, []string){
	"exits": exits, "gate": gate, "edit": edit, "list": list, "fill": fill,
	"cut": cut, "fifo": fifo, "flip": flip, "bomb": bomb, "zipbomb": zipBomb,
}

// exits STATUS COMMAND [ARGUMENT...] runs a command that must end with the
// status, without a panic, leaving nothing half-written.
func exits(ts *testscript.TestScript, _ bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	status := 0
	var ended *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &ended) {
		status = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if status != want {
		ts.Fatalf("exit status %d, not %d", status, want)
	}
	if text := ts.ReadFile("stderr"); strings.Contains(text, "goroutine ") {
		ts.Fatalf("it panics")
	}
	ts.Check(filepath.WalkDir(ts.Getenv("WORK"), func(path string, _ fs.DirEntry, err error) error {
		if strings.Contains(path, ".part-") {
			ts.Fatalf("%s is left over", path)
		}
		return err
	}))
}

// gate DIR writes the programme of testdata/gate with a photo.
func gate(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(writeGate(ts.MkAbs(args[0])))
}

var gateFiles = os.DirFS("testdata/gate")

func writeGate(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, "photos"), 0o755); err != nil {
		return err
	}
	for _, name := range []string{"programme.yaml", "crew.csv"} {
		data, err := fs.ReadFile(gateFiles, name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return err
		}
	}
	// Light and shade without a flat part, as a photo has, and large enough to be
	// cut short.
	m := image.NewRGBA(image.Rect(0, 0, 180, 240))
	for y := range 240 {
		for x := range 180 {
			m.Set(x, y, color.RGBA{uint8(90 + x/2 + (x*y)%31), uint8(70 + y/3 + (x*x+y)%29), uint8(60 + (x+y)/5), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "photos", "a.jpg"), b.Bytes(), 0o644)
}

// edit FILE OLD NEW puts NEW in the place of every OLD, of which there must be
// one. Both are written as in Go: \n is a line end, \xe9 a byte.
func edit(ts *testscript.TestScript, _ bool, args []string) {
	from, to := unquoted(ts, args[1]), unquoted(ts, args[2])
	text := ts.ReadFile(args[0])
	if !strings.Contains(text, from) {
		ts.Fatalf("%s holds no %q", args[0], from)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.ReplaceAll(text, from, to)), 0o644))
}

func unquoted(ts *testscript.TestScript, s string) string {
	out, err := strconv.Unquote(`"` + strings.ReplaceAll(s, `"`, `\"`) + `"`)
	ts.Check(err)
	return out
}

// list DIR FILE writes the names in a folder and the sums of its files to a file.
func list(ts *testscript.TestScript, _ bool, args []string) {
	var b strings.Builder
	ts.Check(filepath.WalkDir(ts.MkAbs(args[0]), func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			var data []byte
			data, err = os.ReadFile(path)
			fmt.Fprintf(&b, "%x ", sha256.Sum256(data))
		}
		fmt.Fprintln(&b, path)
		return err
	}))
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(b.String()), 0o644))
}

// fill FILE OLD COUNT puts COUNT letters in the place of OLD.
func fill(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[2])
	ts.Check(err)
	edit(ts, false, []string{args[0], args[1], strings.Repeat("x", n)})
}

// cut FILE NEW LENGTH writes the first LENGTH bytes of FILE to NEW, or zeros
// after them where FILE has fewer.
func cut(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.ParseInt(args[2], 10, 64)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(ts.ReadFile(args[0])), 0o644))
	ts.Check(os.Truncate(ts.MkAbs(args[1]), n))
}

// fifo FILE makes a pipe that nobody writes to.
func fifo(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(syscall.Mkfifo(ts.MkAbs(args[0]), 0o644))
}

// flip FILE [OFFSET BYTE]... writes a bundled font, the Hebrew one, with bytes
// changed.
func flip(ts *testscript.TestScript, _ bool, args []string) {
	data := slices.Clone(font.Bundled(false)[2].Data)
	for change := range slices.Chunk(args[1:], 2) {
		at, err := strconv.Atoi(change[0])
		ts.Check(err)
		value, err := strconv.ParseUint(change[1], 10, 8)
		ts.Check(err)
		data[at] = byte(value)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// bomb FILE writes a small whole PNG of 50,000 x 50,000 black pixels, as the PNG
// specification (third edition, 5 and 11.2) lays it out.
func bomb(ts *testscript.TestScript, _ bool, args []string) {
	const side = 50_000
	var pixels bytes.Buffer
	z, err := zlib.NewWriterLevel(&pixels, zlib.BestSpeed)
	ts.Check(err)
	for range side {
		z.Write(make([]byte, 1+(side+7)/8)) // no filter, one bit a pixel
	}
	ts.Check(z.Close())
	header := binary.BigEndian.AppendUint32(nil, side)
	header = binary.BigEndian.AppendUint32(header, side)
	header = append(header, 1, 0, 0, 0, 0) // bits, grey, and the only methods there are
	file := []byte("\x89PNG\r\n\x1a\n")
	for _, c := range []struct {
		name string
		data []byte
	}{{"IHDR", header}, {"IDAT", pixels.Bytes()}, {"IEND", nil}} {
		file = binary.BigEndian.AppendUint32(file, uint32(len(c.data)))
		chunk := append([]byte(c.name), c.data...)
		file = binary.BigEndian.AppendUint32(append(file, chunk...), crc32.ChecksumIEEE(chunk))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), file, 0o644))
}

// zipBomb FILE writes a workbook whose sheet unpacks to 300 MB.
func zipBomb(ts *testscript.TestScript, _ bool, args []string) {
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	z := zip.NewWriter(f)
	sheet, err := z.Create("xl/worksheets/sheet1.xml")
	ts.Check(err)
	_, err = io.CopyN(sheet, blanks{}, 300<<20)
	ts.Check(errors.Join(err, z.Close(), f.Close()))
}

type blanks struct{}

func (blanks) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	return len(p), nil
}
