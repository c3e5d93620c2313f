package grade

import (
	"math"

	"unspool/code"
	"unspool/say"
	"unspool/symbol"
)

// trace is a profile cut into bars and spaces, in turn, from end to end.
type trace struct {
	samples []float32
	marks   []mark
	edges   []float64 // edges[i] lies between marks i and i+1
}

// mark is one bar or space of a trace.
type mark struct {
	bar  bool
	at   int     // sample of its peak or trough
	peak float32 // Rs, the highest of a space, or Rb, the lowest of a bar (from memory)
	from int     // its first sample
}

// span is a run of marks, from <= i < to, that begins and ends with a bar.
type span struct{ from, to int }

func (s span) empty() bool { return s.from >= s.to }

// maxMarks bounds the work on a profile that is mostly noise. The longest
// symbol that fits a card at one dot an element has fewer.
const maxMarks = 4096

// unfit says what keeps samples from being a profile.
func unfit(samples []float32) say.Text {
	if len(samples) < 3 {
		return say.F("a profile of %d samples shows nothing", len(samples))
	}
	for i, v := range samples {
		if !(v >= -1 && v <= 4) {
			return say.F("sample %d is %v, which is no reflectance", i, v)
		}
	}
	return say.Text{}
}

// extremes are the lowest and the highest sample.
func extremes(samples []float32) (lo, hi float32) {
	lo, hi = samples[0], samples[0]
	for _, v := range samples {
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// byThreshold cuts a profile at a threshold: what lies above is space, the rest
// bar (ISO/IEC 15416:2000 5.4.1, read).
func byThreshold(samples []float32, threshold float32) trace {
	t := trace{samples: samples, marks: make([]mark, 0, 128)}
	t.marks = append(t.marks, mark{bar: samples[0] <= threshold, peak: samples[0]})
	m := &t.marks[0]
	for i, v := range samples {
		if bar := v <= threshold; bar != m.bar {
			if len(t.marks) == maxMarks {
				break
			}
			t.marks = append(t.marks, mark{bar: bar, at: i, peak: v, from: i})
			m = &t.marks[len(t.marks)-1]
		} else if bar && v < m.peak || !bar && v > m.peak {
			m.at, m.peak = i, v
		}
	}
	t.edges = make([]float64, len(t.marks)-1)
	for i := range t.edges {
		t.edges[i] = t.edge(i)
	}
	return t
}

// edge is where the profile crosses halfway between the peaks of marks i and
// i+1, on a straight line between two samples (from memory of ISO/IEC 15416
// 5.4.1). Of several crossings it takes the one next to the threshold's.
func (t *trace) edge(i int) float64 {
	a, b := t.marks[i], t.marks[i+1]
	level := (float64(a.peak) + float64(b.peak)) / 2
	above := func(j int) bool { return (float64(t.samples[j]) > level) == (a.peak > b.peak) }
	j := b.from
	for j > a.at+1 && !above(j-1) {
		j--
	}
	for j < b.at && above(j) {
		j++
	}
	return t.crossing(j, level)
}

// crossing is where the line from sample j-1 to sample j meets the level.
func (t *trace) crossing(j int, level float64) float64 {
	before, after := float64(t.samples[j-1]), float64(t.samples[j])
	if before == after {
		return float64(j) - 0.5
	}
	return float64(j-1) + min(max((level-before)/(after-before), 0), 1)
}

// start and end are where mark i begins and ends: an edge, or an end of the
// profile.
func (t *trace) start(i int) float64 {
	if i == 0 {
		return 0
	}
	return t.edges[i-1]
}

func (t *trace) end(i int) float64 {
	if i == len(t.edges) {
		return float64(len(t.samples) - 1)
	}
	return t.edges[i]
}

// bars is the run from the first bar to the last.
func (t *trace) bars() span {
	s := span{0, len(t.marks)}
	if !t.marks[0].bar {
		s.from++
	}
	if s.to > s.from && !t.marks[s.to-1].bar {
		s.to--
	}
	return s
}

// widths are those of the marks in a run.
func (t *trace) widths(s span) []float64 {
	w := make([]float64, s.to-s.from)
	for i := range w {
		w[i] = t.end(s.from+i) - t.start(s.from+i)
	}
	return w
}

// quiet is the light before and after a run, in X.
func (t *trace) quiet(s span, x float64) (left, right float64) {
	if s.from > 0 {
		left = (t.end(s.from-1) - t.start(s.from-1)) / x
	}
	if s.to < len(t.marks) {
		right = (t.end(s.to) - t.start(s.to)) / x
	}
	return left, right
}

// elements are the marks of a run, with the margins of their reading.
func (t *trace) elements(s span, margins []float64) []Element {
	if s.empty() {
		return nil
	}
	out := make([]Element, s.to-s.from)
	for i := range out {
		j := s.from + i
		out[i] = Element{From: t.start(j), To: t.end(j), Bar: t.marks[j].bar}
		if len(margins) == len(out) {
			out[i].Margin = margins[i]
		}
	}
	return out
}

// unevenness is ERN of ISO/IEC 15416:2000 5.4.7: the highest peak less the
// lowest valley within an element, 0 where it has but one extreme (from memory;
// github.com/EnricoPittini/Barcodes-verification, read, does the same). The
// slopes at its edges are neither peak nor valley.
func (t *trace) unevenness(from, to float64, bar bool) float64 {
	first, last := int(math.Ceil(from)), int(math.Floor(to))
	if last-first < 2 {
		return 0
	}
	peak, valley, rising := float32(math.Inf(-1)), float32(math.Inf(1)), 0
	lo, hi := t.samples[first], t.samples[first]
	for j := first + 1; j <= last; j++ {
		v, before := t.samples[j], t.samples[j-1]
		lo, hi = min(lo, v), max(hi, v)
		switch {
		case v > before:
			if rising < 0 {
				valley = min(valley, before)
			}
			rising = 1
		case v < before:
			if rising > 0 {
				peak = max(peak, before)
			}
			rising = -1
		}
	}
	ern := hi - valley
	if bar {
		ern = peak - lo
	}
	return max(0, float64(ern))
}

// errNoBars is the reason where a line has no bar and space to tell apart.
var errNoBars = say.Errorf("the line shows no bars")

// decode finds the run of marks that the symbology's reference decode takes:
// all from the first bar to the last, else a run between breaks. Where nothing
// decodes, it gives the whole run and what was wrong with it.
func (t *trace) decode(k code.Kind, o code.Options) (span, symbol.Reading, error) {
	whole := t.bars()
	if len(t.marks) == maxMarks {
		return whole, symbol.Reading{}, say.Errorf("the line is noise: over %d elements", maxMarks)
	}
	if whole.to-whole.from < 3 {
		return whole, symbol.Reading{}, errNoBars
	}
	r, err := k.Decode(t.widths(whole), o)
	if err == nil {
		return whole, r, nil
	}
	for _, s := range t.runs(whole) {
		if r, err := k.Decode(t.widths(s), o); err == nil {
			return s, r, nil
		}
	}
	return whole, symbol.Reading{}, err
}

const (
	// breakWindow and breakRatio make a space a possible end of a symbol: it is
	// this much wider than each of so many elements on one side of it. A quiet
	// zone of 10X is 2.5 times the widest element. Inside a symbol few spaces are,
	// and a break too many costs only a try. Own judgement.
	breakWindow = 9
	breakRatio  = 1.4
	// maxBreaks bounds the tries on one line.
	maxBreaks = 24
	// minElements is less than any symbol of the table has: the shortest, an
	// Interleaved 2 of 5 of one pair, has 17.
	minElements = 17
)

// runs are the runs between two breaks of a run, its ends included: nearest
// ends first, so that two symbols in one line do not become one.
func (t *trace) runs(whole span) []span {
	starts, ends := []int{whole.from}, []int{}
	for i := whole.from + 1; i < whole.to && len(ends) < maxBreaks; i += 2 {
		if t.breaks(i, whole) {
			ends = append(ends, i)
			starts = append(starts, i+1)
		}
	}
	ends = append(ends, whole.to)
	var out []span
	for _, from := range starts {
		for _, to := range ends {
			if s := (span{from, to}); to-from >= minElements && s != whole {
				out = append(out, s)
			}
		}
	}
	return out
}

// breaks says whether the space i may be the end of a symbol.
func (t *trace) breaks(i int, whole span) bool {
	width := t.end(i) - t.start(i)
	widest := func(from, to int) float64 {
		w := 0.0
		for j := max(from, whole.from); j < min(to, whole.to); j++ {
			w = max(w, t.end(j)-t.start(j))
		}
		return w
	}
	return width > breakRatio*min(widest(i-breakWindow, i), widest(i+1, i+1+breakWindow))
}
