package scan

import (
	"cmp"
	"math"
	"slices"

	"unspool/plane"
	"unspool/symbol"
)

// finder is one of the three square eyes of a QR symbol.
type finder struct {
	at   plane.Point // its middle
	size float64     // a module, along the line it was found on
	seen int         // lines it was found on
}

const (
	finderSlack = 0.5 // of a module, that a run may be off
	maxFinders  = 14
)

// finders lists the eyes of a two-tone picture, those seen on most lines first.
func (k tones) finders() []finder {
	var all []finder
	var runs []run
	for y := range k.h {
		runs = k.runs(y, runs[:0])
		for i := 0; i+4 < len(runs); i++ {
			f, ok := k.finder(runs[i:i+5], y)
			if !ok {
				continue
			}
			all = joined(all, f)
		}
	}
	all = slices.DeleteFunc(all, func(f finder) bool { return f.seen < 2 })
	slices.SortStableFunc(all, func(a, b finder) int { return cmp.Compare(b.seen, a.seen) })
	return all[:min(len(all), maxFinders)]
}

// joined counts a finder to the one it is, or as a new one.
func joined(all []finder, f finder) []finder {
	for i := range all {
		g := &all[i]
		if between(g.at, f.at).length() < 2*g.size && math.Abs(g.size-f.size) < max(1, g.size/2) {
			n := float64(g.seen)
			g.at = plane.Point{X: (g.at.X*n + f.at.X) / (n + 1), Y: (g.at.Y*n + f.at.Y) / (n + 1)}
			g.size = (g.size*n + f.size) / (n + 1)
			g.seen++
			return all
		}
	}
	return append(all, f)
}

// run is a run of one tone on a line.
type run struct {
	from, to int
	dark     bool
}

// runs adds those of a line to some.
func (k tones) runs(y int, runs []run) []run {
	row := k.dark[y*k.w : (y+1)*k.w]
	for x := 0; x < k.w; {
		to := x
		for to < k.w && row[to] == row[x] {
			to++
		}
		runs = append(runs, run{x, to, row[x]})
		x = to
	}
	return runs
}

// finder says whether five runs of a line are those of an eye, and looks across
// it for the same.
func (k tones) finder(runs []run, y int) (finder, bool) {
	if !runs[0].dark {
		return finder{}, false
	}
	var n [5]float64
	for i, r := range runs {
		n[i] = float64(r.to - r.from)
	}
	size, ok := eye(n)
	if !ok {
		return finder{}, false
	}
	x := (float64(runs[2].from) + float64(runs[2].to)) / 2
	down, middle, ok := k.cross(int(x), y, 0, 1, size)
	if !ok {
		return finder{}, false
	}
	cy := float64(y) + 0.5 + middle
	across, middle, ok := k.cross(int(x), int(cy), 1, 0, size)
	if !ok || down > 2.5*across || across > 2.5*down {
		return finder{}, false
	}
	return finder{at: plane.Point{X: float64(int(x)) + 0.5 + middle, Y: cy}, size: (down + across) / 2, seen: 1}, true
}

// eye says whether lengths are as 1:1:3:1:1.
func eye(n [5]float64) (module float64, ok bool) {
	total := n[0] + n[1] + n[2] + n[3] + n[4]
	module = total / 7
	if total < 7 {
		return 0, false
	}
	slack := max(module*finderSlack, 1)
	for i, want := range [5]float64{1, 1, 3, 1, 1} {
		if math.Abs(n[i]-want*module) > slack*max(want/2, 1) {
			return 0, false
		}
	}
	return module, true
}

// cross looks for the runs of an eye along a direction through a dark sample. It
// gives the module there and how far the eye's middle lies from the sample.
func (k tones) cross(x, y, dx, dy int, size float64) (module, middle float64, ok bool) {
	if !k.at(x, y) {
		return 0, 0, false
	}
	limit := int(size*6) + 4
	walk := func(way int) (n [3]float64, fits bool) {
		px, py, dark := x+way*dx, y+way*dy, true
		for part := range 3 {
			for k.at(px, py) == dark {
				n[part]++
				px, py = px+way*dx, py+way*dy
				if int(n[part]) > limit {
					return n, false
				}
				if px < -1 || py < -1 || px > k.w || py > k.h {
					break
				}
			}
			dark = !dark
		}
		return n, n[1] > 0 && n[2] > 0
	}
	a, okA := walk(-1)
	b, okB := walk(1)
	if !okA || !okB {
		return 0, 0, false
	}
	module, ok = eye([5]float64{a[2], a[1], a[0] + 1 + b[0], b[1], b[2]})
	return module, (b[0] - a[0]) / 2, ok
}

