package scan

import (
	"cmp"
	"math"
	"slices"

	"unspool/code"
	"unspool/grade"
	"unspool/plane"
	"unspool/symbol"
	"unspool/unit"
)

// Linear is a linear symbol that was found in a picture.
type Linear struct {
	Kind    code.Kind
	Reading symbol.Reading // of the line that reads best, in steps of that line
	// Corners are those of the bars: the first bar's two ends, then the last's, in
	// the order around the symbol.
	Corners [4]plane.Point
	X       float64 // in samples
	N       float64 // wide:narrow; 0 for modular symbologies
	// Lines were tried across the bars and Good of them read the same.
	Lines, Good int

	u           vec // the way lines run
	from, to    edge
	top, bottom float64 // where the bars end, across u
}

// edge is a side of a symbol, as a line: where it is along u for a place across.
type edge struct{ at, slope float64 }

func (e edge) along(across float64) float64 { return e.at + e.slope*across }

const (
	lineStep  = 0.5 // samples between two samples of a line
	lineWide  = 1   // samples to either side that a line is the mean over
	triedUp   = 24  // lines tried over the height of a region
	leastGood = 3   // lines that have to say the same
)

// leastText is how many characters a symbol must carry that nothing but its own
// pattern proves: a part of a longer one reads as a short one. Own judgement; six
// digits is what zxing-cpp asks of Interleaved 2 of 5 too.
var leastText = map[string]int{"itf": 6, "codabar": 4, "code39": 2}

// hit is one line that read.
type hit struct {
	grade.Found
	across   float64
	from, to float64 // along u
}

// Linears finds the linear symbols of the given kinds. A symbol that reads as
// several kinds is listed as the one that most of its lines read; of symbols that
// lie over each other only the best stays.
func Linears(r plane.Raster, kinds []code.Kind) []Linear {
	if !r.Sound() || len(kinds) == 0 {
		return nil
	}
	var all []Linear
	for _, g := range regions(r) {
		for _, l := range g.linears(r, kinds) {
			if !slices.ContainsFunc(all, l.over) {
				all = append(all, l)
			}
		}
	}
	return all
}

// over says whether two symbols lie over each other.
func (l Linear) over(k Linear) bool {
	c := plane.Point{}
	for _, p := range k.Corners {
		c.X, c.Y = c.X+p.X/4, c.Y+p.Y/4
	}
	return inside(l.Corners, c)
}

// inside says whether a place is within a quadrilateral whose corners go round.
func inside(q [4]plane.Point, p plane.Point) bool {
	left, right := false, false
	for i := range q {
		a, b := q[i], q[(i+1)%4]
		side := (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X)
		left, right = left || side < 0, right || side > 0
	}
	return !(left && right)
}

// linears reads a region line by line.
func (g region) linears(r plane.Raster, kinds []code.Kind) []Linear {
	for _, blur := range []float64{0, 1.5, 2.5} {
		if blur > 0 && !g.worth(r) {
			break
		}
		if found := g.linearsOf(r, kinds, blur); len(found) > 0 {
			return found
		}
	}
	return nil
}

// worth says whether a region may be bars that a blur keeps from being read: wide
// enough, and with dark and light far apart.
func (g region) worth(r plane.Raster) bool {
	_, p, ok := g.across(r, (g.v0+g.v1)/2)
	return ok && g.tiles >= sharpTiles && slices.Max(p.Samples)-slices.Min(p.Samples) > 3*leastSpan
}

const sharpTiles = 12

// linearsOf reads a region line by line, each freed of a blur of so many samples.
func (g region) linearsOf(r plane.Raster, kinds []code.Kind, blur float64) []Linear {
	hits := map[string][]hit{}
	tried := 0
	for i := range triedUp {
		across := g.v0 + (g.v1-g.v0)*(float64(i)+0.5)/triedUp
		along, p, ok := g.across(r, across)
		if !ok {
			continue
		}
		tried++
		p.Samples = sharper(p.Samples, blur/lineStep)
		for _, f := range grade.FindAll(p, kinds) {
			h := hit{f, across, along + (f.From+0.5)*lineStep, along + (f.To+0.5)*lineStep}
			key := f.Kind.Name + " " + f.Reading.Text
			hits[key] = append(hits[key], h)
		}
	}
	var found []Linear
	for _, key := range keysOf(hits, kinds) {
		if l, ok := g.linear(r, hits[key], tried); ok && !slices.ContainsFunc(found, l.over) {
			found = append(found, l)
		}
	}
	return found
}

