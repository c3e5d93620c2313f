package scan

import (
	"math"
	"testing"

	"unspool/code"
	"unspool/plane"
	"unspool/symbol"
)

// drawn is a symbol on white, x samples an X, turned about the middle of a
// picture of w x h samples.
func drawn(t testing.TB, kind, text string, x, height int, turn float64, w, h int) plane.Raster {
	t.Helper()
	k, ok := code.ByName(kind)
	if !ok {
		t.Fatalf("no %s", kind)
	}
	l, err := k.Encode(text, code.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := code.PickSize(k, l, 300, x, 0)
	if err != nil {
		t.Fatal(err)
	}
	m, err := symbol.Raster(l, s, symbol.Drawing{Height: height, Quiet: [2]int{10 * x, 10 * x}})
	if err != nil {
		t.Fatal(err)
	}
	b := m.Bounds()
	return turned(w, h, turn, func(px, py float64) float64 {
		ix, iy := int(math.Floor(px+float64(b.Dx())/2)), int(math.Floor(py+float64(b.Dy())/2))
		if ix < 0 || iy < 0 || ix >= b.Dx() || iy >= b.Dy() {
			return 1
		}
		if r, _, _, _ := m.At(ix, iy).RGBA(); r < 1<<15 {
			return 0
		}
		return 1
	})
}

// turned paints what is at a place from the middle, turned by degrees, four by
// four places a sample, from 0.05 to 0.85 of reflectance.
func turned(w, h int, degrees float64, light func(x, y float64) float64) plane.Raster {
	r := plane.Raster{W: w, H: h, V: make([]float32, w*h)}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	for y := range h {
		for x := range w {
			sum := 0.0
			for k := range 16 {
				px := float64(x) + (float64(k%4)+0.5)/4 - float64(w)/2
				py := float64(y) + (float64(k/4)+0.5)/4 - float64(h)/2
				sum += light(px*cos+py*sin, -px*sin+py*cos)
			}
			r.V[y*w+x] = float32(0.05 + 0.8*sum/16)
		}
	}
	return r
}

// shown is a grid of modules, side samples each, on white, turned about the
// middle of a picture.
func shown(g symbol.Grid, side float64, turn float64, w, h int) plane.Raster {
	return turned(w, h, turn, func(px, py float64) float64 {
		u, v := px/side+float64(g.W)/2, py/side+float64(g.H)/2
		if u < 0 || v < 0 || u >= float64(g.W) || v >= float64(g.H) || !g.At(int(u), int(v)) {
			return 1
		}
		return 0
	})
}

// turnedBounds is the size of the box around w x h turned by degrees.
func turnedBounds(w, h, degrees float64) [2]float64 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	sin, cos = math.Abs(sin), math.Abs(cos)
	return [2]float64{w*cos + h*sin, w*sin + h*cos}
}
