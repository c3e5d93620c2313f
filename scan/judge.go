package scan

import (
	"math"

	"unspool/code"
	"unspool/grade"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
	"unspool/unit"
)

// Options are the choices of a grading.
type Options struct {
	Kinds    []code.Kind
	Code     code.Options    // check rules to prove
	Edition  grade.Edition   // of ISO/IEC 15416
	Light    unit.Nanometres // the peak the picture was taken in; 0 is broadband
	Aperture *grade.Aperture // nil takes the one that goes with X
}

// Judged is a symbol of a picture with what can be said of it.
type Judged struct {
	Kind    code.Kind
	Text    string
	Data    []byte // what a two-dimensional symbol carries
	Spec    string // of a two-dimensional symbol: "version 2-M, mask 3"
	Check   symbol.Check
	Corners [4]plane.Point // in pixels, from where the symbol begins, round it
	Pixels  float64        // X in pixels
	X       unit.Length    // 0 where the picture's scale is not known
	N       float64        // wide:narrow; 0 where the symbology has none
	// Doubts say why the picture does not bear a grade; then there is only a
	// reading.
	Doubts      []say.Text
	Aperture    grade.Aperture
	Scans       []grade.Scan   // of a linear symbol
	Grade       grade.Grade    // meaningless where there are doubts
	Quality     *grade.Quality // of a two-dimensional symbol
	Lines, Good int            // of a linear symbol: lines tried, and those that read
}

// Angle is the way the symbol runs, in degrees clockwise from left to right.
func (j *Judged) Angle() float64 {
	d := between(j.Corners[0], j.Corners[1])
	if j.Kind.Decode != nil {
		d = between(j.Corners[0], j.Corners[3])
	}
	return math.Atan2(d.y, d.x) * 180 / math.Pi
}

// Judge finds, reads and grades every symbol of a picture.
func (s *Shot) Judge(o Options) []Judged {
	var all []Judged
	found := Find(s.Raster, o.Kinds)
	for i := range found.Linear {
		all = append(all, s.linear(&found.Linear[i], o))
	}
	for i := range found.Stacked {
		all = append(all, s.stack(&found.Stacked[i], o))
	}
	for i := range found.Matrix {
		all = append(all, s.matrix(&found.Matrix[i], o))
	}
	return all
}

// size settles X and the aperture, which hang on the picture's scale.
func (s *Shot) size(j *Judged, o Options, usual func(unit.Length) grade.Aperture) (samples float64) {
	j.X = unit.Length(j.Pixels * float64(s.StepX))
	switch {
	case o.Aperture != nil:
		j.Aperture = *o.Aperture
	case j.X > 0:
		j.Aperture = usual(j.X)
	}
	if s.StepX <= 0 {
		return 0.8 * j.Pixels
	}
	return float64(j.Aperture.Diameter) / float64(s.StepX)
}

func (s *Shot) linear(l *Linear, o Options) Judged {
	j := Judged{Kind: l.Kind, Text: l.Reading.Text, Check: l.Reading.Check, Corners: l.Corners, Pixels: l.X, N: l.N, Lines: l.Lines, Good: l.Good}
	aperture := s.size(&j, o, grade.ApertureOf)
	height := unit.Length(between(l.Corners[0], l.Corners[1]).length() * float64(s.StepX))
	for _, share := range grade.Lines(0, 1, grade.ScansOf(o.Edition, height, j.Aperture)) {
		scan := grade.Measure(l.Profile(s.Raster, share, aperture, j.X), l.Kind, o.Code, o.Edition)
		if scan.Decoded && scan.Reading.Check != symbol.Unchecked {
			j.Check = scan.Reading.Check
		}
		j.Scans = append(j.Scans, scan)
	}
	j.Grade = grade.Symbol(j.Scans, j.Aperture, o.Light)
	j.Doubts = s.doubts(&j)
	return j
}

func (s *Shot) matrix(m *Matrix, o Options) Judged {
	j := Judged{Text: m.Reading.Text, Data: m.Reading.Data, Spec: m.Reading.Spec, Corners: m.Corners, Pixels: m.X}
	j.Kind, _ = code.ByName(m.Kind)
	aperture := s.size(&j, o, grade.MatrixAperture)
	lattice := m.lattice(s.Raster)
	geometry, _ := lattice.Geometry()
	quiet := j.Kind.QuietX
	modules, ok := lattice.Modules(s.Raster, quiet, aperture)
	for ; !ok && quiet > 0; modules, ok = lattice.Modules(s.Raster, quiet, aperture) {
		quiet-- // the picture ends within the quiet zone
	}
	q := grade.Matrix(m.Kind, modules, j.Kind.DecodeMatrix, geometry, j.Aperture, o.Light)
	j.Quality, j.Grade = &q, q.Grade
	j.Doubts = s.doubts(&j)
	if quiet < j.Kind.QuietX {
		j.Doubts = append(j.Doubts, say.F("the picture ends within the quiet zone of %d X", j.Kind.QuietX))
	}
	return j
}

