package portrait

import "math"

// The mean head: widths and profile by height. Heights, widths and depths
// follow common adult measures of the face (head 230 high and 152 wide, eyes
// 63 apart, mouth 52 wide); from memory.
var (
	// half width of the head at height y
	halfWidth = curve{{-119, 0}, {-118, 9}, {-115, 19}, {-110, 28}, {-103, 36}, {-94, 43.5}, {-84, 50.5}, {-74, 54.5},
		{-62, 57.5}, {-48, 61.5}, {-32, 65.2}, {-16, 68.5}, {0, 70}, {15, 71.5}, {30, 72.8}, {48, 73.3}, {62, 71},
		{76, 66.5}, {90, 57}, {101, 45.5}, {109, 32.5}, {114, 19}, {116, 8}, {116.5, 0}}
	// depth of the middle line without nose and lips
	profile = curve{{-119, -20}, {-117, -8}, {-112, 3}, {-104, 7}, {-92, 6}, {-76, 10}, {-66, 11}, {-54, 9}, {-42, 5}, {-24, 2},
		{-8, 2}, {4, 4}, {18, 10}, {32, 11.5}, {45, 10}, {58, 5.5}, {70, -2}, {82, -13}, {94, -30}, {104, -48},
		{111, -66}, {115, -82}, {116.5, -90}}
	// squareness of the section: 2 is an ellipse
	square = curve{{-118, 2.1}, {-100, 2.0}, {-76, 1.95}, {-50, 2.0}, {-20, 2.15}, {0, 2.3}, {20, 2.4}, {50, 2.3}, {80, 2.1}, {116, 2}}
	// height of the nose's ridge over the profile
	noseRidge = curve{{-54, 0}, {-51, 5.5}, {-48.5, 13}, {-45, 19}, {-41, 21.5}, {-36, 20}, {-28, 16}, {-18, 11.5}, {-8, 7.5}, {2, 4.5}, {10, 2.5}, {18, 0}}
	// half width of the ridge
	noseHalf = curve{{-52, 9}, {-46, 9.5}, {-40, 9}, {-32, 7.5}, {-20, 7}, {-8, 6.2}, {4, 6.5}, {16, 10}}
)

const skullZ = -90 // depth of the widest section

// row holds what one height of the head has in common.
type row struct{ y, w, z, n, ridge, half float64 }

func (t *traits) row(y float64) row {
	r := row{y: y, w: halfWidth.at(y), z: profile.at(y), n: square.at(y), ridge: noseRidge.at(y), half: noseHalf.at(y)}
	if r.ridge > 0 {
		r.ridge = max(0, r.ridge+t.noseUp*smooth(-52, -40, y)*smooth(20, -5, y)*0.8)
	}
	r.half *= 1 + (t.noseWide-1)*0.8
	// A lean face narrows under the cheekbones, a full one widens.
	r.w += t.flesh * 1.3 * bump(y, 0, -62, 0, 28, 1)
	r.w *= 1 + t.jaw*smooth(-15, -85, y)
	return r
}

// skin is the point of the head's surface for a fraction k of the row's
// width, -1 to 1, and its rest position before the sitter's own proportions.
func (t *traits) skin(r row, k float64) vec {
	a := math.Abs(k)
	x := r.w * k
	z := skullZ + (r.z-skullZ)*math.Pow(max(0, 1-math.Pow(a, r.n)), 1/r.n)
	if r.y > -120 && r.y < 45 && a < 0.97 {
		z += t.relief(r, math.Abs(x)) * smooth(0.97, 0.86, a)
	}
	return vec{x, r.y, z}
}

// relief is what the features add to the depth at distance x from the
// middle line.
func (t *traits) relief(r row, x float64) float64 {
	y, z := r.y, 0.0
	if y > -20 {
		z += t.browRidge * bump(x, y, 27, 19-0.05*x, 22, 9)
		z += (1 + t.browRidge*0.7) * bump(x, y, 0, 14, 13, 11)
		z += 1.5 * bump(x, y, 28, 42, 22, 14)
		z -= 3 * bump(x, y, 66, 26, 12, 20)
	}
	if y > -34 && y < 30 {
		z -= 6 * bump(x, y, 33, 1, 15, 10.5)
		z -= 4 * bump(x, y, 17, 2, 7, 9)
		z = t.eyeball(x, y, z, r)
		z -= (1.3 + 1.2*t.years) * bump(x, y, 21+(-9-y)*0.9, -13, 5, 6)
		z -= (0.5 + 1.1*t.years) * bump(x, y, 32, -15.5, 12, 3)
	}
	if y < 0 {
		z += t.cheek(x, y)
	}
	if y < 20 && y > -60 {
		z = t.noseForm(r, x, z)
	}
	if y < -50 {
		z += t.mouthForm(x, y)
	}
	return z
}

// eyeball lets the lids bulge over the ball of the eye.
func (t *traits) eyeball(x, y, z float64, r row) float64 {
	dx, dy := x-eyeX, y-0.3
	d2 := dx*dx + dy*dy
	const radius = 13.2
	if d2 > radius*radius*0.96 {
		return z
	}
	base := skullZ + (r.z-skullZ)*math.Pow(1-math.Pow(x/r.w, r.n), 1/r.n)
	ball := -14.2 + math.Sqrt(radius*radius-d2) - base
	return smax(z, ball, 1.8)
}

