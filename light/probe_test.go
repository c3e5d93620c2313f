package light

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"unspool/ink"
	"unspool/panel"
	"unspool/plane"
	"unspool/unit"
)

// bars is a card-sized face with bars of resin, or of composite black, whose
// rows are all alike.
func bars(rng *rand.Rand, composite bool) *panel.Panels {
	p := face(1011, 638, 300, 300)
	for x := 30; x < 760; {
		w := 3 + 5*rng.IntN(2)
		dye := [4]uint8{0, 0, 0, 1}
		if composite {
			dye = [4]uint8{255, 255, 255, 0}
		}
		paint(p, plane.Rect{X0: x, Y0: 100, X1: x + w, Y1: 250}, dye)
		x += w + 3 + 5*rng.IntN(2)
	}
	return p
}

var across = Scan{AlongX: true, From: 20, To: 729, At: 170.3, Aperture: 125 * um}

// Where rows are alike, the way for unlike rows gives the same.
func TestBothWaysAgree(t *testing.T) {
	for _, composite := range []bool{false, true} {
		p := bars(rand.New(rand.NewPCG(1, 3)), composite)
		q := usual.Under(ink.Line(660)).Probe()
		want := slices.Clone(q.Profile(p, across).Samples)
		f, _ := across.frame(usual, p.Grid)
		q.out = append(q.out[:0], make([]float32, f.samples)...)
		q.acrossRows(&f)
		for i, v := range q.out {
			if math.Abs(float64(v-want[i])) > 0.002 { // strips are cut at other places
				t.Fatalf("sample %d: %v, want %v", i, v, want[i])
			}
		}
	}
}

// A probe keeps nothing of what it saw before.
func TestProbeForgets(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	l := usual.Under(ink.Line(660))
	q := l.Probe()
	for range 40 {
		p := scribble(rng, 300, 300)
		s := Scan{AlongX: rng.IntN(2) == 0, From: 30 * (rng.Float64() - 0.3), At: 16 * (rng.Float64() - 0.1), Aperture: unit.Length(rng.IntN(3)) * 100 * um, Reverse: rng.IntN(2) == 0}
		s.To = s.From + 20*rng.Float64()
		got, want := q.Profile(p, s), l.Profile(p, s)
		if !slices.Equal(got.Samples, want.Samples) || got.Step != want.Step {
			t.Fatalf("%+v", s)
		}
		s.Reverse = !s.Reverse
		turned := l.Profile(p, s).Samples
		slices.Reverse(turned)
		if !slices.Equal(turned, want.Samples) {
			t.Fatalf("%+v: not the same from the other end", s)
		}
	}
}

func TestLitServesManyAtOnce(t *testing.T) {
	p := bars(rand.New(rand.NewPCG(1, 3)), true)
	l := usual.Under(ink.Band(660, 20))
	want := l.Profile(p, across)
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if got := l.Profile(p, across); !slices.Equal(got.Samples, want.Samples) {
				t.Error("differs")
			}
		})
	}
	wg.Wait()
}

// Same never says yes of scans whose profiles differ, and says yes where rows
// are alike.
func TestSame(t *testing.T) {
	l := usual.Under(ink.Line(660))
	p := bars(rand.New(rand.NewPCG(1, 3)), false)
	at := func(at float64) Scan { s := across; s.At = at; return s }
	for _, c := range []struct {
		a, b float64
		want bool
	}{{170.3, 170.3, true}, {120, 230.77, true}, {120, 249.5, false}, {120, 400, false}, {0.1, 0.2, false}, {400, 500, true}} {
		if got := l.Same(p, at(c.a), at(c.b)); got != c.want {
			t.Errorf("lines at %v and %v: %v", c.a, c.b, got)
		}
	}
	wide := at(120)
	wide.Aperture = 250 * um
	if l.Same(p, at(120), wide) {
		t.Error("other apertures are the same")
	}
	rng := rand.New(rand.NewPCG(2, 9))
	yes := 0
	for range 200 {
		p := face(12, 12, 300, 300)
		for i := range 3 {
			paint(p, plane.Rect{X0: 4 * i, Y0: rng.IntN(3), X1: 4*i + 2, Y1: 9 + rng.IntN(3)}, [4]uint8{0, 0, 0, 1})
		}
		a := Scan{AlongX: rng.IntN(2) == 0, To: 12, At: 12 * rng.Float64(), Aperture: 75 * um}
		b := a
		b.At = 12 * rng.Float64()
		if l.Same(p, a, b) {
			yes++
			if !slices.Equal(l.Profile(p, a).Samples, l.Profile(p, b).Samples) {
				t.Fatalf("%+v and %+v differ", a, b)
			}
		}
	}
	if yes < 10 {
		t.Errorf("only %d of 200 pairs are the same", yes)
	}
}

// A spot as wide as the face sees more different rows than a set of kinds holds.
func TestWideSpot(t *testing.T) {
	p := face(40, 200, 300, 300)
	for y := range p.H {
		for x := range 1 + y%40 {
			p.K[p.At(x, y)] = 1
		}
		p.C[p.At(0, y)] = uint8(y)
	}
	s := usual
	s.SpreadResin = 0
	l := s.Under(ink.Line(940))
	prof := l.Profile(p, Scan{AlongX: true, To: 40, At: 100, Aperture: 12 * unit.Millimetre})
	got := prof.Samples[20*PerDot(300)]
	want := newSlow(l, p, 2).see(20, 100, 12*unit.Millimetre)
	if math.Abs(float64(got)-want) > 0.03 {
		t.Errorf("%v, want %v", got, want)
	}
}

