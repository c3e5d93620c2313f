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
		"ean13": 1, "upca": 1, "upce": 1, "ean-mod10": 5, "ean-table": 1, // ean
		"code93": 3, "code93-table": 1, "isbt128-mod37-2": 1, // code93, isbt128
		"qr": 1, "qr-codewords": 1, "qr-format": 1, // qr
		"datamatrix": 1, "datamatrix-codewords": 1, // datamatrix
	}
	got := map[string]int{}
	for _, v := range symboltest.Vectors(t, "testdata/vectors.csv") {
		got[v.Kind]++
	}
	if !maps.Equal(got, want) {
		t.Errorf("rows by kind: %v, want %v", got, want)
	}
}
