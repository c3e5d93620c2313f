package portrait

import "math"

// strand is one hair, or a few that lie together.
type strand struct {
	at    []vec   // rest points from root to tip
	layer float64 // 0 at the scalp to 1 outermost
	tint  float64 // darker or lighter than its neighbours
	shift float64 // of its gloss
	white bool
	wild  bool
	fine  bool
}

// lock is the shared way of strands that lie together.
type lock struct {
	root   vec
	phase  float64
	turn   vec // axis of its curls
	tint   float64
	reach  float64
	splay  vec
	height float64
}

// dressHair draws the hair of the head.
func (b *brush) dressHair() {
	t := b.t
	switch t.Style {
	case Scarf:
		return
	case Afro:
		b.coils(t.dice.fork(51))
		return
	case Crop:
		b.crop(t.dice.fork(51))
		return
	}
	d := t.dice.fork(51)
	if t.cut.hang != 0 {
		b.curtain(&d)
	}
	if t.cut.knot {
		b.knot(&d)
	}
	locks := b.locks(&d)
	n := t.cut.count
	for i := range n {
		l := float64(i) / float64(n)
		s := b.grow(&locks[d.next()%uint64(len(locks))], l, &d)
		b.drawStrand(&s)
	}
}

// rootAt is a random rest point of the scalp with its depth inside the hair.
func (b *brush) rootAt(d *dice) (vec, float64) {
	t := b.t
	for range 200 {
		y := mix(-45, 116, math.Pow(d.float(), 0.8))
		r := t.row(y)
		a := d.span(-1.1, 1.1) * math.Pi / 2
		sn, cs := math.Sincos(a)
		p := vec{r.w * sn, y, skullZ + (r.z-skullZ)*cs}
		in := t.onScalp(p)
		// the edge is thin and uneven
		if in+3*b.g.at(p.x*0.3, p.y*0.3+p.z*0.2) > d.float()*7-1.5 {
			return p, in
		}
	}
	return vec{-74, 0, -120}, 30
}

func (b *brush) locks(d *dice) []lock {
	ls := make([]lock, b.t.cut.locks)
	for i := range ls {
		p, _ := b.rootAt(d)
		if b.t.cut.parted() && i%4 == 0 {
			p = b.onParting(d)
		}
		ls[i] = lock{
			root: p, phase: d.span(0, 2*math.Pi), tint: 1 + 0.16*d.normal(), reach: d.span(0.75, 1.1),
			turn:  vec{d.normal(), d.normal(), d.normal()}.unit(),
			splay: vec{d.normal(), d.normal(), d.normal()}, height: d.span(0.6, 1.12),
		}
	}
	return ls
}

// grow lets one strand follow its lock at a layer.
func (b *brush) grow(l *lock, layer float64, d *dice) strand {
	t := b.t
	c := &t.cut
	s := strand{layer: layer, tint: l.tint * (1 + 0.2*d.normal()), shift: d.normal()*0.05 + 0.03*(l.tint-1)*6}
	s.white = d.float() < b.hair.grey
	s.wild = d.float() < c.wild
	jit := vec{d.normal(), d.normal(), d.normal()}
	p := l.root.add(tangentPart(l.root, jit).mul(c.loose))
	if t.onScalp(p) < 0 {
		p = l.root.along(tangentPart(l.root, jit), c.loose*0.3)
	}
	root := p
	steps := 13
	step := c.long * b.t.lengthAt(root) * l.reach * d.span(0.8, 1.05) / float64(steps)
	s.at = make([]vec, 0, steps+1)
	s.at = append(s.at, p)
	dir := b.combed(p, root)
	splay := tangentPart(p, l.splay)
	if c.hang != 0 {
		splay = splay.mul(0.35)
	}
	brow := c.fringed(root)
	end := c.hang + d.span(-8, 8) - 12*l.splay.x*smooth(-130, -180, c.hang)
	for i := 1; i <= steps; i++ {
		f := float64(i) / float64(steps)
		want := b.combed(p, root).along(splay, 0.16*f).along(jit, 0.05)
		dir = dir.mul(0.35).along(want, 0.65).unit()
		p = p.along(dir, step)
		p = b.rest(p, layer, f, l.height, s.wild)
		if c.hang != 0 && p.y < end {
			break
		}
		if brow && p.y < 24+6*layer-0.004*p.x*p.x {
			break
		}
		s.at = append(s.at, p)
	}
	if c.curl > 0 {
		curlStrand(s.at, l, c, d.normal()*0.35)
	}
	return s
}

// parted says whether the hair falls to both sides of a line.
func (c *cut) parted() bool { return c.hang != 0 }

// onParting is a random rest point beside the parting.
func (b *brush) onParting(d *dice) vec {
	x := b.t.cut.part + d.span(-7, 7)
	a := d.span(0.1, 1.5) // from the forehead to the crown
	p := vec{x, 22 + 95*math.Sin(a), skullAt.z + 101*math.Cos(a)}
	if p.y < b.t.hairline(math.Abs(x)) {
		p.y = b.t.hairline(math.Abs(x)) + 2
	}
	return lift(p, 0.5)
}

