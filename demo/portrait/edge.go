package portrait

// smoothEdges softens the steps where one thing stands before another.
func (b *brush) smoothEdges() {
	s := b.s
	type change struct {
		at int
		to rgb32
	}
	var changes []change
	for y := 1; y < s.h-1; y++ {
		for x := 1; x < s.w-1; x++ {
			i := y*s.w + x
			if !s.edge(i) {
				continue
			}
			var c rgb32
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					k := float32((2-dx*dx)*(2-dy*dy)) / 16
					c = c.plus(b.colour[i+dy*s.w+dx].times(k))
				}
			}
			changes = append(changes, change{i, c})
		}
	}
	for _, c := range changes {
		b.colour[c.at] = c.to
	}
}

// edge says whether dot i lies where the depth or the matter jumps.
func (s *stage) edge(i int) bool {
	for _, j := range [4]int{i - 1, i + 1, i - s.w, i + s.w} {
		d := s.depth[i] - s.depth[j]
		if s.what[i] != s.what[j] || d > 5 || d < -5 {
			return true
		}
	}
	return false
}
