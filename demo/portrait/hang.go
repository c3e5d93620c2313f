package portrait

// hangings are the dark bulk of hair that hangs beside the face and behind
// the neck.
func (t *traits) hangings(p *pose) []*sheet {
	low := t.cut.hang + 8
	back := newSheet(20, 20)
	for i := range back.rows {
		f := float64(i) / float64(back.rows-1)
		for j := range back.cols {
			x := float64(j)/float64(back.cols-1)*2 - 1
			y := mix(20, low, f)
			v := back.at(i, j)
			v.u, v.v = x*74, y
			v.pos = p.point(t.own(vec{x * mix(74, 62, f), y, -148}))
		}
	}
	out := []*sheet{back}
	for _, side := range []float64{-1, 1} {
		m := newSheet(24, 8)
		for i := range m.rows {
			y := mix(18, max(low, -150), float64(i)/float64(m.rows-1))
			w := t.row(max(y, -70)).w + 4
			if y < -70 {
				w = mix(w, 52, smooth(-70, -130, y))
			}
			for j := range m.cols {
				k := float64(j) / float64(m.cols-1)
				if side < 0 {
					k = 1 - k
				}
				v := m.at(i, j)
				v.u, v.v = side*(w+22*k), y
				v.pos = p.point(t.own(vec{side * (w - 9 + 22*k), y, -80 - 8*k}))
			}
		}
		out = append(out, m)
	}
	return out
}
