package fill

import (
	"image"
	"image/draw"
	"math"
	"math/rand/v2"
	"testing"

	"golang.org/x/image/vector"
)

func coverage(w, h int, rule Rule, outline func(*Raster)) []uint8 {
	var r Raster
	r.Reset(w, h)
	outline(&r)
	out := make([]uint8, w*h)
	r.Coverage(out, rule)
	return out
}

func polygon(points ...Point) func(*Raster) {
	return func(r *Raster) {
		r.MoveTo(points[0])
		for _, p := range points[1:] {
			r.LineTo(p)
		}
	}
}

// x/image/vector is another implementation of the same sum. It cuts curves into
// coarser chords, so edges alone are compared.
func TestAgainstVector(t *testing.T) {
	const w, h = 530, 47 // above 512 it works in floats, below in whole 1/512 of a dot
	rnd := rand.New(rand.NewPCG(3, 4))
	for n := range 300 {
		var mine Raster
		mine.Reset(w, h)
		theirs := vector.NewRasterizer(w, h)
		at := func() (Point, float32, float32) {
			x, y := rnd.Float64()*900-200, rnd.Float64()*120-40
			return Point{x, y}, float32(x), float32(y)
		}
		for range 2 {
			p, x, y := at()
			mine.MoveTo(p)
			theirs.MoveTo(x, y)
			for range 5 {
				p, x, y := at()
				mine.LineTo(p)
				theirs.LineTo(x, y)
			}
			mine.Close()
			theirs.ClosePath()
		}
		got := make([]uint8, w*h)
		mine.Coverage(got, NonZero)
		want := image.NewAlpha(image.Rect(0, 0, w, h))
		theirs.DrawOp = draw.Src
		theirs.Draw(want, want.Rect, image.Opaque, image.Point{})
		for i := range got {
			// It works in 32-bit floats.
			if d := int(got[i]) - int(want.Pix[i]); d < -2 || d > 2 {
				t.Fatalf("outline %d, dot %d, %d: %d, not %d", n, i%w, i/w, got[i], want.Pix[i])
			}
		}
	}
}

func TestExact(t *testing.T) {
	square := polygon(Point{1.25, 1}, Point{3.5, 1}, Point{3.5, 2.5}, Point{1.25, 2.5})
	want := []uint8{
		0, 0, 0, 0, 0,
		0, 191, 255, 128, 0,
		0, 96, 128, 64, 0,
	}
	got := coverage(5, 3, NonZero, square)
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("dot %d: %d, not %d", i, got[i], want[i])
		}
	}
}

func TestRules(t *testing.T) {
	two := func(r *Raster) { // two squares of the same direction, one in the other
		polygon(Point{0, 0}, Point{9, 0}, Point{9, 9}, Point{0, 9})(r)
		polygon(Point{3, 3}, Point{6, 3}, Point{6, 6}, Point{3, 6})(r)
	}
	if v := coverage(9, 9, NonZero, two)[4*9+4]; v != 255 {
		t.Errorf("nonzero: %d inside both", v)
	}
	if v := coverage(9, 9, EvenOdd, two); v[4*9+4] != 0 || v[0] != 255 {
		t.Errorf("even-odd: %d inside both, %d inside one", v[4*9+4], v[0])
	}
}

// The area of a circle of 4 Bezier arcs is pi r^2 to 0.03 % (Goldapp 1991).
func TestCircleArea(t *testing.T) {
	const k, rad = 0.5522847498, 20.3
	c := Point{25.1, 24.7}
	at := func(x, y float64) Point { return Point{c.X + x*rad, c.Y + y*rad} }
	sum := 0
	for _, v := range coverage(50, 50, NonZero, func(r *Raster) {
		r.MoveTo(at(1, 0))
		r.CubeTo(at(1, k), at(k, 1), at(0, 1))
		r.CubeTo(at(-k, 1), at(-1, k), at(-1, 0))
		r.CubeTo(at(-1, -k), at(-k, -1), at(0, -1))
		r.CubeTo(at(k, -1), at(1, -k), at(1, 0))
	}) {
		sum += int(v)
	}
	if got, want := float64(sum)/255, math.Pi*rad*rad; math.Abs(got/want-1) > 0.002 {
		t.Errorf("area %.1f, not %.1f", got, want)
	}
}

func FuzzRaster(f *testing.F) {
	f.Add(1.5, -3.0, 1e9, 2.0, 5.0, -1e12, math.NaN(), math.Inf(1))
	f.Add(0.0, 0.0, 7.0, 0.0, 7.0, 5.0, 0.0, 5.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, f, g, h float64) {
		coverage(7, 5, EvenOdd, func(r *Raster) {
			r.MoveTo(Point{a, b})
			r.LineTo(Point{c, d})
			r.CubeTo(Point{e, f}, Point{g, h}, Point{a, d})
		})
	})
}

func BenchmarkGlyphSized(b *testing.B) {
	var r Raster
	out := make([]uint8, 40*40)
	for b.Loop() {
		r.Reset(40, 40)
		r.MoveTo(Point{2, 2})
		r.CubeTo(Point{40, 0}, Point{0, 40}, Point{38, 38})
		r.LineTo(Point{5, 30})
		r.Coverage(out, NonZero)
	}
}
