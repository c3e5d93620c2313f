package grade

import (
	"cmp"
	"errors"
	"iter"
	"math"
	"slices"

	"unspool/code"
	"unspool/plane"
	"unspool/say"
	"unspool/symbol"
)

// Tolerances of a reader. They are no part of any standard and play no part in
// a grade: a reader gets by with less than a verifier asks for. All of them are
// from memory of how decoders in the open behave, or own judgement.
const (
	// readContrast is the least difference of light and dark, of absolute
	// reflectance, that a reader tells from its own noise. It is the threshold of
	// grade 1 of symbol contrast; red bars in red light have a seventh of it.
	readContrast = 0.20
	// readRipple is how much of the line's contrast a turn of the profile must
	// have to count as a bar or space.
	readRipple = 0.15
	// readQuiet is how much of the symbology's quiet zone a reader needs.
	readQuiet = 0.5
)

// Found is a symbol in a longer line.
type Found struct {
	Kind     code.Kind
	Reading  symbol.Reading // in samples
	From, To float64        // first and last edge, in samples
	// QuietLeft and QuietRight are the light on either side, in X.
	QuietLeft, QuietRight float64
	// Contrast is that of the symbol itself: its lightest less its darkest.
	Contrast float64
}

// Read is what a reader makes of a line under its own light and spot: the
// symbology's reference decode, without the thresholds of the grade. It follows
// uneven light and shallow modulation where the global threshold of the grade
// gives up. Where it does not read, why says so in words.
func Read(p plane.Profile, k code.Kind, o code.Options) (r symbol.Reading, ok bool, why say.Text) {
	if why := unfit(p.Samples); !why.IsZero() {
		return symbol.Reading{}, false, why
	}
	f, err := find(p.Samples, k, o)
	switch {
	case err != nil:
		return symbol.Reading{}, false, say.Of(err)
	case f.Reading.Check == symbol.CheckBad:
		return f.Reading, false, checkWrong
	}
	return f.Reading, true, say.Text{}
}

// Find looks for a symbol of kind k in a line that may cross other marks, as a
// reader does; see Read.
func Find(p plane.Profile, k code.Kind, o code.Options) (Found, bool) {
	if !unfit(p.Samples).IsZero() {
		return Found{}, false
	}
	f, err := find(p.Samples, k, o)
	return f, err == nil
}

// FindAll lists every symbol of the given kinds that a reader finds in a line,
// check characters unproved, in the order of the line. A symbol
// that reads as more than one kind is listed once for each.
func FindAll(p plane.Profile, kinds []code.Kind) []Found {
	if !unfit(p.Samples).IsZero() {
		return nil
	}
	var all []Found
	for t := range cuts(p.Samples) {
		for _, s := range append([]span{t.bars()}, t.runs(t.bars())...) {
			for _, k := range kinds {
				f, err := t.take(s, k, code.Options{})
				if err == nil && !known(all, f) {
					all = append(all, f)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Found) int { return cmp.Compare(a.From, b.From) })
	return all
}

// known says whether all holds a symbol of the same kind in the same place.
func known(all []Found, f Found) bool {
	for _, g := range all {
		if g.Kind.Name == f.Kind.Name && g.From < f.To && f.From < g.To {
			return true
		}
	}
	return false
}

// find tries both ways to cut the line. Of the reasons it keeps the first,
// that of the global threshold, unless the line shows no bars there.
func find(samples []float32, k code.Kind, o code.Options) (Found, error) {
	lo, hi := extremes(samples)
	if hi-lo < readContrast {
		return Found{}, tooPale(float64(hi - lo))
	}
	first := error(nil)
	for t := range cuts(samples) {
		f, err := t.find(k, o)
		if err == nil {
			return f, nil
		}
		if first == nil || errors.Is(first, errNoBars) {
			first = err
		}
	}
	return Found{}, first
}

// cuts are the ways a reader cuts a line into bars and spaces, each made when
// it is asked for.
func cuts(samples []float32) iter.Seq[trace] {
	lo, hi := extremes(samples)
	return func(yield func(trace) bool) {
		if yield(byThreshold(samples, (lo+hi)/2)) {
			yield(byTurns(samples, readRipple*(hi-lo)))
		}
	}
}

func (t *trace) find(k code.Kind, o code.Options) (Found, error) {
	whole := t.bars()
	if whole.to-whole.from < minElements {
		return Found{}, errNoBars
	}
	f, err := t.take(whole, k, o)
	if err == nil {
		return f, nil
	}
	for _, s := range t.runs(whole) {
		if f, err := t.take(s, k, o); err == nil {
			return f, nil
		}
	}
	return Found{}, err
}

// take reads the run s.
func (t *trace) take(s span, k code.Kind, o code.Options) (Found, error) {
	if s.to-s.from < minElements {
		return Found{}, errNoBars
	}
	r, err := k.Decode(t.widths(s), o)
	if err != nil {
		return Found{}, err
	}
	f := Found{Kind: k, Reading: r, From: t.start(s.from), To: t.end(s.to - 1)}
	f.QuietLeft, f.QuietRight = t.quiet(s, r.X)
	first, last := k.QuietZones(r.Reversed)
	for _, q := range [][2]float64{{f.QuietLeft, float64(first)}, {f.QuietRight, float64(last)}} {
		if need := readQuiet * q[1]; q[0] < need {
			return Found{}, say.Errorf("the quiet zones are %.1fX and %.1fX wide, a reader needs about %.0fX", f.QuietLeft, f.QuietRight, need)
		}
	}
	if f.Contrast = t.contrast(s); f.Contrast < readContrast {
		return Found{}, tooPale(f.Contrast)
	}
	return f, nil
}

// contrast is the lightest peak less the darkest trough of a run.
func (t *trace) contrast(s span) float64 {
	lo, hi := float32(math.Inf(1)), float32(math.Inf(-1))
	for _, m := range t.marks[s.from:s.to] {
		lo, hi = min(lo, m.peak), max(hi, m.peak)
	}
	return float64(hi - lo)
}

func tooPale(contrast float64) error {
	return say.Errorf("light and dark differ by %s, a reader needs about %s", percent(contrast), percent(readContrast))
}
