package ink

const (
	// sepCells is the number of cells of a Separator along each of R, G and B.
	sepCells = 32
	sepNodes = sepCells + 1
)

// Separator turns sRGB pictures into dye amounts by inverting the ink model,
// media-relative with black-point compensation: sRGB white becomes bare card,
// sRGB black all three dyes in full, greys stay neutral between the two, and
// colours the dyes cannot reach become the nearest they can. It is immutable
// and safe for concurrent use; make it once for each model.
type Separator struct {
	nodes []sepNode // on sRGB code values, r slowest
}

// sepNode is dye amounts, 0 to 255, and the colour difference that is left.
type sepNode struct{ y, m, c, dE float32 }

var sepAxis = axisOf(sepCells)

// Separator inverts the model on a lattice of 33 x 33 x 33 sRGB colours.
func (m *Model) Separator() *Separator {
	v := newInverter(m)
	s := &Separator{make([]sepNode, 0, sepNodes*sepNodes*sepNodes)}
	var linear [sepNodes]float64
	for i := range linear {
		linear[i] = Decode(float64(i) / sepCells)
	}
	page := xyz{1, 1, 1} // the dyes nearest in r, and from there in g
	for _, r := range linear {
		row := page
		for gi, g := range linear {
			row = s.addRow(v, r, g, &linear, row)
			if gi == 0 {
				page = row
			}
		}
	}
	s.nodes[0] = sepNode{255, 255, 255, 0}
	s.nodes[len(s.nodes)-1] = sepNode{}
	return s
}

// addRow appends the nodes with the given r and g, b rising, and returns the
// dyes of the first. Each search starts where the last two point to.
func (s *Separator) addRow(v *inverter, r, g float64, linear *[sepNodes]float64, start xyz) (first xyz) {
	last := start
	for i, b := range linear {
		target := v.target(xyz{r, g, b})
		dyes, got := v.invert(target, start)
		s.nodes = append(s.nodes, sepNode{
			float32(255 * dyes[0]), float32(255 * dyes[1]), float32(255 * dyes[2]),
			float32(DeltaE2000(got, target)),
		})
		if i == 0 {
			first, last = dyes, dyes
		}
		for d := range start {
			start[d] = min(max(2*dyes[d]-last[d], 0), 1)
		}
		last = dyes
	}
	return first
}

// at interpolates in the tetrahedron of the cell that holds the colour, so that
// a grey is made of greys alone.
func (s *Separator) at(r, g, b uint8) (y, m, c, dE float32) {
	const stepR, stepG, stepB = sepNodes * sepNodes, sepNodes, 1
	ra, ga, ba := &sepAxis[r], &sepAxis[g], &sepAxis[b]
	// The way runs along the edges from the largest fraction to the smallest.
	hi, mid, lo := ra.way, ga.way, ba.way
	first, second := stepR, stepG
	last := stepB
	if mid > hi {
		hi, mid, first, second = mid, hi, second, first
	}
	if lo > mid {
		mid, lo, second, last = lo, mid, last, second
		if mid > hi {
			hi, mid, first, second = mid, hi, second, first
		}
	}
	n := ra.node*stepR + ga.node*stepG + ba.node
	p0, p1 := &s.nodes[n], &s.nodes[n+first]
	p2, p3 := &s.nodes[n+first+second], &s.nodes[n+first+second+last]
	w0, w1, w2, w3 := 1-hi, hi-mid, mid-lo, lo
	y = w0*p0.y + w1*p1.y + w2*p2.y + w3*p3.y
	m = w0*p0.m + w1*p1.m + w2*p2.m + w3*p3.m
	c = w0*p0.c + w1*p1.c + w2*p2.c + w3*p3.c
	dE = w0*p0.dE + w1*p1.dE + w2*p2.dE + w3*p3.dE
	return y, m, c, dE
}

// Dyes gives the amounts for an sRGB colour, 255 = full, and the CIEDE2000
// difference between the predicted and the wanted colour: near 0 within the
// gamut of the dyes, more where the colour had to give.
func (s *Separator) Dyes(r, g, b uint8) (y, m, c uint8, dE float32) {
	fy, fm, fc, dE := s.at(r, g, b)
	return uint8(fy + 0.5), uint8(fm + 0.5), uint8(fc + 0.5), dE
}

// Visible is the colour difference from which on a dot counts as out of gamut:
// CIEDE2000 of 5, plain to see when compared. Common practice, no source.
const Visible = 5

// Misfit sums up how far the dots of a picture miss the colours wanted.
type Misfit struct {
	Dots  int
	Over  int     // dots that miss by Visible or more
	Sum   float64 // of all differences
	Worst float32
}

// Mean is the mean difference, 0 for no dots.
func (f Misfit) Mean() float64 {
	if f.Dots == 0 {
		return 0
	}
	return f.Sum / float64(f.Dots)
}

// Add counts in the dots of g.
func (f *Misfit) Add(g Misfit) {
	f.Dots += g.Dots
	f.Over += g.Over
	f.Sum += g.Sum
	f.Worst = max(f.Worst, g.Worst)
}

// Row is Dyes for a row of dots: rgb holds R, G, B of each dot in turn, y, m and
// c take the amounts. It stops at the end of the shortest.
func (s *Separator) Row(y, m, c, rgb []uint8) (f Misfit) {
	f.Dots = min(len(y), len(m), len(c), len(rgb)/3)
	y, m, c, rgb = y[:f.Dots], m[:f.Dots], c[:f.Dots], rgb[:3*f.Dots]
	var dE, worst float32
	var sum float64
	for i := range y {
		p := rgb[3*i : 3*i+3]
		if i > 0 && p[0] == rgb[3*i-3] && p[1] == rgb[3*i-2] && p[2] == rgb[3*i-1] {
			y[i], m[i], c[i] = y[i-1], m[i-1], c[i-1]
		} else {
			y[i], m[i], c[i], dE = s.Dyes(p[0], p[1], p[2])
			worst = max(worst, dE)
		}
		sum += float64(dE)
		if dE >= Visible {
			f.Over++
		}
	}
	f.Sum, f.Worst = sum, worst
	return f
}

// PlainDyes is the complement that simple drivers send: no model, no gamut.
func PlainDyes(r, g, b uint8) (y, m, c uint8) { return 255 - b, 255 - g, 255 - r }
