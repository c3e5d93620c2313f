package scan

import (
	"cmp"
	"math"
	"slices"

	"unspool/plane"
)

// patch is the side in samples of the squares that blobs are put together from.
const patch = 2

// blobs are the outlines of what hangs together in two tones once gaps of up to
// join patches are closed on either side: convex, clockwise as seen with y down,
// the largest first.
func (k tones) blobs(join int) (found [][]plane.Point) {
	c := k.coarse()
	wide := c.spread(join)
	seen := make([]bool, len(wide))
	rows := make([]reachOf, k.h) // of each row, where it is dark first and last
	var stack []int32
	for i := range wide {
		if !wide[i] || seen[i] {
			continue
		}
		seen[i], stack = true, append(stack[:0], int32(i))
		top, bottom := k.h, 0
		for len(stack) > 0 {
			p := int(stack[len(stack)-1])
			stack = stack[:len(stack)-1]
			x, y := p%c.w, p/c.w
			if c.dark[p] {
				for v := patch * y; v < min(patch*(y+1), k.h); v++ {
					if rows[v].widen(k, patch*x, v) {
						top, bottom = min(top, v), max(bottom, v)
					}
				}
			}
			for _, q := range [4][2]int{{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}} {
				if q[0] < 0 || q[1] < 0 || q[0] >= c.w || q[1] >= c.h {
					continue
				}
				if n := q[1]*c.w + q[0]; wide[n] && !seen[n] {
					seen[n] = true
					stack = append(stack, int32(n))
				}
			}
		}
		if (bottom-top+1)*(bottom-top+1) >= leastBlob/8 { // an oblong symbol is four times as wide as high
			if h := outline(rows, top, bottom); area(h) >= leastBlob {
				found = append(found, h)
			}
		}
		for v := top; v <= bottom; v++ {
			rows[v] = reachOf{}
		}
	}
	slices.SortStableFunc(found, func(a, b []plane.Point) int { return cmp.Compare(area(b), area(a)) })
	return found[:min(len(found), maxBlobs)]
}

// reachOf is where a row is dark: from its first sample to after its last; empty
// where it is not.
type reachOf struct{ from, to int }

// widen counts the dark samples of a patch's row in.
func (a *reachOf) widen(k tones, x0, y int) (dark bool) {
	for x := x0; x < min(x0+patch, k.w); x++ {
		switch {
		case !k.dark[y*k.w+x]:
			continue
		case a.to == 0:
			a.from, a.to = x, x+1
		default:
			a.from, a.to = min(a.from, x), max(a.to, x+1)
		}
		dark = true
	}
	return dark
}

// coarse is a patch of samples to one: dark where any is.
func (k tones) coarse() tones {
	c := tones{w: (k.w + patch - 1) / patch, h: (k.h + patch - 1) / patch}
	c.dark = make([]bool, c.w*c.h)
	for y := range k.h {
		row := c.dark[y/patch*c.w : (y/patch+1)*c.w]
		for x, dark := range k.dark[y*k.w : (y+1)*k.w] {
			if dark {
				row[x/patch] = true
			}
		}
	}
	return c
}

const (
	leastBlob = 200 // samples: a symbol of 10 x 10 modules at less than 2 samples each
	maxBlobs  = 64
)

// spread is the tones with what is dark made wider by n on every side.
func (k tones) spread(n int) []bool {
	if n == 0 {
		return k.dark
	}
	along := func(in []bool, size, step, lines, stride int) []bool {
		out := make([]bool, len(in))
		for l := range lines {
			last := -2 * n
			for i := range size + n {
				if i < size && in[l*stride+i*step] {
					last = i
				}
				if j := i - n; j >= 0 && last >= j-n {
					out[l*stride+j*step] = true
				}
			}
		}
		return out
	}
	return along(along(k.dark, k.w, 1, k.h, k.w), k.h, k.w, k.w, 1)
}

// outline is the convex hull of the samples of some rows.
func outline(rows []reachOf, top, bottom int) []plane.Point {
	var all []plane.Point
	for y := top; y <= bottom; y++ {
		if rows[y].to == 0 {
			continue
		}
		x0, x1 := float64(rows[y].from), float64(rows[y].to)
		all = append(all, plane.Point{X: x0, Y: float64(y)}, plane.Point{X: x1, Y: float64(y)}, plane.Point{X: x0, Y: float64(y + 1)}, plane.Point{X: x1, Y: float64(y + 1)})
	}
	slices.SortFunc(all, func(a, b plane.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	half := func(points []plane.Point) (hull []plane.Point) {
		for _, p := range points {
			for len(hull) > 1 && turn(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		return hull
	}
	a := half(all)
	slices.Reverse(all)
	b := half(all)
	if len(a) < 2 || len(b) < 2 {
		return nil
	}
	return append(a[:len(a)-1], b[:len(b)-1]...)
}

// turn is twice the area of a triangle: above 0 where it goes clockwise with y
// down.
func turn(a, b, c plane.Point) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

func area(q []plane.Point) float64 {
	sum := 0.0
	for i := 2; i < len(q); i++ {
		sum += turn(q[0], q[i-1], q[i])
	}
	return math.Abs(sum) / 2
}

// fourSided takes edges of a convex outline away, that which adds least first,
// until four are left. ok is false where it has fewer.
func fourSided(h []plane.Point) (q [4]plane.Point, ok bool) {
	h = slices.Clone(h)
	for len(h) > 4 {
		best, least, put := -1, math.Inf(1), plane.Point{}
		for i := range h {
			a, b, c, d := h[(i+len(h)-1)%len(h)], h[i], h[(i+1)%len(h)], h[(i+2)%len(h)]
			// Without edge b-c its neighbours meet at p.
			p, ok := meet(a, b, d, c)
			if !ok {
				continue
			}
			if more := math.Abs(turn(b, p, c)); more < least {
				best, least, put = i, more, p
			}
		}
		if best < 0 {
			return q, false
		}
		next := (best + 1) % len(h)
		h[best] = put
		h = slices.Delete(h, next, next+1)
	}
	if len(h) < 4 {
		return q, false
	}
	return [4]plane.Point(h), true
}

// meet is where the line from a through b and that from d through c meet, beyond
// b and c.
func meet(a, b, d, c plane.Point) (p plane.Point, ok bool) {
	u, v := between(a, b), between(d, c)
	cross := u.x*v.y - u.y*v.x
	if math.Abs(cross) < 1e-9 {
		return p, false
	}
	w := between(b, c)
	s := (w.x*v.y - w.y*v.x) / cross
	t := (w.x*u.y - w.y*u.x) / cross
	return move(b, u.times(s)), s >= 0 && t >= 0
}
