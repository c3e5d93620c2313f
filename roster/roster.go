// Package roster reads the people of a run from a CSV file or a spreadsheet.
//
// A cell comes out as it stands: leading zeros, long numbers and spaces are
// kept. What cannot be read without guessing is an error that names the file,
// the line and what to do. Keys that are missing or double are no errors, for a
// run can still be proved: Keys lists them.
package roster

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Limits of a roster.
const (
	maxFile    = 64 << 20 // bytes
	maxRows    = 200_000
	maxColumns = 500
	maxCell    = 10_000 // bytes
)

// Options say how to read a roster. The zero value finds out what it can.
type Options struct {
	Separator rune   // CSV: ',' ';' or '\t'; 0 to find out from the header
	Encoding  string // CSV: "utf-8" or "windows-1252"; empty is UTF-8
	Sheet     string // XLSX: name of the sheet; empty the first
}

// Roster is a table of people. It is immutable and safe for use by several
// goroutines.
type Roster struct {
	Columns []string // names, each once, without space round them
	Rows    []Row    // rows that are not blank, in the order of the file

	index map[string]int // of columns
	text  string         // all cells, row by row
	ends  []uint32       // where each cell ends in text
}

// Row is one person.
type Row struct {
	Line int // line of the CSV file where the row begins, or row of the sheet, from 1

	of *Roster
	at int // index of its first cell
}

// Field is the cell in the named column, "" where it is blank or there is no
// such column.
func (r Row) Field(column string) string {
	if r.of == nil {
		return ""
	}
	i, ok := r.of.index[column]
	if !ok {
		return ""
	}
	return r.of.cell(r.at + i)
}

func (r *Roster) cell(i int) string {
	from := uint32(0)
	if i > 0 {
		from = r.ends[i-1]
	}
	return r.text[from:r.ends[i]]
}

// Read reads a roster of either kind, told apart by its first bytes. name is
// what messages call the file; a CSV file may not have that of a workbook.
func Read(name string, src []byte, o Options) (*Roster, error) {
	switch {
	case bytes.HasPrefix(src, []byte("PK\x03\x04")):
		return ReadXLSX(name, src, o)
	case bytes.HasPrefix(src, []byte("\xd0\xcf\x11\xe0")):
		return nil, fmt.Errorf("%s: is a workbook of the old format or with a password; save it as .xlsx without a password", name)
	case strings.HasSuffix(strings.ToLower(name), ".xlsx"):
		return nil, damaged(name, nil)
	}
	return ReadCSV(name, src, o)
}

// builder gathers rows that share one text.
type builder struct {
	name string
	out  *Roster
	text strings.Builder
}

func newBuilder(name string, size int) *builder {
	b := &builder{name: name, out: &Roster{index: map[string]int{}}}
	b.text.Grow(size)
	return b
}

// fault is an error at a line.
func (b *builder) fault(line int, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", b.name, line, fmt.Sprintf(format, args...))
}

// header takes the names of the columns.
func (b *builder) header(line int, cells []string) error {
	if len(cells) > maxColumns {
		return b.fault(line, "has %d columns, more than %d; is this the right file?", len(cells), maxColumns)
	}
	for i, c := range cells {
		name := strings.TrimSpace(c)
		first, again := b.out.index[name]
		switch {
		case name == "":
			return b.fault(line, "column %d has no name; name it or take it out", i+1)
		case again:
			return b.fault(line, "column %d is named %q like column %d; give each its own name", i+1, shorten(name), first+1)
		case len(name) > maxCell:
			return b.fault(line, "the name of column %d is %d bytes long; is a quote not closed?", i+1, len(name))
		}
		b.out.index[name] = i
		b.out.Columns = append(b.out.Columns, strings.Clone(name))
	}
	return nil
}

// row takes a row; a blank one is left out. Cells that are missing at its end
// are blank.
func (b *builder) row(line int, cells []string) error {
	if blank(cells) {
		return nil
	}
	if len(b.out.Rows) == maxRows {
		return b.fault(line, "is beyond %d rows; split the run", maxRows)
	}
	b.out.Rows = append(b.out.Rows, Row{Line: line, of: b.out, at: len(b.out.ends)})
	for i, column := range b.out.Columns {
		if i < len(cells) {
			c := cells[i]
			switch {
			case len(c) > maxCell:
				return b.fault(line, "column %q holds %d bytes, more than %d; is a quote not closed?", shorten(column), len(c), maxCell)
			case strings.ContainsRune(c, utf8.RuneError):
				return b.fault(line, "column %q reads %q: letters were lost when the file was saved before; export it again as UTF-8", shorten(column), shorten(c))
			}
			b.text.WriteString(c)
		}
		b.out.ends = append(b.out.ends, uint32(b.text.Len()))
	}
	return nil
}

// finish is the roster. header is the line of the column names.
func (b *builder) finish(header int) (*Roster, error) {
	if len(b.out.Rows) == 0 {
		return nil, b.fault(header, "has names of columns but no people below them; add a row for each card")
	}
	b.out.text = b.text.String()
	return b.out, nil
}

func blank(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// shorten cuts a text to what a message can show.
func shorten(s string) string {
	if utf8.RuneCountInString(s) <= 100 {
		return s
	}
	return string([]rune(s)[:100]) + "..."
}
