package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"

	"unspool/proof"
	"unspool/site"
)

// jsonVersion is the version of the format that schema/proof.schema.json
// describes.
const jsonVersion = 1

// JSON writes proof.json card by card, so that a long run takes no more memory
// than a short one. Its form is that of schema/proof.schema.json.
type JSON struct {
	w     *bufio.Writer
	buf   bytes.Buffer
	names names
	cards int
	err   error
}

// NewJSON begins the file: what it is, and the codes and readers that cards
// refer to.
func NewJSON(w io.Writer, codes []proof.CodeRef, readers []site.Reader) *JSON {
	j := &JSON{w: bufio.NewWriter(w), names: names{codes, readers}}
	j.head()
	j.text(",\n\"cards\": [")
	return j
}

// Add writes one card. It returns the first error of the writer.
func (j *JSON) Add(c proof.Card) error {
	if j.cards > 0 {
		j.text(",")
	}
	j.text("\n")
	j.value(j.names.card(c))
	j.cards++
	return j.err
}

// Close writes the summary and ends the file. The writer is flushed, not closed.
func (j *JSON) Close(s *proof.Summary) error {
	j.text("\n],\n\"summary\": ")
	j.value(j.names.summary(s))
	return j.end()
}

// SummaryJSON writes a proof without its cards, in the same form.
func SummaryJSON(w io.Writer, s *proof.Summary) error {
	j := &JSON{w: bufio.NewWriter(w), names: names{s.Codes, s.Readers}}
	j.head()
	j.text(",\n\"summary\": ")
	j.value(j.names.summary(s))
	return j.end()
}

func (j *JSON) head() {
	j.text("{\n\"unspool\": ")
	j.value(jsonVersion)
	j.text(",\n\"meaning\": ")
	j.value("predicted, before wear and print faults; not a verification of a printed card")
	j.text(",\n\"codes\": ")
	j.value(j.names.codeList())
	j.text(",\n\"readers\": ")
	j.value(j.names.readerList())
}

func (j *JSON) end() error {
	j.text("\n}\n")
	if j.err == nil {
		j.err = j.w.Flush()
	}
	return j.err
}

func (j *JSON) text(s string) {
	if j.err == nil {
		_, j.err = j.w.WriteString(s)
	}
}

func (j *JSON) value(v any) {
	if j.err != nil {
		return
	}
	j.buf.Reset()
	e := json.NewEncoder(&j.buf)
	e.SetEscapeHTML(false)
	if j.err = e.Encode(v); j.err == nil {
		_, j.err = j.w.Write(bytes.TrimSuffix(j.buf.Bytes(), []byte("\n")))
	}
}
