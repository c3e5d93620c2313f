package roster

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// decode turns the bytes of a CSV file into UTF-8 without a byte order mark. It
// does not guess: what is not in the stated encoding is an error.
func decode(name string, src []byte, encoding string) ([]byte, error) {
	switch {
	case len(src) > maxFile:
		return nil, fmt.Errorf("%s: is %d MB long, more than the %d MB a roster may have; split the run", name, len(src)>>20, maxFile>>20)
	case bytes.HasPrefix(src, []byte("\xff\xfe")), bytes.HasPrefix(src, []byte("\xfe\xff")):
		return nil, fmt.Errorf("%s: is UTF-16 text; save it as CSV in UTF-8", name)
	}
	if i := bytes.IndexByte(src, 0); i >= 0 {
		return nil, fmt.Errorf("%s:%d: holds a zero byte, so it is no CSV text; save it as CSV in UTF-8", name, lineAt(src, i))
	}
	if !bytes.Contains(src, []byte("\n")) {
		// Line ends as very old systems write them.
		src = bytes.ReplaceAll(src, []byte("\r"), []byte("\n"))
	}
	switch encoding {
	case "", "utf-8":
		return decodeUTF8(name, src)
	case "windows-1252":
		return decode1252(name, src)
	}
	return nil, fmt.Errorf("%s: the encoding %q is not known; write utf-8 or windows-1252", name, encoding)
}

var mark = []byte("\ufeff")

func decodeUTF8(name string, src []byte) ([]byte, error) {
	src = bytes.TrimPrefix(src, mark)
	at := invalid(src)
	if at < 0 {
		return src, nil
	}
	line := rowAt(src, at)
	row, err := charmap.Windows1252.NewDecoder().Bytes(line)
	if err != nil || undefined(line) >= 0 {
		return nil, fmt.Errorf("%s:%d: is neither UTF-8 nor Windows-1252; save the file as CSV in UTF-8", name, lineAt(src, at))
	}
	return nil, fmt.Errorf("%s:%d: is not UTF-8; as Windows-1252 the row reads\n  %s\nIf that is right, write in programme.yaml under roster:\n  encoding: windows-1252",
		name, lineAt(src, at), printable(string(row)))
}

func decode1252(name string, src []byte) ([]byte, error) {
	if bytes.HasPrefix(src, mark) {
		return nil, fmt.Errorf("%s: is UTF-8, as its first bytes say; take encoding: windows-1252 out of programme.yaml", name)
	}
	if i := undefined(src); i >= 0 {
		return nil, fmt.Errorf("%s:%d: holds the byte %#x, which Windows-1252 does not have; save the file as CSV in UTF-8", name, lineAt(src, i), src[i])
	}
	// Text in Windows-1252 with letters beyond ASCII is hardly ever valid UTF-8,
	// while UTF-8 read as Windows-1252 garbles every name.
	if i := bytes.IndexFunc(src, func(r rune) bool { return r >= utf8.RuneSelf }); i >= 0 && invalid(src) < 0 {
		return nil, fmt.Errorf("%s:%d: is UTF-8, and the row reads\n  %s\nIf that is right, take encoding: windows-1252 out of programme.yaml",
			name, lineAt(src, i), printable(string(rowAt(src, i))))
	}
	return charmap.Windows1252.NewDecoder().Bytes(src)
}

// invalid is where src stops being UTF-8, -1 where it does not.
func invalid(src []byte) int {
	if utf8.Valid(src) {
		return -1
	}
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// undefined is the place of a byte that Windows-1252 leaves undefined, -1 where
// there is none.
func undefined(src []byte) int {
	for i, c := range src {
		switch c {
		case 0x81, 0x8d, 0x8f, 0x90, 0x9d:
			return i
		}
	}
	return -1
}

// lineAt is the line of the byte i, from 1.
func lineAt(src []byte, i int) int { return bytes.Count(src[:i], []byte("\n")) + 1 }

// rowAt is the line around the byte i.
func rowAt(src []byte, i int) []byte {
	from := bytes.LastIndexByte(src[:i], '\n') + 1
	to := len(src)
	if n := bytes.IndexByte(src[i:], '\n'); n >= 0 {
		to = i + n
	}
	return src[from:min(to, from+4*maxCell)]
}

// printable is a row as a message can show it: one line without control
// characters.
func printable(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, s)
	return shorten(s)
}
