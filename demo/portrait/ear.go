package portrait

// How far an ear stands out, by the fraction of its height from the top.
var earOutline = curve{{0, 1}, {0.06, 9}, {0.16, 14.5}, {0.32, 17}, {0.5, 15.5}, {0.66, 12}, {0.8, 10}, {0.92, 8}, {1, 2}}

// ear builds one ear: side is -1 at the viewer's left.
func (t *traits) ear(p *pose, side float64) *sheet {
	const rows, cols = 40, 18
	m := newSheet(rows, cols)
	out := 0.82 + 0.1*t.lean*side*0.3
	for i := range rows {
		f := float64(i) / (rows - 1)
		y := 17 - f*66
		root := halfWidth.at(y) - 3.5 - 5*smooth(0.7, 1, f)
		reach := earOutline.at(f)
		for c := range cols {
			k := float64(c) / (cols - 1)
			if side < 0 {
				k = 1 - k
			}
			// rim, the fold inside it, and the bowl
			form := 2.6*bell((k-0.93)*(k-0.93)/0.012) + 2.2*bell((k-0.55)*(k-0.55)/0.02)
			form -= 3.0 * bell((k-0.28)*(k-0.28)/0.03) * smooth(0.15, 0.35, f) * smooth(0.8, 0.65, f)
			form *= smooth(0, 0.08, f) * smooth(1.0, 0.86, f)
			q := vec{side * (root + reach*k*out), y, -84 - reach*k*0.75 + form - 4*(1-f)}
			v := m.at(i, c)
			v.u, v.v = k, f
			v.pos = p.point(t.own(q))
		}
	}
	return m
}

// earTone is the skin of an ear, redder where it is thin, dark in the bowl.
func (b *brush) earTone(k, f float64) rgb {
	c := pigments(b.t.melanin, b.t.blood*0.8+0.4+0.3*smooth(0.6, 1, k))
	bowl := bump(k, f, 0.25, 0.5, 0.22, 0.2)
	return c.times(1 - 0.55*bowl - 0.25*max(0, b.g.at(k*6, f*14))*0.5)
}
