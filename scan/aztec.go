package scan

import (
	"math"
	"slices"

	"unspool/plane"
	"unspool/symbol"
)

// bull is the middle of an Aztec symbol: a dark module with rings around it.
type bull struct {
	at   plane.Point
	size float64 // a module
}

const (
	rays     = 16 // ways that the rings around a middle are looked for
	rayRings = 4  // edges of rings that each must cross
	maxBulls = 24
)

// bulls lists the small dark spots that lie in rings of even width. However the
// symbol is turned, a ray from its middle crosses the rings at 1, 3, 5 and 7
// halves of one length, which is that ray's own.
func (k tones) bulls() (all []bull) {
	seen := make([]bool, len(k.dark))
	var stack []int32
	for i := range k.dark {
		if seen[i] || !k.dark[i] {
			continue
		}
		var n, sx, sy float64
		seen[i], stack = true, append(stack[:0], int32(i))
		for len(stack) > 0 {
			p := int(stack[len(stack)-1])
			stack = stack[:len(stack)-1]
			x, y := p%k.w, p/k.w
			n, sx, sy = n+1, sx+float64(x)+0.5, sy+float64(y)+0.5
			for _, q := range [4][2]int{{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}} {
				if o := q[1]*k.w + q[0]; k.at(q[0], q[1]) && !seen[o] {
					seen[o] = true
					stack = append(stack, int32(o))
				}
			}
		}
		b := bull{plane.Point{X: sx / n, Y: sy / n}, math.Sqrt(n)}
		if n < 2 || n > float64(len(k.dark))/100 || !k.ringed(&b) {
			continue
		}
		known := slices.ContainsFunc(all, func(o bull) bool { return between(o.at, b.at).length() < b.size })
		if known {
			continue
		}
		if all = append(all, b); len(all) == maxBulls {
			break
		}
	}
	return all
}

// ringed looks for the rings along every ray, and tells the module from them. A
// few may fail: at corners rings are hardly there.
func (k tones) ringed(b *bull) bool {
	failed, sum := 0, 0.0
	for i := range rays {
		module, ok := k.ray(*b, 2*math.Pi*(float64(i)+0.3)/rays)
		if !ok {
			if failed++; failed > rays/3 {
				return false
			}
		}
		sum += module
	}
	const longer = 1.122 // that a square reaches from its middle than half its side, by the mean of all ways: 4 ln(1+√2)/π
	b.size = sum / float64(rays-failed) / longer
	return true
}

func (k tones) ray(b bull, angle float64) (module float64, ok bool) {
	sin, cos := math.Sincos(angle)
	var edges [rayRings]float64
	found, dark := 0, true
	for d := 0.0; d < 8*b.size+4 && found < rayRings; d += 0.25 {
		p := move(b.at, vec{cos, sin}.times(d))
		if p.X < 0 || p.Y < 0 {
			return 0, false
		}
		if k.at(int(p.X), int(p.Y)) != dark {
			edges[found], dark = d, !dark
			found++
		}
	}
	if found < rayRings {
		return 0, false
	}
	half := edges[rayRings-1] / (2*rayRings - 1)
	for e, at := range edges {
		if math.Abs(at-half*float64(2*e+1)) > 0.5*half+0.8 {
			return 0, false
		}
	}
	return 2 * half, true
}

// target is the bullseye of an Aztec symbol: rings around one dark module, n
// modules a side (ISO/IEC 24778, from memory: 9 of compact symbols, 13 of full
// ones).
func target(n int) symbol.Grid {
	g := symbol.NewGrid(n, n)
	for y := range n {
		for x := range n {
			g.Set(x, y, max(abs(x-n/2), abs(y-n/2))%2 == 0)
		}
	}
	return g
}

func abs(n int) int { return max(n, -n) }