// qrs finds QR symbols.
func qrs(r plane.Raster, k tones, decode decoder) (found []Matrix) {
	eyes := k.finders()
	used := make([]bool, len(eyes))
	for a := range eyes {
		for b := a + 1; b < len(eyes); b++ {
			for c := b + 1; c < len(eyes); c++ {
				if used[a] || used[b] || used[c] {
					continue
				}
				if m, ok := qrOf(r, k, [3]finder{eyes[a], eyes[b], eyes[c]}, decode); ok {
					used[a], used[b], used[c] = true, true, true
					found = append(found, m)
				}
			}
		}
	}
	return found
}

// qrOf reads the symbol that three eyes belong to.
func qrOf(r plane.Raster, k tones, e [3]finder, decode decoder) (Matrix, bool) {
	e, ok := corner(e)
	if !ok {
		return Matrix{}, false
	}
	right, down := between(e[0].at, e[1].at), between(e[0].at, e[2].at)
	mx := (k.module(e[0], right) + k.module(e[1], right.times(-1))) / 2
	my := (k.module(e[0], down) + k.module(e[2], down.times(-1))) / 2
	guess := (right.length()/mx+down.length()/my)/2 + 7
	n := 17 + 4*int(math.Round((guess-17)/4))
	for _, n := range []int{n, n + 4, n - 4, n + 8, n - 8} {
		if n < 21 || n > 177 {
			continue
		}
		for _, fourth := range fourths(r, e, n) {
			m, ok := mappingOf([4]plane.Point{{X: 3.5, Y: 3.5}, {X: float64(n) - 3.5, Y: 3.5}, {X: 3.5, Y: float64(n) - 3.5}, fourth.of}, [4]plane.Point{e[0].at, e[1].at, e[2].at, fourth.at})
			if !ok || !timed(r, &m, n) {
				continue
			}
			if got, ok := take(r, "qr", m, n, n, decode); ok {
				return got, true
			}
			g, cells := eyesOf(n)
			if got, ok := take(r, "qr", refined(r, m, g, cells), n, n, decode); ok {
				return got, true
			}
		}
	}
	return Matrix{}, false
}

// eyesOf is what every symbol of n modules has: its eyes with the light around
// them, and the lines between them (ISO/IEC 18004, from memory).
func eyesOf(n int) (g symbol.Grid, cells []int32) {
	g = symbol.NewGrid(n, n)
	for y := range n {
		for x := range n {
			left, top := x < 8, y < 8
			switch {
			case (left || x >= n-8) && (top || y >= n-8) && (left || top):
				u, v := min(x, n-1-x), min(y, n-1-y)
				ring := max(abs(u-3), abs(v-3))
				g.Set(x, y, ring < 2 || ring == 3)
			case x == 6 || y == 6:
				g.Set(x, y, (x+y)%2 == 0)
			default:
				continue
			}
			cells = append(cells, int32(y*n+x))
		}
	}
	return g, cells
}

// timed says whether the lines between the eyes of a symbol of n modules are by
// turns dark and light: most of each.
func timed(r plane.Raster, m *mapping, n int) bool {
	for _, down := range []bool{false, true} {
		good := 0
		var last float32
		for i := 7; i < n-7; i++ {
			u, v := float64(i)+0.5, 6.5
			if down {
				u, v = v, u
			}
			now := bilinear(r, m.at(u, v))
			if i > 7 && (now < last) == (i%2 == 0) {
				good++
			}
			last = now
		}
		if float64(good) < leastTimed*float64(n-15) {
			return false
		}
	}
	return true
}

const leastTimed = 0.7

// corner puts the eye at the right angle first, and the others so that the turn
// from the second to the third is clockwise. ok is false where three places are
// no such corner.
func corner(e [3]finder) ([3]finder, bool) {
	ab, bc, ca := between(e[0].at, e[1].at).length(), between(e[1].at, e[2].at).length(), between(e[2].at, e[0].at).length()
	switch max(ab, bc, ca) {
	case ab:
		e = [3]finder{e[2], e[0], e[1]}
	case ca:
		e = [3]finder{e[1], e[0], e[2]}
	}
	p, q := between(e[0].at, e[1].at), between(e[0].at, e[2].at)
	if p.x*q.y-p.y*q.x < 0 {
		e[1], e[2] = e[2], e[1]
		p, q = q, p
	}
	cos := (p.x*q.x + p.y*q.y) / (p.length() * q.length())
	lo, hi := min(e[0].size, e[1].size, e[2].size), max(e[0].size, e[1].size, e[2].size)
	return e, math.Abs(cos) < 0.5 && p.length() < 2*q.length() && q.length() < 2*p.length() && hi < 2*lo && p.length() > 8*lo
}