// fringed says whether hair from root falls over the brow.
func (c *cut) fringed(root vec) bool {
	return c.fringe && root.z > -75 && root.y > 52 && math.Abs(root.x) < 58
}

// lengthAt is the share of a cut's length that hair from root has.
func (t *traits) lengthAt(root vec) float64 {
	switch t.Style {
	case Short:
		k := mix(0.25, 1, smooth(40, 80, root.y)*smooth(74, 58, math.Abs(root.x)))
		if t.cut.mode == 2 {
			k *= 0.62
		}
		return k
	case Receding, Bald:
		return mix(0.25, 0.8, smooth(40, 80, root.y))
	}
	return 1
}

// tangentPart is the part of d that lies along the scalp at p.
func tangentPart(p, d vec) vec {
	n := outward(p)
	return d.along(n, -n.dot(d))
}

// curlStrand winds a strand round its own way.
func curlStrand(at []vec, l *lock, c *cut, off float64) {
	way := 0.0
	prev := at[0]
	for i := 1; i < len(at); i++ {
		way += at[i].sub(prev).len()
		dir := at[i].sub(prev).unit()
		prev = at[i]
		e1 := dir.cross(l.turn).unit()
		e2 := dir.cross(e1)
		sn, cs := math.Sincos(way/c.coil*2*math.Pi + l.phase + off)
		k := c.curl * smooth(0, 12, way) * (1 + 0.3*off)
		at[i] = at[i].along(e1, cs*k).along(e2, sn*k)
	}
}

// combed is the direction in which hair runs at p, for a strand from root.
func (b *brush) combed(p, root vec) vec {
	t := b.t
	c := &t.cut
	switch t.Style {
	case Bun:
		return tangent(p, vec{0, 96, -150}.sub(p).unit())
	case Bob, Long:
		return b.hanging(p, root)
	case Curly:
		return tangent(p, vec{p.x * 0.010, -0.4, 0.9 * smooth(40, 90, p.y)}.along(outward(p), 0.3))
	}
	// combed to the side from a parting, and down over the ears
	top := smooth(45, 85, root.y) * smooth(74, 58, math.Abs(root.x))
	sweep := vec{p.x * 0.004, 0.3, -1}
	switch s := clamp((root.x-c.part)/14, -1, 1); {
	case t.Style == Short && c.mode == 2:
		sweep = vec{-0.3 * math.Copysign(1, c.part), -0.15, 1}
	case t.Style == Short && c.mode == 0 && c.part*s > 0:
		sweep = vec{s * 0.6, -0.4, -0.6}
	case t.Style == Short && c.mode == 0:
		sweep = vec{s * 0.8, 0.15, -0.6}
	}
	down := vec{math.Copysign(0.12, p.x), -1, -0.55}
	return tangent(p, down.mul(1-top).add(sweep.mul(top)))
}

// hanging is the way of long hair: from the parting over the head, then down.
func (b *brush) hanging(p, root vec) vec {
	c := &b.t.cut
	if c.fringed(root) {
		return tangent(p, vec{p.x * 0.006, -0.5, 0.8})
	}
	side := math.Copysign(1, root.x-c.part)
	if p.y < 15 {
		in := -0.10 * side
		if b.t.Style == Long {
			in = -0.3 * side * smooth(66, 80, math.Abs(p.x)) * smooth(-30, -70, p.y)
		}
		if b.t.Style == Bob {
			in = -0.38 * side * smooth(c.hang+45, c.hang, p.y)
		}
		return vec{in * 0.6, -1, 0}
	}
	return tangent(p, vec{side * 0.9, -0.55 - 0.5*smooth(60, 10, p.y), -0.10})
}

// rest holds a point over the scalp at its layer, or lets it hang.
func (b *brush) rest(p vec, layer, f, height float64, wild bool) vec {
	t := b.t
	c := &t.cut
	h := c.thick(p) * layer * min(1, height)
	h *= smooth(0, 0.3, f+0.04)
	if c.hang == 0 {
		h *= math.Sin(min(1, f*2.2) * math.Pi / 2)
		if t.Style == Short && p.z > -60 && p.y > 60 { // the hair stands up over the brow
			h += 7 * smooth(0, 0.3, f) * bump(p.y, p.z, 82, -5, 30, 40) * layer
		}
	}
	if wild {
		h += 7 * f * layer
	}
	if p.y < 15 && c.hang != 0 {
		return b.beside(p, layer, h)
	}
	return lift(p, max(0.5, h))
}

// beside keeps hanging hair outside the cheek, and in front of the shoulders.
func (b *brush) beside(p vec, layer, h float64) vec {
	r := b.t.row(max(p.y, -70))
	side := math.Copysign(1, p.x)
	least := r.w + 1 + 2*layer
	if p.y < -70 {
		least = mix(least, 50, smooth(-70, -130, p.y))
	}
	if gap := least - math.Abs(p.x); gap > 0 && p.z > -140 {
		p.x += side * min(gap, 9)
	}
	if p.y < -135 {
		p.z = max(p.z, mix(-60, -8, smooth(-135, -185, p.y)))
	}
	return p
}
