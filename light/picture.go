package light

import (
	"math"
	"slices"

	"unspool/panel"
	"unspool/plane"
)

// Picture is the reflectance of each dot of r under the lamp, growth and spread
// applied: the mean amounts within the dot, looked at as one. What of r lies
// beyond the face is left out.
func (l *Lit) Picture(p *panel.Panels, r plane.Rect) plane.Picture {
	r = r.And(p.Rect())
	pic := plane.Picture{Grid: plane.Grid{W: r.W(), H: r.H(), DX: p.DX, DY: p.DY}, R: make([]float32, r.W()*r.H())}
	if r.Empty() {
		return pic
	}
	x, y := l.scene.along(true, p.Grid), l.scene.along(false, p.Grid)
	var layers [channels]*layer
	for ch, plane := range planes(p) {
		if plane != nil {
			layers[ch] = newLayer(plane, ch, p.Grid, r, x, y)
		}
	}
	var last amounts
	v := l.reflect(&last)
	for j := range pic.H {
		var lines [channels][]float32
		for ch, n := range layers {
			if n != nil {
				lines[ch] = n.line(j)
			}
		}
		out := pic.R[j*pic.W : (j+1)*pic.W]
		for i := range out {
			var a amounts
			for ch, n := range lines {
				if n != nil {
					a[ch] = n[i]
				}
			}
			if a != last {
				last, v = a, l.reflect(&a)
			}
			out[i] = v
		}
	}
	return pic
}

// layer makes the dot means of one channel row by row.
type layer struct {
	plane []uint8
	grid  plane.Grid
	rect  plane.Rect
	full  float32
	x, y  dotwise
	rows  [][]float32 // rows made along x: row j of the rectangle at j modulo their number
	next  int         // the row to be made next
	raw   []float32
	out   []float32
}

func newLayer(plane []uint8, ch int, g plane.Grid, r plane.Rect, x, y geometry) *layer {
	n := &layer{plane: plane, grid: g, rect: r, full: full[ch],
		x: newDotwise(x.growth(ch), x.spread[ch]), y: newDotwise(y.growth(ch), y.spread[ch])}
	n.rows = make([][]float32, 2*n.y.reach+1)
	for i := range n.rows {
		n.rows[i] = make([]float32, r.W())
	}
	n.next = -n.y.reach
	n.raw = make([]float32, r.W()+2*n.x.reach)
	n.out = make([]float32, r.W())
	return n
}

// line is row j of the rectangle, in shares of the full amount. Rows come in
// their order.
func (n *layer) line(j int) []float32 {
	for ; n.next <= j+n.y.reach; n.next++ {
		n.make(n.next)
	}
	copy(n.out, n.row(j))
	for d := -n.y.reach; d < n.y.reach; d++ {
		n.y.acrossRows(n.out, n.row(j+d), n.row(j+d+1), -d)
	}
	return n.out
}

// row is a row made along x, one of the last few.
func (n *layer) row(j int) []float32 {
	k := len(n.rows)
	return n.rows[(j%k+k)%k]
}

// make makes row j of the rectangle along x. Beyond the face its outermost dots
// go on.
func (n *layer) make(j int) {
	y := min(max(n.rect.Y0+j, 0), n.grid.H-1)
	row := n.plane[n.grid.At(0, y):n.grid.At(n.grid.W, y)]
	for i := range n.raw {
		n.raw[i] = float32(row[min(max(n.rect.X0-n.x.reach+i, 0), n.grid.W-1)]) / n.full
	}
	n.x.alongRow(n.row(j), n.raw)
}

// dotwise is growth and spread in one direction as they act on the means of
// whole dots. At a boundary between dots with a step in their amounts, the dot
// i places after the one before the boundary changes by the step times darker
// or lighter, at i+reach, as the amount grows or falls.
type dotwise struct {
	reach           int
	darker, lighter []float32
}

// newDotwise prepares for half a growth and a spread, in dots. With F the
// integral of the normal distribution, a blurred step at b gives a dot the mean
// F(i+1-b) - F(i-b); a sharp one gives it 0 before the boundary and 1 after.
// Growth moves b towards the lighter side. Of marks that meet or vanish it knows
// nothing, so growth beyond a dot counts as a dot.
func newDotwise(half, spread float64) dotwise {
	half = min(max(half, -0.5), 0.5)
	if half == 0 && spread == 0 {
		return dotwise{}
	}
	integral := func(t float64) float64 {
		if spread == 0 {
			return max(t, 0)
		}
		x := t / spread
		return t*0.5*math.Erfc(-x/math.Sqrt2) + spread*math.Exp(-x*x/2)/math.Sqrt(2*math.Pi)
	}
	d := dotwise{reach: int(math.Ceil(math.Abs(half) + sigmas*spread))}
	for i := -d.reach; i <= d.reach; i++ {
		change := func(b float64) float32 {
			v := integral(float64(i+1)-b) - integral(float64(i)-b)
			if i > 0 {
				v--
			}
			return float32(v)
		}
		d.darker, d.lighter = append(d.darker, change(1-half)), append(d.lighter, change(1+half))
	}
	return d
}

// change is by how much of a step the dot i places after the boundary's first
// one changes.
func (d *dotwise) change(step float32) []float32 {
	if step > 0 {
		return d.darker
	}
	return d.lighter
}

// alongRow writes a row of dots; in holds it with reach more at either end.
func (d *dotwise) alongRow(out, in []float32) {
	copy(out, in[d.reach:])
	for i := 0; i+1 < len(in); i++ {
		step := in[i+1] - in[i]
		if step == 0 {
			continue
		}
		change := d.change(step)
		for k, c := range change {
			if at := i - 2*d.reach + k; at >= 0 && at < len(out) {
				out[at] += step * c
			}
		}
	}
}

// acrossRows adds to a row what the boundary of two rows changes in it; it is i
// rows after the first of them.
func (d *dotwise) acrossRows(out, before, after []float32, i int) {
	if slices.Equal(before, after) {
		return
	}
	darker, lighter := d.darker[i+d.reach], d.lighter[i+d.reach]
	for x, v := range after {
		if step := v - before[x]; step > 0 {
			out[x] += step * darker
		} else if step < 0 {
			out[x] += step * lighter
		}
	}
}
