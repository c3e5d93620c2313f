package picture

import (
	"encoding/binary"
	"os"
	"testing"
)

// displayP3 is a profile of the primaries of Display P3 (SMPTE EG 432-1 adapted
// to D50, as in ICC's own Display P3 profile) with sRGB's curve as a parametric
// one.
func displayP3() []byte {
	const s = 65536
	number := func(v float64) []byte { return binary.BigEndian.AppendUint32(nil, uint32(int32(v*s))) }
	xyz := func(x, y, z float64) []byte {
		return append(append(append([]byte("XYZ \x00\x00\x00\x00"), number(x)...), number(y)...), number(z)...)
	}
	curve := []byte("para\x00\x00\x00\x00\x00\x03\x00\x00")
	for _, v := range []float64{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045} {
		curve = append(curve, number(v)...)
	}
	return profileOf("RGB ", []string{"rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC"}, [][]byte{
		xyz(0.515102, 0.241182, -0.001050), xyz(0.291965, 0.692236, 0.041882), xyz(0.157153, 0.066582, 0.784378),
		curve, curve, curve,
	})
}

func profileOf(space string, names []string, tags [][]byte) []byte {
	p := make([]byte, 132)
	copy(p[8:], "\x04\x30\x00\x00mntr"+space+"XYZ ")
	copy(p[36:], "acsp")
	copy(p[68:], "\x00\x00\xf6\xd6\x00\x01\x00\x00\x00\x00\xd3\x2d") // D50
	binary.BigEndian.PutUint32(p[128:], uint32(len(tags)))
	at := len(p) + 12*len(tags)
	for i, name := range names {
		p = append(p, name...)
		p = binary.BigEndian.AppendUint32(p, uint32(at))
		p = binary.BigEndian.AppendUint32(p, uint32(len(tags[i])))
		at += len(tags[i])
	}
	for _, t := range tags {
		p = append(p, t...)
	}
	binary.BigEndian.PutUint32(p, uint32(len(p)))
	return p
}

// Little CMS, through the Python Imaging Library, converts the same pixels by the
// same profiles (Debian: colord-data), relative colorimetric.
func TestProfileAgainstLittleCMS(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "p3.icc", displayP3())
	write(t, dir, "in.png", asPNG(t, scene(60, 44)))
	const script = `
import sys
from PIL import Image, ImageCms
m = Image.open("in.png").convert("RGB")
icc = sys.argv[1]
m.save("tagged.png", icc_profile=open(icc, "rb").read())
m.save("tagged.jpg", icc_profile=open(icc, "rb").read(), quality=100, subsampling=0)
out = ImageCms.profileToProfile(m, icc, ImageCms.createProfile("sRGB"), renderingIntent=1)
sys.stdout.buffer.write(out.tobytes())`
	const colord = "/usr/share/color/icc/colord/"
	for _, icc := range []string{"p3.icc", colord + "AdobeRGB1998.icc", colord + "ProPhotoRGB.icc", colord + "PAL-RGB.icc", colord + "SwappedRedAndGreen.icc"} {
		want := python(t, dir, script, icc)
		// Little CMS works in 16-bit fixed numbers: a level apart is rounding, and
		// the steepest part of the curve can make two of it.
		mean, largest := differ(t, drawn(t, run(t, dir, "cat", "tagged.png"), 0, 0, Crop{}), want)
		if mean > 0.3 || largest > 2 {
			t.Errorf("%s, PNG: differs by %.3f, at most %d", icc, mean, largest)
		}
		if mean := mean1(t, drawn(t, run(t, dir, "cat", "tagged.jpg"), 0, 0, Crop{}), want); mean > 1 {
			t.Errorf("%s, JPEG: differs by %.3f", icc, mean)
		}
	}
}

func TestProfileKinds(t *testing.T) {
	srgb, err := os.ReadFile("/usr/share/color/icc/colord/sRGB.icc")
	if err != nil {
		t.Fatal(err)
	}
	gamma := func(g float64) []byte {
		return binary.BigEndian.AppendUint16([]byte("curv\x00\x00\x00\x00\x00\x00\x00\x01"), uint16(g*256))
	}
	gray := profileOf("GRAY", []string{"kTRC"}, [][]byte{gamma(1.8)})
	for _, c := range []struct {
		name       string
		data       []byte
		gray, cmyk bool
		converts   bool
		assumed    bool
	}{
		{name: "none"},
		{name: "sRGB", data: srgb},
		{name: "Display P3", data: displayP3(), converts: true},
		{name: "gray", data: gray, gray: true, converts: true},
		{name: "gray for colours", data: gray, assumed: true},
		{name: "tables", data: profileOf("RGB ", []string{"A2B0"}, [][]byte{make([]byte, 40)}), assumed: true},
		{name: "other space", data: profileOf("CMYK", nil, nil), assumed: true},
		{name: "cmyk", data: srgb, cmyk: true, assumed: true},
		{name: "damaged", data: srgb[:100], assumed: true},
		{name: "cut short", data: srgb[:400], assumed: true},
	} {
		p, assumed := readProfile(c.data, c.gray, c.cmyk)
		if (p != nil) != c.converts || !assumed.IsZero() != c.assumed {
			t.Errorf("%s: converts %v, assumed %q", c.name, p != nil, assumed)
		}
	}
	// Gray of gamma 1.8: half the value is 0.2872 of the light, which sRGB writes
	// as 0.5727 (IEC 61966-2-1), that is 146.
	p, _ := readProfile(gray, true, false)
	rgb := []uint8{128, 128, 128}
	p.apply(rgb)
	if rgb[0] < 145 || rgb[0] > 147 {
		t.Errorf("gray 128 became %d", rgb[0])
	}
}
