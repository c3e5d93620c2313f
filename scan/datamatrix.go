package scan

import (
	"cmp"
	"slices"

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

// dataMatrices finds Data Matrix symbols among the outlines of a picture.
func dataMatrices(r plane.Raster, k tones, decode decoder) (found []Matrix) {
	for _, join := range []int{0, 2, 4, 8} {
		for _, h := range k.blobs(join) {
			q, ok := fourSided(h)
			if !ok || slices.ContainsFunc(found, func(m Matrix) bool { return inside(m.Corners, middle(q)) }) {
				continue
			}
			if m, ok := dataMatrix(r, q, decode); ok {
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

// dataMatrix reads a symbol whose outline is known.
func dataMatrix(r plane.Raster, q [4]plane.Point, decode decoder) (Matrix, bool) {
	var all []framed
	for _, s := range matrixShapes {
		g, cells := frame(s.shape, s.across, s.down)
		for way := range 4 {
			m, ok := mappingOf(corners(float64(s.w), float64(s.h)), [4]plane.Point{q[way], q[(way+1)%4], q[(way+2)%4], q[(way+3)%4]})
			if !ok || m.module(s.w, s.h) < 1.2 || !m.within(r, s.w, s.h) {
				continue
			}
			f := framed{s.shape, m, g, cells, 0}
			if f.score = f.share(r); f.score >= leastFrame {
				all = append(all, f)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b framed) int { return cmp.Compare(b.score, a.score) })
	for _, f := range all[:min(len(all), tryFrames)] {
		m := refined(r, f.places, f.grid, f.cells)
		if got, ok := take(r, "datamatrix", m, f.w, f.h, decode); ok {
			return got, true
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
