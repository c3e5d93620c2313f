package report

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image/color"
	"image/png"
	"slices"
	"testing"

	"unspool/plane"
	"unspool/proof"
	"unspool/ribbon"
	"unspool/site"
)

// physical reads the pHYs chunk of a PNG file (ISO/IEC 15948 11.3.5.3).
func physical(t *testing.T, file []byte) (x, y uint32) {
	t.Helper()
	for at := 8; at+12 <= len(file); {
		n := int(binary.BigEndian.Uint32(file[at:]))
		name, data, sum := string(file[at+4:at+8]), file[at+8:at+8+n], binary.BigEndian.Uint32(file[at+8+n:])
		if sum != crc32.ChecksumIEEE(file[at+4:at+8+n]) {
			t.Errorf("chunk %s: wrong checksum", name)
		}
		if name == "pHYs" {
			if data[8] != 1 {
				t.Error("pHYs: the unit is not the metre")
			}
			return binary.BigEndian.Uint32(data), binary.BigEndian.Uint32(data[4:])
		}
		at += 12 + n
	}
	t.Error("no pHYs")
	return 0, 0
}

// Every picture has a pixel a dot and states its size; 300 dpi are 11811 pixels
// a metre.
func TestPictures(t *testing.T) {
	v := view(t, fine, site.Front, true)
	var names []string
	for _, p := range Pictures(v) {
		names = append(names, p.Name)
		m, err := png.Decode(bytes.NewReader(p.PNG))
		if err != nil {
			t.Fatalf("%s: %v", p.Name, err)
		}
		if b := m.Bounds(); b.Dx() != 1012 || b.Dy() != 638 {
			t.Errorf("%s is %v", p.Name, b)
		}
		if x, y := physical(t, p.PNG); x != 11811 || y != 11811 {
			t.Errorf("%s states %d by %d pixels a metre", p.Name, x, y)
		}
	}
	want := []string{"eye", "red-660", "infrared-940", "panel-1-y", "panel-2-m", "panel-3-c", "panel-4-k", "panel-5-o",
		"ribbon-1-y", "ribbon-2-m", "ribbon-3-c", "ribbon-4-k", "ribbon-5-o"}
	if !slices.Equal(names, want) {
		t.Errorf("pictures %q", names)
	}
}

// The picture by eye keeps every colour, with a palette or without.
func TestEyePNGKeepsColours(t *testing.T) {
	for _, side := range []site.Side{site.Front, site.Back} {
		v := view(t, coarse, side, true)
		m, err := png.Decode(bytes.NewReader(eyePNG(v)))
		if err != nil {
			t.Fatal(err)
		}
		if p, few := m.ColorModel().(color.Palette); few != (side == site.Back) || few && len(p) != 2 {
			t.Errorf("%s: colour model %v", side, m.ColorModel())
		}
		for y := range coarse.H {
			for x := range coarse.W {
				if got := color.RGBAModel.Convert(m.At(x, y)); got != v.Eye.At(x, y) {
					t.Fatalf("%s: dot %d,%d is %v, want %v", side, x, y, got, v.Eye.At(x, y))
				}
			}
		}
	}
}

// Reflectances become greys on the sRGB curve (IEC 61966-2-1: 0.5 is coded
// 0.7354, 0.18 is coded 0.4613); what is out of range is cut.
func TestLightPNG(t *testing.T) {
	p := plane.Picture{Grid: plane.Grid{W: 6, H: 1, DX: 300, DY: 600}, R: []float32{0, 0.18, 0.5, 1, -1, 2}}
	file := lightPNG(p)
	m, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	for x, want := range []uint8{0, 118, 188, 255, 0, 255} {
		if got := m.At(x, 0).(color.Gray).Y; got != want {
			t.Errorf("reflectance %g is %d, want %d", p.R[x], got, want)
		}
	}
	if x, y := physical(t, file); x != 11811 || y != 23622 {
		t.Errorf("states %d by %d pixels a metre", x, y)
	}
}

// What a panel lays on the card is what is missing from the web.
func TestPanelAndFrameAreOpposites(t *testing.T) {
	k := site.Panel{Letter: 'K', Kind: site.BlackResin}
	g := plane.Grid{W: 2, H: 1, DX: 300, DY: 300}
	card := laid(g, proof.PanelView{Panel: k, Amount: []uint8{255, 0}}).Image()
	web := ribbon.Frame{Panel: k, Grid: g, Gone: []uint8{255, 0}}.Image()
	if card.At(0, 0) != web.At(1, 0) || card.At(1, 0) != web.At(0, 0) || card.At(0, 0) == card.At(1, 0) {
		t.Errorf("card %v, web %v", card.Pix, web.Pix)
	}
}

// A fine raster is averaged for the page and keeps its size in millimetres'
// proportion; a coarse one stays as it is.
func TestShrink(t *testing.T) {
	g := plane.Grid{W: 2022, H: 4, DX: 600, DY: 300}
	v := make([]uint8, g.Dots())
	for i := range v {
		v[i] = uint8(100 * (i % 2))
	}
	small, to := shrink(v, g, 1)
	if to.W != 1011 || to.H != 4 || len(small) != to.Dots() || slices.Max(small) != 50 || slices.Min(small) != 50 {
		t.Errorf("%+v, %d values %d to %d", to, len(small), slices.Min(small), slices.Max(small))
	}
	if same, to := shrink(v[:fine.W], plane.Grid{W: fine.W, H: 1, DX: 300, DY: 300}, 1); to.W != fine.W || &same[0] != &v[0] {
		t.Error("a raster that fits was changed")
	}
}
