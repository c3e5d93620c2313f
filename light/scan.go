package light

import (
	"bytes"
	"math"

	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

// Scan is one straight line across a face, seen through a round aperture.
type Scan struct {
	AlongX bool // the line runs along x; otherwise along y
	// From and To are where it begins and ends, in dots along the scan; both may
	// lie beyond the face.
	From, To float64
	// At is the middle of the line across the scan, in dots: 0.5 is the middle of
	// the first row.
	At       float64
	Aperture unit.Length // diameter
	Reverse  bool        // from To to From
}

// finest is the distance of samples aimed at: an eighth of a dot at 300 dots an
// inch, a seventh of the smallest aperture of ISO/IEC 15416. Even half as many
// would move no decodability by 0.02, as a test of package grade shows.
const finest = 10600 * unit.Nanometre

// maxSamples bounds a profile; a card's diagonal has a hundredth of it.
const maxSamples = 1 << 20

// PerDot is how many samples a profile has a dot at a pitch along the scan.
func PerDot(p unit.Pitch) int {
	return max(2, int(math.Ceil(float64(unit.Inch)/float64(finest)/float64(max(p, 1)))))
}

// Dot is the place on the scan, in dots, of a place on its profile in samples,
// counted as package grade does from the middle of the first.
func (s Scan) Dot(g plane.Grid, sample float64) float64 {
	n := float64(PerDot(s.pitch(g)))
	if s.Reverse {
		sample = s.samples(n) - 1 - sample
	}
	return s.From + (sample+0.5)/n
}

// samples is how many samples the profile has, at n to a dot.
func (s Scan) samples(n float64) float64 { return math.Round((s.To - s.From) * n) }

// pitch is the pitch along the scan.
func (s Scan) pitch(g plane.Grid) unit.Pitch {
	if s.AlongX {
		return g.DX
	}
	return g.DY
}

// size is how many dots the face has along and across the scan.
func (s Scan) size(g plane.Grid) (along, across int) {
	if s.AlongX {
		return g.W, g.H
	}
	return g.H, g.W
}

// frame is where a scan lies on a face.
type frame struct {
	ruler
	samples int // of the profile
	pad     int // samples that the aperture sees beyond either end
	across  geometry
	along   geometry
	// radius is that of the aperture, across the scan in dots and along it in
	// samples.
	radius, radiusAlong float64
	cols, rows          span // dots along and across the scan that may be seen, within the face
	length, height      int  // dots of the face along and across the scan
	at                  float64
}

// span is a half-open range.
type span struct{ from, to int }

func (s span) len() int { return s.to - s.from }

// frame places a scan; ok is false where there is nothing to see.
func (s Scan) frame(c Scene, g plane.Grid) (f frame, ok bool) {
	length, height := s.size(g)
	n := float64(PerDot(s.pitch(g)))
	samples := s.samples(n)
	if !(samples >= 1 && samples <= maxSamples && math.Abs(s.From) <= maxSamples) || math.IsNaN(s.At) || g.DX < 1 || g.DY < 1 || length < 1 || height < 1 {
		return frame{}, false
	}
	f.samples, f.length, f.height, f.at = int(samples), length, height, s.At
	f.along, f.across = c.along(s.AlongX, g), c.along(!s.AlongX, g)
	aperture := min(max(s.Aperture, 0), unit.Inch)
	f.radiusAlong = s.pitch(g).Dots(aperture) / 2 * n
	f.radius = Scan{AlongX: !s.AlongX}.pitch(g).Dots(aperture) / 2
	f.pad = int(f.radiusAlong) + 2
	f.ruler = ruler{s.From - float64(f.pad)/n, n}
	reach := f.along.reach() + 1
	f.cols = inside(s.From-float64(f.pad)/n-reach, s.To+float64(f.pad)/n+reach, length)
	reach = f.radius + f.across.reach()
	f.rows = inside(s.At-reach, s.At+reach, height)
	return f, true
}

// whole says whether the aperture stays on the face.
func (f *frame) whole() bool { return f.at-f.radius >= 0 && f.at+f.radius <= float64(f.height) }

// view is the row of the view at a place across the scan, the nearest where
// there is none.
func (f *frame) view(at float64) int {
	return int(min(max(math.Floor(at), float64(f.rows.from)), float64(f.rows.to-1))) - f.rows.from
}

// total is how many samples are lit: the profile and its pads.
func (f *frame) total() int { return f.samples + 2*f.pad }

// inside is the dots that a stretch touches, of n; at least the nearest one.
func inside(from, to float64, n int) span {
	last := float64(n - 1)
	a := int(min(max(math.Floor(from), 0), last))
	return span{a, max(a, int(min(max(math.Ceil(to)-1, 0), last))) + 1}
}

// Same says whether two scans see the same dots, so that their profiles are
// equal. It compares every dot, and may say no where profiles happen to agree.
func (l *Lit) Same(p *panel.Panels, a, b Scan) bool {
	if a.AlongX != b.AlongX || a.From != b.From || a.To != b.To || a.Aperture != b.Aperture || a.Reverse != b.Reverse {
		return false
	}
	f, ok := a.frame(l.scene, p.Grid)
	g, also := b.frame(l.scene, p.Grid)
	if !ok || !also {
		return ok == also
	}
	if a.At == b.At {
		return true
	}
	va, vb := new(view), new(view)
	va.look(p, a, f)
	vb.look(p, b, g)
	if f.whole() && g.whole() && va.even() && vb.even() {
		return va.equal(0, vb, 0)
	}
	return false
}

// view is the dots that a scan may see: rows[channel][i] is row i of the scan
// over its columns. Channels without a panel have no rows.
type view struct {
	rows [channels][][]uint8
	held []uint8
}

// look fills the view.
func (v *view) look(p *panel.Panels, s Scan, f frame) {
	n, w := f.rows.len(), f.cols.len()
	v.held = v.held[:0]
	for ch, plane := range planes(p) {
		v.rows[ch] = v.rows[ch][:0]
		if plane == nil {
			continue
		}
		if s.AlongX {
			for y := f.rows.from; y < f.rows.to; y++ {
				v.rows[ch] = append(v.rows[ch], plane[p.At(f.cols.from, y):p.At(f.cols.to, y)])
			}
			continue
		}
		at := len(v.held)
		v.held = append(v.held, make([]uint8, n*w)...)
		for c := range w {
			from := p.At(f.rows.from, f.cols.from+c)
			for i, a := range plane[from : from+n] {
				v.held[at+i*w+c] = a
			}
		}
		for i := range n {
			v.rows[ch] = append(v.rows[ch], v.held[at+i*w:at+(i+1)*w])
		}
	}
}

// even says whether all rows of the view are alike.
func (v *view) even() bool {
	for _, rows := range v.rows {
		for i := 1; i < len(rows); i++ {
			if !bytes.Equal(rows[i], rows[0]) {
				return false
			}
		}
	}
	return true
}

// equal says whether row i of v is row j of w.
func (v *view) equal(i int, w *view, j int) bool {
	for ch := range v.rows {
		a, b := v.rows[ch], w.rows[ch]
		if (len(a) == 0) != (len(b) == 0) || len(a) > 0 && !bytes.Equal(a[i], b[j]) {
			return false
		}
	}
	return true
}
