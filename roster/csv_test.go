package roster_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"

	"unspool/roster"
)

// table is a roster written out: columns, then rows.
func table(r *roster.Roster) [][]string {
	out := [][]string{r.Columns}
	for _, row := range r.Rows {
		var cells []string
		for _, c := range r.Columns {
			cells = append(cells, row.Field(c))
		}
		out = append(out, cells)
	}
	return out
}

func lines(r *roster.Roster) (out []int) {
	for _, row := range r.Rows {
		out = append(out, row.Line)
	}
	return out
}

func TestReadCSV(t *testing.T) {
	want := [][]string{{"number", "name"}, {"000042", "Zoë"}, {"100000000000000017", "Ngọc Ánh"}}
	for name, src := range map[string]string{
		"comma":                "number,name\n000042,Zoë\n100000000000000017,Ngọc Ánh\n",
		"semicolon":            "number;name\n000042;Zoë\n100000000000000017;Ngọc Ánh\n",
		"tab":                  "number\tname\n000042\tZoë\n100000000000000017\tNgọc Ánh",
		"byte order mark":      "\ufeffnumber,name\n000042,Zoë\n100000000000000017,Ngọc Ánh\n",
		"CR LF":                "number,name\r\n000042,Zoë\r\n100000000000000017,Ngọc Ánh\r\n",
		"CR alone":             "number,name\r000042,Zoë\r100000000000000017,Ngọc Ánh\r",
		"quotes":               "\"number\",\"name\"\n\"000042\",\"Zoë\"\n\"100000000000000017\",\"Ngọc Ánh\"\n",
		"blank lines and rows": "\n number ,name\n\n000042,Zoë\n , \n100000000000000017,Ngọc Ánh\n,\n",
		"blank row too long":   "number,name\n000042,Zoë\n100000000000000017,Ngọc Ánh\n,,,\n",
		"separators in quotes": "number;\"name\"\n000042;Zoë\n100000000000000017;Ngọc Ánh\n",
	} {
		r, err := roster.ReadCSV("crew.csv", []byte(src), roster.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if got := table(r); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %q", name, got)
		}
	}
}

