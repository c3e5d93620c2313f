// Package symboltest is what the tests of the symbologies share: module strings,
// as standards and other encoders write a symbol, and the encoder zint.
package symboltest

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"unspool/symbol"
)

// Modules writes a symbol as a module string, "1" a module of bar and "0" of
// space, with wide elements n modules and intercharacter gaps gap modules wide.
func Modules(t testing.TB, l symbol.Logical, n, gap int) string {
	t.Helper()
	widths, err := l.Widths(symbol.Size{X: 1, Wide: n, Gap: gap})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for i, w := range widths {
		b.WriteString(strings.Repeat(string("10"[i%2]), w))
	}
	return b.String()
}

// Widths are the element widths of a module string.
func Widths(modules string) []float64 {
	var widths []float64
	for i := range len(modules) {
		if i == 0 || modules[i] != modules[i-1] {
			widths = append(widths, 0)
		}
		widths[len(widths)-1]++
	}
	return widths
}

// Floats are widths in dots as a decoder takes them.
func Floats(dots []int) []float64 {
	widths := make([]float64, len(dots))
	for i, d := range dots {
		widths[i] = float64(d)
	}
	return widths
}

// Zint has zint draw each text, whose escapes it processes, and gives the module
// strings. args choose the symbology. A missing zint fails the test.
func Zint(t testing.TB, texts []string, args ...string) []string {
	t.Helper()
	list := filepath.Join(t.TempDir(), "texts")
	lines := make([]string, len(texts))
	for i, text := range texts {
		lines[i] = escape(text)
	}
	if err := os.WriteFile(list, []byte(strings.Join(lines, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("zint", append(args, "--esc", "--batch", "--dump", "-i", list)...)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("zint: %v: %s(Debian package zint)", err, stderr.String())
	}
	dumps := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(dumps) != len(texts) {
		t.Fatalf("zint drew %d symbols of %d: %s", len(dumps), len(texts), stderr.String())
	}
	for i, d := range dumps {
		dumps[i] = bits(t, d)
	}
	return dumps
}

// bits turns a dump, hexadecimal digits in pairs, into a module string. The last
// digit is filled up with spaces, which no symbol ends in.
func bits(t testing.TB, dump string) string {
	t.Helper()
	var b strings.Builder
	for _, digit := range strings.ReplaceAll(strings.TrimSpace(dump), " ", "") {
		v, err := strconv.ParseUint(string(digit), 16, 4)
		if err != nil {
			t.Fatalf("zint's dump %q: %v", dump, err)
		}
		four := strconv.FormatUint(v+16, 2)
		b.WriteString(four[1:])
	}
	return strings.TrimRight(b.String(), "0")
}

// escape writes what a line of zint's input cannot hold as its escapes.
func escape(text string) string {
	var b strings.Builder
	for i := range len(text) {
		if c := text[i]; c < ' ' || c == '\\' || c > '~' {
			b.WriteString(`\x` + strconv.FormatUint(uint64(c)+0x100, 16)[1:])
		} else {
			b.WriteByte(c)
		}
	}
	return b.String()
}
