package symbol_test

import (
	"fmt"
	"math"
	"testing"

	"unspool/symbol"
)

// A character of 7 modules, 3 2 1 1: sums 5 and 3. Arithmetic on paper.
func TestEdgeKey(t *testing.T) {
	for _, c := range []struct {
		widths []float64
		want   string
	}{
		{[]float64{3, 2, 1, 1}, "53 true [1.00 1.00 1.00 1.00]"},
		{[]float64{30, 20, 10, 10}, "53 true [1.00 1.00 1.00 1.00]"},
		{[]float64{3.25, 2, .75, 1}, "53 true [0.50 0.50 0.50 1.00]"}, // 5.25 and 2.75
		{[]float64{3, 2.25, .75, 1}, "53 true [0.50 0.50 1.00 1.00]"}, // 5.25 and 3
		{[]float64{3, 2.5, .5, 1}, "63 true [0.00 0.00 1.00 1.00]"},   // on the threshold, which is the next one's
		{[]float64{.1, .1, 3, 3.8}, "0 false [1.00 1.00 1.00 1.00]"},
		{[]float64{6, 6, 1, 1}, "64 true [1.00 0.00 0.00 1.00]"}, // 6 and 3.5
	} {
		margins := symbol.Whole(4)
		key, ok := symbol.EdgeKey(c.widths, margins, symbol.Sum(c.widths), 7, 2)
		if got := fmt.Sprintf("%o %v %.2f", key, ok, margins); got != c.want {
			t.Errorf("%v: %s, want %s", c.widths, got, c.want)
		}
		worst := math.Min(math.Min(margins[0], margins[1]), math.Min(margins[2], margins[3]))
		if symbol.Worst(margins) != worst {
			t.Errorf("%v: worst %v", margins, symbol.Worst(margins))
		}
	}
	if key := symbol.KeyOf([]uint8{3, 2, 1, 1}, 2); key != 0o53 {
		t.Errorf("key %o", key)
	}
}
