package portrait

// wall is what hangs behind the sitter.
type wall struct {
	tone  rgb
	slope float64 // of its light, from left to right
	deep  float64 // how dark the sitter's shadow is
	shade *blur
	dx    float64 // where the shadow falls, in dots
	dy    float64
}

func newWall(t *traits, s *stage, key vec) wall {
	d := t.dice.fork(9)
	tones := [...]rgb{srgb(222, 226, 230), srgb(214, 221, 230), srgb(229, 227, 222), srgb(205, 212, 218)}
	far := d.span(70, 130)
	return wall{
		tone: tones[d.next()%uint64(len(tones))], slope: d.span(-0.12, 0.12), deep: d.span(0.02, 0.22),
		shade: newBlur(s), dx: -key.x * far, dy: key.y * far * 0.8,
	}
}

// backdrop is a pale wall, lit a little unevenly, with a soft shadow.
func (b *brush) backdrop(x, y int) rgb {
	fx := float64(x)/Width - 0.5
	fy := float64(y)/Height - 0.45
	w := &b.wall
	k := 1.03 - 0.55*(fx*fx+fy*fy*0.7) + w.slope*fx - 0.10*fy
	k *= 1 - w.deep*w.shade.at(float64(x)-w.dx, float64(y)-w.dy)
	return w.tone.times(k)
}

// blur is the sitter's outline, very soft, at an eighth of the size.
type blur struct {
	w, h int
	v    []float64
}

const blurStep = 8

func newBlur(s *stage) *blur {
	f := &blur{w: s.w / blurStep, h: s.h / blurStep}
	f.v = make([]float64, f.w*f.h)
	for y := range f.h {
		for x := range f.w {
			if s.what[(y*blurStep+blurStep/2)*s.w+x*blurStep+blurStep/2] != nothing {
				f.v[y*f.w+x] = 1
			}
		}
	}
	for range 10 {
		f.soften(1, f.w, f.h, f.w)
		f.soften(f.w, f.h, f.w, 1)
	}
	return f
}

// soften averages three neighbours along every line.
func (f *blur) soften(step, n, lines, lineStep int) {
	for l := range lines {
		before := f.v[l*lineStep]
		for i := range n {
			o := l*lineStep + i*step
			after := f.v[l*lineStep+min(i+1, n-1)*step]
			before, f.v[o] = f.v[o], (before+2*f.v[o]+after)/4
		}
	}
}

// at reads the outline between its samples.
func (f *blur) at(x, y float64) float64 {
	x = clamp(x/blurStep-0.5, 0, float64(f.w)-1.001)
	y = clamp(y/blurStep-0.5, 0, float64(f.h)-1.001)
	i, j := int(x), int(y)
	tx, ty := x-float64(i), y-float64(j)
	v := f.v[j*f.w+i:]
	u := f.v[(j+1)*f.w+i:]
	return mix(mix(v[0], v[1], tx), mix(u[0], u[1], tx), ty)
}
