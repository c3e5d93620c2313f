package symboltest

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"testing"

	"unspool/symbol"
)

// GridDecoder is the reference decoder of a matrix symbology.
type GridDecoder = func(symbol.Grid) (symbol.MatrixReading, error)

// WholeLayout proves that a layout accounts for a symbol: every module belongs to
// one part or one codeword or, spare of them, to neither; every codeword to one
// block and, but for those of no module, to bits modules.
func WholeLayout(t testing.TB, g symbol.Grid, l symbol.Layout, bits, spare int) {
	t.Helper()
	owned := make([]int, len(g.Dark))
	names := map[string]bool{}
	for _, p := range l.Parts {
		if p.Name == "" || names[p.Name] || len(p.Modules) == 0 {
			t.Fatalf("part %q of %d modules, or named twice", p.Name, len(p.Modules))
		}
		names[p.Name] = true
		for _, m := range p.Modules {
			owned[m]++
		}
	}
	count := map[int16]int{}
	for m, word := range l.Of {
		if word != symbol.NoCodeword {
			count[word]++
			owned[m]++
		}
		if owned[m] == 0 {
			spare--
		}
		if owned[m] > 1 {
			t.Fatalf("module %d belongs to %d", m, owned[m])
		}
	}
	if len(l.Of) != len(g.Dark) || spare != 0 {
		t.Fatalf("%d of %d modules told of, %d too few that carry nothing", len(l.Of), len(g.Dark), spare)
	}
	words := 0
	for _, b := range l.Blocks {
		for _, w := range b.Codewords {
			words++
			if count[int16(w)] != bits {
				t.Fatalf("codeword %d has %d modules, or is in two blocks", w, count[int16(w)])
			}
			delete(count, int16(w))
		}
		if b.Check <= 0 || b.Check >= len(b.Codewords) || b.Guard < 0 || b.Guard >= b.Check {
			t.Fatalf("block %+v", b)
		}
	}
	if len(count) > 0 {
		t.Fatalf("%d codewords are in none of the %d of blocks", len(count), words)
	}
}

// AnyWay reads a symbol, all well, in its eight ways to lie.
func AnyWay(t testing.TB, s symbol.Matrix, decode GridDecoder) {
	t.Helper()
	for _, mirrored := range []bool{false, true} {
		g := s.Grid
		if mirrored {
			g = g.Mirrored()
		}
		for turn := range 4 {
			ReadsAs(t, g, s, decode)
			if r, _ := decode(g); r.Turn != turn || r.Mirrored != mirrored {
				t.Fatalf("%s: turn %d mirrored %v read as %d, %v", s.Spec, turn, mirrored, r.Turn, r.Mirrored)
			}
			g = g.Turned()
		}
	}
}

// ReadsAs reads a grid without any error as a symbol's data.
func ReadsAs(t testing.TB, g symbol.Grid, s symbol.Matrix, decode GridDecoder) {
	t.Helper()
	r, err := decode(g)
	if err != nil || !bytes.Equal(r.Data, s.Data) || r.Text != s.Text || r.Spec != s.Spec {
		t.Fatalf("%s %q read as %s %q %q: %v", s.Spec, s.Data, r.Spec, r.Data, r.Text, err)
	}
	if !r.Truth.Equal(g) || r.UEC() != 1 || len(r.Errors) != len(r.Blocks) || len(r.Erasures) != len(r.Blocks) || len(r.Of) != len(g.Dark) {
		t.Fatalf("%s %q: a whole symbol reads with errors %v", s.Spec, s.Text, r.Errors)
	}
}

