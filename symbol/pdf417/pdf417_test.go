package pdf417

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
)

// modulesOf writes a grid as module strings, one a row.
func modulesOf(g symbol.Grid) string {
	rows := make([]string, g.H)
	for y := range rows {
		b := make([]byte, g.W)
		for x := range b {
			if b[x] = '0'; g.At(x, y) {
				b[x] = '1'
			}
		}
		rows[y] = string(b)
	}
	return strings.Join(rows, "/")
}

func must(t testing.TB, text string, o Options) symbol.Matrix {
	t.Helper()
	m, err := Encode(text, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// ISO/IEC 15438:2015 Annex Q, as the tests of zint give it; zint 2.11.1 draws the
// same.
func TestAnnexQ(t *testing.T) {
	m := must(t, "PDF417", Options{Columns: 2, Level: 1})
	const want = "1111111101010100011110101011110000110101000110000001110111011001100011110101011110000111111101000101001/" +
		"1111111101010100011111101010011100110100001110001001111010001010000011111101010111000111111101000101001/" +
		"1111111101010100011101010111111000101100110011110001100011111001001011101010011111100111111101000101001/" +
		"1111111101010100010101111001111000101011101110000001100001101000100010101111001111000111111101000101001/" +
		"1111111101010100011101011100011000100001101011111101111110110001011011101011100110000111111101000101001"
	if got := modulesOf(m.Grid); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if got := fmt.Sprint(check([]int{5, 453, 178, 121, 239}, 4)); got != "[452 327 657 619]" {
		t.Errorf("check codewords %s", got)
	}
	if r, err := Decode(m.Grid); err != nil || r.Text != "PDF417" {
		t.Errorf("%+v %v", r, err)
	}
}

// 929 characters a cluster, no two with the same edges: ISO/IEC 15438 Annex A.
func TestTable(t *testing.T) {
	for c, n := range []int{1484, 1002, 1002} {
		all := possible()[c]
		some := 0
		for i := range all {
			if isUsed(c, i) {
				some++
			}
		}
		if len(all) != n || some != prime || len(used[c])*4 < slices.Index(all, characters().patterns[c][prime-1]) {
			t.Errorf("cluster %d: %d patterns, %d of them used", c, len(all), some)
		}
	}
	if len(characters().of) != clusters*prime {
		t.Errorf("%d keys", len(characters().of))
	}
}
