package plane

import (
	"math"
	"testing"
)

// The mean over a circle, by geometry: of an even raster the value itself, of a
// step its height by the share of the circle's area, of a slope its middle.
func TestSpot(t *testing.T) {
	even, step, slope := Raster{W: 40, H: 30}, Raster{W: 40, H: 30}, Raster{W: 40, H: 30}
	for i := range 40 * 30 {
		x := i % 40
		even.V, slope.V = append(even.V, 0.4), append(slope.V, float32(x)/40)
		step.V = append(step.V, float32(min(x/20, 1)))
	}
	for _, d := range []float64{1, 3, 7.5, 12} {
		for _, p := range []Point{{20, 15}, {18.3, 14.7}, {21.9, 12.2}} {
			if v, ok := even.Spot(p, d); !ok || math.Abs(v-0.4) > 1e-6 {
				t.Errorf("even at %v through %v: %v", p, d, v)
			}
			if v, _ := slope.Spot(p, d); math.Abs(v-(p.X-0.5)/40) > 0.003 {
				t.Errorf("slope at %v through %v: %v", p, d, v)
			}
			u := min(max((p.X-20)/(d/2), -1), 1)
			want := (u*math.Sqrt(1-u*u) + math.Asin(u) + math.Pi/2) / math.Pi
			if v, _ := step.Spot(p, d); d >= 3 && math.Abs(v-want) > 0.02 {
				t.Errorf("step at %v through %v: %v, want %v", p, d, v, want)
			}
		}
	}
	if v, ok := even.Spot(Point{-1, 15}, 6); !ok || math.Abs(v-0.4) > 1e-6 {
		t.Errorf("over the edge: %v %v", v, ok)
	}
	for _, p := range []Point{{-9, 4}, {math.NaN(), 4}, {math.Inf(1), 4}} {
		if v, ok := even.Spot(p, 4); ok {
			t.Errorf("at %v: %v", p, v)
		}
	}
	if _, ok := (Raster{W: 3, H: 3, V: make([]float32, 8)}).Spot(Point{1, 1}, 1); ok {
		t.Error("a raster without its last sample")
	}
}
