package portrait

// lamp is one far light: a direction towards it, its colour, how far it wraps
// round the edge of a form, and whether forms throw shadows of it.
type lamp struct {
	dir    vec
	rgb    rgb
	wrap   float64
	shadow bool
}

// studio is the light of one picture.
type studio struct {
	lamps             []lamp
	sky, wall, ground rgb
	halves            []vec // half-way vectors to the lamps
}

func newStudio(t *traits) *studio {
	d := t.dice.fork(2)
	side := 1.0
	if d.float() < 0.5 {
		side = -1
	}
	warm := d.normal() * 0.02
	tint := func(k float64) rgb { return rgb{k * (1 + warm), k, k * (1 - warm)} }
	key := vec{side * d.span(0.25, 0.7), d.span(0.35, 0.7), 1}.unit()
	st := &studio{
		lamps: []lamp{
			{key, tint(d.span(0.92, 1.06)), 0.10, true},
			{vec{-side * 0.75, 0.15, 0.8}.unit(), tint(d.span(0.10, 0.22)), 0.3, false},
			{vec{-side * 0.9, 0.5, -0.55}.unit(), tint(d.span(0.10, 0.3)), 0.1, false},
		},
		sky: tint(0.26), wall: tint(0.165), ground: rgb{0.085, 0.075, 0.065},
	}
	for _, l := range st.lamps {
		st.halves = append(st.halves, l.dir.add(vec{0, 0, 1}).unit())
	}
	return st
}

// falls is the light that reaches a surface of normal n, open to the room by
// ao and to the key lamp by clear, both 0 to 1.
func (st *studio) falls(n vec, ao, clear float64) rgb {
	up := 0.5 + 0.5*n.y
	amb := st.ground.blend(st.sky, up).blend(st.wall, 0.35)
	e := rgb{amb.r * ao, amb.g * ao * (0.89 + 0.11*ao), amb.b * ao * (0.84 + 0.16*ao)}
	for i := range st.lamps {
		l := &st.lamps[i]
		k := (n.dot(l.dir) + l.wrap) / (1 + l.wrap)
		if k <= 0 {
			continue
		}
		if l.shadow {
			k *= clear
		} else {
			k *= 0.4 + 0.6*ao
		}
		e = e.plus(l.rgb.times(k))
	}
	return e
}

// gloss is the mirrored light of a surface with exponent 2^sharp.
func (st *studio) gloss(n vec, sharp int, ao, clear float64) rgb {
	var e rgb
	for i, h := range st.halves {
		k := n.dot(h)
		if k <= 0 {
			continue
		}
		for range sharp {
			k *= k
		}
		if st.lamps[i].shadow {
			k *= clear
		} else {
			k *= ao
		}
		e = e.plus(st.lamps[i].rgb.times(k))
	}
	return e
}
