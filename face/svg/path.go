package svg

import (
	"math"
	"strconv"
)

// segment is a piece of a path: a move, a line or a cubic curve to the last of
// its points, or the way back to the beginning.
type segment struct {
	op byte // 'M', 'L', 'C', 'Z'
	p  [3]point
}

// to is where the segment ends.
func (s segment) to() point { return s.p[2] }

// pathReader reads path data (SVG 1.1, 8.3).
type pathReader struct {
	text      string
	out       []segment
	start, at point
	ctrl      point // the last control point
	last      byte  // the last command, lower case
}

// arguments is how many numbers a command takes.
var arguments = map[byte]int{'m': 2, 'l': 2, 'h': 1, 'v': 1, 'c': 6, 's': 4, 'q': 4, 't': 2, 'a': 7, 'z': 0}

// parsePath reads path data; it is false where the data cannot be read.
func parsePath(text string) ([]segment, bool) {
	r := pathReader{text: text}
	for r.space(); r.text != ""; r.space() {
		c := r.text[0]
		lower := c | 0x20
		n, known := arguments[lower]
		if !known || len(r.out) == 0 && lower != 'm' {
			return nil, false
		}
		r.text = r.text[1:]
		if n == 0 {
			r.out = append(r.out, segment{op: 'Z', p: [3]point{2: r.start}})
			r.at, r.last = r.start, 'z'
			continue
		}
		for first := true; ; first = false {
			v, ok := r.numbers(lower, n)
			if !ok {
				return nil, false
			}
			if lower == 'm' && !first {
				lower = 'l'
			}
			r.command(lower, c >= 'a', v)
			if !r.more() {
				break
			}
		}
	}
	return r.out, true
}

// space skips white space and commas.
func (r *pathReader) space() {
	for r.text != "" {
		switch r.text[0] {
		case ' ', ',', '\t', '\r', '\n', '\f':
			r.text = r.text[1:]
		default:
			return
		}
	}
}

// more says whether another number follows.
func (r *pathReader) more() bool {
	r.space()
	return r.text != "" && (r.text[0] >= '0' && r.text[0] <= '9' || r.text[0] == '-' || r.text[0] == '+' || r.text[0] == '.')
}

func (r *pathReader) numbers(command byte, n int) (v [7]float64, ok bool) {
	for i := range n {
		r.space()
		if command == 'a' && (i == 3 || i == 4) { // flags need no space after them
			if r.text == "" || r.text[0] != '0' && r.text[0] != '1' {
				return v, false
			}
			v[i] = float64(r.text[0] - '0')
			r.text = r.text[1:]
			continue
		}
		end := numberEnd(r.text)
		f, err := strconv.ParseFloat(r.text[:end], 64)
		if err != nil || !(math.Abs(f) <= bound) {
			return v, false
		}
		v[i], r.text = f, r.text[end:]
	}
	return v, true
}

// numberEnd is where the number that text begins with ends.
func numberEnd(text string) int {
	i := 0
	digits := func() {
		for i < len(text) && text[i] >= '0' && text[i] <= '9' {
			i++
		}
	}
	sign := func(at int) int {
		if at < len(text) && (text[at] == '-' || text[at] == '+') {
			return at + 1
		}
		return at
	}
	i = sign(0)
	digits()
	if i < len(text) && text[i] == '.' {
		i++
		digits()
	}
	if i < len(text) && text[i]|0x20 == 'e' {
		if j := sign(i + 1); j < len(text) && text[j] >= '0' && text[j] <= '9' {
			i = j
			digits()
		}
	}
	return i
}

