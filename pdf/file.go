package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
)

// file is the objects of a PDF file (7.3.10), numbered from 1.
type file struct{ objects [][]byte }

// ref is the number of an object.
type ref int

func (r ref) String() string { return strconv.Itoa(int(r)) + " 0 R" }

func refs(all []ref) string {
	words := make([]string, len(all))
	for i, r := range all {
		words[i] = r.String()
	}
	return strings.Join(words, " ")
}

// next reserves a number for an object that is put later.
func (f *file) next() ref {
	f.objects = append(f.objects, nil)
	return ref(len(f.objects))
}

func (f *file) put(r ref, body string) { f.objects[r-1] = []byte(body) }

func (f *file) add(body string) ref {
	r := f.next()
	f.put(r, body)
	return r
}

// stream adds a stream of data, compressed (7.3.8, 7.4.4); dict is what its
// dictionary says besides.
func (f *file) stream(dict string, data []byte) ref {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	z.Write(data)
	z.Close() // a buffer takes everything
	return f.deflated(dict, b.Bytes())
}

// deflated adds a stream that is compressed already.
func (f *file) deflated(dict string, data []byte) ref {
	r := f.next()
	head := fmt.Sprintf("<<%s/Filter/FlateDecode/Length %d>>\nstream\n", dict, len(data))
	f.objects[r-1] = append(append([]byte(head), data...), "\nendstream"...)
	return r
}

// bytes is the file: header, objects, cross-reference table, trailer (7.5).
func (f *file) bytes(root, info ref) []byte {
	var b bytes.Buffer
	// Four bytes past 127 tell programs that carry files that this is no text.
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	at := make([]int, len(f.objects))
	for i, o := range f.objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n", i+1)
		b.Write(o)
		b.WriteString("\nendobj\n")
	}
	id := sha256.Sum256(b.Bytes())
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, n := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", n)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root %s/Info %s/ID[<%x><%x>]>>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, root, info, id[:16], id[:16], table)
	return b.Bytes()
}

// text is a text string for people (7.9.2.2): UTF-16, big-endian, with its mark.
func text(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String() + ">"
}

// number writes a number to a ten-thousandth: a tenth of a micrometre on a page.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "" || s == "-0" {
		return "0"
	}
	return s
}

// drawable says whether a number can stand in a page. The bound is far beyond
// any paper and within what every viewer takes (Annex C).
func drawable(v float64) bool { return math.Abs(v) <= 30000 }
