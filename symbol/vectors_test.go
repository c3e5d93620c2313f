package symbol_test

import (
	"maps"
	"testing"

	"unspool/symbol/symboltest"
)

// Every kind of row has a check in the folder of its symbology; a row of another
// kind, or a missing one, fails here.
func TestVectorsAreAllChecked(t *testing.T) {
	want := map[string]int{
		"code39": 3, "code39-mod43": 5, // code39
		"code128": 1, "code128-values": 3, "code128-table": 1, // code128
		"codabar": 1, "codabar-mod16": 2, "luhn-library14": 4, "luhn": 1, // codabar
		"itf": 1, "itf14": 2, "itf-mod10": 2, "itf-luhn-variant": 1, // itf
	}
	got := map[string]int{}
	for _, v := range symboltest.Vectors(t, "testdata/vectors.csv") {
		got[v.Kind]++
	}
	if !maps.Equal(got, want) {
		t.Errorf("rows by kind: %v, want %v", got, want)
	}
}
