package roster

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
)

// ReadCSV reads a CSV file: cells apart by comma, semicolon or tab, in quotes
// where they hold one of these, a quote or a line end (RFC 4180). name is what
// messages call the file; errors begin with it and the line: "crew.csv:17: ...".
func ReadCSV(name string, src []byte, o Options) (*Roster, error) {
	src, err := decode(name, src, o.Encoding)
	if err != nil {
		return nil, err
	}
	if o.Separator == 0 {
		if o.Separator, err = separator(name, src); err != nil {
			return nil, err
		}
	}
	b := newBuilder(name, len(src))
	r := csv.NewReader(bytes.NewReader(src))
	r.Comma, r.ReuseRecord, r.FieldsPerRecord = o.Separator, true, -1
	first := 0
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, b.csvFault(err)
		}
		line, _ := r.FieldPos(0)
		switch {
		case first == 0:
			first, err = line, b.header(line, cells)
		case len(cells) != len(b.out.Columns) && !blank(cells):
			err = b.fault(line, "has %d cells where the header has %d; look for a missing %s, or one that needs quotes round its cell",
				len(cells), len(b.out.Columns), separatorName(o.Separator))
		default:
			err = b.row(line, cells)
		}
		if err != nil {
			return nil, err
		}
	}
	if first == 0 {
		return nil, fmt.Errorf("%s: is empty; its first row holds the names of the columns", name)
	}
	return b.finish(first)
}

// csvFault words an error of the CSV reader.
func (b *builder) csvFault(err error) error {
	var e *csv.ParseError
	switch {
	case !errors.As(err, &e):
		return fmt.Errorf("%s: %w", b.name, err)
	case errors.Is(err, csv.ErrBareQuote):
		return b.fault(e.Line, "has a quote inside a cell; put the whole cell in quotes and double the quotes within it")
	case e.Line != e.StartLine:
		return b.fault(e.StartLine, "a cell of this row opens a quote that is not closed as it should be by line %d; close it, and double quotes within it", e.Line)
	}
	return b.fault(e.Line, "has a quote that is not closed, or more after the closing one; close it, and double quotes within it")
}

// separators are what may stand between cells.
var separators = []rune{',', ';', '\t'}

// separator finds out which separator the header uses: the one that stands most
// often in it outside quotes. Where two stand equally often, it does not guess.
func separator(name string, src []byte) (rune, error) {
	count := [3]int{}
	quoted := false
	for _, c := range string(firstRow(src)) {
		if c == '"' {
			quoted = !quoted
		}
		for i, s := range separators {
			if c == s && !quoted {
				count[i]++
			}
		}
	}
	best := 0
	for i := range separators {
		if count[i] > count[best] {
			best = i
		}
	}
	for i := range separators {
		if i != best && count[i] == count[best] && count[i] > 0 {
			return 0, fmt.Errorf("%s:1: has as many %s as %s in its header; write in programme.yaml under roster which one is between cells, such as\n  separator: %s",
				name, separatorName(separators[best])+"s", separatorName(separators[i])+"s", written(separators[i]))
		}
	}
	return separators[best], nil
}

// firstRow is the first line of src that is not blank, or all that a quote in it
// holds together.
func firstRow(src []byte) []byte {
	src = bytes.TrimLeft(src, "\r\n")
	quoted := false
	for i, c := range src[:min(len(src), 1<<20)] {
		if c == '"' {
			quoted = !quoted
		}
		if c == '\n' && !quoted {
			return src[:i]
		}
	}
	return src[:min(len(src), 1<<20)]
}

func separatorName(r rune) string {
	switch r {
	case ',':
		return "comma"
	case ';':
		return "semicolon"
	}
	return "tab"
}

// written is a separator as a programme file writes it.
func written(r rune) string {
	if r == '\t' {
		return "tab"
	}
	return `"` + string(r) + `"`
}
