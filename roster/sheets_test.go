package roster

import (
	"bytes"
	"slices"
	"testing"

	"github.com/xuri/excelize/v2"
)

// The sheets of a workbook are those that were put in; what is no workbook has
// none.
func TestSheets(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	if _, err := f.NewSheet("Deck: all"); err == nil {
		t.Error("a colon in the name of a sheet")
	}
	if _, err := f.NewSheet("Deck & engine"); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	if got := Sheets(b.Bytes()); !slices.Equal(got, []string{"Sheet1", "Deck & engine"}) {
		t.Errorf("%q", got)
	}
	for _, src := range []string{"", "number\n1\n", "PK\x03\x04", b.String()[:200]} {
		if got := Sheets([]byte(src)); got != nil {
			t.Errorf("%.20q: %q", src, got)
		}
	}
}
