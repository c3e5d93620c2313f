package grade

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"unspool/plane"
	"unspool/symbol"
	"unspool/symbol/qr"
)

// worse are kinds of damage to modules; amount grows from 0 to 1. Each does the
// same to the same seed, only more of it.
var worse = map[string]func(m *Modules, g *Geometry, rng *rand.Rand, amount float64){
	"flips": func(m *Modules, _ *Geometry, rng *rand.Rand, amount float64) {
		order := rng.Perm(m.W * m.H)
		for _, i := range order[:int(0.15*amount*float64(len(order)))] {
			m.flip(i)
		}
	},
	"noise": func(m *Modules, _ *Geometry, rng *rand.Rand, amount float64) {
		for i := range m.R {
			m.R[i] += float32(amount * 0.5 * (rng.Float64() - 0.5))
		}
	},
	"blur": func(m *Modules, _ *Geometry, _ *rand.Rand, amount float64) {
		m.around(func(own, beside float64) float64 { return own + amount*0.9*(beside-own) })
	},
	"contrast lost": func(m *Modules, _ *Geometry, _ *rand.Rand, amount float64) {
		_, hi := extremes(m.R)
		for i, v := range m.R {
			m.R[i] = v + float32(amount)*(hi-v)
		}
	},
	"growth": func(m *Modules, _ *Geometry, _ *rand.Rand, amount float64) {
		m.around(func(own, beside float64) float64 { return min(own, own+amount*(beside-own)) })
	},
	"loss": func(m *Modules, _ *Geometry, _ *rand.Rand, amount float64) {
		m.around(func(own, beside float64) float64 { return max(own, own+amount*(beside-own)) })
	},
	"grid distortion": func(m *Modules, g *Geometry, rng *rand.Rand, amount float64) {
		l := Lattice{W: m.W, H: m.H}
		for i := range m.W * m.H {
			l.At = append(l.At, plane.Point{X: float64(i%m.W) + amount*(rng.Float64()-0.5), Y: float64(i/m.W) + amount*(rng.Float64()-0.5)})
		}
		*g, _ = l.Geometry()
	},
	"stretch": func(_ *Modules, g *Geometry, rng *rand.Rand, amount float64) {
		g.AN = amount * (0.1 + 0.1*rng.Float64())
	},
}

// around gives every module a new reflectance by its own and the mean of the four
// beside it.
func (m *Modules) around(f func(own, beside float64) float64) {
	old, w := slices.Clone(m.R), m.W+2*m.Quiet
	h := len(old) / w
	for i, v := range old {
		x, y, sum := i%w, i/w, 0.0
		for _, d := range [][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
			sum += float64(old[min(max(y+d[1], 0), h-1)*w+min(max(x+d[0], 0), w-1)])
		}
		m.R[i] = float32(f(float64(v), sum/4))
	}
}

// Damage of one kind never raises a grade as it grows, and in the end takes the
// best away: 200 seeds of each kind, a symbology by turns.
func TestMatrixDamageNeverHelps(t *testing.T) {
	for name, damage := range worse {
		for seed := range uint64(200) {
			s, decode, kind := someSymbol(t, seed)
			before, last := Quality{Grade: Grade{Value: 5}}, 0.0
			for step := range 7 {
				m, g := shown(s, 4, 0.85, 0.04), Geometry{}
				damage(&m, &g, rand.New(rand.NewPCG(seed, 77)), float64(step)/6)
				q := Matrix(kind, m, decode, g, eight, 660)
				if q.Value > before.Value {
					t.Fatalf("%s, %s, seed %d: the grade rises from %s (%s) to %s (%s) in step %d", name, kind, seed, before.Text, before.Why, q.Text, q.Why, step)
				}
				before, last = q, q.Value
			}
			if last > 2 {
				t.Errorf("%s, %s, seed %d: still %s", name, kind, seed, before.Text)
			}
		}
	}
}

func someSymbol(t *testing.T, seed uint64) (symbol.Grid, func(symbol.Grid) (symbol.MatrixReading, error), string) {
	t.Helper()
	switch seed % 3 {
	case 0:
		s := newToy(seed, 24, 60, 2, 20)
		return s.truth, s.decode, "toy"
	case 1:
		s := frame(26, 1)
		return s.truth, s.decode, "datamatrix"
	}
	s := encodeQR(t, fmt.Sprintf("SH-%05d", seed), qr.Options{Level: qr.Level(seed / 3 % 4)})
	return s.Grid, qr.Decode, "qr"
}
