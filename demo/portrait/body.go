package portrait

import "math"

// neck builds the sheet of the neck and the top of the chest.
func (t *traits) neck() *sheet {
	const rows, cols = 60, 60
	m := newSheet(rows, cols)
	for i := range rows {
		f := float64(i) / (rows - 1)
		y := mix(-70, -182, f)
		half := t.neckHalf() + 30*smooth(-150, -200, y)*smooth(-150, -200, y) + 0
		front := -46.0 + 8*smooth(-140, -185, y)
		for c := range cols {
			a := (float64(c)/(cols-1) - 0.5) * math.Pi * 1.05
			sn, cs := math.Sincos(a)
			x := half * sn
			z := -92 + (front+92)*math.Pow(max(0, cs), 0.85)
			ax := math.Abs(x)
			// the oblique muscles from behind the ears to the breastbone
			d := (ax - mix(44, 10, smooth(-80, -190, y))) / 9
			z += 4 * bell(d*d) * smooth(-70, -120, y)
			z += (1.0 + 3.5*t.male) * bump(x, y, 0, -140, 8, 10)
			z -= 4 * bump(x, y, 0, -196, 9, 9)
			v := m.at(i, c)
			v.u, v.v = x, y
			v.pos = vec{x, y, z}
		}
	}
	t.follow(m)
	return m
}

func (t *traits) neckHalf() float64 { return mix(42, 49, t.male) + t.flesh*2 }

// follow turns the neck and what lies round it in part with the head.
func (t *traits) follow(m *sheet) {
	half := turn(t.yaw*0.3, 0, t.roll*0.4, vec{0, -190, -80}, vec{})
	for i := range m.v {
		m.v[i].pos = half.point(m.v[i].pos)
	}
}

var (
	// height of the shoulder line by distance from the middle
	shoulder = curve{{0, -138}, {45, -142}, {62, -150}, {85, -163}, {115, -175}, {150, -188}, {180, -206}, {200, -240}, {215, -300}}
	// how far the chest comes forward
	chest = curve{{0, -6}, {60, -8}, {120, -22}, {170, -50}, {215, -90}}
)

// raise shortens the neck.
const raise = 15

// torso builds the clothed shoulders and chest.
func (t *traits) torso() *sheet {
	const rows, cols = 46, 90
	m := newSheet(rows, cols)
	wide := mix(0.9, 1.04, t.male) + t.flesh*0.015
	d := t.dice.fork(21)
	drop := d.normal() * 3
	stand := turn(d.normal()*0.06, 0, d.normal()*0.012, vec{0, -200, -90}, vec{})
	for i := range rows {
		f := float64(i) / (rows - 1)
		for c := range cols {
			x := (float64(c)/(cols-1)*2 - 1) * 210
			a := math.Abs(x)
			y0 := shoulder.at(a) + drop*smooth(40, 160, a) + 1.5*t.lean*x/200
			y := y0 + 6 - f*118
			g := f * math.Pi / 2
			z := mix(-105, chest.at(a), math.Pow(math.Sin(g), 0.75))
			z -= 14 * bump(a, y, 38, -150, 24, 14) // the hollow beside the neck
			v := m.at(i, c)
			v.u, v.v = x*wide, y
			v.pos = stand.point(vec{x * wide, y + raise, z})
		}
	}
	return m
}

// collar builds one wing of a shirt collar; side is -1 at the viewer's left.
func (t *traits) collar(side float64) *sheet {
	const rows, cols = 16, 36
	m := newSheet(rows, cols)
	r := t.neckHalf() + 4
	d := t.dice.fork(22)
	tipX, tipY := d.span(19, 26), d.span(-196, -186)
	for c := range cols {
		k := float64(c) / (cols - 1)
		if side < 0 {
			k = 1 - k
		}
		a := k * math.Pi * 0.62
		sn, cs := math.Sincos(a)
		fold := vec{2 + r*sn, -157 + 34*math.Pow(k, 0.75), -92 + 55*cs}
		edge := vec{mix(tipX, r+9, math.Pow(k, 0.6)), mix(tipY, -141, math.Pow(k, 0.7)), -88 + 68*math.Cos(a*0.93)}
		for i := range rows {
			f := float64(i) / (rows - 1)
			q := fold.mul(1-f).along(edge, f)
			out := 5 * math.Sin(f*math.Pi) * (0.4 + 0.6*k)
			q.z += out + 2
			q.x += out * 0.3 * sn
			v := m.at(i, c)
			v.u, v.v = k, f
			v.pos = vec{q.x * side, q.y + raise, q.z}
		}
	}
	t.follow(m)
	return m
}
