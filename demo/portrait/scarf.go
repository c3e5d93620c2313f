package portrait

import "math"

// hood is the part of a headscarf round the face.
func (t *traits) hood(p *pose, g *grain) *sheet {
	const rows, cols = 34, 120
	m := newSheet(rows, cols)
	for j := range cols {
		a := (float64(j)/(cols-1)*2 - 1) * math.Pi
		sn, cs := math.Sincos(a)
		edge := hoodEdge(t, sn, cs)
		back := vec{90 * sn, -6 + 134*cs, -112}
		if cs < 0 {
			back = vec{88*sn + 14*sn*cs*cs, -6 + 165*cs, -104 + 40*cs*cs}
		}
		for i := range rows {
			f := 1 - float64(i)/(rows-1) // 0 at the face
			q := edge.mul(1-f).along(back, f)
			bulge := math.Sin(f*math.Pi) * (1 - 0.5*max(0, -cs))
			fold := g.rough(a*3.2+0.8*f+7, f*1.1+3, 2) * 2.6 * smooth(0, 0.3, f)
			q = q.add(vec{sn * (9*bulge + fold), cs * (9*bulge + fold), 26*bulge + 0.6*fold})
			if over := 7 * smooth(0, 0.3, f); q.y > -20 && level(q) < 1+over/90 {
				q = lift(q, over)
			}
			if i == rows-1 { // the turned edge
				q.z -= 4
			}
			v := m.at(i, j)
			v.u, v.v = a*40, f*60
			v.pos = p.point(t.own(q))
		}
	}
	return m
}

// hoodEdge is where the cloth meets the face: over the brow, down the cheeks
// and under the chin.
func hoodEdge(t *traits, sn, cs float64) vec {
	x := 62 * math.Copysign(math.Pow(math.Abs(sn), 0.9), sn)
	y := -30 + 88*cs
	r := t.row(clamp(y, -112, 110))
	if most := r.w * 0.93; math.Abs(x) > most {
		x = math.Copysign(most, x)
	}
	z := skullZ + (r.z-skullZ)*math.Pow(max(0.05, 1-math.Pow(math.Abs(x)/r.w, r.n)), 1/r.n)
	under := smooth(-0.55, -0.95, cs)
	return vec{x, y - 6*under, z + 3 - 34*under}
}

// drape is the part of a headscarf under the chin.
func (t *traits) drape(g *grain) *sheet {
	const rows, cols = 60, 70
	m := newSheet(rows, cols)
	for i := range rows {
		f := float64(i) / (rows - 1)
		y := mix(-96, -250, f)
		half := mix(36, 60, smooth(-94, -118, y)) + 52*smooth(-125, -240, y)
		front := mix(-30, 8, smooth(-112, -200, y))
		for j := range cols {
			a := (float64(j)/(cols-1)*2 - 1) * math.Pi * 0.52
			sn, cs := math.Sincos(a)
			x := half * sn
			sag := y + 0.0035*x*x
			fold := g.rough(x*0.012+2, sag*0.055, 2)*5 + g.rough(x*0.03, sag*0.14+9, 2)*1.6
			v := m.at(i, j)
			v.u, v.v = x, y
			v.pos = vec{x + fold*sn*0.5, y + raise*smooth(-130, -160, y), -92 + (front+92)*math.Pow(max(0, cs), 0.8) + fold*(0.3+0.7*smooth(-100, -140, y))}
		}
	}
	t.follow(m)
	return m
}

// scarfDot is a dot of the headscarf.
func (b *brush) scarfDot(i int, u, v float64) rgb {
	weave := 1 + 0.05*b.g.rough(u*1.9, v*1.9, 2)
	n := b.s.normalAt(i)
	rim := 1 - max(0, n.z)
	return b.light[i].f64().by(b.outfit.scarf).times(weave).plus(b.st.wall.by(b.outfit.scarf).times(0.25 * rim * rim))
}