// keysOf are the readings, those of most lines first. Of as many lines that kind
// comes first which is later in the table: it is the narrower one, as GS1-128 is
// within Code 128 and UPC-A within EAN-13.
func keysOf(hits map[string][]hit, kinds []code.Kind) []string {
	rank := map[string]int{}
	for i, k := range kinds {
		rank[k.Name] = i
	}
	var keys []string
	for k := range hits {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(hits[b]), len(hits[a])), rank[hits[b][0].Kind.Name]-rank[hits[a][0].Kind.Name], cmp.Compare(a, b))
	})
	return keys
}

// across is the profile of a region at a place across it, from one end of the
// picture's part of it to the other with room for the quiet zones.
func (g region) across(r plane.Raster, across float64) (from float64, p plane.Profile, ok bool) {
	more := max(60, (g.u1-g.u0)/4)
	from, to := clip(r, g.u, across, g.u0-more, g.u1+more)
	n := int((to - from) / lineStep)
	if n < 20 {
		return 0, plane.Profile{}, false
	}
	return from, plane.Profile{Samples: line(r, at(g.u, from, across), g.u, lineStep, n, lineWide), Step: 1}, true
}

// sharper takes much of a blur off a line, of sigma samples. A blurred line lacks
// what a second blur takes of it; putting that back some rounds over brings back
// what is left above the noise (the method of Van Cittert).
func sharper(v []float32, sigma float64) []float32 {
	if sigma <= 0 {
		return v
	}
	n := int(3*sigma + 1)
	kernel := make([]float32, 2*n+1)
	sum := float32(0)
	for i := range kernel {
		kernel[i] = float32(math.Exp(-float64((i-n)*(i-n)) / (2 * sigma * sigma)))
		sum += kernel[i]
	}
	best := slices.Clone(v)
	for range sharpRounds {
		next := make([]float32, len(v))
		for i := range v {
			blurred := float32(0)
			for k, w := range kernel {
				blurred += w * best[min(max(i+k-n, 0), len(v)-1)]
			}
			next[i] = best[i] + v[i] - blurred/sum
		}
		best = next
	}
	return best
}

const sharpRounds = 8

// clip shortens a stretch of a line to what of it lies within the raster.
func clip(r plane.Raster, u vec, across, from, to float64) (float64, float64) {
	o := at(u, 0, across)
	for _, axis := range [2]struct{ at, step, size float64 }{{o.X, u.x, float64(r.W)}, {o.Y, u.y, float64(r.H)}} {
		if math.Abs(axis.step) < 1e-9 {
			if axis.at < 0 || axis.at > axis.size {
				return 0, 0
			}
			continue
		}
		a, b := -axis.at/axis.step, (axis.size-axis.at)/axis.step
		from, to = max(from, min(a, b)), min(to, max(a, b))
	}
	return from, to
}

// linear makes one symbol of the lines that read the same.
func (g region) linear(r plane.Raster, hits []hit, tried int) (Linear, bool) {
	if len(hits) < leastGood || len(hits[0].Reading.Text) < leastText[hits[0].Kind.Name] {
		return Linear{}, false
	}
	best := hits[0]
	for _, h := range hits {
		if h.Reading.Decodability > best.Reading.Decodability {
			best = h
		}
	}
	hits = slices.DeleteFunc(slices.Clone(hits), func(h hit) bool { // of the same text, another symbol
		return h.from > best.to || h.to < best.from
	})
	if len(hits) < leastGood {
		return Linear{}, false
	}
	l := Linear{Kind: best.Kind, Reading: best.Reading, X: best.Reading.X * lineStep, N: best.Reading.N, Lines: tried, Good: len(hits), u: g.u}
	l.from, l.to = sideOf(hits, func(h hit) float64 { return h.from }), sideOf(hits, func(h hit) float64 { return h.to })
	l.top, l.bottom = l.reach(r, best, -1), l.reach(r, best, 1)
	corner := func(e edge, across float64) plane.Point { return at(g.u, e.along(across), across) }
	l.Corners = [4]plane.Point{corner(l.from, l.top), corner(l.from, l.bottom), corner(l.to, l.bottom), corner(l.to, l.top)}
	if best.Reading.Reversed {
		l.Corners = [4]plane.Point{l.Corners[2], l.Corners[3], l.Corners[0], l.Corners[1]}
	}
	return l, true
}

