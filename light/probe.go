package light

import (
	"bytes"
	"slices"

	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

// Probe takes profiles of faces under one light. It keeps its buffers from one
// profile to the next, so it serves one goroutine.
type Probe struct {
	lit   *Lit
	view  view
	runs  []run
	lines [channels]line
	base  []float32 // reflectance along the middle row
	sums  []float64
	cut   []strip
	box   box
	out   []float32
	uneven
}

// Probe makes a probe.
func (l *Lit) Probe() *Probe { return &Probe{lit: l} }

// Profile is the profile that a reader or verifier sees along a scan: predicted,
// before wear and print faults. Its samples lie PerDot to a dot; the first is
// half a sample beyond the scan's beginning. A scan with nothing in it, or with
// more than a million samples, gives an empty profile.
func (l *Lit) Profile(p *panel.Panels, s Scan) plane.Profile {
	return l.Probe().Profile(p, s)
}

// Profile is as that of Lit; the samples are valid until the next call.
func (q *Probe) Profile(p *panel.Panels, s Scan) plane.Profile {
	f, ok := s.frame(q.lit.scene, p.Grid)
	if !ok {
		return plane.Profile{}
	}
	q.view.look(p, s, f)
	q.out = sized(q.out, f.samples)
	clear(q.out)
	q.base = sized(q.base, f.total())
	q.row(q.base, 0, &f, f.view(f.at))
	if f.whole() && q.view.even() {
		q.oneRow(&f)
	} else {
		q.acrossRows(&f)
	}
	if s.Reverse {
		slices.Reverse(q.out)
	}
	return plane.Profile{Samples: q.out, Step: s.pitch(p.Grid).Span(1) / unit.Length(PerDot(s.pitch(p.Grid)))}
}

// oneRow is the profile where all rows are alike: the line in base stands for
// every strip of the aperture.
func (q *Probe) oneRow(f *frame) {
	q.offCard(q.base, f)
	q.sums = summed(q.sums, q.base)
	q.cut = aperture(q.cut, f.radius, f.radiusAlong, nil)
	q.box = q.box[:0]
	for _, t := range q.cut {
		q.box = q.box.add(t)
	}
	q.box.average(q.out, q.sums, f.pad)
}

// sized is b with n elements of any content.
func sized[T any](b []T, n int) []T {
	if cap(b) < n {
		return make([]T, n)
	}
	return b[:n]
}

// line is what one channel lays along the scan, in shares of the full amount:
// one a sample, or, where even, the same everywhere.
type line struct {
	even   bool
	amount float32 // where even
	share  []float32
}

// each gives a line of n samples its shares even where they are all the same.
func (n *line) each(size int) []float32 {
	if n.even {
		n.share = sized(n.share, size)
		fill(n.share, n.amount)
	}
	return n.share[:size]
}

// row lights one row of the view into dst, whose first sample is number first.
func (q *Probe) row(dst []float32, first int, f *frame, i int) {
	for ch := range q.lines {
		n := &q.lines[ch]
		n.even, n.amount = true, 0
		rows := q.view.rows[ch]
		switch {
		case len(rows) == 0:
		case (ch == chM || ch == chC) && len(q.view.rows[ch-1]) > 0 && bytes.Equal(rows[i], q.view.rows[ch-1][i]):
			n.take(&q.lines[ch-1]) // as in composite black
		default:
			q.lay(n, len(dst), first, f, ch, f.cols.from, rows[i])
		}
	}
	q.lit.shine(dst, &q.lines)
}

// take makes the line the same as another.
func (n *line) take(m *line) {
	n.even, n.amount = m.even, m.amount
	if !m.even {
		n.share = append(n.share[:0], m.share...)
	}
}

// lay draws a channel's row, whose first dot is column col, over size samples.
func (q *Probe) lay(n *line, size, first int, f *frame, ch, col int, row []uint8) {
	q.runs = printed(q.runs[:0], row, col, f.along.growth(ch))
	n.even, n.amount = len(q.runs) == 1, float32(q.runs[0].amount)/full[ch]
	if !n.even {
		n.share = sized(n.share, size)
		f.draw(n.share, first, q.runs, f.along.spread[ch], full[ch])
	}
}

// offCard darkens the samples of a line that lie beyond the face, one that lies
// across its edge by its share.
func (q *Probe) offCard(line []float32, f *frame) {
	from, to := f.sample(0), f.sample(float64(f.length))
	if from <= 0 && to >= float64(len(line)) {
		return
	}
	for i := range line {
		on := float32(min(max(min(float64(i+1), to)-max(float64(i), from), 0), 1))
		line[i] = offCard + on*(line[i]-offCard)
	}
}

// shine turns what lies along a line into reflectances.
func (l *Lit) shine(dst []float32, n *[channels]line) {
	dyes := n[chY].even && n[chM].even && n[chC].even
	switch others := n[chS].even && n[chO].even; {
	case dyes && others:
		l.shineResin(dst, n)
	case n[chK].even && others:
		l.shineDyes(dst, n)
	default:
		l.shineAll(dst, n)
	}
}

// amounts are those of an even line.
func evenAmounts(n *[channels]line) (a amounts) {
	for ch := range a {
		a[ch] = n[ch].amount
	}
	return a
}

// shineResin is shine where nothing but the resin changes. It averages over its
// area, so what it does is a straight line.
func (l *Lit) shineResin(dst []float32, n *[channels]line) {
	a := evenAmounts(n)
	if n[chK].even {
		fill(dst, l.reflect(&a))
		return
	}
	a[chK] = 0
	open := l.reflect(&a)
	a[chK] = 1
	step := l.reflect(&a) - open
	for i, k := range n[chK].share[:len(dst)] {
		dst[i] = open + k*step
	}
}

// shineDyes is shine where nothing but dyes change.
func (l *Lit) shineDyes(dst []float32, n *[channels]line) {
	y, m, c := n[chY].each(len(dst)), n[chM].each(len(dst)), n[chC].each(len(dst))
	a := evenAmounts(n)
	a[chY], a[chM], a[chC] = y[0], m[0], c[0]
	r := l.reflect(&a)
	for i := range dst {
		if y[i] != a[chY] || m[i] != a[chM] || c[i] != a[chC] {
			a[chY], a[chM], a[chC] = y[i], m[i], c[i]
			r = l.reflect(&a)
		}
		dst[i] = r
	}
}

// shineAll is shine whatever changes.
func (l *Lit) shineAll(dst []float32, n *[channels]line) {
	var shares [channels][]float32
	var a amounts
	for ch := range n {
		shares[ch] = n[ch].each(len(dst))
		a[ch] = shares[ch][0]
	}
	r := l.reflect(&a)
	for i := range dst {
		changed := false
		for ch, s := range shares {
			if s[i] != a[ch] {
				a[ch], changed = s[i], true
			}
		}
		if changed {
			r = l.reflect(&a)
		}
		dst[i] = r
	}
}
