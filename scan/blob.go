package scan

import (
	"cmp"
	"math"
	"slices"

	"unspool/plane"
)

// blobs are the outlines of what hangs together in two tones once gaps of up to
// join samples are closed: convex, clockwise as seen with y down, the largest
// first.
func (k tones) blobs(join int) [][]plane.Point {
	wide := k.spread(join)
	label := make([]int32, len(k.dark))
	var found [][]plane.Point
	stack := []int32{}
	for i := range wide {
		if !wide[i] || label[i] != 0 {
			continue
		}
		id := int32(len(found) + 1)
		label[i], stack = id, append(stack[:0], int32(i))
		rows := map[int][2]int{} // of each row, the first and last dark sample
		for len(stack) > 0 {
			p := int(stack[len(stack)-1])
			stack = stack[:len(stack)-1]
			x, y := p%k.w, p/k.w
			if k.dark[p] {
				row, ok := rows[y]
				if !ok {
					row = [2]int{x, x}
				}
				rows[y] = [2]int{min(row[0], x), max(row[1], x)}
			}
			for _, q := range [4][2]int{{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}} {
				if q[0] < 0 || q[1] < 0 || q[0] >= k.w || q[1] >= k.h {
					continue
				}
				if n := q[1]*k.w + q[0]; wide[n] && label[n] == 0 {
					label[n] = id
					stack = append(stack, int32(n))
				}
			}
		}
		found = append(found, outline(rows))
	}
	found = slices.DeleteFunc(found, func(h []plane.Point) bool { return area(h) < leastBlob })
	slices.SortStableFunc(found, func(a, b []plane.Point) int { return cmp.Compare(area(b), area(a)) })
	return found[:min(len(found), maxBlobs)]
}

const (
	leastBlob = 200 // samples: a symbol of 10 x 10 modules at less than 2 samples each
	maxBlobs  = 64
)

// spread is the tones with what is dark made wider by join/2 on every side.
func (k tones) spread(join int) []bool {
	n := (join + 1) / 2
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
func outline(rows map[int][2]int) []plane.Point {
	var all []plane.Point
	for y, row := range rows {
		x0, x1 := float64(row[0]), float64(row[1]+1)
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
