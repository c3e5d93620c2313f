package portrait

import "math"

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
			{vec{-side * 0.75, 0.15, 0.8}.unit(), tint(d.span(0.14, 0.26)), 0.3, false},
			{vec{-side * 0.9, 0.5, -0.55}.unit(), tint(d.span(0.10, 0.3)), 0.1, false},
		},
		sky: tint(0.27), wall: tint(0.20), ground: rgb{0.085, 0.075, 0.065},
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
	e := rgb{amb[0] * ao, amb[1] * ao * (0.89 + 0.11*ao), amb[2] * ao * (0.84 + 0.16*ao)}
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

// veil is how much of the room and of the key lamp each dot of a half-size
// stage sees.
type veil struct {
	w, h      int
	ao, clear []float32
}

// newVeil looks from each second dot over the depths around it.
func newVeil(s *stage, key vec) *veil {
	v := &veil{w: s.w / 2, h: s.h / 2}
	v.ao, v.clear = make([]float32, v.w*v.h), make([]float32, v.w*v.h)
	rays := veilRays(s.scale)
	for y := range v.h {
		for x := range v.w {
			i := y*v.w + x
			j := 2*y*s.w + 2*x
			if s.what[j] == nothing {
				v.ao[i], v.clear[i] = 1, 1
				continue
			}
			v.ao[i] = s.openness(2*x, 2*y, rays, (x*5+y*3)&7)
			v.clear[i] = s.clearness(2*x, 2*y, key)
		}
	}
	v.soften(s)
	return v
}

type ray struct {
	dx, dy int
	inv    float32 // 1 / distance in millimetres
}

// veilRays are eight turned sets of samples around a dot.
func veilRays(scale float64) [8][]ray {
	var sets [8][]ray
	for k := range sets {
		for i := range 12 {
			a := (float64(i) + float64(k)/8) * 2 * math.Pi / 12
			r := []float64{3.5, 8, 16, 30}[i%4] * (1 + 0.06*float64(k))
			dx, dy := int(math.Round(r*scale*math.Cos(a))), int(math.Round(r*scale*math.Sin(a)))
			sets[k] = append(sets[k], ray{dx, dy, float32(1 / r)})
		}
	}
	return sets
}

func (s *stage) openness(x, y int, rays [8][]ray, set int) float32 {
	i := y*s.w + x
	z := s.depth[i]
	n := s.normal[i]
	var shut float32
	for _, r := range rays[set] {
		px, py := x+r.dx, y+r.dy
		if px < 0 || py < 0 || px >= s.w || py >= s.h {
			continue
		}
		dz := (s.depth[py*s.w+px] - z) * r.inv
		// the slope of the surface itself hides nothing
		own := -(n[0]*float32(r.dx) - n[1]*float32(r.dy)) * r.inv / float32(s.scale)
		if n[2] > 0.15 {
			own /= n[2]
		} else {
			own /= 0.15
		}
		d := dz - own - 0.06
		if d <= 0 {
			continue
		}
		if d > 1.6 {
			d = 1.6
		}
		shut += d / (0.55 + d)
	}
	return max(0.12, 1-shut*1.45/12)
}

// clearness follows a ray to the key lamp, which is wide and so throws soft
// shadows.
func (s *stage) clearness(x, y int, key vec) float32 {
	i := y*s.w + x
	z0 := float64(s.depth[i]) + 0.6
	clear := 1.0
	step := 1.6
	for far := 2.2; far < 75; far += step {
		px := x + int(key.x*far*s.scale+math.Copysign(0.5, key.x))
		py := y - int(key.y*far*s.scale+0.5)
		if px < 0 || py < 0 || px >= s.w || py >= s.h {
			break
		}
		d := z0 + key.z*far - float64(s.depth[py*s.w+px])
		if d > 90 {
			break
		}
		if d > -60 {
			clear = math.Min(clear, 0.5+d/(far*0.42+0.8))
		}
		step *= 1.13
	}
	return float32(smooth(0, 1, clear))
}

// soften smooths the veil over dots of like depth.
func (v *veil) soften(s *stage) {
	for _, f := range []*[]float32{&v.ao, &v.clear} {
		out := make([]float32, len(*f))
		for y := range v.h {
			for x := range v.w {
				out[y*v.w+x] = v.mean(s, *f, x, y)
			}
		}
		*f = out
	}
}

func (v *veil) mean(s *stage, f []float32, x, y int) float32 {
	z := s.depth[2*y*s.w+2*x]
	if z == farAway {
		return 1
	}
	var sum, n float32
	for dy := -2; dy <= 2; dy++ {
		for dx := -2; dx <= 2; dx++ {
			px, py := x+dx, y+dy
			if px < 0 || py < 0 || px >= v.w || py >= v.h {
				continue
			}
			if d := s.depth[2*py*s.w+2*px] - z; d > 9 || d < -9 {
				continue
			}
			sum += f[py*v.w+px]
			n++
		}
	}
	return sum / n
}

// at reads the veil at a dot of the full stage.
func (v *veil) at(s *stage, x, y int) (ao, clear float64) {
	z := s.depth[y*s.w+x]
	x0, y0 := x/2, y/2
	var a, c, n float32
	for k := range 4 {
		px, py := x0+(k&1)*(x&1), y0+(k>>1)*(y&1)
		if px >= v.w || py >= v.h {
			continue
		}
		d := s.depth[2*py*s.w+2*px] - z
		w := 1 / (1 + d*d)
		i := py*v.w + px
		a += v.ao[i] * w
		c += v.clear[i] * w
		n += w
	}
	return float64(a / n), float64(c / n)
}
