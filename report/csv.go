package report

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"unspool/grade"
	"unspool/proof"
	"unspool/site"
)

// CSV writes cards.csv, one row a card, as UTF-8 by RFC 4180: a heading line,
// commas, lines that end in CR LF.
//
// A text that a spreadsheet could take for a formula (it begins with = + - @, a
// tab or a line end, or their full-width forms) gets an apostrophe before it,
// and so does one that begins with an apostrophe. To have the text back, take
// one leading apostrophe off.
type CSV struct {
	w       *bufio.Writer
	codes   []proof.CodeRef
	readers []site.Reader
	row     []string
}

// NewCSV begins the file with its heading line. The columns are: row (from 1),
// key; the verdict of each code at each reader; the findings that stop the card,
// that want a look, and notes; then, for each code and reader, what is behind the
// verdict. Of a two-dimensional code only reflectances, contrast and the grades
// mean something; the other figures of a scan are left empty.
func NewCSV(w io.Writer, codes []proof.CodeRef, readers []site.Reader) *CSV {
	c := &CSV{w: bufio.NewWriter(w), codes: codes, readers: readers}
	c.row = append(c.row, "row", "key")
	c.row = append(c.row, c.pairs()...)
	c.row = append(c.row, "stop", "look", "note")
	for _, p := range c.pairs() {
		for _, h := range behind {
			c.row = append(c.row, p+", "+h)
		}
	}
	// The writer keeps its error for Add and Close.
	_ = c.write()
	return c
}

// behind are the columns of one code at one reader, besides its verdict.
var behind = [...]string{"grade", "cause", "reason", "Rmin", "Rmax", "SC", "ECmin", "MOD", "defects", "decodability",
	"quiet zone left X", "quiet zone right X", "grades by parameter"}

// pairs names every code at every reader.
func (c *CSV) pairs() (out []string) {
	for _, code := range c.codes {
		for _, r := range c.readers {
			out = append(out, code.Name+" at "+r.Name)
		}
	}
	return out
}

// Add writes one card. It returns the first error of the writer.
func (c *CSV) Add(card proof.Card) error {
	n := len(c.codes) * len(c.readers)
	verdicts, reasons := make([]string, n), make([]string, n*len(behind))
	for _, r := range card.Readings {
		at := r.Code*len(c.readers) + r.Reader
		verdicts[at] = r.Verdict.String()
		if r.Verdict != proof.NotMeant {
			fill(reasons[at*len(behind):], r)
		}
	}
	c.row = append(c.row[:0], strconv.Itoa(card.Row+1), card.Key)
	c.row = append(c.row, verdicts...)
	for _, l := range [...]proof.Level{proof.Stop, proof.Look, proof.Note} {
		c.row = append(c.row, findings(card.Findings, l))
	}
	c.row = append(c.row, reasons...)
	return c.write()
}

// Close ends the file. The writer is flushed, not closed.
func (c *CSV) Close() error { return c.w.Flush() }

func (c *CSV) write() error {
	for i, s := range c.row {
		c.row[i] = quoted(harmless(s))
	}
	_, err := c.w.WriteString(strings.Join(c.row, ",") + "\r\n")
	return err
}

// quoted puts a field in quotes where it must be (RFC 4180 section 2, 5 to 7).
// Line ends within a field stay as they are.
func quoted(s string) string {
	if !strings.ContainsAny(s, "\",\r\n") {
		return s
	}
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}

// fill writes what is behind a verdict.
func fill(to []string, r proof.Reading) {
	to[0], to[1], to[2] = r.Grade.Text, r.Cause.ID, r.Reason.String()
	if r.Grade.Text == "" {
		return
	}
	w := r.Worst
	figures := []float64{w.Rmin, w.Rmax, w.SC}
	if r.Quality == nil {
		figures = append(figures, w.ECmin, w.MOD, w.Defects, w.Reading.Decodability, w.QuietLeft, w.QuietRight)
	}
	for i, v := range figures {
		to[3+i] = decimal(v)
	}
	to[12] = grades(r)
}

// grades lists the grade of every parameter: "decode 4; symbol contrast 3.2". Of
// a two-dimensional code the measure, which has no column, stands behind it.
func grades(r proof.Reading) string {
	var parts []string
	if q := r.Quality; q != nil {
		for _, f := range q.Figures {
			parts = append(parts, fmt.Sprintf("%s %s (%s)", f.Parameter, decimal(f.Grade), decimal(f.Value)))
		}
		return strings.Join(parts, "; ")
	}
	for p := range grade.Parameters {
		parts = append(parts, fmt.Sprintf("%s %s", p, decimal(r.Worst.Grades[p])))
	}
	return strings.Join(parts, "; ")
}

// decimal writes a number to four decimals at most.
func decimal(v float64) string {
	b, _ := measure(v).MarshalJSON()
	if string(b) == "null" {
		return ""
	}
	return string(b)
}

// findings lists a card's findings of one level: "no-carbon (number, Quay
// clock); code-cut (stores)".
func findings(all []proof.Finding, l proof.Level) string {
	var out []string
	for _, f := range all {
		if f.Level != l {
			continue
		}
		where := f.Element
		if f.Reader != "" {
			where = strings.TrimPrefix(where+", "+f.Reader, ", ")
		}
		if where != "" {
			where = " (" + where + ")"
		}
		out = append(out, f.ID+where)
	}
	return strings.Join(out, "; ")
}

// harmless keeps a text from being run as a formula.
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r\n'＝＋－＠", []rune(s)[0]) {
		return "'" + s
	}
	return s
}
