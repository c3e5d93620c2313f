// Package grade judges a scan reflectance profile, simulated or taken from a
// picture: the parameters and grades of ISO/IEC 15416, and, apart from them and
// more tolerant, what a reader makes of the same line.
//
// A bad symbol is a finding, not an error: Measure and Read take any samples and
// say in words what is wrong with them. Reflectance is absolute, 0 to 1;
// distances along the profile are in samples, counted from the middle of the
// first. Of the standard itself no text was at hand. Clauses cited as read were
// read second-hand, in GOST 30832-2002, which adopts ISO/IEC 15416:2000.
package grade

import (
	"math"

	"unspool/code"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
)

// Scan is what one profile gave. Reflectances are absolute, 0 to 1.
type Scan struct {
	Rmin, Rmax float64 // lowest and highest reflectance of the profile
	GT         float64 // global threshold, (Rmax+Rmin)/2
	SC         float64 // symbol contrast, Rmax-Rmin
	ECmin      float64 // least contrast of two neighbouring elements
	MOD        float64 // modulation, ECmin/SC
	Defects    float64 // greatest reflectance non-uniformity in an element, by SC
	PCS        float64 // print contrast signal, SC/Rmax; reported, not graded
	BarGain    float64 // mean growth of the bars in X; reported, not graded
	Edges      int     // edges the global threshold found, those outside the symbol included

	Decoded bool
	Reading symbol.Reading // in samples; zero where nothing decoded
	// QuietLeft and QuietRight are the light before the first and after the last
	// element in the order of the profile, in X, as far as the next mark or the
	// end of the profile; 0 where nothing decoded.
	QuietLeft, QuietRight float64
	// Elements are those of the symbol; where nothing decoded, all from the first
	// bar to the last.
	Elements []Element

	Grades   [Parameters]float64 // 0 to 4
	Grade    float64             // the lowest of Grades
	Deciding Parameter           // the first of the lowest
	Why      say.Text            // the deciding parameter in words: "modulation 0.46"
}

// Element is one bar or space as the profile shows it.
type Element struct {
	From, To float64 // its edges, in samples
	Bar      bool
	Margin   float64 // what is left of its decoding tolerance, 0 to 1; 0 where nothing decoded
}

// Measure grades one profile of a symbol of kind k as ISO/IEC 15416 does. The
// profile should cover the symbol and a little more than its quiet zones: a
// quiet zone counts only as far as the profile shows it.
//
// Marks may lie beyond the quiet zones or in them: where the elements between
// the outermost bars do not decode, runs of them between wide spaces are tried.
// A zone that a mark enters is measured up to the mark and fails. Measure never
// fails itself: of what is no profile at all it says so, with grade 0.
func Measure(p plane.Profile, k code.Kind, o code.Options, ed Edition) Scan {
	if why := unfit(p.Samples); !why.IsZero() {
		return Scan{Why: why}
	}
	s := contrastOf(p.Samples)
	t := byThreshold(p.Samples, float32(s.GT))
	s.Edges = len(t.edges)
	run, r, err := t.decode(k, o)
	if err == nil {
		s.Decoded, s.Reading = true, r
		s.QuietLeft, s.QuietRight = t.quiet(run, r.X)
		s.BarGain = barGain(t.widths(run), r, k)
	}
	first, last := k.QuietZones(r.Reversed)
	s.contrasts(t, run, float64(first)*r.X, float64(last)*r.X)
	s.Elements = t.elements(run, r.Margins)
	s.gradeAll(ed, first, last)
	s.Why = s.reason(k, err)
	return s
}

// contrastOf begins a scan with what the whole profile tells.
func contrastOf(samples []float32) (s Scan) {
	lo, hi := extremes(samples)
	s.Rmin, s.Rmax = float64(lo), float64(hi)
	s.GT, s.SC = (s.Rmax+s.Rmin)/2, s.Rmax-s.Rmin
	if s.Rmax > 0 {
		s.PCS = s.SC / s.Rmax
	}
	return s
}

// contrasts measures ECmin, MOD and Defects of the elements in run and of so many
// samples of the quiet zones before and after it: ISO/IEC 15416:2000 5.4.4 to 5.4.8
// (read).
func (s *Scan) contrasts(t trace, run span, before, after float64) {
	if run.empty() || s.SC <= 0 {
		return
	}
	s.ECmin = math.Inf(1)
	for i := max(run.from, 1); i <= run.to && i < len(t.marks); i++ {
		s.ECmin = min(s.ECmin, math.Abs(float64(t.marks[i].peak)-float64(t.marks[i-1].peak)))
	}
	if math.IsInf(s.ECmin, 1) {
		s.ECmin = 0
	}
	s.MOD = s.ECmin / s.SC
	worst := 0.0
	for i := run.from; i < run.to; i++ {
		worst = max(worst, t.unevenness(t.start(i), t.end(i), t.marks[i].bar))
	}
	if i := run.from - 1; i >= 0 {
		worst = max(worst, t.unevenness(max(t.start(i), t.end(i)-before), t.end(i), false))
	}
	if i := run.to; i < len(t.marks) {
		worst = max(worst, t.unevenness(t.start(i), min(t.end(i), t.start(i)+after), false))
	}
	s.Defects = worst / s.SC
}

// reason puts the deciding parameter in words.
func (s *Scan) reason(k code.Kind, err error) say.Text {
	switch s.Deciding {
	case Decode:
		if s.Grade == 4 {
			return say.Words("every parameter has its best grade")
		}
		if s.Decoded {
			return checkWrong
		}
		return say.F("no %s decodes: %v", k.Title, err)
	case MinReflectance:
		return say.F("the bars are too light: lowest reflectance %s, highest %s", percent(s.Rmin), percent(s.Rmax))
	case MinEdge:
		return say.F("minimum edge contrast %s", percent(s.ECmin))
	case Contrast:
		return say.F("symbol contrast %s", percent(s.SC))
	case Modulation:
		return say.F("modulation %.2f", s.MOD)
	case Defects:
		return say.F("defects %.2f", s.Defects)
	case Decodability:
		return say.F("decodability %.2f", s.Reading.Decodability)
	}
	if first, last := k.QuietZones(s.Reading.Reversed); first != last {
		return say.F("quiet zone %.1fX on one side, %.1fX on the other, where %s asks for %dX and %dX", s.QuietLeft, s.QuietRight, k.Title, first, last)
	}
	return say.F("quiet zone %.1fX on one side, %.1fX on the other, where %s asks for %dX", s.QuietLeft, s.QuietRight, k.Title, k.QuietX)
}

// checkWrong is said of a symbol that is in order but for its check character.
var checkWrong = say.Words("the check character is wrong")

func percent(v float64) say.Text { return say.F("%.1f %%", 100*v) }
