package portrait

import "math"

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
			clear = min(clear, 0.5+d/(far*0.42+0.8))
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
func (v *veil) at(s *stage, x, y int) seen {
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
	return seen{a / n, c / n}
}
