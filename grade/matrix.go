package grade

import (
	"math"

	"unspool/say"
	"unspool/symbol"
	"unspool/unit"
)

// MatrixEdition names the edition of ISO/IEC 15415 that two-dimensional symbols
// are graded by. Its parameters have whole grades. That of 2024 is not known here
// in its technical content and not done.
const MatrixEdition = "ISO/IEC 15415:2011"

// Quality is what the grading of a two-dimensional symbol gave: of one image,
// where the standard asks for the mean of several (from memory). A simulated
// symbol is the same in all of them.
type Quality struct {
	Grade      // the lowest of the graded figures
	Edition    string
	Rmin, Rmax float64  // lowest and highest reflectance, absolute
	GT         float64  // global threshold, (Rmax+Rmin)/2
	Figures    []Figure // every graded parameter, in the standard's order
	Deciding   Parameter
	Why        say.Text // the deciding parameter in words
	Decoded    bool
	Reading    symbol.MatrixReading // zero where nothing decoded
	Segments   []Segment            // fixed patterns one by one; none in a multi-row symbol
	Uniformity float64              // contrast uniformity: the lowest module modulation; reported, not graded
	Geometry   Geometry             // its growth is reported, not graded
}

// Figure is one parameter.
type Figure struct {
	Parameter Parameter
	// Value is the measure. Of what is graded by codeword it is the error correction
	// that is left where the codewords too poor for the best grade that still comes
	// out so are errors; of fixed pattern damage the share of damaged
	// modules; of what passes or fails 1 or 0.
	Value float64
	Grade float64  // 0 to 4
	Why   say.Text // the measure in words: "symbol contrast 71.0 %"
}

// Figure is the figure of a parameter; ok is false where the symbol has none.
func (q *Quality) Figure(p Parameter) (f Figure, ok bool) {
	for _, f := range q.Figures {
		if f.Parameter == p {
			return f, true
		}
	}
	return Figure{}, false
}

// Matrix grades a matrix symbol as ISO/IEC 15415:2011 7 does: name is the
// symbology's, "qr", "datamatrix" or "aztec", and decode its reference decode,
// which is given the modules as the global threshold shows them, the way they
// lie. The symbol should be measured with its whole quiet zone. Of a symbol that
// does not decode the grade is 0 and says why; what hangs on the reading is then
// not measured.
func Matrix(name string, m Modules, decode func(symbol.Grid) (symbol.MatrixReading, error), g Geometry, a Aperture, peak unit.Nanometres) Quality {
	q := Quality{Edition: MatrixEdition, Geometry: g}
	if why := m.unfit(); !why.IsZero() {
		q.Why, q.Grade = why, gradeOf(0, a, peak)
		return q
	}
	lo, hi := extremes(m.R)
	q.Rmin, q.Rmax = float64(lo), float64(hi)
	q.GT = (q.Rmax + q.Rmin) / 2
	sc := q.Rmax - q.Rmin
	r, err := decode(m.Grid())
	if err == nil && !fits(r, m) {
		err = say.Errorf("the reading is none of a symbol of %d x %d modules", m.W, m.H)
	}
	q.decoded(err)
	q.add(Contrast, sc, whole(sc, contrastLimits), say.F("symbol contrast %s", percent(sc)))
	if err == nil {
		q.Decoded, q.Reading = true, r
		s := sampled{m, r, q.GT, sc}
		q.modulation(s)
		groups, average := s.patterns(name)
		q.fixed(s, groups, average)
	}
	q.add(AxialUniformity, g.AN, whole(g.AN, axialLimits), say.F("axial nonuniformity %.2f", g.AN))
	q.add(GridUniformity, g.GN, whole(g.GN, gridLimits), say.F("grid nonuniformity %.2fX", g.GN))
	if err == nil {
		q.unused(r)
	}
	q.decide(a, peak)
	return q
}

// decoded adds whether the symbol decoded, and if not why.
func (q *Quality) decoded(err error) {
	if err != nil {
		q.add(Decode, 0, 0, say.F("it does not decode: %v", err))
		return
	}
	q.add(Decode, 1, 4, say.Words("it decodes"))
}

// unused adds the unused error correction.
func (q *Quality) unused(r symbol.MatrixReading) {
	u := r.UEC()
	q.add(UnusedCorrection, u, whole(u, unusedLimits), say.F("unused error correction %s", percent(u)))
}

func (q *Quality) add(p Parameter, v float64, grade int, why say.Text) {
	if !(math.Abs(v) <= math.MaxFloat32) { // no measure
		v, grade = 0, 0
	}
	q.Figures = append(q.Figures, Figure{p, v, float64(grade), why})
}

// decide makes the grade: the lowest of the figures, of equal ones the first.
func (q *Quality) decide(a Aperture, peak unit.Nanometres) {
	lowest := q.Figures[0]
	for _, f := range q.Figures {
		if f.Grade < lowest.Grade {
			lowest = f
		}
	}
	q.Deciding, q.Why = lowest.Parameter, lowest.Why
	if lowest.Grade == 4 {
		q.Why = say.Words("every parameter has its best grade")
	}
	q.Grade = gradeOf(lowest.Grade, a, peak)
}

// Fail makes the grade 0 for a reason that the grading itself cannot know.
func (q *Quality) Fail(why say.Text) {
	q.Deciding, q.Why = Decode, why
	q.Grade = gradeOf(0, q.Aperture, q.Light)
}