// Beyond the card's edge lies the dark of a slot.
func TestOffCard(t *testing.T) {
	p := face(40, 20, 300, 300)
	l := usual.Under(ink.Line(940))
	s := Scan{AlongX: true, From: -10, To: 50, At: 10, Aperture: 125 * um}
	prof := l.Profile(p, s)
	if len(prof.Samples) != 60*PerDot(300) {
		t.Fatalf("%d samples", len(prof.Samples))
	}
	for i, v := range prof.Samples {
		at := s.Dot(p.Grid, float64(i))
		if at < -1 && v != offCard || at > 1 && at < 39 && v < 0.85 || at > 41 && v != offCard {
			t.Fatalf("at dot %.1f: %v", at, v)
		}
	}
	s.At = -5
	for i, v := range l.Profile(p, s).Samples {
		if math.Abs(float64(v)-offCard) > 1e-6 {
			t.Fatalf("above the card, sample %d: %v", i, v)
		}
	}
}

func TestNoScan(t *testing.T) {
	p := face(10, 10, 300, 300)
	l := usual.Under(ink.Line(660))
	nan, inf := math.NaN(), math.Inf(1)
	for _, s := range []Scan{
		{From: 5, To: 5}, {From: 5, To: 4}, {From: nan, To: 3}, {To: inf}, {From: -inf, To: 3}, {To: 3, At: nan},
		{From: 1e300, To: 1e301}, {To: 1e9},
	} {
		if n := len(l.Profile(p, s).Samples); n != 0 {
			t.Errorf("%+v: %d samples", s, n)
		}
		l.Same(p, s, Scan{To: 3})
	}
	for _, s := range []Scan{{To: 3, At: inf}, {To: 3, At: -1e300}, {To: 3, Aperture: -5}, {To: 3, Aperture: math.MaxInt64}, {From: 9e5, To: 9e5 + 3}} {
		for _, v := range l.Profile(p, s).Samples {
			if !(v >= 0 && v <= 1) {
				t.Errorf("%+v: %v", s, v)
			}
		}
	}
	bare := &panel.Panels{Grid: p.Grid} // a ribbon of no panels
	for _, at := range []float64{0, 5} {
		if v := l.Profile(bare, Scan{To: 10, At: at, Aperture: 500 * um}).Samples[40]; !(v > 0.3) {
			t.Errorf("bare card: %v", v)
		}
	}
	if pic := l.Picture(bare, bare.Rect()); !(pic.R[0] > 0.85) {
		t.Errorf("bare card: %v", pic.R[0])
	}
	if n := len(l.Profile(&panel.Panels{}, Scan{To: 3}).Samples); n != 0 {
		t.Errorf("a face without dots: %d samples", n)
	}
}

// Growing by the stack is growing by its meaning: the largest, or smallest,
// amount within reach.
func TestPrintedRuns(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	for range 3000 {
		row := make([]uint8, 1+rng.IntN(12))
		for i := range row {
			row[i] = uint8(rng.IntN(1 + rng.IntN(4)))
		}
		half := 2 * (rng.Float64() - 0.5) * float64(1+rng.IntN(3)) / 2
		runs := printed(nil, row, 3, half)
		for at := 3.0; at < 3+float64(len(row)); at += 0.0837 {
			want := -1
			for x := at - math.Abs(half); x <= at+math.Abs(half)+1e-12; x += math.Abs(half)/40 + 1e-3 {
				v := int(row[min(max(int(math.Floor(x))-3, 0), len(row)-1)])
				if want < 0 || half > 0 && v > want || half < 0 && v < want {
					want = v
				}
			}
			got, near := 0, false
			for _, r := range runs {
				if r.from <= at || r.from == 3 {
					got = int(r.amount)
				}
				near = near || math.Abs(r.from-at) < 0.05
			}
			for _, b := range []float64{at - half, at + half} {
				near = near || math.Abs(b-math.Round(b)) < 0.05 // the sampling above misses slivers
			}
			if got != want && !near {
				t.Fatalf("%v grown by %v at %v: %d, want %d; %v", row, half, at, got, want, runs)
			}
		}
	}
}

func benchmark(b *testing.B, composite bool, l *Lit, s Scan) {
	p := bars(rand.New(rand.NewPCG(1, 3)), composite)
	q := l.Probe()
	b.ReportAllocs()
	for b.Loop() {
		q.Profile(p, s)
	}
}

// 60 mm at 300 dots an inch.
func BenchmarkProfileResin(b *testing.B) {
	benchmark(b, false, usual.Under(ink.Line(660)), across)
}
func BenchmarkProfileComposite(b *testing.B) {
	benchmark(b, true, usual.Under(ink.Line(660)), across)
}
func BenchmarkProfileCompositeLED(b *testing.B) {
	benchmark(b, true, usual.Under(ink.Band(660, 20)), across)
}

// The same over the lower end of the bars, where rows differ.
func BenchmarkProfileUnevenRows(b *testing.B) {
	s := across
	s.At = 249.9
	benchmark(b, true, usual.Under(ink.Line(660)), s)
}

func BenchmarkPicture(b *testing.B) {
	p := bars(rand.New(rand.NewPCG(1, 3)), true)
	l := usual.Under(ink.Line(660))
	for b.Loop() {
		l.Picture(p, p.Rect())
	}
}

func BenchmarkEye(b *testing.B) {
	p := bars(rand.New(rand.NewPCG(1, 3)), true)
	e := usual.Eye(ink.CardWhite)
	for b.Loop() {
		e.Picture(p, p.Rect())
	}
}
