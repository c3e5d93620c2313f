package grade

import (
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
	"unspool/symbol/pdf417"
)

// nearModules is how many modules around one a reader takes its threshold from
// (own judgement).
const nearModules = 5

// ReadModules is what a reader makes of a matrix symbol under its own light and
// spot: the reference decode without the thresholds of the grade. As Read does it
// follows uneven light, where the global threshold gives up. Where it does not
// read, why says so in words.
func ReadModules(m Modules, decode func(symbol.Grid) (symbol.MatrixReading, error)) (r symbol.MatrixReading, ok bool, why say.Text) {
	if why := m.unfit(); !why.IsZero() {
		return r, false, why
	}
	if lo, hi := extremes(m.R); hi-lo < readContrast {
		return r, false, say.Of(tooPale(float64(hi - lo)))
	}
	r, err := decode(m.Grid())
	if err == nil {
		return r, true, say.Text{}
	}
	if r, local := decode(m.near()); local == nil {
		return r, true, say.Text{}
	}
	return symbol.MatrixReading{}, false, say.Of(err)
}

// near is the symbol cut at the middle between the lightest and the darkest
// module around each.
func (m Modules) near() symbol.Grid {
	g := symbol.NewGrid(m.W, m.H)
	for y := range m.H {
		for x := range m.W {
			lo, hi := float32(4), float32(-1)
			for v := max(y-nearModules, -m.Quiet); v <= min(y+nearModules, m.H+m.Quiet-1); v++ {
				for u := max(x-nearModules, -m.Quiet); u <= min(x+nearModules, m.W+m.Quiet-1); u++ {
					lo, hi = min(lo, m.R[m.at(u, v)]), max(hi, m.R[m.at(u, v)])
				}
			}
			g.Set(x, y, m.R[m.at(x, y)] < (lo+hi)/2)
		}
	}
	return g
}

// ReadRows is what a reader makes of a PDF417 symbol from the profiles of lines
// across it, in the same way.
func ReadRows(profiles []plane.Profile) (r symbol.MatrixReading, ok bool, why say.Text) {
	var lines []pdf417.Line
	for _, p := range profiles {
		if l, ok := FindRow(p); ok {
			lines = append(lines, l.Line)
		}
	}
	if len(lines) == 0 {
		return r, false, say.Words("no line shows a row of it")
	}
	a, err := pdf417.Assemble(lines)
	if err != nil {
		return r, false, say.Of(err)
	}
	return a.MatrixReading, true, say.Text{}
}
