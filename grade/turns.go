package grade

// byTurns cuts a profile at its turns: a new bar or space begins where the
// profile comes back from its last peak or trough by at least ripple. Unlike a
// global threshold it follows uneven light, and finds narrow elements that do
// not reach across the middle.
func byTurns(samples []float32, ripple float32) trace {
	t := trace{samples: samples}
	low, high := mark{bar: true, peak: samples[0]}, mark{peak: samples[0]}
	rising := 0
	for i, v := range samples {
		if v < low.peak {
			low.at, low.peak = i, v
		}
		if v > high.peak {
			high.at, high.peak = i, v
		}
		switch {
		case rising >= 0 && high.peak-v >= ripple && ripple > 0:
			t.marks = append(t.marks, high)
			rising, low = -1, mark{bar: true, at: i, peak: v}
		case rising <= 0 && v-low.peak >= ripple && ripple > 0:
			t.marks = append(t.marks, low)
			rising, high = 1, mark{at: i, peak: v}
		}
		if len(t.marks) == maxMarks-1 {
			break
		}
	}
	if rising < 0 {
		t.marks = append(t.marks, low)
	} else {
		t.marks = append(t.marks, high)
	}
	t.edges = make([]float64, len(t.marks)-1)
	for i := range t.edges {
		t.edges[i] = t.middle(i)
		t.marks[i+1].from = int(t.edges[i]) + 1
	}
	return t
}

// middle is where the profile crosses halfway between the turns i and i+1: the
// mean of its first and last crossing.
func (t *trace) middle(i int) float64 {
	a, b := t.marks[i], t.marks[i+1]
	level := (float64(a.peak) + float64(b.peak)) / 2
	above := func(j int) bool { return (float64(t.samples[j]) > level) == (a.peak > b.peak) }
	first, last := a.at+1, b.at
	for first < b.at && above(first) {
		first++
	}
	for last > first && !above(last-1) {
		last--
	}
	return (t.crossing(first, level) + t.crossing(last, level)) / 2
}
