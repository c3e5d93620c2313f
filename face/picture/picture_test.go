package picture

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/color/palette"
	"strings"
	"testing"
)

// exif is EXIF data that holds an orientation and nothing else.
func exif(orientation int) []byte {
	b := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00")
	b[19] = byte(orientation)
	return b
}

func jpegWith(file []byte, marker byte, body []byte) []byte {
	segment := binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(2+len(body)))
	return append(append(append([]byte{}, file[:2]...), append(segment, body...)...), file[2:]...)
}

func chunk(name string, body []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	b = append(append(b, name...), body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// pngWith puts a chunk after the header chunk of a PNG file.
func pngWith(file []byte, name string, body []byte) []byte {
	return append(append(append([]byte{}, file[:33]...), chunk(name, body)...), file[33:]...)
}

// ImageMagick's -auto-orient turns the same files (Debian: imagemagick).
func TestTurnAgainstImageMagick(t *testing.T) {
	dir := t.TempDir()
	m := scene(40, 24)
	write(t, dir, "plain.png", asPNG(t, m))
	run(t, dir, "convert", "plain.png", "-sampling-factor", "1x1", "-quality", "98", "plain.jpg")
	plain := run(t, dir, "cat", "plain.jpg")
	names := [...]string{1: "TopLeft", "TopRight", "BottomRight", "BottomLeft", "LeftTop", "RightTop", "RightBottom", "LeftBottom"}
	for o := 1; o <= 8; o++ {
		file := jpegWith(plain, 0xe1, append([]byte("Exif\x00\x00"), exif(o)...))
		write(t, dir, "in.jpg", file)
		want := run(t, dir, "convert", "in.jpg", "-auto-orient", "-depth", "8", "rgb:-")
		got := drawn(t, file, 0, 0, Crop{})
		if mean, _ := differ(t, got, want); mean > 0.6 {
			t.Errorf("JPEG, orientation %d: differs by %.2f in the mean", o, mean)
		}
		run(t, dir, "convert", "plain.png", "-orient", names[o], "in.tif")
		want = run(t, dir, "convert", "in.tif", "-auto-orient", "-depth", "8", "rgb:-")
		if mean, _ := differ(t, drawn(t, run(t, dir, "cat", "in.tif"), 0, 0, Crop{}), want); mean != 0 {
			t.Errorf("TIFF, orientation %d: differs by %.2f in the mean", o, mean)
		}
		// The same turn of a PNG, which ImageMagick 6 does not turn.
		if got := drawn(t, pngWith(asPNG(t, m), "eXIf", exif(o)), 0, 0, Crop{}); mean1(t, got, want) != 0 {
			t.Errorf("PNG, orientation %d: differs", o)
		}
	}
}

func mean1(t *testing.T, a, b []uint8) float64 {
	mean, _ := differ(t, a, b)
	return mean
}

// A crop of a turned picture shows the same part as the crop of the picture
// turned before.
func TestCropOfTurned(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "plain.png", asPNG(t, scene(60, 44)))
	for o := 1; o <= 8; o++ {
		file := pngWith(asPNG(t, scene(60, 44)), "eXIf", exif(o))
		write(t, dir, "in.png", file)
		upright := drawn(t, file, 0, 0, Crop{})
		m, _ := Decode(file)
		flat := image.NewRGBA(image.Rect(0, 0, m.W, m.H))
		for i := range m.W * m.H {
			flat.SetRGBA(i%m.W, i/m.W, color.RGBA{upright[3*i], upright[3*i+1], upright[3*i+2], 255})
		}
		c := Crop{3.25, 5.5, 33, 40.75}
		mean, largest := differ(t, drawn(t, file, 17, 21, c), drawn(t, asPNG(t, flat), 17, 21, c))
		if largest > 1 {
			t.Errorf("orientation %d: the crop differs by %.2f, at most %d", o, mean, largest)
		}
	}
}

// The Python Imaging Library's BICUBIC is the same cubic, stretched alike; it
// rounds to 8 bits between its two passes.
func TestScaleAgainstPIL(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "in.png", asPNG(t, scene(231, 187)))
	const script = `
import sys
from PIL import Image
m = Image.open("in.png").convert("RGB")
w, h, x0, y0, x1, y1 = map(float, sys.argv[1:])
sys.stdout.buffer.write(m.resize((int(w), int(h)), Image.BICUBIC, box=(x0, y0, x1, y1)).tobytes())`
	for _, c := range []struct {
		w, h int
		crop Crop
	}{
		{60, 50, Crop{0, 0, 231, 187}},
		{125, 101, Crop{0, 0, 231, 187}},
		{231, 187, Crop{0, 0, 231, 187}},
		{300, 400, Crop{0, 0, 231, 187}},
		{97, 83, Crop{20.5, 11.25, 200.75, 160}},
		{1, 1, Crop{0, 0, 231, 187}},
		{90, 3, Crop{100, 50, 103, 160}},
	} {
		want := python(t, dir, script, strings.Fields(fmt.Sprint(c.w, c.h, c.crop.X0, c.crop.Y0, c.crop.X1, c.crop.Y1))...)
		mean, largest := differ(t, drawn(t, asPNG(t, scene(231, 187)), c.w, c.h, c.crop), want)
		if mean > 0.3 || largest > 2 {
			t.Errorf("%d x %d of %v: differs by %.3f, at most %d", c.w, c.h, c.crop, mean, largest)
		}
	}
}

