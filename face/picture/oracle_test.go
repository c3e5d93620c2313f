package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// run starts an outside tool in dir and gives what it writes.
func run(t testing.TB, dir, name string, args ...string) []byte {
	t.Helper()
	c := exec.Command(name, args...)
	c.Dir = dir
	var stderr bytes.Buffer
	c.Stderr = &stderr
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, stderr.Bytes())
	}
	return out
}

// python runs a script of the Python Imaging Library (Debian: python3-pil).
func python(t testing.TB, dir, script string, args ...string) []byte {
	t.Helper()
	return run(t, dir, "/usr/bin/python3", append([]string{"-c", script}, args...)...)
}

func write(t testing.TB, dir, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// scene is a picture with smooth tones, edges and noise, as photographs have.
func scene(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	rnd := rand.New(rand.NewPCG(1, 2))
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(h)
			base := 128 + 90*math.Sin(5*u+3*v)
			if math.Hypot(u-0.5, v-0.4) < 0.25 {
				base = 60 + 140*v
			}
			noise := 12 * (rnd.Float64() - 0.5)
			level := func(v float64) uint8 { return uint8(min(max(v+noise, 0), 255)) }
			m.SetRGBA(x, y, color.RGBA{level(base), level(base*0.8 + 40*u), level(base*0.6 + 60*v), 255})
		}
	}
	return m
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asJPEG(t testing.TB, m image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// drawn decodes data and draws the crop; a zero crop is the whole picture, zero
// dots its pixels.
func drawn(t testing.TB, data []byte, w, h int, c Crop) []uint8 {
	t.Helper()
	m, err := Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	if w == 0 {
		w, h = m.W, m.H
	}
	if c == (Crop{}) {
		c = Crop{0, 0, float64(m.W), float64(m.H)}
	}
	rgb := make([]uint8, 3*w*h)
	var s Scaler
	s.Draw(rgb, make([]uint8, w*h), w, h, m, c)
	return rgb
}

// differ gives the mean and the largest difference of two pictures.
func differ(t testing.TB, a, b []uint8) (mean float64, largest int) {
	t.Helper()
	if len(a) != len(b) || len(a) == 0 {
		t.Fatalf("pictures of %d and %d bytes", len(a), len(b))
	}
	for i := range a {
		d := int(a[i]) - int(b[i])
		d = max(d, -d)
		mean += float64(d)
		largest = max(largest, d)
	}
	return mean / float64(len(a)), largest
}
