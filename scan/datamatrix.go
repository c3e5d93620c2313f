package scan

import (
	"cmp"
	"slices"
	"sync"

	"unspool/plane"
	"unspool/symbol"
)

// shape is the size of a symbol in modules.
type shape struct{ w, h int }

// frame is the part of a Data Matrix symbol that is the same for all data: solid
// at the left and the bottom, by turns dark and light at the top and the right,
// in each of its regions. cells lists those modules.
func frame(s shape, regionsX, regionsY int) (g symbol.Grid, cells []int32) {
	g = symbol.NewGrid(s.w, s.h)
	rw, rh := s.w/regionsX, s.h/regionsY
	for y := range s.h {
		for x := range s.w {
			ix, iy := x%rw, y%rh
			switch {
			case ix == 0, iy == rh-1:
				g.Set(x, y, true)
			case iy == 0:
				g.Set(x, y, ix%2 == 0)
			case ix == rw-1:
				g.Set(x, y, iy%2 == 1)
			default:
				continue
			}
			cells = append(cells, int32(y*s.w+x))
		}
	}
	return g, cells
}

const (
	leastFrame = 0.75 // share of the frame's modules that must be as they should
	tryFrames  = 4
)

// framed is a hypothesis: the frame of a shape, laid on four corners one of four
// ways.
type framed struct {
	shape
	places mapping
	grid   symbol.Grid
	cells  []int32
	score  float64
}

// frames are those of every size.
var frames = sync.OnceValue(func() (all []framed) {
	for _, s := range matrixShapes {
		g, cells := frame(s.shape, s.across, s.down)
		all = append(all, framed{shape: s.shape, grid: g, cells: cells})
	}
	return all
})

// dataMatrices finds Data Matrix symbols among the outlines of a picture.
func dataMatrices(r plane.Raster, k tones, decode decoder) (found []Matrix) {
	for _, join := range []int{0, 1, 2} {
		for _, h := range k.blobs(join) {
			q, ok := fourSided(h)
			if !ok || slices.ContainsFunc(found, func(m Matrix) bool { return inside(m.Corners, middle(q)) }) {
				continue
			}
			if m, ok := dataMatrix(r, k, q, decode); ok {
				found = append(found, m)
			}
		}
	}
	return found
}

func middle(q [4]plane.Point) (c plane.Point) {
	for _, p := range q {
		c.X, c.Y = c.X+p.X/4, c.Y+p.Y/4
	}
	return c
}

// sides are what the four sides of an outline look like just inside of it.
type sides [4]struct {
	solid   bool
	changes [3]int // at each depth
}

// sides looks along the sides of an outline, one to three samples in.
func (k tones) sides(q [4]plane.Point) (all sides) {
	c := middle(q)
	for i := range q {
		a, b := q[i], q[(i+1)%4]
		for d := range all[i].changes {
			in := 1.4 * float64(d+1)
			p, to := move(a, toward(a, c, in)), move(b, toward(b, c, in))
			way := between(p, to)
			n, dark, changes, last := int(way.length()), 0, 0, true
			for s := range n {
				at := move(p, way.times((float64(s)+0.5)/float64(n)))
				now := k.at(int(at.X), int(at.Y))
				if now {
					dark++
				}
				if now != last {
					changes++
				}
				last = now
			}
			all[i].solid = all[i].solid || float64(dark) > leastSolid*float64(n)
			all[i].changes[d] = changes
		}
	}
	return all
}

func toward(a, b plane.Point, d float64) vec {
	v := between(a, b)
	return v.times(d / max(v.length(), 1))
}

const (
	leastSolid   = 0.62 // of a solid side that is dark, however it was printed
	leastChanges = 4
)

// mayBe says whether the sides are those of so many modules, the solid ones being
// the last two.
func (s sides) mayBe(way int, of shape) bool {
	near := func(all [3]int, n int) bool {
		return slices.ContainsFunc(all[:], func(c int) bool {
			return c >= leastChanges && float64(c) < 1.35*float64(n)+3 && float64(c) > 0.6*float64(n)-4
		})
	}
	top, right, bottom, left := s[way], s[(way+1)%4], s[(way+2)%4], s[(way+3)%4]
	return bottom.solid && left.solid && near(top.changes, of.w) && near(right.changes, of.h)
}

// dataMatrix reads a symbol whose outline is known.
func dataMatrix(r plane.Raster, k tones, q [4]plane.Point, decode decoder) (Matrix, bool) {
	var all []framed
	seen := k.sides(q)
	for _, s := range frames() {
		for way := range 4 {
			if !seen.mayBe(way, s.shape) {
				continue
			}
			m, ok := mappingOf(corners(float64(s.w), float64(s.h)), [4]plane.Point{q[way], q[(way+1)%4], q[(way+2)%4], q[(way+3)%4]})
			if !ok || m.module(s.w, s.h) < 1.2 || !m.within(r, s.w, s.h) {
				continue
			}
			s.places = m
			if s.score = s.share(r); s.score >= leastFrame {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b framed) int { return cmp.Compare(b.score, a.score) })
	for _, f := range all[:min(len(all), tryFrames)] {
		for _, m := range []mapping{f.places, refined(r, f.places, f.grid, f.cells)} {
			if got, ok := take(r, "datamatrix", m, f.w, f.h, decode); ok {
				return got, true
			}
		}
	}
	return Matrix{}, false
}

// share is how much of the frame is as it should be.
func (f *framed) share(r plane.Raster) float64 {
	lo, hi := float32(4), float32(-1)
	v := make([]float32, len(f.cells))
	for i, c := range f.cells {
		v[i] = bilinear(r, f.places.at(float64(int(c)%f.w)+0.5, float64(int(c)/f.w)+0.5))
		lo, hi = min(lo, v[i]), max(hi, v[i])
	}
	good := 0
	for i, c := range f.cells {
		if (v[i] < (lo+hi)/2) == f.grid.Dark[c] {
			good++
		}
	}
	return float64(good) / float64(len(v))
}

// matrixShapes are the sizes of Data Matrix ECC 200 and the regions across and
// down of each (ISO/IEC 16022:2006 Table 7, from memory; held by symbols of other
// encoders in the tests).
var matrixShapes = []struct {
	shape
	across, down int
}{
	{shape{10, 10}, 1, 1}, {shape{12, 12}, 1, 1}, {shape{14, 14}, 1, 1}, {shape{16, 16}, 1, 1}, {shape{18, 18}, 1, 1}, {shape{20, 20}, 1, 1},
	{shape{22, 22}, 1, 1}, {shape{24, 24}, 1, 1}, {shape{26, 26}, 1, 1}, {shape{32, 32}, 2, 2}, {shape{36, 36}, 2, 2}, {shape{40, 40}, 2, 2},
	{shape{44, 44}, 2, 2}, {shape{48, 48}, 2, 2}, {shape{52, 52}, 2, 2}, {shape{64, 64}, 4, 4}, {shape{72, 72}, 4, 4}, {shape{80, 80}, 4, 4},
	{shape{88, 88}, 4, 4}, {shape{96, 96}, 4, 4}, {shape{104, 104}, 4, 4}, {shape{120, 120}, 6, 6}, {shape{132, 132}, 6, 6}, {shape{144, 144}, 6, 6},
	{shape{18, 8}, 1, 1}, {shape{32, 8}, 2, 1}, {shape{26, 12}, 1, 1}, {shape{36, 12}, 2, 1}, {shape{36, 16}, 2, 1}, {shape{48, 16}, 2, 1},
}
