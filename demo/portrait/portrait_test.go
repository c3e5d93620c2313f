package portrait

import (
	"bytes"
	"image/jpeg"
	"math"
	"testing"
)

func TestSamePersonSamePicture(t *testing.T) {
	p := Person{Seed: 7, Woman: true, Age: 31, Skin: 0.4, Hair: DarkBrown, Style: Long, Glasses: true}
	first := JPEG(p)
	if !bytes.Equal(first, JPEG(p)) {
		t.Error("two portraits of one person differ")
	}
	p.Seed++
	if bytes.Equal(first, JPEG(p)) {
		t.Error("another seed gives the same portrait")
	}
}

func TestEveryPersonHasAPortrait(t *testing.T) {
	people := map[string]Person{
		"zero":             {},
		"beyond the range": {Seed: math.MaxUint64, Age: 400, Skin: 9, Hair: 250, Style: 250, Beard: 250},
		"below the range":  {Age: -3, Skin: -1},
		"no number":        {Skin: math.NaN(), Style: Bald, Age: 70},
	}
	for name, p := range people {
		b := Draw(p).Bounds()
		if b.Dx() != Width || b.Dy() != Height {
			t.Errorf("%s: %v, want %d x %d", name, b, Width, Height)
		}
	}
}

func TestFileIsAJPEG(t *testing.T) {
	c, err := jpeg.DecodeConfig(bytes.NewReader(JPEG(Person{Style: Scarf, Woman: true})))
	if err != nil {
		t.Fatal(err)
	}
	if c.Width != Width || c.Height != Height {
		t.Errorf("%d x %d, want %d x %d", c.Width, c.Height, Width, Height)
	}
}

// Crew photographs leave more room round the head than travel documents;
// the bounds are our own choice.
func TestHeadSizeAndPlace(t *testing.T) {
	for seed := range uint64(60) {
		p := Person{Seed: seed, Woman: seed%2 == 0}
		tr := newTraits(p)
		b := newBrush(tr)
		crown, chin, left, right := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, v := range tr.head(b.p).v {
			x, y := b.s.project(v.pos)
			crown, chin = min(crown, y), max(chin, y)
			left, right = min(left, x), max(right, x)
		}
		if share := (chin - crown) / Height; share < 0.56 || share > 0.67 {
			t.Errorf("seed %d: the head takes %.3f of the height, want 0.56 to 0.67", seed, share)
		}
		if mid := (left + right) / 2 / Width; mid < 0.45 || mid > 0.55 {
			t.Errorf("seed %d: the head's middle is at %.3f of the width, want 0.45 to 0.55", seed, mid)
		}
	}
}

func TestCurvePassesThroughItsKnots(t *testing.T) {
	for name, c := range map[string]curve{"half width": halfWidth, "profile": profile, "ridge": noseRidge, "shoulder": shoulder} {
		for i, k := range c {
			if i > 0 && k.at <= c[i-1].at {
				t.Errorf("%s: knot %d is not after its neighbour", name, i)
			}
			if got := c.at(k.at); math.Abs(got-k.val) > 1e-9 {
				t.Errorf("%s at %v: %v, want %v", name, k.at, got, k.val)
			}
		}
	}
}

// Other figures of this test are values of the exponential function itself.
func TestDecayIsNearlyExponential(t *testing.T) {
	for x := -3.5; x <= 0.3; x += 0.05 {
		if got, want := decay(x), math.Exp(x); math.Abs(got/want-1) > 0.03 {
			t.Errorf("decay(%.2f) = %.5f, want about %.5f", x, got, want)
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	for i := range b.N {
		Draw(benchPerson(i))
	}
}

func BenchmarkJPEG(b *testing.B) {
	for i := range b.N {
		JPEG(benchPerson(i))
	}
}

// benchPerson goes through every style, so that the mean is a crew's.
func benchPerson(i int) Person {
	return Person{Seed: uint64(i), Woman: i%2 == 1, Age: 20 + i%45, Skin: float64(i%10) / 9,
		Style: Style(i % int(styles)), Beard: Beard(i % 4 * (1 - i%2)), Glasses: i%5 == 0}
}