// aztecs finds Aztec symbols.
func aztecs(r plane.Raster, k tones, decode decoder) (found []Matrix) {
	for _, b := range k.bulls() {
		for _, kind := range []struct {
			eye   int
			sizes []int
		}{{9, compactAztec}, {13, fullAztec}} {
			m, ok := targeted(r, b, kind.eye)
			if !ok {
				continue
			}
			if got, ok := aztecOf(r, m, kind.eye, kind.sizes, decode); ok {
				found = append(found, got)
				break
			}
		}
	}
	return found
}

// Sides of Aztec symbols in modules: compact of 1 to 4 layers, full of 4 to 32,
// whose lines of the reference grid add to them (from memory).
var compactAztec, fullAztec = []int{15, 19, 23, 27}, fullSizes()

func fullSizes() (all []int) {
	for layers := 1; layers <= 32; layers++ {
		base := 14 + 4*layers
		all = append(all, base+1+2*((base/2-1)/15))
	}
	return all
}

// targeted turns a bullseye until it fits.
func targeted(r plane.Raster, b bull, n int) (best mapping, ok bool) {
	g, most := target(n), 0.0
	h := float64(n) / 2
	for degrees := 0.0; degrees < 90; degrees += 5 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		size := b.size
		var q [4]plane.Point
		for i, c := range corners(float64(n), float64(n)) {
			u, v := (c.X-h)*size, (c.Y-h)*size
			q[i] = plane.Point{X: b.at.X + u*cos - v*sin, Y: b.at.Y + u*sin + v*cos}
		}
		m, sound := mappingOf(corners(float64(n), float64(n)), q)
		if !sound || !m.within(r, n, n) {
			continue
		}
		if f := fit(r, &m, g, nil); f > most {
			best, most, ok = m, f, true
		}
	}
	if !ok || like(r, &best, g) < 0.6 {
		return best, false
	}
	best = refined(r, best, g, nil)
	return best, like(r, &best, g) > 0.85
}

// like is the share of modules that are as the grid says.
func like(r plane.Raster, m *mapping, g symbol.Grid) float64 {
	seen := gridOf(m.modules(r, g.W, g.H), g.W, g.H, true)
	good := 0
	for i := range g.Dark {
		if g.Dark[i] == seen.Dark[i] {
			good++
		}
	}
	return float64(good) / float64(len(g.Dark))
}

// aztecOf reads the symbol around a bullseye of eye modules.
func aztecOf(r plane.Raster, m mapping, eye int, sizes []int, decode decoder) (Matrix, bool) {
	for _, n := range sizes {
		rim := float64(n-eye) / 2
		var q [4]plane.Point
		for i, c := range corners(float64(n), float64(n)) {
			q[i] = m.at(c.X-rim, c.Y-rim)
		}
		wide, ok := mappingOf(corners(float64(n), float64(n)), q)
		if !ok || !wide.within(r, n, n) {
			return Matrix{}, false
		}
		if eye == 13 && n > 31 {
			g, cells := aztecGrid(n)
			wide = refined(r, wide, g, cells)
		}
		if got, ok := take(r, "aztec", wide, n, n, decode); ok {
			return got, true
		}
	}
	return Matrix{}, false
}

// aztecGrid is the reference grid of a full symbol with its bullseye: every
// sixteenth line from the middle, by turns dark and light (from memory).
func aztecGrid(n int) (g symbol.Grid, cells []int32) {
	g = symbol.NewGrid(n, n)
	c := n / 2
	for y := range n {
		for x := range n {
			dx, dy := abs(x-c), abs(y-c)
			switch {
			case max(dx, dy) <= 6:
				g.Set(x, y, max(dx, dy)%2 == 0)
			case max(dx, dy) == 7:
				continue // mode message
			case dx%16 == 0 || dy%16 == 0:
				g.Set(x, y, (dx+dy)%2 == 0)
			default:
				continue
			}
			cells = append(cells, int32(y*n+x))
		}
	}
	return g, cells
}
