package crew

import (
	"bytes"
	"image/jpeg"
	"sync"
	"testing"

	"unspool/demo/portrait"
)

// photo is what the crew's portraits are held to, measured on the file.
type photo struct {
	levels int     // different grey levels
	flat   float64 // share of the largest patch of one exact colour
	black  float64 // share of dots at exactly (0, 0, 0)
	dark   float64 // share of other dots with all channels under 40
	brow   float64 // grey level of the forehead
}

const dots = portrait.Width * portrait.Height

func measure(file []byte) (photo, error) {
	img, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		return photo{}, err
	}
	var m photo
	var seen [256]bool
	pix := make([][3]uint8, dots)
	for i := range pix {
		r, g, b, _ := img.At(i%portrait.Width, i/portrait.Width).RGBA()
		c := [3]uint8{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8)}
		pix[i] = c
		seen[grey(c)] = true
		switch top := max(c[0], c[1], c[2]); {
		case top == 0:
			m.black += 1.0 / dots
		case top < 40:
			m.dark += 1.0 / dots
		}
	}
	for _, s := range seen {
		if s {
			m.levels++
		}
	}
	m.flat = float64(largestPatch(pix)) / dots
	m.brow = forehead(pix)
	return m, nil
}

// grey is the luma of ITU-R BT.601, as JPEG files have it.
func grey(c [3]uint8) int { return (299*int(c[0]) + 587*int(c[1]) + 114*int(c[2]) + 500) / 1000 }

func forehead(pix [][3]uint8) float64 {
	sum, n := 0, 0
	for y := 215; y < 230; y++ {
		for x := 220; x < 260; x++ {
			sum += grey(pix[y*portrait.Width+x])
			n++
		}
	}
	return float64(sum) / float64(n)
}

// largestPatch counts the dots of the largest area of one colour, joined by
// their sides.
func largestPatch(pix [][3]uint8) int {
	seen := make([]bool, len(pix))
	var todo []int
	best := 0
	for start := range pix {
		if seen[start] {
			continue
		}
		n := 0
		seen[start] = true
		for todo = append(todo[:0], start); len(todo) > 0; n++ {
			i := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			x := i % portrait.Width
			for _, j := range [4]int{i - 1, i + 1, i - portrait.Width, i + portrait.Width} {
				beside := j%portrait.Width - x
				if j < 0 || j >= len(pix) || beside > 1 || beside < -1 || seen[j] || pix[j] != pix[i] {
					continue
				}
				seen[j] = true
				todo = append(todo, j)
			}
		}
		best = max(best, n)
	}
	return best
}

// The limits are the demo's own: what makes a portrait as hard for a black
// rule as a photograph is.
func TestPortraitsAreContinuousTone(t *testing.T) {
	crew := Crew(60)
	photos := make([]photo, len(crew))
	var wg sync.WaitGroup
	for half := range 2 {
		wg.Go(func() {
			for i := half; i < len(crew); i += 2 {
				var err error
				if photos[i], err = measure(portrait.JPEG(crew[i].Portrait)); err != nil {
					t.Errorf("member %d: %v", i, err)
				}
			}
		})
	}
	wg.Wait()
	clipped, palest, darkest := 0, 0.0, 255.0
	for i, m := range photos {
		if m.levels < 200 {
			t.Errorf("member %d: %d grey levels, want at least 200", i, m.levels)
		}
		if m.flat > 0.02 {
			t.Errorf("member %d: a flat patch takes %.1f %%, want at most 2", i, m.flat*100)
		}
		if m.black >= 0.005 && m.dark > 0 {
			clipped++
		}
		palest, darkest = max(palest, m.brow), min(darkest, m.brow)
		if p := crew[i].Portrait; p.Hair == portrait.Black && full(p.Style) && (m.black < 0.005 || m.dark < m.black/2) {
			t.Errorf("member %d: black hair has %.2f %% dots at (0,0,0) and %.2f %% more under 40", i, m.black*100, m.dark*100)
		}
	}
	if clipped < 20 || clipped > 32 {
		t.Errorf("%d of 60 portraits have clipped black hair, want about 40 %%", clipped)
	}
	if palest < 180 || darkest > 95 {
		t.Errorf("foreheads run from %.0f to %.0f, want from under 95 to over 180", darkest, palest)
	}
}

// full says whether a style shows a whole head of hair.
func full(s portrait.Style) bool {
	switch s {
	case portrait.Crop, portrait.Bald, portrait.Receding, portrait.Scarf:
		return false
	}
	return true
}