// Spoil makes wrong codewords in each block of a symbol: as many as wrong says,
// each by at least one of its modules. It gives the spoilt grid and the number in
// each block.
func Spoil(r *rand.Rand, s symbol.Matrix, wrong func(b symbol.Block) int) (symbol.Grid, []int) {
	g := symbol.Grid{W: s.W, H: s.H, Dark: slices.Clone(s.Dark)}
	modules := map[int][]int{}
	for m, w := range s.Of {
		modules[int(w)] = append(modules[int(w)], m)
	}
	var counts []int
	for _, b := range s.Blocks {
		n := wrong(b)
		counts = append(counts, n)
		for _, i := range r.Perm(len(b.Codewords))[:n] {
			own := modules[b.Codewords[i]]
			for _, k := range r.Perm(len(own))[:1+r.IntN(len(own))] {
				g.Dark[own[k]] = !g.Dark[own[k]]
			}
		}
	}
	return g, counts
}

// Mends proves that every number of wrong codewords that the blocks can mend is
// mended and counted, with a few modules of the fixed patterns wrong besides, and
// that one more a block is refused or, no oftener than most in the rounds, read
// as other data.
func Mends(t testing.TB, rounds, most int, draw func(r *rand.Rand) symbol.Matrix, decode GridDecoder) {
	t.Helper()
	r := rand.New(rand.NewPCG(7, 8))
	mistaken := 0
	for range rounds {
		s := draw(r)
		g, want := Spoil(r, s, func(b symbol.Block) int { return r.IntN((b.Check-b.Guard)/2 + 1) })
		for range 2 {
			p := s.Parts[r.IntN(len(s.Parts))]
			m := p.Modules[r.IntN(len(p.Modules))]
			g.Dark[m] = !s.Dark[m]
		}
		got, err := decode(g)
		if err != nil || !bytes.Equal(got.Data, s.Data) || !slices.Equal(got.Errors, want) || !got.Truth.Equal(s.Grid) {
			t.Fatalf("%s: %v codewords wrong, read %v: %v", s.Spec, want, got.Errors, err)
		}
		g, _ = Spoil(r, s, func(b symbol.Block) int { return (b.Check-b.Guard)/2 + 1 })
		if got, err := decode(g); err == nil {
			if bytes.Equal(got.Data, s.Data) && slices.Equal(got.Errors, want) {
				t.Fatalf("%s: read with more errors than can be mended", s.Spec)
			}
			mistaken++
		}
	}
	t.Logf("%d of %d symbols with one error too many in each block read as others", mistaken, rounds)
	if mistaken > most {
		t.Errorf("%d of %d symbols with one error too many in each block read as others, most %d", mistaken, rounds, most)
	}
}

// FuzzGrid holds a decoder to its promises on any grid: no panic, and what it
// reads is consistent.
func FuzzGrid(f *testing.F, seeds []symbol.Matrix, decode GridDecoder) {
	f.Helper()
	for _, s := range seeds {
		packed := make([]byte, (len(s.Dark)+7)/8)
		for i, d := range s.Dark {
			if d {
				packed[i/8] |= 1 << (i % 8)
			}
		}
		f.Add(s.W, s.H, packed)
	}
	f.Add(0, 0, []byte{})
	f.Add(-1, 21, []byte{1})
	f.Fuzz(func(t *testing.T, w, h int, packed []byte) {
		g := symbol.Grid{W: w, H: h}
		if n := w * h; w > 0 && h > 0 && w < 200 && h < 200 {
			g = symbol.NewGrid(w, h)
			for i := range min(n, 8*len(packed)) {
				g.Dark[i] = packed[i/8]>>(i%8)&1 == 1
			}
		}
		r, err := decode(g)
		if err != nil {
			if r.Data != nil || r.Text != "" || r.Of != nil {
				t.Fatalf("an error and yet a reading: %v", err)
			}
			return
		}
		if r.Truth.W != w || r.Truth.H != h || len(r.Of) != w*h || len(r.Errors) != len(r.Blocks) || r.Spec == "" {
			t.Fatalf("%+v", r)
		}
		again, err := decode(r.Truth)
		if err != nil || !bytes.Equal(again.Data, r.Data) || again.UEC() != 1 || !again.Truth.Equal(r.Truth) {
			t.Fatalf("the symbol mended reads otherwise: %v", err)
		}
	})
}
