package roster_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unspool/roster"
)

// cell is a cell of a workbook with its number format.
type cell struct {
	at     string
	value  any
	format string
}

// formula is a formula without a result.
type formula string

func workbook(t testing.TB, cells ...cell) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if _, err := f.NewSheet("Crew"); err != nil {
		t.Fatal(err)
	}
	for _, c := range cells {
		sheet, at, ok := strings.Cut(c.at, "!")
		if !ok {
			sheet, at = "Sheet1", c.at
		}
		var err error
		if text, is := c.value.(formula); is {
			err = f.SetCellFormula(sheet, at, string(text))
		} else {
			err = f.SetCellValue(sheet, at, c.value)
		}
		if err == nil && c.format != "" {
			var style int
			style, err = f.NewStyle(&excelize.Style{CustomNumFmt: &c.format})
			if err == nil {
				err = f.SetCellStyle(sheet, at, at, style)
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestReadXLSX(t *testing.T) {
	src := workbook(t, cell{"A2", " number ", ""}, cell{"B2", "name", ""}, cell{"C2", "until", ""},
		cell{"A3", 123, "00000"}, cell{"B3", "Ngọc Ánh", ""}, cell{"C3", 46112, "dd.mm.yyyy"},
		cell{"A5", "00000000000000000042", ""}, cell{"B5", "two\nlines", ""},
		cell{"A6", 123456789012345, ""}, cell{"B6", true, ""}, cell{"C6", 12345.678, "#,##0.00"},
		cell{"A7", 123456789012, "0.00E+00"}, cell{"B7", " padded ", ""}, cell{"C7", 0.5, "0%"},
		cell{"A8", "12345678901234500", ""}, cell{"B8", -5, ""}, cell{"C8", "31.3.2026", ""},
		cell{"E9", " ", ""})
	for name, read := range map[string]func(string, []byte, roster.Options) (*roster.Roster, error){"ReadXLSX": roster.ReadXLSX, "Read": roster.Read} {
		r, err := read("crew.xlsx", src, roster.Options{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		want := [][]string{{"number", "name", "until"}, {"00123", "Ngọc Ánh", "31.03.2026"}, {"00000000000000000042", "two\nlines", ""},
			{"123456789012345", "TRUE", "12,345.68"}, {"123456789012", " padded ", "50%"}, {"12345678901234500", "-5", "31.3.2026"}}
		if got := table(r); !reflect.DeepEqual(got, want) {
			t.Errorf("%s:\n got %q\nwant %q", name, got, want)
		}
		if got := lines(r); !reflect.DeepEqual(got, []int{3, 5, 6, 7, 8}) {
			t.Errorf("%s: rows %v", name, got)
		}
	}
}

func TestSheets(t *testing.T) {
	src := workbook(t, cell{"A1", "a", ""}, cell{"A2", "first", ""}, cell{"Crew!A1", "a", ""}, cell{"Crew!A2", "second", ""})
	for sheet, want := range map[string]string{"": "first", "Sheet1": "first", "Crew": "second"} {
		r, err := roster.ReadXLSX("crew.xlsx", src, roster.Options{Sheet: sheet})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Rows[0].Field("a"); got != want {
			t.Errorf("sheet %q: %q", sheet, got)
		}
	}
}

func TestXLSXFaults(t *testing.T) {
	head := []cell{{"A1", "number", ""}, {"B1", "name", ""}, {"A2", "1", ""}, {"B2", "Ann", ""}}
	with := func(more ...cell) []byte { return workbook(t, append(head[:4:4], more...)...) }
	good := with()
	for _, c := range []struct {
		name string
		src  []byte
		o    roster.Options
		want string
	}{
		{"empty", workbook(t), roster.Options{}, `crew.xlsx: sheet "Sheet1" is empty; its first row holds the names of the columns`},
		{"header only", workbook(t, head[:2]...), roster.Options{}, `crew.xlsx:1: has names of columns but no people below them; add a row for each card`},
		{"sheet", good, roster.Options{Sheet: "Staff"}, `crew.xlsx: has no sheet "Staff"; the sheets are Sheet1, Crew`},
		{"column without name", with(cell{"D1", "role", ""}), roster.Options{}, `crew.xlsx:1: column 3 has no name; name it or take it out`},
		{"beyond", with(cell{"D3", "x", ""}), roster.Options{}, `crew.xlsx:3: cell D3 holds "x" beyond the last named column; name its column or empty it`},
		{"far column", with(cell{"XFD3", "x", ""}), roster.Options{}, `crew.xlsx:3: has a cell in column 16384, beyond the 500 that a roster may have; is this the right sheet?`},
		{"17 digits", with(cell{"A3", 45678901234567890, ""}), roster.Options{}, `crew.xlsx:3: cell A3 is a number of more than 15 digits, of which a spreadsheet keeps only 15; format the column as text and enter it again`},
		{"17 digits shown", with(cell{"A3", 45678901234567890, "0"}), roster.Options{}, `crew.xlsx:3: cell A3 is a number of more than 15 digits, of which a spreadsheet keeps only 15; format the column as text and enter it again`},
		{"digits gone", with(cell{"A3", 12345678901234500, "0"}), roster.Options{}, `crew.xlsx:3: cell A3 is a number of more than 15 digits, of which a spreadsheet keeps only 15; format the column as text and enter it again`},
		{"no result", with(cell{"A3", "2", ""}, cell{"B3", formula("A2&A3"), ""}), roster.Options{}, `crew.xlsx:3: cell B3 is a formula without a result; open the file in a spreadsheet and save it again`},
		{"failed formula", with(cell{"A3", "2", ""}, cell{"B3", "#N/A", ""}), roster.Options{}, `crew.xlsx:3: cell B3 shows the error #N/A; mend its formula`},
		{"not a workbook", []byte("PK\x03\x04 and no more"), roster.Options{}, `crew.xlsx: cannot be read as a workbook (zip: not a valid zip file); open it in a spreadsheet and save it again as .xlsx`},
		{"cut", good[:len(good)/2], roster.Options{}, `crew.xlsx: cannot be read as a workbook (zip: not a valid zip file); open it in a spreadsheet and save it again as .xlsx`},
		{"text", []byte("number,name\n1,Ann\n"), roster.Options{}, `crew.xlsx: cannot be read as a workbook; open it in a spreadsheet and save it again as .xlsx`},
		{"old format", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), roster.Options{}, `crew.xlsx: is a workbook of the old format or with a password; save it as .xlsx without a password`},
	} {
		r, err := roster.Read("crew.xlsx", c.src, c.o)
		if err == nil || r != nil || err.Error() != c.want {
			t.Errorf("%s:\n got %.300v\nwant %s", c.name, err, c.want)
		}
	}
}

// A number as large spreadsheets store it, 1.23456789012345E+16, has lost its
// digits too.
func TestStoredScientific(t *testing.T) {
	src := rewrite(t, workbook(t, cell{"A1", "number", ""}, cell{"A2", 4242, "0"}), "xl/worksheets/sheet1.xml", func(s string) string {
		return strings.Replace(s, ">4242<", ">1.23456789012345E+16<", 1)
	})
	_, err := roster.Read("crew.xlsx", src, roster.Options{})
	if err == nil || !strings.HasPrefix(err.Error(), "crew.xlsx:2: cell A2 is a number of more than 15 digits") {
		t.Errorf("%v", err)
	}
}

// A sheet whose XML breaks off must not pass for a shorter roster.
func TestBrokenSheet(t *testing.T) {
	src := rewrite(t, workbook(t, cell{"A1", "number", ""}, cell{"A2", "1", ""}, cell{"A3", "2", ""}), "xl/worksheets/sheet1.xml", func(s string) string {
		return strings.Replace(s, `<row r="3"`, `<row r=3"`, 1)
	})
	_, err := roster.Read("crew.xlsx", src, roster.Options{})
	if err == nil || !strings.HasPrefix(err.Error(), "crew.xlsx: cannot be read as a workbook (XML syntax error") {
		t.Errorf("%v", err)
	}
}

// A small file that claims to unfold to more than it may is turned away before
// it is unfolded.
func TestZipBomb(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	zeros := make([]byte, 1<<20)
	for range 300 {
		if _, err := w.Write(zeros); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	_, err = roster.Read("crew.xlsx", b.Bytes(), roster.Options{})
	if err == nil || !strings.Contains(err.Error(), "unzip size exceeds") {
		t.Errorf("%v", err)
	}
	// The same with a lie about the size.
	lie := bytes.Clone(b.Bytes())
	size := binary.LittleEndian.AppendUint32(nil, 300<<20)
	for i := bytes.LastIndex(lie, size); i >= 0; i = bytes.LastIndex(lie[:i], size) {
		binary.LittleEndian.PutUint32(lie[i:], 1000)
	}
	if _, err := roster.Read("crew.xlsx", lie, roster.Options{}); err == nil {
		t.Error("a sheet of zeros passes for a roster")
	}
}

// rewrite changes one part of a workbook.
func rewrite(t testing.TB, src []byte, part string, change func(string) string) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(src), int64(len(src)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range r.File {
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		var text bytes.Buffer
		if _, err := text.ReadFrom(in); err != nil {
			t.Fatal(err)
		}
		s := text.String()
		if f.Name == part {
			if s = change(s); s == text.String() {
				t.Fatal("nothing was changed")
			}
		}
		to, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Store})
		if err == nil {
			_, err = fmt.Fprint(to, s)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
