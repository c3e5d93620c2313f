package portrait

// traits are the measures of one sitter, in millimetres unless said
// otherwise; most are departures from the tables of head.go.
type traits struct {
	Person
	dice dice

	male, years float64 // 0 to 1; years is 0 at 20 and 1 at 65

	// Proportions, as factors or shifts of the mean head.
	wide, long, jaw, chin, lower, brow, nose float64
	eyeGap, mouthGap                         float64
	// Relief.
	browRidge, noseUp, noseWide, noseTip, cheekbone, flesh, lips, smile float64
	// Eyes.
	open, tilt, fold, iris float64
	// Skin.
	melanin, blood, freckle, shine float64

	yaw, pitch, roll float64
	tall             float64 // pixels a millimetre
	lean             float64 // uneven halves
	offX, offY       float64 // dots from the middle of the picture
	cut              cut
}

func newTraits(p Person) *traits {
	p = p.valid()
	d := dice(p.Seed*0x9e3779b97f4a7c15 + 0x51a7)
	d.next()
	t := &traits{Person: p, male: 1, years: clamp(float64(p.Age-20)/45, 0, 1.2)}
	if p.Woman {
		t.male = 0
	}
	t.measure(&d)
	t.colour(&d)
	t.yaw, t.pitch, t.roll = d.normal()*0.055, d.normal()*0.022+0.022, d.normal()*0.03
	t.tall = 1.64 * (1 + d.normal()*0.02)
	t.offX, t.offY = d.normal()*3.5, d.normal()*4
	if p.Woman {
		t.tall *= 1.03
	}
	t.lean = d.normal()
	t.dice = d.fork(1)
	t.cut = newCut(t, t.dice.fork(5))
	return t
}

func (t *traits) measure(d *dice) {
	m := t.male
	t.wide = 1 + d.normal()*0.035 - (1-m)*0.02
	t.long = 1 + d.normal()*0.018
	t.jaw = mix(-0.07, 0.02, m) + d.normal()*0.055
	t.chin = d.normal()*0.8 + mix(-0.6, 0.3, m)
	t.lower = d.normal()*3.5 + mix(-4, 1, m)
	t.brow = d.normal() * 2
	t.nose = d.normal()*2.6 + mix(-2.5, 0, m)
	t.eyeGap = d.normal() * 1.0
	t.mouthGap = d.normal()*2 + mix(-1.5, 0.5, m)
	t.browRidge = mix(0.3, 3.2, m) + d.normal()*1.1
	t.noseUp = d.normal()*2.6 + mix(-3, 0.5, m)
	t.noseWide = 1 + d.normal()*0.13 + mix(-0.1, 0.04, m)
	t.noseTip = 1 + d.normal()*0.12
	t.cheekbone = 3 + d.normal()*1.3
	t.flesh = d.normal()*1.6 + (1-t.years)*0.4
	t.lips = clamp(1.02+d.normal()*0.24+mix(0.16, -0.05, m)-0.18*t.years, 0.55, 1.6)
	t.smile = clamp(0.5+d.normal()*0.35, 0, 1.1)
	t.open = clamp(1+d.normal()*0.08-0.08*t.years+mix(0.02, -0.01, m), 0.86, 1.13)
	t.tilt = d.normal()*1.2 + mix(0.7, 0, m) - 0.5*t.years
	t.fold = clamp(0.5+d.normal()*0.35, 0, 1)
}

func (t *traits) colour(d *dice) {
	t.melanin = t.Skin * (0.72 + 0.28*t.Skin)
	t.blood = clamp(0.5+d.normal()*0.25, 0, 1)
	t.shine = clamp(0.5+d.normal()*0.25, 0.1, 1)
	if d.float() < 0.25 || t.Hair == Red {
		t.freckle = d.span(0.3, 1) * clamp(1-t.Skin*1.8, 0, 1)
	}
	t.iris = d.float()
}
