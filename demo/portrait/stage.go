package portrait

// Size of a portrait in dots.
const (
	Width  = 480
	Height = 640
)

// matter says what a dot shows, and so how it is coloured.
type matter uint8

const (
	nothing matter = iota
	face
	neck
	ear
	hairBase
	jacket
	scarf
	collar
)

// stage holds, for every dot, the nearest surface: what it is, its depth,
// its normal and its place on that surface.
type stage struct {
	w, h    int
	depth   []float32 // z towards the camera, millimetres
	normal  [][3]float32
	place   [][2]float32 // meaning depends on matter, millimetres
	what    []matter
	scale   float64 // dots a millimetre at z = 0
	cx, cy  float64 // dot of the origin
	farness float64 // camera distance, millimetres
}

const farAway = -1e4

func newStage(w, h int, scale float64) *stage {
	n := w * h
	s := &stage{w: w, h: h, depth: make([]float32, n), normal: make([][3]float32, n),
		place: make([][2]float32, n), what: make([]matter, n), scale: scale, farness: 1700}
	for i := range s.depth {
		s.depth[i] = farAway
	}
	s.cx, s.cy = float64(w)/2, float64(h)*0.43
	return s
}

// project gives the dot that shows point p.
func (s *stage) project(p vec) (x, y float64) {
	k := s.scale * s.farness / (s.farness - p.z)
	return s.cx + p.x*k, s.cy - p.y*k
}

// vertex is one corner of a sheet.
type vertex struct {
	pos, n vec
	u, v   float64
	x, y   float64
}

// sheet is a grid of corners, drawn as triangles.
type sheet struct {
	rows, cols int
	v          []vertex
}

func newSheet(rows, cols int) *sheet {
	return &sheet{rows: rows, cols: cols, v: make([]vertex, rows*cols)}
}

func (m *sheet) at(r, c int) *vertex { return &m.v[r*m.cols+c] }

// finish computes normals, which face outwards where columns run to the
// viewer's right and rows run down, then projects.
func (m *sheet) finish(s *stage) {
	for r := range m.rows {
		for c := range m.cols {
			right := m.at(r, min(c+1, m.cols-1)).pos.sub(m.at(r, max(c-1, 0)).pos)
			down := m.at(min(r+1, m.rows-1), c).pos.sub(m.at(max(r-1, 0), c).pos)
			v := m.at(r, c)
			v.n = down.cross(right).unit()
			v.x, v.y = s.project(v.pos)
		}
	}
}

// draw puts the sheet on the stage as matter of kind w.
func (s *stage) draw(m *sheet, w matter) {
	m.finish(s)
	for r := range m.rows - 1 {
		for c := range m.cols - 1 {
			a, b := m.at(r, c), m.at(r, c+1)
			d, e := m.at(r+1, c), m.at(r+1, c+1)
			s.triangle(a, b, d, w)
			s.triangle(b, e, d, w)
		}
	}
}

// triangle fills the dots whose centres lie in a triangle seen from the front.
func (s *stage) triangle(a, b, c *vertex, w matter) {
	area := (b.x-a.x)*(c.y-a.y) - (c.x-a.x)*(b.y-a.y)
	flip := 1.0
	if area < 0 && w == scarf { // cloth shows its inside too
		b, c, area, flip = c, b, -area, -1
	}
	if area <= 1e-9 {
		return
	}
	x0 := max(int(min(a.x, b.x, c.x)), 0)
	x1 := min(int(max(a.x, b.x, c.x))+1, s.w-1)
	y0 := max(int(min(a.y, b.y, c.y)), 0)
	y1 := min(int(max(a.y, b.y, c.y))+1, s.h-1)
	inv := 1 / area
	const slack = -1e-6
	for y := y0; y <= y1; y++ {
		py := float64(y) + 0.5
		for x := x0; x <= x1; x++ {
			px := float64(x) + 0.5
			ka := ((b.x-px)*(c.y-py) - (c.x-px)*(b.y-py)) * inv
			kb := ((c.x-px)*(a.y-py) - (a.x-px)*(c.y-py)) * inv
			kc := 1 - ka - kb
			if ka < slack || kb < slack || kc < slack {
				continue
			}
			i := y*s.w + x
			z := float32(ka*a.pos.z + kb*b.pos.z + kc*c.pos.z)
			if z <= s.depth[i] {
				continue
			}
			s.depth[i], s.what[i] = z, w
			n := a.n.mul(ka).along(b.n, kb).along(c.n, kc).mul(flip)
			s.normal[i] = [3]float32{float32(n.x), float32(n.y), float32(n.z)}
			s.place[i] = [2]float32{float32(ka*a.u + kb*b.u + kc*c.u), float32(ka*a.v + kb*b.v + kc*c.v)}
		}
	}
}
