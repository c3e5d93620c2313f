package ink

import "math"

// Table is a model under one lamp, made ready for whole planes of dots: each
// ray of the lamp carries the transmittance of every dye amount, so that a dot
// costs a few multiplications.
type Table struct {
	body  float32 // what the resin itself reflects
	clear float32 // share of light left by the overlay, both ways
	rays  []rayTable
}

// rayTable is one wavelength of a Table.
type rayTable struct {
	card    float32      // share of the lamp times what the card reflects beyond the surface
	through float32      // light left by the resin
	y, m, c [257]float32 // light left by each dye amount; the last entry repeats for Mix
}

// rayTolerance is how far three rays may differ from nine before the nine are
// kept: a twentieth of a per cent, well below what a reader resolves.
const rayTolerance = 0.0005

// Under prepares the model for a lamp; the resin is carbon.
func (m *Model) Under(l Lamp) *Table { return m.UnderResin(l, Carbon()) }

// UnderResin prepares the model for a lamp and another resin.
func (m *Model) UnderResin(l Lamp, r Resin) *Table {
	full := m.table(l.rays(), r)
	if few, ok := l.fewRays(); ok {
		if quick := m.table(few, r); quick.near(full) {
			return quick
		}
	}
	return full
}

func (m *Model) table(rays []ray, r Resin) *Table {
	t := &Table{rays: make([]rayTable, len(rays))}
	films := m.films(r)
	for i, ray := range rays {
		f := films(ray.nm)
		t.body += float32(ray.share * f.body)
		t.clear += float32(ray.share * overlay(ray.nm))
		t.rays[i] = rayTable{
			card:    float32(ray.share * (m.card(ray.nm) - surface)),
			through: float32(f.through),
			y:       fade(m.y(ray.nm)),
			m:       fade(m.m(ray.nm)),
			c:       fade(m.c(ray.nm)),
		}
	}
	return t
}

// fade is the light left by each of the 256 amounts of a dye.
func fade(density float64) (t [257]float32) {
	for v := range 256 {
		t[v] = float32(transmitted(density * float64(v) / 255))
	}
	t[256] = t[255]
	return t
}

// near says whether both tables agree on a grid of dye mixtures.
func (t *Table) near(u *Table) bool {
	levels := [...]uint8{0, 64, 128, 255}
	for i := range 128 {
		y, m, c, k := levels[i&3], levels[i>>2&3], levels[i>>4&3], i>>6 == 1
		if math.Abs(float64(t.R(y, m, c, k)-u.R(y, m, c, k))) > rayTolerance {
			return false
		}
	}
	return true
}

// R is the reflectance of a dot, 0 to 1 absolute: dye amounts with 255 = full,
// and resin or not.
func (t *Table) R(y, m, c uint8, k bool) float32 {
	var sum float32
	if !k {
		for i := range t.rays {
			r := &t.rays[i]
			sum += r.card * r.y[y] * r.m[m] * r.c[c]
		}
		return surface + sum
	}
	for i := range t.rays {
		r := &t.rays[i]
		sum += r.card * r.through * r.y[y] * r.m[m] * r.c[c]
	}
	return surface + t.body + sum
}

// Mix is the reflectance of a spot smaller or larger than a dot: dye amounts
// from 0 to 1, which fade light together, and the share of its area that resin
// covers, 0 to 1, which averages. Values beyond are taken as the nearest end.
func (t *Table) Mix(y, m, c, k float32) float32 {
	yi, yf := split(y)
	mi, mf := split(m)
	ci, cf := split(c)
	var open, covered float32
	for i := range t.rays {
		r := &t.rays[i]
		v := r.card * between(&r.y, yi, yf) * between(&r.m, mi, mf) * between(&r.c, ci, cf)
		open += v
		covered += v * r.through
	}
	k = unitRange(k)
	return surface + (1-k)*open + k*(covered+t.body)
}

// Overlaid is the reflectance of a dot that reflects r bare, once the clear
// overlay lies on it. It takes 3 % of the light, both ways together.
func (t *Table) Overlaid(r float32) float32 { return surface + (r-surface)*t.clear }

// split finds the table entry at or below an amount of 0 to 1, and how far the
// amount lies beyond it. Between entries, 1/255 apart, the fade is straight to
// within 5e-5 of its value.
func split(v float32) (i int, f float32) {
	v = 255 * unitRange(v)
	i = int(v)
	return i, v - float32(i)
}

func between(t *[257]float32, i int, f float32) float32 { return t[i] + f*(t[i+1]-t[i]) }

// unitRange clips to 0..1; what is not a number counts as 0.
func unitRange(v float32) float32 {
	if !(v > 0) {
		return 0
	}
	return min(v, 1)
}
