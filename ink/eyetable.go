package ink

import "math"

const (
	// eyeCells is the number of cells of an EyeTable along each dye. Light fades
	// exponentially with dye, so straight lines across cells this small stay
	// within 2 code values of the exact colour.
	eyeCells = 32
	eyeNodes = eyeCells + 1
	// encodeSteps is the number of steps linear light is cut into before it is
	// encoded; a step is at most a fifth of a code value even in the dark.
	encodeSteps = 1 << 14
)

// EyeTable is the eye's view of a model made ready for whole planes of dots.
type EyeTable struct {
	open, covered []rgbNode // linear sRGB at the nodes, y slowest, without and with resin
}

type rgbNode [3]float32

// axis is where a code value falls on a lattice: the node below and the way to
// the next.
type axis struct {
	node int
	way  float32
}

// axisOf cuts 0..255 into the given number of cells; 255 is the end of the last.
func axisOf(cells int) (t [256]axis) {
	for v := range t {
		x := float64(v*cells) / 255
		n := min(int(x), cells-1)
		t[v] = axis{n, float32(x - float64(n))}
	}
	return t
}

var (
	eyeAxis = axisOf(eyeCells)
	encoded = func() (t [encodeSteps + 1]uint8) {
		for i := range t {
			t[i] = byteOf(Encode(float64(i) / encodeSteps))
		}
		return t
	}()
)

// Eyes is Absolute.Eyes.
func (m *Model) Eyes(r Resin) *EyeTable { return Absolute.Eyes(m, r) }

// Eyes prepares this viewer's view of a model with the given resin. Every
// colour is within 2 code values of Eye.
func (v Viewer) Eyes(m *Model, r Resin) *EyeTable {
	t := &EyeTable{make([]rgbNode, 0, eyeNodes*eyeNodes*eyeNodes), make([]rgbNode, 0, eyeNodes*eyeNodes*eyeNodes)}
	sum := v.channels(m, r)
	yes, ms, cs := fades(&m.eye.y), fades(&m.eye.m), fades(&m.eye.c)
	for y := range eyeNodes {
		for mg := range eyeNodes {
			var dyes [len(cie)]float64
			for i := range dyes {
				dyes[i] = yes[y][i] * ms[mg][i]
			}
			for c := range eyeNodes {
				open, covered := sum.see(&dyes, &cs[c])
				t.open, t.covered = append(t.open, open), append(t.covered, covered)
			}
		}
	}
	return t
}

// channels turns the light left by the dyes straight into linear sRGB.
type channels struct {
	open, covered     [len(cie)]xyz // weight of the light that the dyes let through
	openMin, shutBase xyz           // what comes back in any case
}

func (v Viewer) channels(m *Model, r Resin) *channels {
	var s channels
	films := m.films(r)
	for i, row := range cie {
		w := linearOf(v.adapt(m, underD65.weights[i]))
		f := films(row.nm)
		for j := range w {
			s.openMin[j] += w[j] * surface
			s.shutBase[j] += w[j] * (surface + f.body)
			s.open[i][j] = w[j] * m.eye.card[i]
			s.covered[i][j] = w[j] * m.eye.card[i] * f.through
		}
	}
	return &s
}

func (s *channels) see(a, b *[len(cie)]float64) (open, covered rgbNode) {
	o, c := s.openMin, s.shutBase
	for i := range a {
		t := a[i] * b[i]
		for j := range o {
			o[j] += t * s.open[i][j]
			c[j] += t * s.covered[i][j]
		}
	}
	for j := range o {
		open[j], covered[j] = float32(o[j]), float32(c[j])
	}
	return open, covered
}

// fades is the light a dye lets through at each node of an EyeTable.
func fades(density *[len(cie)]float64) (t [eyeNodes][len(cie)]float64) {
	for n := range t {
		for i, d := range density {
			t[n][i] = math.Exp(-d * float64(n) / eyeCells)
		}
	}
	return t
}

// At is the sRGB colour of a dot: dye amounts with 255 = full, and resin or not.
func (t *EyeTable) At(y, m, c uint8, k bool) (r, g, b uint8) {
	nodes := t.open
	if k {
		nodes = t.covered
	}
	ya, ma, ca := &eyeAxis[y], &eyeAxis[m], &eyeAxis[c]
	n := (ya.node*eyeNodes+ma.node)*eyeNodes + ca.node
	const row, page = eyeNodes, eyeNodes * eyeNodes
	p := nodes[n : n+page+row+2]
	var out [3]uint8
	for j := range 3 {
		a := along(p[0][j], p[1][j], ca.way)
		b := along(p[row][j], p[row+1][j], ca.way)
		d := along(p[page][j], p[page+1][j], ca.way)
		e := along(p[page+row][j], p[page+row+1][j], ca.way)
		out[j] = encode(along(along(a, b, ma.way), along(d, e, ma.way), ya.way))
	}
	return out[0], out[1], out[2]
}

func along(a, b, way float32) float32 { return a + way*(b-a) }

func encode(linear float32) uint8 {
	return encoded[int(unitRange(linear)*encodeSteps+0.5)]
}
