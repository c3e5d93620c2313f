package portrait

import "math"

// brush colours the dots of a stage.
type brush struct {
	s  *stage
	t  *traits
	st *studio
	g  *grain
	p  *pose

	outfit   outfit
	wall     wall
	head     *sheet    // the face
	rows     []float64 // heights of its rows
	hair     hairTone
	browHair rgb // reflectance of brows and lashes

	seen   []seen
	light  []rgb32 // light that falls on each dot
	colour []rgb32 // light that leaves it
}

// faceTone is the reflectance of the skin at rest point (x, y) of the face.
func (b *brush) faceTone(x, y float64) rgb {
	t := b.t
	a := math.Abs(x)
	mel, blood := t.melanin, t.blood*0.75+0.05
	blot := b.g.rough(x*0.11+3, y*0.11, 2)
	fine := b.g.rough(x*0.55, y*0.55+50, 3)
	blood += 0.16*blot + 0.10*fine
	mel += (0.012 + 0.02*t.melanin) * (blot*0.6 + fine)

	blood += 0.30 * bump(a, y, 41, -32, 26, 21)
	blood += 0.45 * bump(a, y, 0, -43, 14, 10)
	blood += 0.25 * bump(a, y, 0, -106, 16, 9)
	blood += 0.30 * bump(a, y, 16, -44, 8, 8)
	blood -= 0.25 * bump(a, y, 0, 44, 50, 18)
	// thin skin about the eyes, darker with age
	lid := bump(a, y, eyeX-1, -9, 13, 5.5)
	blood += 0.12*lid + 0.10*bump(a, y, eyeX, 4, 15, 7)
	mel += (0.030+0.03*t.melanin)*lid*(0.6+t.years) + (0.008+0.05*t.melanin)*bump(a, y, eyeX, 4, 17, 8)
	mel += 0.05 * t.melanin * (bump(a, y, 0, -72, 34, 14) - bump(a, y, 40, -28, 18, 16))
	lines := t.years * b.wrinkles(a, x, y)
	mel += 0.10 * lines
	blood += 0.35 * lines
	if t.freckle > 0 {
		f := b.g.at(x*0.62+90, y*0.62) + 0.6*b.g.at(x*1.1, y*1.1+20)
		mel += 0.16 * t.freckle * smooth(0.45, 0.95, f) * (bump(a, y, 24, -22, 38, 24) + 0.4)
	}
	if y > -40 && y < -20 || y > 20 {
		mel += 0.35 * (1 - 0.6*t.melanin) * smooth(0.86, 0.97, b.g.at(x*0.13+7.7, y*0.13+31)) * smooth(0.1, 0.5, b.g.at(x*1.7, y*1.7))
	}
	return b.lipTone(pigments(clamp(mel, 0, 1.15), clamp(blood, 0, 1.9)), x, y, mel)
}

// wrinkles are the fine lines of the forehead and beside the eyes, 0 to 1.
func (b *brush) wrinkles(a, x, y float64) float64 {
	if y > 26 && y < 60 {
		bend := 1.6*b.g.at(x*0.035+4, y*0.03+60) - 0.0009*x*x
		f := (y - 31 + bend*2) / 7.5
		d := (f - math.Round(f)) * 7.5 / 0.9
		return bell(d*d) * smooth(48, 25, a) * smooth(26, 31, y) * smooth(60, 48, y) * (0.5 + 0.5*b.g.at(x*0.06, math.Round(f)*3.7))
	}
	if a > 47 && a < 64 && y > -14 && y < 12 {
		f := math.Atan2(y+1, a-44) / 0.30
		d := (f - math.Round(f)) * 0.30 * (a - 44) / 0.8
		return 0.7 * bell(d*d) * smooth(47, 51, a) * smooth(63, 56, a)
	}
	return 0
}

// lipTone lays the red of the lips over the skin.
func (b *brush) lipTone(skin rgb, x, y, mel float64) rgb {
	k, line := b.t.lip(x, y)
	if k <= 0 && line <= 0 {
		return skin
	}
	t := b.t
	tint := 0.95 + 0.35*t.blood
	lip := pigments(clamp(mel*0.82+0.13, 0, 1), tint+mix(1.0, 0.7, t.male)-0.25*t.melanin)
	if t.male == 0 {
		lip = lip.by(rgb{0.98, 0.86, 0.88})
	}
	lip = lip.times(1 + 0.10*b.g.rough(x*1.6, y*0.35, 2))
	c := skin.blend(lip, 0.85*k)
	return c.times(1 - 0.82*line)
}

// lip is how much a point belongs to the red of the lips, and to the dark
// line between them.
func (t *traits) lip(x, y float64) (red, line float64) {
	if y > -58 || y < -92 {
		return 0, 0
	}
	q := math.Abs(x) / t.mouthHalf()
	if q > 1.12 {
		return 0, 0
	}
	mid := t.lipLine(x)
	along := math.Sqrt(max(0, 1-q*q))
	bow := 1 - 0.16*bell(x*x/14) + 0.05*bump(math.Abs(x), 0, 6, 0, 4, 1)
	top := mid + 7.4*t.lips*(1-math.Pow(q, 1.7))*bow
	low := mid - 9.2*t.lips*math.Pow(along, 1.25)
	const soft = 0.8
	red = smooth(top+soft, top-soft, y) * smooth(low-1.3*soft, low+1.3*soft, y)
	d := (y - mid) / (0.8 + 0.5*q)
	line = bell(d*d) * smooth(1.10, 0.92, q) * (0.8 + 0.2*q)
	return red, line
}
