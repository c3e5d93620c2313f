package aztec

import (
	"encoding/hex"
	"strconv"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

// zint (2.11.1) draws random texts at the default of 23 %. Each reads back without
// an error and drawn again from its codewords is the very same. Ours are larger
// only where zint keeps a codeword less for error correction; see TestCapacity.
func TestZintDrawsTheSame(t *testing.T) {
	var texts []string
	for i, alphabet := range []string{ascii()[1:], "0123456789", "0123456789aA ", "abc;Def. , ", " ABCdef0123456789.,/"} {
		texts = append(texts, symboltest.Texts(uint64(i), 100, 120, alphabet)...)
	}
	texts = append(texts, licence)
	smaller, larger := 0, 0
	for i, g := range symboltest.ZintGrids(t, texts, "-b", "AZTEC") {
		r, err := Decode(g)
		if err != nil || r.Text != texts[i] || !r.Truth.Equal(g) || r.UEC() != 1 {
			t.Fatalf("%q: read %q from zint, UEC %v: %v", texts[i], r.Text, r.UEC(), err)
		}
		ours := must(t, texts[i], Options{})
		switch {
		case ours.W < g.W:
			smaller++
		case ours.W > g.W:
			larger++
			t.Logf("%q: %s, zint %s", texts[i], ours.Spec, r.Spec)
		}
	}
	t.Logf("%d of %d symbols are smaller than zint's, %d larger", smaller, len(texts), larger)
	if larger > len(texts)/100 || smaller == 0 {
		t.Errorf("%d symbols are larger than zint's, %d smaller", larger, smaller)
	}
}

// zint draws every number of layers, and bytes, character sets and GS1 data.
func TestZintDrawsEveryForm(t *testing.T) {
	text := []string{"Sundhaven 42"}
	for size := 1; size <= 36; size++ {
		g := symboltest.ZintGrids(t, text, "-b", "AZTEC", "--vers="+strconv.Itoa(size))[0]
		if r, err := Decode(g); err != nil || r.Text != text[0] || !r.Truth.Equal(g) {
			t.Errorf("size %d: %q %s %v", size, r.Text, r.Spec, err)
		}
	}
	data := symboltest.Texts(3, 100, 90, allBytes())
	for i, g := range symboltest.ZintGrids(t, data, "-b", "AZTEC", "--binary") {
		if r, err := Decode(g); err != nil || string(r.Data) != data[i] || !r.Truth.Equal(g) {
			t.Errorf("%q: %q %v", data[i], r.Data, err)
		}
	}
	g := symboltest.ZintGrids(t, []string{"Łódź"}, "-b", "AZTEC", "--eci=26")[0]
	if r, err := Decode(g); err != nil || r.Text != "Łódź" {
		t.Errorf("%q %v", r.Text, err)
	}
	g = symboltest.ZintGrids(t, []string{"[10]AB12[21]XY"}, "-b", "AZTEC", "--gs1", "--gs1nocheck")[0]
	if r, err := Decode(g); err != nil || r.Text != "10AB12\x1d21XY" || !strings.HasSuffix(r.Spec, ", FNC1 in first position") {
		t.Errorf("%q %s %v", r.Text, r.Spec, err)
	}
}

// zxing-cpp (1.4) reads every symbol drawn here. It takes a GS at the head, or after
// a letter or two digits there, for FNC1, so that texts begin with three letters
// where there is one.
func TestZxingReadsWhatIsDrawn(t *testing.T) {
	type drawn struct {
		text string
		o    Options
	}
	var all []drawn
	for i, alphabet := range []string{ascii(), "0123456789aA ", "abc;Def. , ", "0123456789"} {
		for _, text := range symboltest.Texts(uint64(40+i), 100, 90, alphabet) {
			all = append(all, drawn{text, Options{}})
		}
	}
	for _, text := range symboltest.Texts(50, 100, 90, allBytes()) {
		all = append(all, drawn{text, Options{Binary: true}})
	}
	for _, text := range []string{licence, "Zoë Łucja Ångström", "渡し船 42", "Σ é 42"} {
		all = append(all, drawn{text, Options{Check: 40}})
	}
	for _, o := range every() {
		all = append(all, drawn{"S 42", o})
	}
	grids := make([]symbol.Grid, len(all))
	for i, d := range all {
		if at := strings.IndexByte(d.text, 0x1d); at >= 0 && at < 3 {
			d.text = "Sun" + d.text
			all[i] = d
		}
		grids[i] = must(t, d.text, d.o).Grid
	}
	for i, f := range symboltest.ReadGrids(t, "Aztec", 3, grids) {
		d := all[i]
		if f.Bytes == nil || *f.Bytes != hex.EncodeToString([]byte(d.text)) {
			got := "nothing"
			if f.Bytes != nil {
				got = *f.Bytes
			}
			t.Errorf("%q %+v: zxing-cpp read %s, want %x", d.text, d.o, got, d.text)
		}
	}
}