// Files written by the Python Imaging Library and read back by it, at their own
// size and made smaller.
func TestFormatsAgainstPIL(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "in.png", asPNG(t, scene(120, 90)))
	python(t, dir, `
from PIL import Image
m = Image.open("in.png").convert("RGB")
m.save("420.jpg", quality=92)
m.save("422.jpg", quality=92, subsampling=1)
m.save("444.jpg", quality=92, subsampling=0, progressive=True)
m.convert("L").save("gray.jpg", quality=92)
m.convert("CMYK").save("cmyk.jpg", quality=95)
m.save("lossy.webp", quality=90)
m.save("lossless.webp", lossless=True)
m.save("lzw.tif", compression="tiff_lzw")
m.convert("P").save("palette.png")
m.convert("L").save("gray.png")`)
	const script = `
import sys
from PIL import Image
m = Image.open(sys.argv[1]).convert("RGB")
if sys.argv[2] == "half": m = m.resize((60, 45), Image.BICUBIC)
sys.stdout.buffer.write(m.tobytes())`
	for _, c := range []struct {
		file       string
		full, half float64 // mean difference allowed
	}{
		{"420.jpg", 1.2, 0.9}, {"422.jpg", 1.2, 0.9}, {"444.jpg", 0.5, 0.5}, {"gray.jpg", 0.5, 0.5},
		{"cmyk.jpg", 1, 1}, // decoders round differently
		{"lossy.webp", 1.5, 0.9}, {"lossless.webp", 0, 0.3}, {"lzw.tif", 0, 0.3}, {"palette.png", 0, 0.3}, {"gray.png", 0, 0.3},
	} {
		file := run(t, dir, "cat", c.file)
		full := mean1(t, drawn(t, file, 0, 0, Crop{}), python(t, dir, script, c.file, "full"))
		half := mean1(t, drawn(t, file, 60, 45, Crop{}), python(t, dir, script, c.file, "half"))
		if full > c.full || half > c.half {
			t.Errorf("%s: differs by %.3f at full size, %.3f at half", c.file, full, half)
		}
	}
}

func TestAlpha(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	for y := range 40 {
		for x := range 40 {
			m.SetNRGBA(x, y, color.NRGBA{255, 0, 0, uint8(x / 20 * 255)})
		}
	}
	p, err := Decode(asPNG(t, m))
	if err != nil || p.Opaque() {
		t.Fatal(err, p.Opaque())
	}
	rgb, alpha := make([]uint8, 3*20*20), make([]uint8, 20*20)
	new(Scaler).Draw(rgb, alpha, 20, 20, p, Crop{0, 0, 40, 40})
	if alpha[0] != 0 || rgb[0] != 0 || alpha[19] != 255 || rgb[3*19] != 255 {
		t.Errorf("left %d %d, right %d %d", alpha[0], rgb[0], alpha[19], rgb[3*19])
	}
	for i, a := range alpha {
		if rgb[3*i] > a {
			t.Fatalf("dot %d: red %d beyond alpha %d", i, rgb[3*i], a)
		}
	}
}

