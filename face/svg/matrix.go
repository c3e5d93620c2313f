package svg

import (
	"math"
	"strings"

	"unspool/face/fill"
)

// point is a place in the units of a drawing.
type point = fill.Point

// matrix takes (x, y) to (a x + c y + e, b x + d y + f), as in SVG 1.1, 7.4.
type matrix struct{ a, b, c, d, e, f float64 }

var identity = matrix{a: 1, d: 1}

// times is m after n.
func (m matrix) times(n matrix) matrix {
	return matrix{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b,
		m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

func (m matrix) apply(p point) point {
	return point{X: m.a*p.X + m.c*p.Y + m.e, Y: m.b*p.X + m.d*p.Y + m.f}
}

// inverse is false where m flattens the plane.
func (m matrix) inverse() (matrix, bool) {
	det := m.a*m.d - m.b*m.c
	if det == 0 || math.IsNaN(det) || math.IsInf(det, 0) {
		return matrix{}, false
	}
	return matrix{
		m.d / det, -m.b / det, -m.c / det, m.a / det,
		(m.c*m.f - m.d*m.e) / det, (m.b*m.e - m.a*m.f) / det,
	}, true
}

// scale is how much longer m makes what it makes longest, roughly.
func (m matrix) scale() float64 {
	return max(math.Hypot(m.a, m.b), math.Hypot(m.c, m.d))
}

// transform reads a list of transform functions.
func (n *node) transform(name string) (matrix, *Error) {
	text, ok := n.attr(name)
	m := identity
	for ok && strings.TrimSpace(text) != "" {
		word, rest, found := strings.Cut(text, "(")
		args, after, closed := strings.Cut(rest, ")")
		v, err := numbers(args)
		if !found || !closed || err != nil {
			return m, fail(n.line, "%s %q cannot be read", name, text)
		}
		one, known := function(strings.Trim(word, " ,\t\r\n"), v)
		if !known {
			return m, fail(n.line, "%s %q cannot be read", name, text)
		}
		m, text = m.times(one), after
	}
	return m, nil
}

func function(word string, v []float64) (matrix, bool) {
	switch {
	case word == "matrix" && len(v) == 6:
		return matrix{v[0], v[1], v[2], v[3], v[4], v[5]}, true
	case word == "translate" && len(v) == 1:
		return matrix{1, 0, 0, 1, v[0], 0}, true
	case word == "translate" && len(v) == 2:
		return matrix{1, 0, 0, 1, v[0], v[1]}, true
	case word == "scale" && len(v) == 1:
		return matrix{v[0], 0, 0, v[0], 0, 0}, true
	case word == "scale" && len(v) == 2:
		return matrix{v[0], 0, 0, v[1], 0, 0}, true
	case word == "rotate" && len(v) == 1:
		return rotation(v[0]), true
	case word == "rotate" && len(v) == 3:
		return matrix{1, 0, 0, 1, v[1], v[2]}.times(rotation(v[0])).times(matrix{1, 0, 0, 1, -v[1], -v[2]}), true
	case word == "skewX" && len(v) == 1:
		return matrix{1, 0, math.Tan(v[0] * math.Pi / 180), 1, 0, 0}, true
	case word == "skewY" && len(v) == 1:
		return matrix{1, math.Tan(v[0] * math.Pi / 180), 0, 1, 0, 0}, true
	}
	return identity, false
}

func rotation(degrees float64) matrix {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return matrix{cos, sin, -sin, cos, 0, 0}
}