// module is the size of an eye's module along a direction: its outer edge is
// three and a half modules from its middle.
func (k tones) module(f finder, way vec) float64 {
	u := way.times(1 / way.length())
	sum, n := 0.0, 0
	for _, u := range []vec{u, u.times(-1)} {
		if d, ok := k.edge(f.at, u, 8*f.size); ok {
			sum, n = sum+d/3.5, n+1
		}
	}
	if n == 0 {
		return f.size
	}
	return sum / float64(n)
}

// edge is how far it is from the middle of an eye to its outer edge: dark,
// light, dark, light.
func (k tones) edge(from plane.Point, u vec, limit float64) (float64, bool) {
	dark, changes := true, 0
	for d := 0.0; d < limit; d += 0.25 {
		p := move(from, u.times(d))
		if k.at(int(p.X), int(p.Y)) != dark {
			dark = !dark
			if changes++; changes == 3 {
				return d, true
			}
		}
	}
	return 0, false
}

// known is a place of the symbol, in modules, and where it is on the raster.
type known struct{ of, at plane.Point }

// fourths are places that a fourth point of the symbol may be at, the best first,
// none where the lines between its eyes are not those of n modules:
// the alignment pattern that looks most like one, and where the fourth eye would
// be if the symbol were seen from straight above.
func fourths(r plane.Raster, e [3]finder, n int) []known {
	right, down := between(e[0].at, e[1].at).times(1/float64(n-7)), between(e[0].at, e[2].at).times(1/float64(n-7))
	at := func(u, v float64) plane.Point { return move(move(e[0].at, right.times(u-3.5)), down.times(v-3.5)) }
	last := float64(n) - 3.5
	plain := known{plane.Point{X: last, Y: last}, at(last, last)}
	of := [4]plane.Point{{X: 3.5, Y: 3.5}, {X: last, Y: 3.5}, {X: 3.5, Y: last}, plain.of}
	if m, ok := mappingOf(of, [4]plane.Point{e[0].at, e[1].at, e[2].at, plain.at}); !ok || !timed(r, &m, n) {
		return nil
	}
	if n == 21 {
		return []known{plain}
	}
	p := float64(n) - 6.5
	reach := max(4, float64(n)/12)
	best, most := plane.Point{}, 0.0
	for dv := -reach; dv <= reach; dv += 0.5 {
		for du := -reach; du <= reach; du += 0.5 {
			c := at(p+du, p+dv)
			if s := alignment(r, c, right, down) * (1 - 0.2*math.Hypot(du, dv)/reach); s > most {
				best, most = c, s
			}
		}
	}
	if most < 0.3 {
		return []known{plain}
	}
	return []known{{plane.Point{X: p, Y: p}, settle(r, best, right, down)}, plain}
}

// settle moves the middle of an alignment pattern to where it fits best.
func settle(r plane.Raster, c plane.Point, right, down vec) plane.Point {
	best, most := c, alignment(r, c, right, down)
	for dv := -0.4; dv <= 0.4; dv += 0.1 {
		for du := -0.4; du <= 0.4; du += 0.1 {
			p := move(move(c, right.times(du)), down.times(dv))
			if s := alignment(r, p, right, down); s > most {
				best, most = p, s
			}
		}
	}
	return best
}

// alignment is how much a place looks like the middle of an alignment pattern,
// up to 1: a dark module in a light ring in a dark ring.
func alignment(r plane.Raster, c plane.Point, right, down vec) float64 {
	var dark, light, darks, lights float64
	lo, hi := float32(4), float32(-1)
	for v := -2; v <= 2; v++ {
		for u := -2; u <= 2; u++ {
			x := bilinear(r, move(move(c, right.times(float64(u))), down.times(float64(v))))
			lo, hi = min(lo, x), max(hi, x)
			if max(max(u, -u), max(v, -v)) == 1 {
				light, lights = light+float64(x), lights+1
			} else {
				dark, darks = dark+float64(x), darks+1
			}
		}
	}
	if hi-lo < leastSpan {
		return 0
	}
	return (light/lights - dark/darks) / float64(hi-lo)
}
