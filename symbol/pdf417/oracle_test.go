package pdf417

import (
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

// zint (2.11.1) draws random texts. Each reads back with no codeword wrong or
// unread, and drawn again from its codewords is the very same: so all tables are
// those of zint. Of our own no symbol may have more rows.
func TestZintDrawsTheSameAndNoSmaller(t *testing.T) {
	var texts []string
	for i, alphabet := range []string{ascii()[1:], "0123456789", "0123456789aA ", "abc;Def", " ABCdef0123456789.,/"} {
		texts = append(texts, symboltest.Texts(uint64(i), 100, 120, alphabet)...)
	}
	texts = append(texts, licence)
	smaller, larger := 0, 0
	for _, c := range []struct {
		o    Options
		args []string
	}{
		{Options{Columns: 4, Level: 2}, []string{"-b", "PDF417", "--cols=4", "--secure=2", "--height=300"}},
		{Options{Columns: 5, Level: 1, Compact: true}, []string{"-b", "PDF417TRUNC", "--cols=5", "--secure=1", "--height=300"}},
	} {
		for i, g := range symboltest.ZintGrids(t, texts, c.args...) {
			r, err := Decode(g)
			if err != nil || r.Text != texts[i] || !r.Truth.Equal(g) || r.UEC() != 1 {
				t.Fatalf("%q: read %q from zint, UEC %v: %v", texts[i], r.Text, r.UEC(), err)
			}
			ours := must(t, texts[i], c.o)
			if ours.W != g.W {
				t.Fatalf("%q: %d modules wide, zint %d", texts[i], ours.W, g.W)
			}
			switch {
			case ours.H < g.H:
				smaller++
			case ours.H > g.H:
				larger++
				t.Logf("%q: %d rows, zint %d", texts[i], ours.H, g.H)
			}
		}
	}
	t.Logf("%d of %d symbols have fewer rows than zint's, %d more", smaller, 2*len(texts), larger)
	if larger > 0 || smaller == 0 {
		t.Errorf("%d symbols are larger than zint's, %d smaller", larger, smaller)
	}
}

// zint draws every symbol character of the table.
func TestZintDrawsEveryCharacter(t *testing.T) {
	texts := symboltest.Texts(17, 90, 400, allBytes()[128:])
	seen := map[character]bool{}
	for i, g := range symboltest.ZintGrids(t, texts, "-b", "PDF417", "--binary", "--cols=20", "--secure=8", "--height=300") {
		r, err := Decode(g)
		if err != nil || string(r.Data) != texts[i] || !r.Truth.Equal(g) || r.UEC() != 1 {
			t.Fatalf("symbol %d: UEC %v: %v", i, r.UEC(), err)
		}
		for y, cells := range gridCells(g) {
			for _, c := range cells[1:21] {
				seen[character{int8(y % clusters), int16(c.Codeword)}] = true
			}
		}
	}
	if len(seen) != clusters*prime {
		t.Errorf("zint drew %d of %d characters", len(seen), clusters*prime)
	}
}

// zxing-cpp (1.4) reads every symbol drawn here.
func TestZxingReadsWhatIsDrawn(t *testing.T) {
	type drawn struct {
		text string
		o    Options
	}
	var all []drawn
	for i, alphabet := range []string{ascii(), "0123456789aA ", "abc;Def", "0123456789"} {
		for k, text := range symboltest.Texts(uint64(40+i), 100, 70, alphabet) {
			all = append(all, drawn{text, Options{Columns: k % 9, Compact: k%3 == 2}})
		}
	}
	for k, text := range symboltest.Texts(50, 100, 70, allBytes()) {
		all = append(all, drawn{text, Options{Binary: true, Columns: k % 9, Compact: k%3 == 2}})
	}
	for _, text := range []string{licence, "Zoë Łucja Ångström", "渡し船 42", "Σ é 42"} {
		all = append(all, drawn{text, Options{}})
	}
	grids := make([]symbol.Grid, len(all))
	for i, d := range all {
		if d.o.Columns > 0 && len(d.text) > 40 {
			d.o.Columns += 4
		}
		grids[i] = tall(must(t, d.text, d.o).Grid)
	}
	for i, f := range symboltest.ReadGrids(t, "PDF417", 2, grids) {
		d := all[i]
		if f.Bytes == nil || *f.Bytes != hex.EncodeToString([]byte(d.text)) {
			t.Errorf("%q %+v: zxing-cpp read %s", d.text, d.o, shown(f.Bytes))
		}
		if strings.ContainsFunc(d.text, func(r rune) bool { return r > 0x7f }) && !d.o.Binary && (f.Text == nil || *f.Text != d.text) {
			t.Errorf("%q: zxing-cpp read the text %s", d.text, shown(f.Text))
		}
	}
}

func shown(s *string) string {
	if s == nil {
		return "nothing"
	}
	return fmt.Sprintf("%q", *s)
}

// tall is a grid with rows of three modules.
func tall(g symbol.Grid) symbol.Grid {
	t := symbol.NewGrid(g.W, 3*g.H)
	for y := range t.H {
		copy(t.Dark[y*g.W:], g.Dark[y/3*g.W:][:g.W])
	}
	return t
}