// command adds one command's segments. Coordinates are kept within bounds, for
// relative ones can add up.
func (r *pathReader) command(c byte, relative bool, v [7]float64) {
	var o point
	if relative {
		o = r.at
	}
	at := func(i int) point { return held(point{X: o.X + v[i], Y: o.Y + v[i+1]}) }
	smooth := func(after string) point { // the last control point, mirrored
		if r.last == after[0] || r.last == after[1] {
			return held(point{X: 2*r.at.X - r.ctrl.X, Y: 2*r.at.Y - r.ctrl.Y})
		}
		return r.at
	}
	switch c {
	case 'm':
		r.add('M', point{}, point{}, at(0))
		r.start = r.at
	case 'l':
		r.add('L', point{}, point{}, at(0))
	case 'h':
		r.add('L', point{}, point{}, held(point{X: o.X + v[0], Y: r.at.Y}))
	case 'v':
		r.add('L', point{}, point{}, held(point{X: r.at.X, Y: o.Y + v[0]}))
	case 'c':
		r.add('C', at(0), at(2), at(4))
	case 's':
		r.add('C', smooth("cs"), at(0), at(2))
	case 'q':
		r.quad(at(0), at(2))
	case 't':
		r.quad(smooth("qt"), at(0))
	case 'a':
		r.arc(v, at(5))
	}
	r.last = c
}

func held(p point) point {
	return point{X: min(max(p.X, -bound), bound), Y: min(max(p.Y, -bound), bound)}
}

func (r *pathReader) add(op byte, a, b, to point) {
	r.out = append(r.out, segment{op, [3]point{a, b, to}})
	r.at, r.ctrl = to, b
}

func (r *pathReader) quad(c, to point) {
	third := func(p point) point { return point{X: p.X + 2*(c.X-p.X)/3, Y: p.Y + 2*(c.Y-p.Y)/3} }
	r.add('C', third(r.at), third(to), to)
	r.ctrl = c
}

// arc adds an elliptical arc (SVG 1.1, F.6.5 and F.6.6) as curves of at most a
// quarter turn.
func (r *pathReader) arc(v [7]float64, to point) {
	rx, ry := math.Abs(v[0]), math.Abs(v[1])
	if rx == 0 || ry == 0 || to == r.at {
		r.add('L', point{}, point{}, to)
		return
	}
	turn := rotation(v[2])
	back, _ := turn.inverse()
	half := back.apply(point{X: (r.at.X - to.X) / 2, Y: (r.at.Y - to.Y) / 2})
	if l := math.Hypot(half.X/rx, half.Y/ry); l > 1 {
		rx, ry = rx*l, ry*l
	}
	x, y := half.X/rx, half.Y/ry
	k := math.Sqrt(max(0, 1/(x*x+y*y)-1))
	if v[3] == v[4] {
		k = -k
	}
	// On the unit circle: centre, then the angles of both ends.
	cx, cy := k*y, -k*x
	from := math.Atan2(y-cy, x-cx)
	sweep := math.Atan2(-y-cy, -x-cx) - from
	if v[4] == 0 && sweep > 0 {
		sweep -= 2 * math.Pi
	} else if v[4] == 1 && sweep < 0 {
		sweep += 2 * math.Pi
	}
	onto := matrix{1, 0, 0, 1, (r.at.X + to.X) / 2, (r.at.Y + to.Y) / 2}.times(turn).times(matrix{rx, 0, 0, ry, cx * rx, cy * ry})
	r.arcs(onto, from, sweep, to)
}

// arcs adds the arc of the unit circle under m.
func (r *pathReader) arcs(m matrix, from, sweep float64, to point) {
	n := max(math.Ceil(math.Abs(sweep)/(math.Pi/2)-1e-9), 1)
	step := sweep / n
	k := 4.0 / 3 * math.Tan(step/4)
	for i := range int(n) {
		s0, c0 := math.Sincos(from + float64(i)*step)
		s1, c1 := math.Sincos(from + float64(i+1)*step)
		end := m.apply(point{X: c1, Y: s1})
		if i == int(n)-1 {
			end = to
		}
		r.add('C', m.apply(point{X: c0 - k*s0, Y: s0 + k*c0}), m.apply(point{X: c1 + k*s1, Y: s1 - k*c1}), end)
	}
}