func TestLinesOfRows(t *testing.T) {
	r, err := roster.ReadCSV("crew.csv", []byte("a;b\n1;\"x\ny\"\n\n2;\"\"\"q\"\"\"\n3;\"p;q\"\n"), roster.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := table(r); !reflect.DeepEqual(got, [][]string{{"a", "b"}, {"1", "x\ny"}, {"2", `"q"`}, {"3", "p;q"}}) {
		t.Errorf("%q", got)
	}
	if got := lines(r); !reflect.DeepEqual(got, []int{2, 5, 6}) {
		t.Errorf("lines %v", got)
	}
	if got := r.Rows[0].Field("nothing") + (roster.Row{}).Field("a"); got != "" {
		t.Errorf("a column that is not there holds %q", got)
	}
}

func TestCSVFaults(t *testing.T) {
	many := strings.Repeat("1,a\n", 200_001)
	for _, c := range []struct {
		name, src string
		o         roster.Options
		want      string
	}{
		{"empty", "", roster.Options{}, `crew.csv: is empty; its first row holds the names of the columns`},
		{"blank", "\ufeff\r\n\r\n", roster.Options{}, `crew.csv: is empty; its first row holds the names of the columns`},
		{"header only", "number,name\n,\n", roster.Options{}, `crew.csv:1: has names of columns but no people below them; add a row for each card`},
		{"double column", "number,name,number\n1,a,2\n", roster.Options{}, `crew.csv:1: column 3 is named "number" like column 1; give each its own name`},
		{"column without name", "number,,name\n1,a,2\n", roster.Options{}, `crew.csv:1: column 2 has no name; name it or take it out`},
		{"short row", "a;b;c\n1;2;3\n4;5\n", roster.Options{}, `crew.csv:3: has 2 cells where the header has 3; look for a missing semicolon, or one that needs quotes round its cell`},
		{"long row", "a,b\n\n1,Reyes, Jr\n", roster.Options{}, `crew.csv:3: has 3 cells where the header has 2; look for a missing comma, or one that needs quotes round its cell`},
		{"wrong separator", "a;b\n1;2,3\n", roster.Options{Separator: ','}, `crew.csv:2: has 2 cells where the header has 1; look for a missing comma, or one that needs quotes round its cell`},
		{"two separators", "a;b,c\n1;2\n", roster.Options{}, "crew.csv:1: has as many commas as semicolons in its header; write in programme.yaml under roster which one is between cells, such as\n  separator: \";\""},
		{"open quote", "a,b\n1,2\n3,\"4\n5,6\n", roster.Options{}, `crew.csv:3: a cell of this row opens a quote that is not closed as it should be by line 4; close it, and double quotes within it`},
		{"quote inside", "a,b\n1,2\n3,4\"5\n", roster.Options{}, `crew.csv:3: has a quote inside a cell; put the whole cell in quotes and double the quotes within it`},
		{"more after quote", "a,b\n1,\"2\"3\n", roster.Options{}, `crew.csv:2: has a quote that is not closed, or more after the closing one; close it, and double quotes within it`},
		{"zero byte", "a,b\n1,2\n3,\x00\n", roster.Options{}, `crew.csv:3: holds a zero byte, so it is no CSV text; save it as CSV in UTF-8`},
		{"UTF-16", "\xff\xfea\x00", roster.Options{}, `crew.csv: is UTF-16 text; save it as CSV in UTF-8`},
		{"10 MB cell", "a,b\n1,2\n3," + strings.Repeat("x", 10<<20) + "\n", roster.Options{}, `crew.csv:3: column "b" holds 10485760 bytes, more than 10000; is a quote not closed?`},
		{"10 MB name", "a," + strings.Repeat("x", 10<<20) + "\n1,2\n", roster.Options{}, `crew.csv:1: the name of column 2 is 10485760 bytes long; is a quote not closed?`},
		{"many columns", strings.Repeat("a,", 600) + "a\n", roster.Options{}, `crew.csv:1: has 601 columns, more than 500; is this the right file?`},
		{"many rows", "a,b\n" + many, roster.Options{}, `crew.csv:200002: is beyond 200000 rows; split the run`},
		{"too long", strings.Repeat("a", 64<<20+1), roster.Options{}, `crew.csv: is 64 MB long, more than the 64 MB a roster may have; split the run`},
		{"not UTF-8", "number;name\n1;Ann\n2;Zo\xeb \x80\n3;Jos\xe9\n", roster.Options{}, "crew.csv:3: is not UTF-8; as Windows-1252 the row reads\n  2;Zoë €\nIf that is right, write in programme.yaml under roster:\n  encoding: windows-1252"},
		{"neither", "a\nZo\x8f\n", roster.Options{}, `crew.csv:2: is neither UTF-8 nor Windows-1252; save the file as CSV in UTF-8`},
		{"UTF-8 said to be 1252", "a\nAnn\nZoë\n", roster.Options{Encoding: "windows-1252"}, "crew.csv:3: is UTF-8, and the row reads\n  Zoë\nIf that is right, take encoding: windows-1252 out of programme.yaml"},
		{"mark said to be 1252", "\ufeffa\nAnn\n", roster.Options{Encoding: "windows-1252"}, `crew.csv: is UTF-8, as its first bytes say; take encoding: windows-1252 out of programme.yaml`},
		{"not 1252", "a\nAnn\nZo\xeb\x81\n", roster.Options{Encoding: "windows-1252"}, `crew.csv:3: holds the byte 0x81, which Windows-1252 does not have; save the file as CSV in UTF-8`},
		{"other encoding", "a\nAnn\n", roster.Options{Encoding: "latin1"}, `crew.csv: the encoding "latin1" is not known; write utf-8 or windows-1252`},
		{"lost letters", "a,b\n1,Zo\ufffd\n", roster.Options{}, `crew.csv:2: column "b" reads "Zo�": letters were lost when the file was saved before; export it again as UTF-8`},
	} {
		r, err := roster.ReadCSV("crew.csv", []byte(c.src), c.o)
		if err == nil || r != nil || err.Error() != c.want {
			t.Errorf("%s:\n got %.300v\nwant %s", c.name, err, c.want)
		}
	}
}

// Every byte that Windows-1252 has comes out as golang.org/x/text has it, whose
// table is that of the WHATWG encoding standard.
func TestWindows1252(t *testing.T) {
	var src bytes.Buffer
	src.WriteString("number,name\n")
	var want []string
	for c := 0x80; c < 0x100; c++ {
		if strings.IndexByte("\x81\x8d\x8f\x90\x9d", byte(c)) < 0 {
			fmt.Fprintf(&src, "%d,x%cx\n", c, '?')
			src.Bytes()[src.Len()-3] = byte(c)
			want = append(want, "x"+string(charmap.Windows1252.DecodeByte(byte(c)))+"x")
		}
	}
	r, err := roster.ReadCSV("crew.csv", src.Bytes(), roster.Options{Encoding: "windows-1252"})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, row := range r.Rows {
		got = append(got, row.Field("name"))
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%q", got)
	}
}

// What Python's csv module writes in each of its dialects comes back cell by
// cell.
func TestPythonWrites(t *testing.T) {
	const script = `
import csv, sys
rows = [["number", "name", "note"], ["007", 'Quay "North"', "a,b;c\td"], ["0", "line\nbreak", " padded "], ["12345678901234567890", "", "'"], ["9", 'ends in "', '"'], ["8", "Ωμέγα", "="]]
w = csv.writer(open(1, "w", newline="", encoding="utf-8"), delimiter=sys.argv[1], quoting=int(sys.argv[2]), lineterminator=["\n", "\r\n"][int(sys.argv[3])])
w.writerows(rows)
`
	want := [][]string{{"number", "name", "note"}, {"007", `Quay "North"`, "a,b;c\td"}, {"0", "line\nbreak", " padded "},
		{"12345678901234567890", "", "'"}, {"9", `ends in "`, `"`}, {"8", "Ωμέγα", "="}}
	for _, delimiter := range []string{",", ";", "\t"} {
		for _, quoting := range []string{"0", "1", "2"} { // minimal, all, non-numeric
			for _, ends := range []string{"0", "1"} {
				src, err := exec.Command("/usr/bin/python3", "-c", script, delimiter, quoting, ends).Output()
				if err != nil {
					t.Fatal(err)
				}
				r, err := roster.ReadCSV("crew.csv", src, roster.Options{})
				if err != nil {
					t.Errorf("%q %s %s: %v", delimiter, quoting, ends, err)
				} else if got := table(r); !reflect.DeepEqual(got, want) {
					t.Errorf("%q %s %s: %q", delimiter, quoting, ends, got)
				}
			}
		}
	}
}
