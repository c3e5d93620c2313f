package grade

import (
	"math"

	"unspool/code"
	"unspool/symbol"
)

// barGain is by how much bars are wider than drawn, in X; negative where they
// are narrower. Spaces lose what bars gain, so in a two-width symbol half the
// difference of bars and spaces of one width is the gain, whatever was drawn. In
// a modular one each bar's nominal width is the nearest number of modules.
func barGain(widths []float64, r symbol.Reading, k code.Kind) float64 {
	if k.Family == symbol.Modular {
		return modularGain(widths, r.X)
	}
	var sum, count [2][2]float64 // by wide, space
	for _, c := range r.Chars {
		for i := c.From; i < c.To; i++ {
			wide := 0
			if widths[i] > r.X*(1+r.N)/2 {
				wide = 1
			}
			sum[wide][i%2] += widths[i]
			count[wide][i%2]++
		}
	}
	gain, bars := 0.0, 0.0
	for wide := range sum {
		if count[wide][0] > 0 && count[wide][1] > 0 {
			gain += count[wide][0] * (sum[wide][0]/count[wide][0] - sum[wide][1]/count[wide][1]) / 2
			bars += count[wide][0]
		}
	}
	if bars == 0 {
		return 0
	}
	return gain / bars / r.X
}

func modularGain(widths []float64, x float64) float64 {
	sum, bars := 0.0, 0.0
	for i := 0; i < len(widths); i += 2 {
		sum += widths[i]/x - math.Round(widths[i]/x)
		bars++
	}
	return sum / bars
}
