package light

import (
	"bytes"
	"math"
	"slices"
)

// uneven is what a Probe needs where the rows in reach of the aperture differ.
type uneven struct {
	bands  []band
	strips [][]float32 // reflectance along each strip of the aperture
	mixed  [channels]line
	merged []uint8
	differ []bool
	kinds  []int
}

// band is a stretch across the scan with one amount in each column: a row, or
// rows that have grown over each other.
type band struct {
	from, to float64 // dots across the scan
	own      int     // the row in whose dots it lies
	rows     span    // those whose ink reaches it
	kinds    uint64  // which different rows those are, a bit each; 0 where there are too many
	lines    [channels]line
}

// acrossRows is the profile where rows differ: every strip of the aperture sees
// its own mixture of rows. Only where rows differ is that mixture lit; elsewhere
// the middle row, already lit in base, stands for all.
func (q *Probe) acrossRows(f *frame) {
	q.cutBands(f)
	places := []float64{-f.at, float64(f.height) - f.at}
	for _, b := range q.bands[1:] {
		places = append(places, b.from-f.at)
	}
	q.cut = aperture(q.cut, f.radius, f.radiusAlong, places)
	for i := range q.cut {
		if i == len(q.strips) {
			q.strips = append(q.strips, nil)
		}
		q.strips[i] = append(q.strips[i][:0], q.base...)
	}
	for _, w := range q.windows(f) {
		q.layBands(f, w)
		for i, t := range q.cut {
			for ch := range q.mixed {
				q.mix(ch, f.at+t.off, f.across.spread[ch], w.len())
			}
			q.lit.shine(q.strips[i][w.from:w.to], &q.mixed)
		}
	}
	for i, t := range q.cut {
		if at := f.at + t.off; at < 0 || at > float64(f.height) {
			fill(q.strips[i], offCard)
		}
		q.offCard(q.strips[i], f)
		q.sums = summed(q.sums, q.strips[i])
		q.box = q.box[:0].add(t)
		q.box.average(q.out, q.sums, f.pad)
	}
}

// cutBands cuts the rows in view where their ink begins and ends once it has
// grown across the scan; neighbours of one content are one band. The outermost
// bands have no outer end.
func (q *Probe) cutBands(f *frame) {
	half := math.Abs(f.across.half)
	cuts := []float64{math.Inf(-1)}
	for y := f.rows.from + 1; y < f.rows.to; y++ {
		cuts = append(cuts, float64(y)-half, float64(y), float64(y)+half)
	}
	cuts = append(cuts, math.Inf(1))
	slices.Sort(cuts)
	q.kinds = q.view.kinds(q.kinds, f.rows.len())
	old := q.bands
	q.bands = q.bands[:0]
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		if to-from < 1e-6 {
			continue
		}
		b := band{from: from, to: to}
		middle := (max(from, float64(f.rows.from)) + min(to, float64(f.rows.to))) / 2
		b.own = f.view(middle)
		b.rows = span{f.view(middle - half), f.view(middle+half) + 1}
		b.kinds = kindsIn(q.kinds[b.rows.from:b.rows.to])
		n := len(q.bands)
		if n > 0 && b.kinds == q.bands[n-1].kinds && b.kinds != 0 && q.kinds[b.own] == q.kinds[q.bands[n-1].own] {
			q.bands[n-1].to = to
			continue
		}
		if n < len(old) {
			b.lines = old[n].lines // their buffers
		}
		q.bands = append(q.bands, b)
	}
}

// kindsIn is the set of kinds, 0 where a number is too high for it.
func kindsIn(kinds []int) (set uint64) {
	for _, kind := range kinds {
		if kind >= 64 {
			return 0
		}
		set |= 1 << kind
	}
	return set
}

// kinds numbers the different ones of n rows of the view, rows that are alike by
// the same number.
func (v *view) kinds(kinds []int, n int) []int {
	kinds = kinds[:0]
	for i := range n {
		kind := i
		for j := range i {
			if v.equal(i, v, j) {
				kind = kinds[j]
				break
			}
		}
		kinds = append(kinds, kind)
	}
	return kinds
}

// windows are the samples that columns act on in which rows differ.
func (q *Probe) windows(f *frame) []span {
	q.differ = append(q.differ[:0], make([]bool, f.cols.len())...)
	for _, rows := range q.view.rows {
		for i := 1; i < len(rows); i++ {
			if bytes.Equal(rows[i], rows[0]) {
				continue
			}
			for c, a := range rows[i] {
				if a != rows[0][c] {
					q.differ[c] = true
				}
			}
		}
	}
	var out []span
	reach := f.along.reach() + math.Abs(f.along.half)
	for c, differ := range q.differ {
		if !differ {
			continue
		}
		dot := float64(f.cols.from + c)
		w := span{max(int(f.sample(dot-reach)), 0), min(int(f.sample(dot+1+reach))+1, f.total())}
		if n := len(out); n > 0 && w.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, w.to)
		} else if w.from < w.to {
			out = append(out, w)
		}
	}
	return out
}

// layBands draws every band over the samples of a window.
func (q *Probe) layBands(f *frame, w span) {
	reach := f.along.reach() + math.Abs(f.along.half)
	from := min(max(int(math.Floor(f.dot(float64(w.from))-reach)), f.cols.from), f.cols.to-1)
	to := min(max(int(math.Ceil(f.dot(float64(w.to))+reach)), from+1), f.cols.to)
	for i := range q.bands {
		b := &q.bands[i]
		for ch := range b.lines {
			b.lines[ch].even, b.lines[ch].amount = true, 0
			if rows := q.view.rows[ch]; len(rows) > 0 {
				row := q.merge(rows, b, f.across.growth(ch), from-f.cols.from, to-f.cols.from)
				q.lay(&b.lines[ch], w.len(), w.from, f, ch, from, row)
			}
		}
	}
}

// merge is what lies in a band in columns from to to: the largest amount of the
// rows that reach it, the smallest where marks shrink.
func (q *Probe) merge(rows [][]uint8, b *band, growth float64, from, to int) []uint8 {
	if growth == 0 || b.rows.len() == 1 {
		return rows[b.own][from:to]
	}
	q.merged = append(q.merged[:0], rows[b.rows.from][from:to]...)
	for _, row := range rows[b.rows.from+1 : b.rows.to] {
		for i, a := range row[from:to] {
			if growth > 0 {
				q.merged[i] = max(q.merged[i], a)
			} else {
				q.merged[i] = min(q.merged[i], a)
			}
		}
	}
	return q.merged
}

// mix lays channel ch at a place across the scan: the mean of the bands, each
// weighted by its share of a Gaussian spread around that place.
func (q *Probe) mix(ch int, at, spread float64, size int) {
	m := &q.mixed[ch]
	m.even, m.amount = true, 0
	spread = max(spread, 1e-6)
	for i := range q.bands {
		b := &q.bands[i]
		weight := float32(step((at-b.from)/spread) - step((at-b.to)/spread))
		n := &b.lines[ch]
		switch {
		case weight <= 0:
		case n.even:
			m.amount += weight * n.amount
		default:
			if m.even {
				m.even, m.share = false, sized(m.share, size)
				fill(m.share, 0)
			}
			for j, v := range n.share[:size] {
				m.share[j] += weight * v
			}
		}
	}
	if !m.even {
		for j := range m.share {
			m.share[j] += m.amount
		}
	}
}

func fill(line []float32, v float32) {
	for i := range line {
		line[i] = v
	}
}