func (t *traits) cheek(x, y float64) float64 {
	z := t.cheekbone * bump(x, y, 42, -24, 17, 13)
	z += (1 + 2.2*t.smile + t.flesh*0.4) * bump(x, y, 33, -36, 13, 12)
	z += (t.flesh - 0.8) * 2 * bump(x, y, 44, -62, 15, 18)
	// The fold from the wing of the nose to the corner of the mouth.
	fx := 19 + (-42-y)*0.36
	if y < -38 && y > -80 {
		deep := (0.9 + 1.1*t.years + 1.0*t.smile) * smooth(-38, -46, y) * smooth(-80, -68, y)
		d := (x - fx) / 2.6
		z -= deep * bell(d*d)
		d = (x - fx - 7) / 6
		z += deep * 1.3 * bell(d*d)
	}
	return z
}

func (t *traits) noseForm(r row, x, z float64) float64 {
	y := r.y
	q := x / r.half
	q *= q
	ridge := r.ridge * (0.72*bell(q*0.62) + 0.28*bell(q*0.2))
	ridge += 2.6 * t.noseTip * bump(x, y, 0, -42.5, 8, 7)
	ax := 12.6 * t.noseWide
	ala := 11.5 * bump(x, y, ax, -44.2, 5.6, 5.6)
	hole := 3.5 * bump(x, y, 7*t.noseWide, -50, 4, 2)
	return z + smax(ridge, ala, 4) - 1.9*t.wing(x, y) - hole
}

// wing is the crease round the outside of the nostril's wing.
func (t *traits) wing(x, y float64) float64 {
	ax := 12.6 * t.noseWide
	dx, dy := (x-ax)/6.2, (y+44.6)/6.6
	d := (math.Sqrt(dx*dx+dy*dy) - 1.12) / 0.26
	return bell(d*d) * smooth(-0.5, 0.5, dx+0.25*dy) * smooth(-1.25, -0.6, dy)
}

func (t *traits) mouthForm(x, y float64) float64 {
	z := -1.1*bump(x, y, 0, -59, 2.8, 6) + 0.8*bump(x, y, 5, -60, 2.4, 6.5)
	half := t.mouthHalf()
	q := x / half
	mid := t.lipLine(x)
	if q < 1.1 {
		along := math.Sqrt(max(0, 1-q*q*0.83))
		full := (0.55 + 0.45*t.lips) * along
		up := (y - mid - 3.4) / 4.4
		lo := (y - mid + 5.2) / 4.6
		cut := (y - mid) / 1.7
		z += full*(3.4*bell(up*up)+4.8*bell(lo*lo)) - 2.6*along*bell(cut*cut)
	}
	cx, cy := half+2.5, t.lipLine(half)-1
	z -= (0.9 + 0.8*t.years) * bump(x, y, cx, cy+1, 4, 4)
	z += 1.2 * bump(x, y, cx+5, cy+1, 4, 8)
	z -= 3.2 * bump(x, y, 0, -92, 17, 5)
	z += (4.5 + t.chin) * bump(x, y, 0, -105, 17, 10)
	z -= 0.6 * t.male * bump(x, y, 0, -106, 2.5, 6)
	return z
}

func (t *traits) mouthHalf() float64 { return 24 + 1.2*t.male + 2.4*t.smile }

// lipLine is the height of the line between the lips.
func (t *traits) lipLine(x float64) float64 {
	q := math.Abs(x) / 26
	bow := -0.9*bump(x, 0, 0, 0, 5, 1) + 0.5*bump(math.Abs(x), 0, 10, 0, 7, 1)
	return -74 + bow + (3.4*t.smile+1.2)*q*q
}

// own moves a rest point to the sitter's own proportions.
func (t *traits) own(p vec) vec {
	x, y := p.x, p.y
	a := math.Abs(x)
	s := math.Copysign(1, x)
	q := vec{x * t.wide, y * t.long, p.z}
	q.x += s * t.eyeGap * bump(a, y, 32, 0, 18, 14) * 0.8
	q.x += s * 13 * (t.noseWide - 1) * bump(a, y, 12, -44, 10, 12) * 0.5
	q.x += s * t.mouthGap * bump(a, y, 24, -74, 12, 12)
	q.y -= t.nose*smooth(-5, -45, y) + t.lower*smooth(-48, -115, y)
	q.y += t.brow * 0.5 * bump(a, y, 30, 17, 30, 9)
	q.y += s * t.lean * 0.5 * smooth(10, 40, a)
	q.x += t.lean * 0.8 * bump(0, y, 0, -50, 1, 40)
	return q
}

const columnAngle = math.Pi / 2 * 0.9

// across is the share of a row's half width, -1 to 1, at which a column
// stands; column is its inverse. Columns crowd where the head turns away.
func across(column float64) float64 {
	return math.Sin((column*2-1)*columnAngle) / math.Sin(columnAngle)
}

func column(across float64) float64 {
	return math.Asin(across*math.Sin(columnAngle))/columnAngle/2 + 0.5
}

// head builds the sheet of face and skull.
func (t *traits) head(p *pose) *sheet {
	ys := headRows()
	const cols = 171
	m := newSheet(len(ys), cols)
	for i, y := range ys {
		r := t.row(y)
		for c := range cols {
			k := across(float64(c) / (cols - 1))
			if i == 0 || i == len(ys)-1 {
				k *= 1e-3
			}
			q := t.skin(r, k)
			v := m.at(i, c)
			v.u, v.v = q.x, q.y
			v.pos = p.point(t.own(q))
		}
	}
	return m
}

// headRows are the heights of the sheet's rows, closest in the middle face.
func headRows() []float64 {
	var ys []float64
	for y := 116.5; y > -119; {
		ys = append(ys, y)
		switch {
		case y > 112, y < -110:
			y -= 0.5
		case y > 100:
			y--
		case y > 25:
			y -= 2
		default:
			y -= 1.15
		}
	}
	return append(ys, -119)
}