// sideOf is the straight line through the ends of the lines.
func sideOf(hits []hit, end func(hit) float64) edge {
	n := float64(len(hits))
	var x, y, xx, xy float64
	for _, h := range hits {
		x, y = x+h.across/n, y+end(h)/n
	}
	for _, h := range hits {
		xx, xy = xx+(h.across-x)*(h.across-x), xy+(h.across-x)*(end(h)-y)
	}
	if xx < 1 {
		return edge{y, 0}
	}
	slope := xy / xx
	if math.Abs(slope) > 0.5 { // no symbol leans so: a few stray ends
		slope = 0
	}
	return edge{y - slope*x, slope}
}

const (
	stillBars = 0.5 // likeness to the bars below which they have ended
	stretch   = 96  // samples that two lines are compared by
)

// reach is how far the bars of a line go on across it, one way: as long as the
// next line looks like it.
func (l *Linear) reach(r plane.Raster, best hit, way float64) float64 {
	like := l.stretch(r, best.across)
	last := best.across
	for d := 1.0; d < float64(max(r.W, r.H)); d++ {
		across := best.across + way*d
		if p := at(l.u, (l.from.along(across)+l.to.along(across))/2, across); p.X < 0 || p.Y < 0 || p.X > float64(r.W) || p.Y > float64(r.H) {
			break
		}
		if likeness(like, l.stretch(r, across)) < stillBars {
			break
		}
		last = across
	}
	return last
}

// stretch is the line from the first edge of the symbol to its last.
func (l *Linear) stretch(r plane.Raster, across float64) []float32 {
	from, to := l.from.along(across), l.to.along(across)
	n := min(max(int(to-from)*2, stretch), 4096)
	return line(r, at(l.u, from, across), l.u, (to-from)/float64(n), n, 0)
}

// likeness is the correlation of two lines of as many samples.
func likeness(a, b []float32) float64 {
	if len(a) != len(b) {
		b = b[:min(len(a), len(b))]
		a = a[:len(b)]
	}
	var ma, mb float64
	for i := range a {
		ma, mb = ma+float64(a[i]), mb+float64(b[i])
	}
	n := float64(len(a))
	ma, mb = ma/n, mb/n
	var aa, bb, ab float64
	for i := range a {
		da, db := float64(a[i])-ma, float64(b[i])-mb
		aa, bb, ab = aa+da*da, bb+db*db, ab+da*db
	}
	if aa <= 0 || bb <= 0 {
		return 0
	}
	return ab / math.Sqrt(aa*bb)
}

// perX is how many samples of a graded profile lie in an X.
const perX = 24

// Profile is a scan across the symbol and its quiet zones through a round
// aperture, at a share of the height of its bars from 0 to 1. Aperture is its
// diameter in samples. Its step is in micrometres where x says how long X is;
// else it has none.
func (l *Linear) Profile(r plane.Raster, share, aperture float64, x unit.Length) plane.Profile {
	across := l.top + share*(l.bottom-l.top)
	from, to := l.from.along(across), l.to.along(across)
	quiet := (float64(l.Kind.QuietX) + 2) * l.X
	start, end := clip(r, l.u, across, from-quiet, to+quiet)
	step := l.X / perX
	n := int((end - start) / step)
	if n < 3 {
		return plane.Profile{}
	}
	samples := make([]float32, n)
	for i := range samples {
		samples[i] = spot(r, at(l.u, start+(float64(i)+0.5)*step, across), aperture)
	}
	return plane.Profile{Samples: samples, Step: x / perX}
}
