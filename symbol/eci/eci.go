// Package eci reads the bytes that a two-dimensional symbol carries as text, by
// the extended channel interpretations that the symbol names.
package eci

import (
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
	"golang.org/x/text/encoding/unicode"

	"unspool/say"
)

// Interpretations by their numbers. AIM ITS/04-023 (from memory).
const (
	Default  = -1 // a symbol that names none
	ShiftJIS = 20
	UTF8     = 26
)

// Message is what a symbol carries, in the order it was read. The zero value is
// empty.
type Message struct {
	data []byte
	runs []run
}

// run is a stretch of the data under one interpretation.
type run struct{ number, from int }

// Append adds bytes under the interpretation of a number.
func (m *Message) Append(number int, b ...byte) {
	if n := len(m.runs); n == 0 || m.runs[n-1].number != number {
		m.runs = append(m.runs, run{number, len(m.data)})
	}
	m.data = append(m.data, b...)
}

// Data is all bytes, as the symbol holds them.
func (m *Message) Data() []byte { return m.data }

// Text is the message as text. A stretch without an interpretation is UTF-8 where
// it is valid UTF-8 (common practice) and else ISO/IEC 8859-1, as the standards of
// the symbologies say. Bytes that mean nothing become U+FFFD. A number that is not
// known here is an error.
func (m *Message) Text() (string, error) {
	var b strings.Builder
	for i, r := range m.runs {
		to := len(m.data)
		if i+1 < len(m.runs) {
			to = m.runs[i+1].from
		}
		text, err := read(r.number, m.data[r.from:to])
		if err != nil {
			return "", err
		}
		b.WriteString(text)
	}
	return b.String(), nil
}

func read(number int, data []byte) (string, error) {
	if number == UTF8 || number == Default && utf8.Valid(data) {
		return strings.ToValidUTF8(string(data), "\ufffd"), nil
	}
	set, ok := sets[number]
	if !ok {
		return "", say.Errorf("the symbol names the extended channel interpretation %06d, which is not known here", number)
	}
	text, err := set.NewDecoder().Bytes(data)
	if err != nil {
		return "", say.Errorf("extended channel interpretation %06d: %v", number, err)
	}
	return string(text), nil
}

// sets are the interpretations that are character sets. AIM ITS/04-023 (from
// memory).
var sets = map[int]encoding.Encoding{
	Default: charmap.ISO8859_1,
	0:       charmap.CodePage437, 1: charmap.ISO8859_1, 2: charmap.CodePage437, 3: charmap.ISO8859_1,
	4: charmap.ISO8859_2, 5: charmap.ISO8859_3, 6: charmap.ISO8859_4, 7: charmap.ISO8859_5,
	8: charmap.ISO8859_6, 9: charmap.ISO8859_7, 10: charmap.ISO8859_8, 11: charmap.ISO8859_9,
	12: charmap.ISO8859_10, 13: charmap.Windows874, 15: charmap.ISO8859_13,
	16: charmap.ISO8859_14, 17: charmap.ISO8859_15, 18: charmap.ISO8859_16,
	ShiftJIS: japanese.ShiftJIS,
	21:       charmap.Windows1250, 22: charmap.Windows1251, 23: charmap.Windows1252, 24: charmap.Windows1256,
	25: unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM),
	27: charmap.ISO8859_1, // ASCII
	28: traditionalchinese.Big5, 29: simplifiedchinese.GB18030, 30: korean.EUCKR,
	170: charmap.ISO8859_1, // the invariant part of ISO/IEC 646
	899: charmap.ISO8859_1, // bytes that are no text
}
