package grade

import (
	"math/rand/v2"
	"testing"

	"unspool/code"
	"unspool/plane"
	"unspool/symbol/pdf417"
)

// spoils are kinds of damage to a line; amount grows from 0 to 1. Each does the
// same to the same seed, only more of it.
var spoils = map[string]struct {
	line    func(p *painted, rng *rand.Rand, amount float64)
	samples func(p []float32, rng *rand.Rand, amount float64)
}{
	"noise": {samples: func(p []float32, rng *rand.Rand, amount float64) {
		for i := range p {
			p[i] += float32(0.5 * amount * (rng.Float64() - 0.5))
		}
	}},
	"spots": {samples: func(p []float32, rng *rand.Rand, amount float64) { // each grows darker
		for range 6 {
			at := rng.IntN(len(p) - 4)
			for j := range 4 {
				p[at+j] -= float32(amount) * p[at+j]
			}
		}
	}},
	"growth": {line: func(p *painted, rng *rand.Rand, amount float64) {
		g := amount * (1.2 + rng.Float64())
		for i := range p.widths {
			p.widths[i] += g * float64(2*(i%2)-1)
		}
	}},
	"contrast lost": {line: func(p *painted, rng *rand.Rand, amount float64) {
		to := dark + 0.2*rng.Float64()
		for i, v := range p.levels {
			p.levels[i] = v + amount*(to-v)
		}
	}},
	"uneven edges": {line: func(p *painted, rng *rand.Rand, amount float64) {
		for i := 1; i < len(p.widths); i++ {
			d := amount * 1.3 * (rng.Float64() - 0.5) // less than half a narrow element
			p.widths[i-1], p.widths[i] = p.widths[i-1]+d, p.widths[i]-d
		}
	}},
}

// 200 seeds of every kind of damage, a symbology by turns: the grade never rises.
func TestSeedsOfDamageNeverHelp(t *testing.T) {
	stack := newStacked(t, pdf417.Options{Columns: 2, Level: 2})
	for name, spoil := range spoils {
		spoiled := func(line painted, seed uint64, amount float64) plane.Profile {
			if spoil.line != nil {
				spoil.line(&line, rand.New(rand.NewPCG(seed, 1)), amount)
			}
			p := line.profile(5)
			if spoil.samples != nil {
				spoil.samples(p.Samples, rand.New(rand.NewPCG(seed, 2)), amount)
			}
			return p
		}
		spoilt := 0
		for seed := range uint64(200) {
			before, last := 5.0, 0.0
			for step := range 7 {
				amount := float64(step) / 6
				if seed%5 == 4 {
					var lines []plane.Profile
					for row := range stack.grid.H {
						lines = append(lines, spoiled(stack.line(row), seed+1000*uint64(row), amount))
					}
					q := PDF417(lines, Ed2000, eight, 660)
					last = q.Value
				} else {
					kind := names[seed%uint64(len(names))]
					d := draw(t, kind, texts[kind], 3)
					scan := Measure(spoiled(d.line(), seed, amount), d.kind, code.Options{}, Ed2000)
					// Growth of over half a module makes other digits of EAN's, and a line
					// of them may pass its check. That it is good at that is no merit.
					if last = scan.Grade; scan.Reading.Text != d.text {
						last = 0
					}
				}
				if last > before {
					t.Errorf("%s, seed %d: the grade rises from %v to %v in step %d", name, seed, before, last, step)
				}
				before = last
			}
			if last < 4 {
				spoilt++
			}
		}
		if spoilt < 100 { // growth moves no two similar edges apart: PDF417 stands it, and others much of it
			t.Errorf("%s: only %d of 200 lines are the worse for it", name, spoilt)
		}
	}
}
