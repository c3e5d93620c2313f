package qr

import (
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"unspool/symbol"
	"unspool/symbol/symboltest"
)

// alphabets are what the texts are made of, and what a character of each costs,
// about, in bits.
var alphabets = []struct {
	letters string
	bits    float64
}{
	{"0123456789", 10. / 3},
	{"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:", 5.5},
	{"abcdefghijklmnopqrstuvwxyz ,;=&#!", 8},
	{"aB0123456789", 7},
	{"0123456789ABCDEFGHIJab", 7},
}

// texts are random texts: one that nearly fills each version at a level, then
// shorter ones.
func texts(level Level, count int) []string {
	r := rand.New(rand.NewPCG(21, uint64(level)))
	list := make([]string, count)
	for i := range list {
		a, version, share := alphabets[i%len(alphabets)], 1+r.IntN(9), r.Float64()
		if i < versions {
			a, version, share = alphabets[i%3], 1+i, .985
		}
		n := max(1, int(float64(8*room(version, level)-20)/a.bits*share))
		b := make([]byte, n)
		for k := range b {
			b[k] = a.letters[r.IntN(len(a.letters))]
		}
		list[i] = string(b)
	}
	return list
}

// zint (2.11.1) draws every version and level; each of its symbols reads as its
// text, and none of ours is larger.
func TestReadsWhatZintDraws(t *testing.T) {
	drawn, same, smaller := map[string]bool{}, 0, 0
	const each = 125
	for level := L; level <= H; level++ {
		list := texts(level, each)
		for i, g := range symboltest.ZintGrids(t, list, "-b", "QRCODE", fmt.Sprintf("--secure=%d", level+1)) {
			r, err := Decode(g)
			if err != nil || r.Text != list[i] || r.UEC() != 1 || !r.Truth.Equal(g) {
				t.Fatalf("%q: read %q from zint, %v, errors %v", list[i], r.Text, err, r.Errors)
			}
			drawn[strings.Split(r.Spec, ",")[0]] = true
			switch ours := must(t, list[i], Options{Level: level}); {
			case ours.W > g.W:
				t.Errorf("%q: %d modules a side, zint %d", list[i], ours.W, g.W)
			case ours.W < g.W:
				smaller++
			case ours.Equal(g):
				same++
			}
		}
	}
	t.Logf("of %d symbols %d are zint's very modules and %d are smaller than zint's", 4*each, same, smaller)
	if len(drawn) != 4*versions || same < 4*each*3/4 {
		t.Errorf("%d versions and levels, %d equal", len(drawn), same)
	}
}

// The encoder's choices aside, the same data makes the same modules: every
// version, level and mask in short symbols, which zint and we split alike.
func TestZintDrawsTheSame(t *testing.T) {
	for v := 1; v <= versions; v++ {
		level, mask := Level(v%4), v/4%masks
		text := fmt.Sprintf("V%02d", v)
		args := []string{"-b", "QRCODE", fmt.Sprintf("--vers=%d", v), fmt.Sprintf("--secure=%d", level+1), fmt.Sprintf("--mask=%d", mask)}
		g := symboltest.ZintGrids(t, []string{text}, args...)[0]
		if s := must(t, text, Options{Level: level, Least: v, Masks: []int{mask}}); !s.Equal(g) {
			t.Errorf("%s: zint draws other modules", s.Spec)
		}
	}
}

// Character sets, Kanji mode, GS1 and bytes, as zint writes them.
func TestReadsZintsModes(t *testing.T) {
	for name, c := range map[string]struct {
		text, want, spec string
		args             []string
	}{
		"Latin":    {"Fähre über Öland", "Fähre über Öland", "", nil},
		"UTF-8":    {"Łódź 42", "Łódź 42", "", []string{"--eci=26"}},
		"Greek":    {"Ωμέγα", "Ωμέγα", "", []string{"--eci=9"}},
		"Kanji":    {"日本の船", "日本の船", "", []string{"--eci=20"}},
		"GS1":      {"[01]04012345123456[10]AB12[21]X%Y", "010401234512345610AB12\x1d21X%Y", firstPosition, []string{"--gs1", "--gs1nocheck"}},
		"GS1 only": {"[10]AB12[21]XY", "10AB12\x1d21XY", firstPosition, []string{"--gs1", "--gs1nocheck"}},
		"bytes":    {"\x00\x01\xfe\xff", "\x00\x01þÿ", "", []string{"--binary"}},
	} {
		g := symboltest.ZintGrids(t, []string{c.text}, append([]string{"-b", "QRCODE"}, c.args...)...)[0]
		r, err := Decode(g)
		if err != nil || r.Text != c.want || r.UEC() != 1 || !strings.HasSuffix(r.Spec, c.spec) {
			t.Errorf("%s: read %q %s, %v; want %q", name, r.Text, r.Spec, err, c.want)
		}
	}
}

// zxing-cpp and zbar read what is drawn: texts of every version and every level,
// texts of other languages, and bytes, for which zbar guesses a character set and is
// not asked.
func TestReadersReadWhatIsDrawn(t *testing.T) {
	var symbols []symbol.Matrix
	var plain []bool
	add := func(text string, o Options) {
		symbols, plain = append(symbols, must(t, text, o)), append(plain, !o.Binary)
	}
	r := rand.New(rand.NewPCG(31, 32))
	for level := L; level <= H; level++ {
		for i, text := range texts(level, 160) {
			if i >= versions || i%4 == int(level) { // each large version at one level
				add(text, Options{Level: level})
			}
		}
	}
	for i := range 60 {
		o := Options{Level: Level(i % 4), Masks: []int{i % masks}}
		b := make([]byte, 1+r.IntN(200))
		for k := range b {
			b[k] = byte(r.IntN(256))
		}
		o.Binary = true
		add(string(b), o)
	}
	for i, text := range symboltest.Texts(33, 60, 40, "aB1 ") {
		add(text+[]string{"ü", "Łódź", "Ωμέγα", "日本", "😀"}[i%5]+text, Options{Level: Level(i % 4)})
	}
	grids := make([]symbol.Grid, len(symbols))
	for i, s := range symbols {
		grids[i] = s.Grid
	}
	const dots = 4
	missed := 0
	for i, f := range symboltest.ReadGrids(t, "QRCode", dots, grids) {
		s := symbols[i]
		if f.Bytes == nil || *f.Bytes != hex.EncodeToString(s.Data) || plain[i] && *f.Text != s.Text {
			t.Errorf("%s %q: zxing-cpp reads %v", s.Spec, s.Text, f)
		}
		if plain[i] && !slices.Equal(f.Zbar, []string{s.Text}) {
			missed++
			t.Logf("%s %.40q: zbar reads %.40q", s.Spec, s.Text, f.Zbar)
		}
	}
	if missed > 0 {
		t.Errorf("zbar missed %d", missed)
	}
}
