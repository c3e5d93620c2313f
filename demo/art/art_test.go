package art

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/srwiley/oksvg"
	"github.com/srwiley/rasterx"
)

func decode(t *testing.T, draw func() ([]byte, error)) image.Image {
	t.Helper()
	file, err := draw()
	if err != nil {
		t.Fatal(err)
	}
	again, _ := draw()
	if !bytes.Equal(file, again) {
		t.Error("two files of the same artwork differ")
	}
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// least is the darkest channel value of a part of a picture, given in
// millimetres.
func least(img image.Image, x0, y0, x1, y1 float64) uint8 {
	low := uint8(255)
	for y := int(y0 * perMM); float64(y) < y1*perMM && y < high; y++ {
		for x := int(x0 * perMM); float64(x) < x1*perMM && x < wide; x++ {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			low = min(low, c.R, c.G, c.B)
		}
	}
	return low
}

func TestBackgroundsKeepTheCodesClear(t *testing.T) {
	for _, c := range []struct {
		name           string
		draw           func() ([]byte, error)
		x0, y0, x1, y1 float64 // where codes stand
		floor          uint8   // palest the rest may fall to, so that black text stays plain
	}{
		{"front", Front, 0, 34, 85.6, 53.98, 150},
		{"back", Back, 0, 0, 85.6, 46, 190},
	} {
		img := decode(t, c.draw)
		if img.Bounds().Dx() != wide || img.Bounds().Dy() != high {
			t.Errorf("%s: %v, want %d x %d", c.name, img.Bounds(), wide, high)
		}
		if got := least(img, c.x0, c.y0, c.x1, c.y1); got != 255 {
			t.Errorf("%s: the ground of the code falls to %d, want white", c.name, got)
		}
		if got := least(img, 0, 0, 85.6, 53.98); got < c.floor || got > 235 {
			t.Errorf("%s: darkest value %d, want %d to 235", c.name, got, c.floor)
		}
	}
}

// ISO/IEC 7810: an ID-1 card is 85.60 mm by 53.98 mm.
func TestSizeIsACard(t *testing.T) {
	if w, h := wide/perMM, high/perMM; math.Abs(w-85.60) > 0.05 || math.Abs(h-53.98) > 0.05 {
		t.Errorf("%.2f x %.2f mm", w, h)
	}
}

// The mark must draw fully with a reader of the smaller SVG.
func TestMarkDraws(t *testing.T) {
	file, err := Mark()
	if err != nil {
		t.Fatal(err)
	}
	icon, err := oksvg.ReadIconStream(bytes.NewReader(file), oksvg.StrictErrorMode)
	if err != nil {
		t.Fatal(err)
	}
	const side = 90
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	icon.SetTarget(0, 0, side, side)
	icon.Draw(rasterx.NewDasher(side, side, rasterx.NewScannerGV(side, side, img, img.Bounds())), 1)
	for _, c := range []struct {
		part string
		x, y int
		want color.RGBA
	}{
		{"sun", 45, 33, color.RGBA{0xee, 0x95, 0x42, 255}},
		{"upper wave", 33, 54, color.RGBA{0x12, 0x3a, 0x56, 255}},
		{"lower wave", 36, 71, color.RGBA{0x2f, 0x7c, 0x94, 255}},
		{"ground", 3, 3, color.RGBA{}},
	} {
		got := img.RGBAAt(c.x, c.y)
		for _, d := range []int{int(got.R) - int(c.want.R), int(got.G) - int(c.want.G), int(got.B) - int(c.want.B), int(got.A) - int(c.want.A)} {
			if d < -6 || d > 6 {
				t.Errorf("%s: %v, want about %v", c.part, got, c.want)
				break
			}
		}
	}
}
