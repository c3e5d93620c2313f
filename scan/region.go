package scan

import (
	"math"
	"slices"

	"unspool/plane"
)

// tileSide is the side of the squares, in samples, that a picture is looked
// over by: a bar code's own has several edges in it, all one way.
const tileSide = 12

const (
	leastEdges    = 0.03               // mean slope of reflectance a sample within bars
	leastCoherent = 0.55               // share of the slope that lies one way
	mostTurn      = 15 * math.Pi / 180 // between neighbours of one region
	leastTiles    = 3
	maxRegions    = 256
)

// tile is what the slopes in one square say.
type tile struct {
	bars  bool
	angle float64 // of the slopes, 0 <= angle < pi
	xx    float64 // sums of the products of slopes
	yy    float64
	xy    float64
}

// region is a patch of a picture whose edges all run one way.
type region struct {
	u              vec     // across the bars
	u0, u1, v0, v1 float64 // its extent along u and across it
	tiles          int
}

// tiles looks a raster over.
func tiles(r plane.Raster) (all []tile, w, h int) {
	w, h = r.W/tileSide, r.H/tileSide
	all = make([]tile, w*h)
	for ty := range h {
		for tx := range w {
			all[ty*w+tx] = look(r, tx*tileSide, ty*tileSide)
		}
	}
	return all, w, h
}

// look sums the slopes of one square.
func look(r plane.Raster, x0, y0 int) (t tile) {
	n := 0
	for y := max(y0, 1); y < min(y0+tileSide, r.H-1); y++ {
		row := r.V[y*r.W : (y+1)*r.W]
		above, below := r.V[(y-1)*r.W:y*r.W], r.V[(y+1)*r.W:(y+2)*r.W]
		for x := max(x0, 1); x < min(x0+tileSide, r.W-1); x++ {
			// Weighted 3, 10, 3 across: the kernel by Scharr, whose slopes lean least.
			gx := float64(3*(above[x+1]-above[x-1]+below[x+1]-below[x-1])+10*(row[x+1]-row[x-1])) / 32
			gy := float64(3*(below[x-1]-above[x-1]+below[x+1]-above[x+1])+10*(below[x]-above[x])) / 32
			t.xx += gx * gx
			t.yy += gy * gy
			t.xy += gx * gy
			n++
		}
	}
	t.judge(n)
	return t
}

func (t *tile) judge(n int) {
	energy := t.xx + t.yy
	if n == 0 || energy <= 0 {
		return
	}
	coherent := math.Hypot(t.xx-t.yy, 2*t.xy) / energy
	t.bars = math.Sqrt(energy/float64(n)) >= leastEdges && coherent >= leastCoherent
	t.angle = angleOf(t.xx, t.yy, t.xy)
}

// angleOf is the direction of most slope, 0 to pi.
func angleOf(xx, yy, xy float64) float64 {
	a := math.Atan2(2*xy, xx-yy) / 2
	if a < 0 {
		a += math.Pi
	}
	return a
}

// apart is the angle between two directions without a sense.
func apart(a, b float64) float64 {
	d := math.Abs(a - b)
	return min(d, math.Pi-d)
}

// regions are the patches of a raster that may be bars, the largest first.
func regions(r plane.Raster) []region {
	all, w, h := tiles(r)
	seen := make([]bool, len(all))
	var found []region
	for i := range all {
		if !all[i].bars || seen[i] {
			continue
		}
		if members := flood(all, seen, i, w, h); len(members) >= leastTiles {
			found = append(found, regionOf(all, members, w))
		}
	}
	slices.SortStableFunc(found, func(a, b region) int { return b.tiles - a.tiles })
	return found[:min(len(found), maxRegions)]
}

// flood gathers the tiles that hang together with one and whose edges run its
// way. A gap of a tile is bridged: wide spaces have no edges.
func flood(all []tile, seen []bool, from, w, h int) []int {
	members := []int{from}
	seen[from] = true
	for k := 0; k < len(members); k++ {
		x, y := members[k]%w, members[k]/w
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				nx, ny := x+dx, y+dy
				if nx < 0 || ny < 0 || nx >= w || ny >= h {
					continue
				}
				i := ny*w + nx
				if !seen[i] && all[i].bars && apart(all[i].angle, all[members[k]].angle) < mostTurn {
					seen[i] = true
					members = append(members, i)
				}
			}
		}
	}
	return members
}

func regionOf(all []tile, members []int, w int) region {
	var xx, yy, xy float64
	for _, i := range members {
		xx, yy, xy = xx+all[i].xx, yy+all[i].yy, xy+all[i].xy
	}
	a := angleOf(xx, yy, xy)
	g := region{u: vec{math.Cos(a), math.Sin(a)}, u0: math.Inf(1), u1: math.Inf(-1), v0: math.Inf(1), v1: math.Inf(-1), tiles: len(members)}
	for _, i := range members {
		x, y := float64(i%w*tileSide), float64(i/w*tileSide)
		for _, p := range [4]plane.Point{{X: x, Y: y}, {X: x + tileSide, Y: y}, {X: x, Y: y + tileSide}, {X: x + tileSide, Y: y + tileSide}} {
			along, across := g.u.dot(p), g.u.across().dot(p)
			g.u0, g.u1, g.v0, g.v1 = min(g.u0, along), max(g.u1, along), min(g.v0, across), max(g.v1, across)
		}
	}
	return g
}
