package code

import (
	"math"

	"unspool/say"
	"unspool/symbol"
	"unspool/unit"
)

// preferredRatio is the N that PickSize takes, or the next larger one in whole
// dots: 2.5 has room for growth on both sides of the threshold and is what
// specifications commonly aim at (common practice, no source).
const preferredRatio = 2.5

// QuietZones are the quiet zones, in X, in the order in which a line meets them:
// reversed, the end of the symbol comes first.
func (k Kind) QuietZones(reversed bool) (first, last int) {
	first, last = k.QuietX, k.QuietX
	if k.QuietEnd > 0 {
		last = k.QuietEnd
	}
	if reversed {
		return last, first
	}
	return first, last
}

// Quiet are the quiet zones before the first bar and after the last, in dots, at X
// dots.
func Quiet(k Kind, x int) [2]int {
	first, last := k.QuietZones(false)
	return [2]int{first * x, last * x}
}

// Sizes are all sizes in whole dots that the symbology allows at X dots, N
// rising; none where X is too coarse for any legal N. The intercharacter gap is
// one X.
func Sizes(k Kind, pitch unit.Pitch, x int) []symbol.Size {
	if x < 1 {
		return nil
	}
	if k.Family == symbol.Modular || !k.Family.Linear() {
		return []symbol.Size{{X: x}}
	}
	var sizes []symbol.Size
	for wide := x + 1; float64(wide) <= k.MaxRatio*float64(x); wide++ {
		if s := k.size(x, wide); RatioLegal(k, pitch, s) {
			sizes = append(sizes, s)
		}
	}
	return sizes
}

// RatioLegal says whether a size's wide:narrow ratio is within the symbology's
// limits. Modular symbologies have none.
func RatioLegal(k Kind, pitch unit.Pitch, s symbol.Size) bool {
	if k.Family == symbol.Modular || !k.Family.Linear() {
		return true
	}
	n := float64(s.Wide) / float64(s.X)
	return n >= k.MinRatio(pitch.Span(s.X)) && n <= k.MaxRatio
}

// PickSize is the size for X dots and a wanted N. N 0 takes the least legal
// whole-dot N of 2.5 or more. A wanted N is taken as it is where N times X is a
// whole number of dots to the two decimals a person writes, be it legal or not;
// any other is an error that names the ones to be had.
func PickSize(k Kind, l symbol.Logical, pitch unit.Pitch, x int, n float64) (symbol.Size, error) {
	if x < 1 || x > maxX {
		return symbol.Size{}, say.Errorf("X is %d dots: use 1 to %d", x, maxX)
	}
	if l.Family == symbol.Modular || !k.Family.Linear() {
		if n != 0 {
			return symbol.Size{}, say.Errorf("%s has no wide:narrow ratio to choose: leave it out", k.Title)
		}
		return symbol.Size{X: x}, nil
	}
	sizes := Sizes(k, pitch, x)
	if n == 0 {
		for _, s := range sizes {
			if float64(s.Wide) >= preferredRatio*float64(x) {
				return s, nil
			}
		}
		return symbol.Size{}, say.Errorf("%s has no legal wide:narrow ratio in whole dots at X %d dots", k.Title, x)
	}
	if !(n > 1 && n <= maxRatio) {
		return symbol.Size{}, say.Errorf("a wide:narrow ratio of %v cannot be drawn: use %s", n, ratios(sizes))
	}
	wide := math.Round(n * float64(x))
	const written = 0.005 // half the last of two decimals
	if math.Abs(n*float64(x)-wide) > written*float64(x)+1e-9 || int(wide) <= x {
		return symbol.Size{}, say.Errorf("a wide:narrow ratio of %v at X %d dots is not a whole number of dots: use %s", n, x, ratios(sizes))
	}
	return k.size(x, int(wide)), nil
}

// Bounds of what PickSize takes, far beyond any card, so that no width overflows.
const (
	maxX     = 1000
	maxRatio = 10
)

func (k Kind) size(x, wide int) symbol.Size {
	s := symbol.Size{X: x, Wide: wide}
	if k.HasGap {
		s.Gap = x
	}
	return s
}

// ratios writes the N of sizes: "2.33, 2.67 or 3".
func ratios(sizes []symbol.Size) (all say.Text) {
	for i, s := range sizes {
		n := math.Round(100*float64(s.Wide)/float64(s.X)) / 100
		switch {
		case i == 0:
			all = say.F("%v", n)
		case i == len(sizes)-1:
			all = say.F("%s or %v", all, n)
		default:
			all = say.F("%s, %v", all, n)
		}
	}
	return all
}
