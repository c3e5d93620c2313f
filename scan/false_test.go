package scan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"unspool/code"
	"unspool/demo/crew"
	"unspool/demo/portrait"
	"unspool/plane"
	"unspool/symbol"
	"unspool/symbol/qr"
)

// Pictures without a symbol give no reading, whatever they have of one.
func TestNothingIsReadWhereNothingIs(t *testing.T) {
	t.Parallel()
	for name, r := range empties(t) {
		kinds, texts := Find(r, code.All()).texts()
		for i := range texts {
			t.Errorf("%s: %s %q", name, kinds[i], texts[i])
		}
	}
}

func empties(t *testing.T) map[string]plane.Raster {
	t.Helper()
	all := map[string]plane.Raster{}
	for name, light := range painted() {
		for _, turn := range []float64{0, 33} {
			all[fmt.Sprintf("%s at %g", name, turn)] = turned(360, 280, turn, light)
		}
	}
	for seed := range uint64(3) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		noise, blocks := plane.Raster{W: 400, H: 300}, symbol.NewGrid(90, 70)
		for range noise.W * noise.H {
			noise.V = append(noise.V, float32(rnd.Float64()))
		}
		for i := range blocks.Dark {
			blocks.Dark[i] = rnd.IntN(2) == 0
		}
		all[fmt.Sprint("noise ", seed)] = noise
		all[fmt.Sprint("modules without order ", seed)] = shown(blocks, 4, 0, 400, 300)
		all[fmt.Sprint("bars of any width ", seed)] = anyBars(rnd)
	}
	for name, r := range halves(t) {
		all[name] = r
	}
	for name, r := range pictures(t) {
		all[name] = r
	}
	return all
}

// painted are patterns as light at a place.
func painted() map[string]func(x, y float64) float64 {
	wave := func(v float64) float64 { return 0.5 + 0.5*math.Sin(v) }
	all := map[string]func(x, y float64) float64{
		"white": func(x, y float64) float64 { return 1 },
		"rings": func(x, y float64) float64 { return math.Round(wave(math.Hypot(x, y))) },
		"guilloche": func(x, y float64) float64 {
			least := 1.0
			for k := range 6 {
				d := math.Abs(y - 60*math.Sin(x/40+float64(k)) - 20*math.Sin(x/11-float64(k)))
				least = min(least, d/2)
			}
			return least
		},
		"rosette": func(x, y float64) float64 {
			a := math.Atan2(y, x)
			return math.Round(wave(math.Hypot(x, y)/3 + 8*math.Sin(6*a)))
		},
		"slope": func(x, y float64) float64 { return 0.5 + x/960 },
		"halftone": func(x, y float64) float64 {
			return math.Round(wave(x/1.5)*wave(y/1.5) + 0.3*wave(x/60))
		},
	}
	for _, p := range []float64{2, 3, 4, 6, 9, 20} {
		all[fmt.Sprint("stripes of ", p)] = func(x, y float64) float64 { return float64(int(math.Floor(x/p)) & 1) }
		all[fmt.Sprint("squares of ", p)] = func(x, y float64) float64 {
			return float64((int(math.Floor(x/p)) + int(math.Floor(y/p))) & 1)
		}
		all[fmt.Sprint("wide and narrow stripes of ", p)] = func(x, y float64) float64 {
			if math.Mod(math.Abs(x), 5*p) < 3*p {
				return 0
			}
			return 1
		}
		all[fmt.Sprint("fence of ", p)] = func(x, y float64) float64 { // quiet at both ends
			if math.Abs(x) > 15*p {
				return 1
			}
			return float64(int(math.Floor(x/p)) & 1)
		}
	}
	return all
}

// anyBars are bars of one to four widths without order, on white.
func anyBars(rnd *rand.Rand) plane.Raster {
	var edges []float64
	for x := -150.0; x < 150; x += float64(3 + 3*rnd.IntN(4)) {
		edges = append(edges, x)
	}
	return turned(480, 200, 0, func(x, y float64) float64 {
		n := 0
		for _, e := range edges {
			if e <= x {
				n++
			}
		}
		if n == 0 || n == len(edges) || math.Abs(y) > 60 {
			return 1
		}
		return float64(n&1 ^ 1)
	})
}

// halves are symbols with a part cut off.
func halves(t *testing.T) map[string]plane.Raster {
	t.Helper()
	all := map[string]plane.Raster{}
	for _, k := range code.All() {
		file, _, err := large1(k, contents[k.Name][0])
		if err != nil {
			t.Fatal(err)
		}
		var w, h int
		fmt.Sscanf(string(file), "P5\n%d %d", &w, &h)
		px := file[len(file)-w*h:]
		r := plane.Raster{W: w / 2, H: h / 2}
		for y := range r.H {
			for x := range r.W {
				v := float32(0.05)
				if px[2*y*w+2*x] > 0 || x > r.W*11/20 {
					v = 0.85
				}
				r.V = append(r.V, v)
			}
		}
		all["half of "+k.Title] = r
	}
	m, err := qr.Encode(contents["qr"][0], qr.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range m.Dark { // the eyes and nothing else
		if x, y := i%m.W, i/m.W; min(x, m.W-1-x) > 7 || min(y, m.H-1-y) > 7 {
			m.Dark[i] = (x*x+3*y)%5 < 2
		}
	}
	all["eyes of a QR symbol"] = shown(m.Grid, 4, 7, 300, 300)
	return all
}

// pictures are portraits of the demo and a page of text.
func pictures(t *testing.T) map[string]plane.Raster {
	t.Helper()
	all := map[string]plane.Raster{}
	dir := t.TempDir()
	for i, m := range crew.Crew(3) {
		p := portrait.Draw(m.Portrait)
		size := p.Rect.Size()
		rgb := make([]uint8, 0, 3*size.X*size.Y)
		for k := 0; k < len(p.Pix); k += 4 {
			rgb = append(rgb, p.Pix[k], p.Pix[k+1], p.Pix[k+2])
		}
		s, err := NewShot(rgb, size.X, size.Y, About{})
		if err != nil {
			t.Fatal(err)
		}
		all[fmt.Sprint("portrait ", i)] = s.Raster
	}
	for i, args := range [][]string{
		{"-size", "500x400", "-pointsize", "13", "caption:" + lorem},
		{"-size", "500x400", "-pointsize", "21", "caption:" + lorem, "-rotate", "8"},
		{"-size", "500x300", "-seed", "3", "plasma:fractal"},
		{"-size", "500x300", "pattern:hexagons"}, {"-size", "500x300", "pattern:bricks"}, {"-size", "500x300", "pattern:verticalsaw"},
	} {
		file := filepath.Join(dir, fmt.Sprint(i, ".pgm"))
		if out, err := exec.Command("convert", append(args, "-depth", "8", file)...).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		all[fmt.Sprint("picture ", i)] = seen(t, file).Raster
		if err := os.Remove(file); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

const lorem = "The ferry leaves Sundhaven at 06:40 and calls at the outer islands. Illl III iiii ||||| 1111 |!|!|!| Passes are shown at the gangway; number 000042 is valid to 2031-05-01. ||| || | || ||| HHHHH mmmmm nnnnn iliiliil. The ferry leaves Sundhaven at 06:40 and calls at the outer islands, weather permitting, and is back by nightfall."
