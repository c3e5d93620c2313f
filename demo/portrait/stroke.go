package portrait

import "math"

// mark is a point of a stroke on the picture.
type mark struct {
	x, y, z float64
	c       rgb32
	wide    float64 // dots
	cover   float32 // 0 to 1
}

// stroke draws a line through marks over what lies no more than slack in
// front of it.
func (b *brush) stroke(m []mark, slack float64) {
	for i := 1; i < len(m); i++ {
		b.segment(&m[i-1], &m[i], slack, i == len(m)-1)
	}
}

func (b *brush) segment(p, q *mark, slack float64, last bool) {
	dx, dy := q.x-p.x, q.y-p.y
	steep := math.Abs(dy) > math.Abs(dx)
	if steep {
		dx, dy = dy, dx
	}
	p0, q0, a0, b0 := p.x, q.x, p.y, q.y
	if steep {
		p0, q0, a0, b0 = p.y, q.y, p.x, q.x
	}
	lo, hi := math.Round(min(p0, q0)), math.Round(max(p0, q0))
	if lo == hi {
		if !last {
			return
		}
		hi++
	}
	thin := 1.0
	if l := math.Hypot(dx, dy); l > 0 {
		thin = math.Abs(dx) / l
	}
	for g := lo; g < hi; g++ {
		t := 0.5
		if q0 != p0 {
			t = clamp((g+0.5-p0)/(q0-p0), 0, 1)
		}
		b.dab(int(g), mix(a0, b0, t), steep, p, q, t, thin, slack)
	}
}

// dab covers the dots across a stroke at one step along it.
func (b *brush) dab(g int, c float64, steep bool, p, q *mark, t, thin, slack float64) {
	s := b.s
	half := mix(p.wide, q.wide, t) / 2 / max(thin, 0.5)
	z := float32(mix(p.z, q.z, t) + slack)
	k := p.cover + (q.cover-p.cover)*float32(t)
	col := p.c.blend(q.c, float32(t))
	for e := int(math.Floor(c - half)); float64(e) < c+half; e++ {
		x, y := g, e
		if steep {
			x, y = e, g
		}
		if x < 0 || y < 0 || x >= s.w || y >= s.h {
			continue
		}
		i := y*s.w + x
		if s.depth[i] > z {
			continue
		}
		cov := min(c+half, float64(e)+1) - max(c-half, float64(e))
		w := k * float32(cov)
		b.colour[i] = b.colour[i].blend(col, w)
	}
}

// onFace is the picture place of rest point (x, y) of the face, lifted a
// little off the skin; it reads the sheet of the head between its corners.
func (b *brush) onFace(x, y, lift float64) (px, py, z float64) {
	ys, m := b.rows, b.head
	i := 0
	for lo, hi := 0, len(ys)-1; hi-lo > 1; {
		if i = (lo + hi) / 2; ys[i] >= y {
			lo = i
		} else {
			hi = i
		}
		i = lo
	}
	f := clamp((ys[i]-y)/(ys[i]-ys[i+1]), 0, 1)
	w := max(1, mix(m.at(i, m.cols-1).u, m.at(i+1, m.cols-1).u, f))
	g := column(clamp(x/w, -1, 1)) * float64(m.cols-1)
	j := min(int(g), m.cols-2)
	g -= float64(j)
	a, c, d, e := m.at(i, j), m.at(i, j+1), m.at(i+1, j), m.at(i+1, j+1)
	top := a.pos.mul(1-g).along(c.pos, g).along(a.n, lift)
	low := d.pos.mul(1-g).along(e.pos, g).along(d.n, lift)
	q := top.mul(1-f).along(low, f)
	px, py = b.s.project(q)
	return px, py, q.z
}

// lightAt is the light that falls on a dot, a middling one where nothing is.
func (b *brush) lightAt(x, y float64) rgb {
	middling := rgb{0.5, 0.5, 0.5}
	i, j := int(x), int(y)
	if i < 0 || j < 0 || i >= b.s.w || j >= b.s.h {
		return middling
	}
	if b.s.what[j*b.s.w+i] == nothing {
		return middling
	}
	return b.light[j*b.s.w+i].f64()
}
