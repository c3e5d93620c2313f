package light

import (
	"bytes"
	"flag"
	"image"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// TestBareDots: without growth and spread a dot of the picture is package ink's.
func TestBareDots(t *testing.T) {
	p := scribble(rand.New(rand.NewPCG(2, 2)), 300, 300)
	clear(p.S)
	s := Scene{Model: ink.Usual()}
	lamp := ink.Band(880, 60)
	pic, table := s.Under(lamp).Picture(p, p.Rect()), ink.Usual().Under(lamp)
	for i, got := range pic.R {
		want := table.R(p.Y[i], p.M[i], p.C[i], p.K[i] == 1)
		if p.O[i] == 1 {
			want = table.Overlaid(want)
		}
		if math.Abs(float64(got-want)) > 2e-6 {
			t.Fatalf("dot %d: %v, want %v", i, got, want)
		}
	}
	eye := s.Eye(ink.Absolute).Picture(p, p.Rect())
	for i := range p.K {
		c := ink.Usual().Eye(ink.Amounts{Y: p.Y[i], M: p.M[i], C: p.C[i], K: p.K[i] == 1})
		for j := range 3 {
			if off := int(eye.Pix[4*i+j]) - int(c[j]); off < -2 || off > 2 { // EyeTable's own tolerance
				t.Fatalf("dot %d: %v, want %v", i, eye.Pix[4*i:4*i+3], c)
			}
		}
	}
}

// Dots of the picture are the dot means of the slow computation, where marks do
// not meet.
func TestPictureIsThatOfTheModel(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for _, s := range []Scene{
		{SpreadDye: 30 * um, SpreadResin: 12 * um},
		{GrowthX: 42 * um, GrowthY: 21 * um, SpreadDye: 20 * um, SpreadResin: 10 * um},
		{GrowthX: -21 * um, GrowthY: -42 * um, SpreadDye: 20 * um, SpreadResin: 10 * um},
	} {
		s.Model = ink.Usual()
		l := s.Under(ink.Line(660))
		for _, upright := range []bool{false, true} {
			p := face(16, 16, 300, 300)
			for i := range 16 {
				k, c := uint8(rng.IntN(2)), uint8(rng.IntN(256))
				for j := range 16 {
					at := p.At(i, j)
					if upright {
						at = p.At(j, i)
					}
					p.K[at], p.C[at] = k, c
				}
			}
			ref := newSlow(l, p, 16)
			r := plane.Rect{X0: 2, Y0: 3, X1: 15, Y1: 16}
			pic := l.Picture(p, r)
			for i, got := range pic.R {
				x, y := r.X0+i%pic.W, r.Y0+i/pic.W
				var a amounts
				for ch := range a {
					a[ch] = float32(ref.mean(ch, x, y))
				}
				if want := l.reflect(&a); math.Abs(float64(got-want)) > 0.005 {
					t.Fatalf("%+v, upright %v: dot %d,%d is %.3f, want %.3f", s, upright, x, y, got, want)
				}
			}
		}
	}
}

// mean is the mean amount within a dot.
func (s *slow) mean(ch, x, y int) float64 {
	sum := 0.0
	for j := range s.fine {
		for i := range s.fine {
			sum += s.layers[ch][(y*s.fine+j)*s.w+x*s.fine+i]
		}
	}
	return sum / float64(s.fine*s.fine)
}

// Beyond the face there is nothing, and nothing panics.
func TestPicturesClip(t *testing.T) {
	p := face(5, 4, 300, 300)
	s := Scene{Model: ink.Usual(), SpreadDye: 500 * um, GrowthX: 900 * um}
	l := s.Under(ink.Line(660))
	for _, r := range []plane.Rect{{}, {X0: -3, Y0: -3, X1: 2, Y1: 2}, {X0: 4, Y0: 3, X1: 90, Y1: 90}, {X0: 9, Y0: 9, X1: 12, Y1: 12}} {
		want := r.And(p.Rect())
		pic, eye := l.Picture(p, r), s.Eye(ink.CardWhite).Picture(p, r)
		if pic.W != want.W() || pic.H != want.H() || len(pic.R) != pic.W*pic.H || eye.Rect.Dx() != pic.W || eye.Rect.Dy() != pic.H {
			t.Errorf("%v: %d by %d", r, pic.W, pic.H)
		}
	}
}

// sample is a small face: bars in resin, in composite black and in red; below,
// patches of the dyes and their mixtures, with resin and overlay over parts.
func sample() *panel.Panels {
	p := face(150, 90, 300, 300)
	bars := []int{3, 3, 8, 3, 3, 8, 3, 3, 8}
	for set, dye := range [][4]uint8{{0, 0, 0, 1}, {255, 255, 255, 0}, {255, 255, 0, 0}} {
		x := 4 + 49*set
		for i, w := range bars {
			if i%2 == 0 {
				paint(p, plane.Rect{X0: x, Y0: 5, X1: x + w, Y1: 42}, dye)
			}
			x += w
		}
	}
	for i, dye := range [][4]uint8{{255, 0, 0, 0}, {0, 255, 0, 0}, {0, 0, 255, 0}, {255, 255, 0, 0}, {255, 0, 255, 0}, {0, 255, 255, 0}, {128, 128, 128, 0}, {255, 255, 255, 0}} {
		paint(p, plane.Rect{X0: 3 + 18*i, Y0: 48, X1: 19 + 18*i, Y1: 84}, dye)
	}
	paint(p, plane.Rect{X0: 3, Y0: 62, X1: 147, Y1: 68}, [4]uint8{0, 0, 0, 1})
	for y := 74; y < p.H; y++ {
		for x := range p.W {
			p.O[p.At(x, y)] = 1
		}
	}
	return p
}

func paint(p *panel.Panels, r plane.Rect, dye [4]uint8) {
	for y := r.Y0; y < r.Y1; y++ {
		for x := r.X0; x < r.X1; x++ {
			i := p.At(x, y)
			p.Y[i], p.M[i], p.C[i], p.K[i] = max(p.Y[i], dye[0]), max(p.M[i], dye[1]), max(p.C[i], dye[2]), max(p.K[i], dye[3])
		}
	}
}

var usual = Scene{Model: ink.Usual(), GrowthX: 20 * um, GrowthY: 5 * um, SpreadDye: 30 * um, SpreadResin: 12 * um}

// The golden pictures are what this package once made and someone has looked
// at. One grey level of room is left for the sums of other processors.
func TestGoldenPictures(t *testing.T) {
	p := sample()
	for name, nm := range map[string]unit.Nanometres{"550.png": 550, "660.png": 660, "940.png": 940} {
		pic := usual.Under(ink.Line(nm)).Picture(p, p.Rect())
		m := image.NewGray(image.Rect(0, 0, pic.W, pic.H))
		for i, r := range pic.R {
			m.Pix[i] = uint8(255*r + 0.5)
		}
		golden(t, name, m, m.Pix, func(m image.Image) []uint8 { return m.(*image.Gray).Pix })
	}
	eye := usual.Eye(ink.CardWhite).Picture(p, p.Rect())
	golden(t, "eye.png", eye, eye.Pix, func(m image.Image) []uint8 { return m.(*image.RGBA).Pix })
}

func golden(t *testing.T, name string, m image.Image, pix []uint8, pixOf func(image.Image) []uint8) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		var b bytes.Buffer
		if err := png.Encode(&b, m); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	kept, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	want := pixOf(kept)
	if len(want) != len(pix) {
		t.Fatalf("%s: size differs", name)
	}
	for i := range pix {
		if off := int(pix[i]) - int(want[i]); off < -1 || off > 1 {
			t.Fatalf("%s: value %d is %d, was %d", name, i, pix[i], want[i])
		}
	}
}