func TestFlatStaysFlat(t *testing.T) {
	for _, level := range []uint8{0, 1, 127, 254, 255} {
		m := image.NewPaletted(image.Rect(0, 0, 61, 47), palette.Plan9[:1])
		m.Palette[0] = color.RGBA{level, level, level, 255}
		for _, v := range drawn(t, asPNG(t, m), 25, 90, Crop{1.5, 2, 60, 40}) {
			if v != level {
				t.Fatalf("level %d became %d", level, v)
			}
		}
	}
}

func TestRefused(t *testing.T) {
	jpg, png := asJPEG(t, scene(64, 64), 90), asPNG(t, scene(8, 8))
	bomb := append([]byte{}, png...)
	binary.BigEndian.PutUint32(bomb[16:], 50_000)
	binary.BigEndian.PutUint32(bomb[20:], 50_000)
	binary.BigEndian.PutUint32(bomb[29:], crc32.ChecksumIEEE(bomb[12:29]))
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "the file is empty"},
		{"text", []byte("hello, this is no picture"), "not a picture"},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic0000"), "HEIC"},
		{"GIF", []byte("GIF89a0000"), "save it as JPEG"},
		{"bomb", bomb, "claims 50000 x 50000 pixels"},
		{"truncated JPEG", jpg[:len(jpg)/2], "ends too early"},
		{"truncated JPEG header", jpg[:20], "ends too early"},
		{"truncated PNG", png[:len(png)-20], "ends too early"},
		{"damaged PNG", append(append([]byte{}, png[:50]...), png[60:]...), "is damaged"},
	} {
		if _, err := Decode(c.data); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func FuzzDecode(f *testing.F) {
	small := scene(9, 7)
	f.Add(asPNG(f, small))
	f.Add(asJPEG(f, small, 80))
	f.Add(jpegWith(asJPEG(f, small, 80), 0xe1, append([]byte("Exif\x00\x00"), exif(6)...)))
	f.Add(pngWith(asPNG(f, small), "eXIf", exif(8)))
	f.Add([]byte("RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00"))
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if ff, err := sniff(data); err == nil {
			if c, err := ff.config(data); err == nil && c.Width*c.Height > 1<<18 {
				return // correct but slow
			}
		}
		m, err := Decode(data)
		if err != nil {
			return
		}
		rgb, alpha := make([]uint8, 3*5*4), make([]uint8, 5*4)
		new(Scaler).Draw(rgb, alpha, 5, 4, m, Crop{0, 0, float64(m.W), float64(m.H)})
	})
}

func FuzzTags(f *testing.F) {
	f.Add(exif(3))
	f.Fuzz(func(t *testing.T, data []byte) {
		tiffTags(data)
		jpegMeta(data)
		pngMeta(data)
		webpMeta(data)
		readProfile(data, false, false)
		readProfile(data, true, false)
	})
}

// portrait is the size of an enrolment photo, cut to a box of 22 x 29.4 mm at
// 300 dpi.
const portraitW, portraitH = 260, 347

func BenchmarkDecode480x640(b *testing.B) {
	data := asJPEG(b, scene(480, 640), 90)
	for b.Loop() {
		if _, err := Decode(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDraw480x640(b *testing.B) {
	m, err := Decode(asJPEG(b, scene(480, 640), 90))
	if err != nil {
		b.Fatal(err)
	}
	var s Scaler
	rgb := make([]uint8, 3*portraitW*portraitH)
	for b.Loop() {
		s.Draw(rgb, nil, portraitW, portraitH, m, Crop{0, 0, 480, 640})
	}
}
