package roster_test

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unspool/roster"
)

func csv(t testing.TB, src string) *roster.Roster {
	t.Helper()
	r, err := roster.ReadCSV("crew.csv", []byte(src), roster.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestKeys(t *testing.T) {
	r := csv(t, "n,name\n1,a\n2,b\n,c\n1,d\n 2,e\n01,f\n1,g\n")
	want := []roster.KeyFault{
		{Kind: roster.KeyMissing, Row: 2},
		{Kind: roster.KeyDouble, Row: 3, Value: "1"},
		{Kind: roster.KeySpaced, Row: 4, Value: " 2"},
		{Kind: roster.KeyDouble, Row: 6, Value: "1"},
	}
	if got := r.Keys("n"); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	if got := append(r.Keys("name"), r.Keys("nothing")...); got != nil {
		t.Errorf("%+v", got)
	}
}

func TestLostZeros(t *testing.T) {
	column := func(values ...string) *roster.Roster {
		return csv(t, "x,n\n-,"+strings.Join(values, "\n-,")+"\n")
	}
	for _, c := range []struct {
		values []string
		want   []roster.Suspicion
	}{
		{[]string{"100017", "4711", "100018", "", "99", "100019"}, []roster.Suspicion{{1, "4711", "004711"}, {4, "99", "000099"}}},
		{[]string{"100017", "100018", "100019"}, nil},
		{[]string{"100017", "4711", "1000200", "100018"}, nil}, // lengths differ both ways
		{[]string{"100017", "4711", "12"}, nil},                // no length prevails
		{[]string{"100017", "A4711", "100018"}, nil},
		{[]string{"7", "8", "9"}, nil},
		{[]string{"Ann", "Bo", "Cy"}, nil},
	} {
		if got := column(c.values...).LostZeros("n"); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v: %+v", c.values, got)
		}
	}
}

// checkRoster holds what every roster promises.
func checkRoster(t *testing.T, r *roster.Roster, err error) {
	if (r == nil) == (err == nil) {
		t.Fatalf("roster %v, error %v", r, err)
	}
	if err != nil {
		if !strings.HasPrefix(err.Error(), "r:") {
			t.Errorf("%v", err)
		}
		return
	}
	if len(r.Rows) == 0 || len(r.Columns) == 0 {
		t.Error("an empty roster")
	}
	last := 0
	for _, row := range r.Rows {
		if row.Line <= last {
			t.Errorf("line %d after %d", row.Line, last)
		}
		last = row.Line
		for _, c := range r.Columns {
			row.Field(c)
		}
	}
	for _, c := range r.Columns {
		r.Keys(c)
		r.LostZeros(c)
	}
}

func FuzzReadCSV(f *testing.F) {
	for _, s := range []string{"", "a,b\n1,2\n", "a;b\r\n\"1\";\"2\"\"\"\r\n", "\ufeffa\tb\n1\t2", "a\nZo\xeb", "a,b\n\"1\n2\",3\n", "\xff\xfea", "a,a\n", "a,b\n1\n"} {
		f.Add([]byte(s), "")
		f.Add([]byte(s), "windows-1252")
	}
	f.Fuzz(func(t *testing.T, src []byte, encoding string) {
		r, err := roster.ReadCSV("r", src, roster.Options{Encoding: encoding})
		checkRoster(t, r, err)
	})
}

func FuzzReadXLSX(f *testing.F) {
	src := workbook(f, cell{"A1", "a", ""}, cell{"B1", "b", ""}, cell{"A2", 1, "000"}, cell{"B2", 1e20, ""}, cell{"A3", formula("1+1"), ""})
	f.Add(src)
	f.Add(src[:len(src)/2])
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, src []byte) {
		r, err := roster.ReadXLSX("r", src, roster.Options{})
		checkRoster(t, r, err)
	})
}

// FuzzSheet changes the XML of the sheet inside a sound workbook, where a
// change of the packed bytes would hardly ever get past the checksums.
func FuzzSheet(f *testing.F) {
	src := workbook(f, cell{"A1", "a", ""}, cell{"A2", "x", ""})
	f.Add(`<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>a</t></is></c></row><row r="2"><c r="A2"><v>1E+20</v></c></row></sheetData></worksheet>`)
	f.Add(`<worksheet><sheetData><row r="9"><c t="s"><v>99</v></c></row><row r="2"><c r="ZZZZ2"><f>1</f></c></row></sheetData></worksheet>`)
	f.Fuzz(func(t *testing.T, sheet string) {
		changed := rewrite(t, src, "xl/worksheets/sheet1.xml", func(string) string { return sheet + " " })
		r, err := roster.ReadXLSX("r", changed, roster.Options{})
		checkRoster(t, r, err)
	})
}

func people(n int) string {
	var b strings.Builder
	b.WriteString("number;given;family;role;photo;deck\n")
	for i := range n {
		fmt.Fprintf(&b, "%06d;Given%d;\"Family; %d\";Deckhand;%06d.jpg;%d\n", i, i, i, i, i%7)
	}
	return b.String()
}

func BenchmarkReadCSV10000(b *testing.B) {
	src := []byte(people(10_000))
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := roster.ReadCSV("crew.csv", src, roster.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadXLSX10000(b *testing.B) {
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	for i, line := range strings.Split(strings.TrimSpace(people(10_000)), "\n") {
		var cells []any
		for _, c := range strings.SplitN(line, ";", 6) {
			cells = append(cells, c)
		}
		if err := w.SetRow(fmt.Sprintf("A%d", i+1), cells); err != nil {
			b.Fatal(err)
		}
	}
	var src bytes.Buffer
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	if err := f.Write(&src); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := roster.ReadXLSX("crew.xlsx", src.Bytes(), roster.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkField(b *testing.B) {
	r := csv(b, people(10_000))
	b.ReportAllocs()
	for b.Loop() {
		r.Rows[9_999].Field("family")
	}
}