func (s *Shot) stack(k *Stacked, o Options) Judged {
	j := Judged{Text: k.Reading.Text, Data: k.Reading.Data, Spec: k.Reading.Spec, Corners: k.Corners, Pixels: k.X}
	j.Kind, _ = code.ByName("pdf417")
	aperture := s.size(&j, o, grade.MatrixAperture)
	profiles := k.profiles(s.Raster, aperture)
	q := grade.PDF417(profiles, o.Edition, j.Aperture, o.Light)
	j.Quality, j.Grade = &q, q.Grade
	j.Doubts = s.doubts(&j)
	return j
}

// Limits of a picture that bears a grade, own judgement.
const (
	leastPixels  = 5    // an X: the aperture has then four pixels across
	mostClipped  = 0.02 // of the symbol's pixels
	leastQuality = 90   // of a JPEG
	mostUneven   = 0.12 // of the lightest, between parts of the symbol
)

// doubts say why a picture does not bear a grade.
func (s *Shot) doubts(j *Judged) (all []say.Text) {
	if s.StepX <= 0 {
		all = append(all, say.Words("its scale is not known, and the aperture hangs on it: say how many pixels an inch or how wide the picture is"))
	}
	if j.Pixels < leastPixels {
		all = append(all, say.F("X is %.1f pixels, and a grade needs %d: scan it at a higher resolution", j.Pixels, leastPixels))
	}
	if s.quality > 0 && s.quality < leastQuality {
		all = append(all, say.F("it was compressed to JPEG quality %d, which frays edges: save it without loss, or at %d and more", s.quality, leastQuality))
	}
	light, dark, uneven := s.survey(j.Corners)
	if light > mostClipped {
		all = append(all, say.F("%.0f %% of the symbol's pixels are as light as a pixel can be: expose it less", 100*light))
	}
	if dark > mostClipped {
		all = append(all, say.F("%.0f %% of the symbol's pixels are as dark as a pixel can be: expose it more", 100*dark))
	}
	if uneven > mostUneven {
		all = append(all, say.F("its light is uneven by %.0f %% over the symbol: light it evenly", 100*uneven))
	}
	return all
}

// survey looks over the pixels of a quadrilateral: the shares at either end of
// what a pixel can be, and by how much the lightest of its parts differ.
func (s *Shot) survey(q [4]plane.Point) (light, dark, uneven float64) {
	const parts = 3
	m, ok := mappingOf(corners(1, 1), q)
	if !ok {
		return 0, 0, 0
	}
	const across = 60
	var n, lights, darks float64
	var best [parts * parts]float64
	for y := range across {
		for x := range across {
			p := m.at((float64(x)+0.5)/across, (float64(y)+0.5)/across)
			px, py := int(p.X), int(p.Y)
			if px < 0 || py < 0 || px >= s.W || py >= s.H {
				continue
			}
			i := py*s.W + px
			n++
			switch s.ends[i] {
			case lightEnd:
				lights++
			case darkEnd:
				darks++
			}
			part := y*parts/across*parts + x*parts/across
			best[part] = max(best[part], float64(s.V[i]))
		}
	}
	if n == 0 {
		return 0, 0, 0
	}
	lo, hi := best[0], best[0]
	for _, v := range best {
		lo, hi = min(lo, v), max(hi, v)
	}
	if hi > 0 {
		uneven = (hi - lo) / hi
	}
	return lights / n, darks / n, uneven
}

// lattice is where the modules of a symbol are: where its projection puts them,
// each patch of them moved to where the picture shows it.
func (m *Matrix) lattice(r plane.Raster) grade.Lattice {
	places := refined(r, m.places, m.Reading.Truth, nil)
	l := grade.Lattice{W: m.W, H: m.H, At: make([]plane.Point, 0, m.W*m.H)}
	for y := range m.H {
		for x := range m.W {
			l.At = append(l.At, places.at(float64(x)+0.5, float64(y)+0.5))
		}
	}
	return l
}
