// Package picture turns the bytes of a picture file into the dots of a card: it
// decodes JPEG, PNG, WebP and TIFF, turns the picture upright as its EXIF data
// says, brings its colours to sRGB, and resamples a part of it to a number of
// dots.
//
// Colours are resampled as they are stored, that is by their sRGB values and not
// by light, as page programs do.
//
// Clauses of the file formats are cited from memory; the tests hold what comes of
// them against PIL, ImageMagick and Little CMS.
package picture

import (
	"bytes"
	"errors"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"unspool/say"
)

// Limits of a picture, checked on its header before it is decoded: a small file
// can claim a picture that fills the memory.
const (
	MaxSide   = 20_000     // pixels
	MaxPixels = 50_000_000 // pixels
)

// Image is a decoded picture.
type Image struct {
	W, H int // pixels of the picture as it is seen, turned upright
	// Assumed says why the colours had to be taken for sRGB although the file has
	// a colour profile; empty where they are right.
	Assumed say.Text

	turn    turn
	planes  []plane // one gray; Y, Cb, Cr; or one of R, G, B, A interleaved
	opaque  bool
	swing   bool // Y, Cb and Cr use the video range
	profile *profile
}

// plane is samples of the picture as it is stored, n interleaved ones a pixel.
type plane struct {
	pix       []uint8
	stride, n int
	w, h      int
	// sx and sy are the pixels of the picture a sample stands for.
	sx, sy int
}

// format is a file format and how to read it.
type format struct {
	name   string
	magic  string // '?' stands for any byte
	end    string // what a whole file holds at its end
	config func([]byte) (image.Config, error)
	decode func([]byte) (image.Image, error)
	meta   func([]byte) meta
}

var formats = [...]format{
	{"JPEG", "\xff\xd8", "\xff\xd9", jpegConfig, jpegDecode, jpegMeta},
	{"PNG", "\x89PNG\r\n\x1a\n", "IEND", pngConfig, pngDecode, pngMeta},
	{"WebP", "RIFF????WEBP", "", webpConfig, webpDecode, webpMeta},
	{"TIFF", "II*\x00", "", tiffConfig, tiffDecode, tiffMeta},
	{"TIFF", "MM\x00*", "", tiffConfig, tiffDecode, tiffMeta},
}

func jpegConfig(b []byte) (image.Config, error) { return jpeg.DecodeConfig(bytes.NewReader(b)) }
func jpegDecode(b []byte) (image.Image, error)  { return jpeg.Decode(bytes.NewReader(b)) }
func pngConfig(b []byte) (image.Config, error)  { return png.DecodeConfig(bytes.NewReader(b)) }
func pngDecode(b []byte) (image.Image, error)   { return png.Decode(bytes.NewReader(b)) }
func webpConfig(b []byte) (image.Config, error) { return webp.DecodeConfig(bytes.NewReader(b)) }
func webpDecode(b []byte) (image.Image, error)  { return webp.Decode(bytes.NewReader(b)) }
func tiffConfig(b []byte) (image.Config, error) { return tiff.DecodeConfig(bytes.NewReader(b)) }
func tiffDecode(b []byte) (image.Image, error)  { return tiff.Decode(bytes.NewReader(b)) }

// sniff finds the format by its first bytes.
func sniff(data []byte) (format, error) {
	for _, f := range formats {
		if hasMagic(data, f.magic) {
			return f, nil
		}
	}
	what := say.Word("it is not a picture that can be read")
	switch {
	case len(data) == 0:
		return format{}, say.Errorf("the file is empty")
	case hasMagic(data, "????ftyp"):
		what = say.Word("it is a HEIC, AVIF or video file")
	case hasMagic(data, "GIF8"):
		what = say.Word("it is a GIF")
	case hasMagic(data, "BM"):
		what = say.Word("it is a BMP")
	case hasMagic(data, "%PDF"):
		what = say.Word("it is a PDF")
	}
	return format{}, say.Errorf("%s: save it as JPEG, PNG, WebP or TIFF", what)
}

func hasMagic(data []byte, magic string) bool {
	if len(data) < len(magic) {
		return false
	}
	for i := range len(magic) {
		if magic[i] != '?' && magic[i] != data[i] {
			return false
		}
	}
	return true
}

// Check says whether a picture may be decoded, by its head alone: that it is of a
// format that is read and within the limits. Errors are as those of Decode.
func Check(data []byte) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = say.Errorf("the file is damaged: %v", r)
		}
	}()
	_, err = head(data)
	return err
}

// Decode reads a picture. Errors say what is wrong with the file, without its
// name. A decoder that panics is an error too.
func Decode(data []byte) (m *Image, err error) {
	defer func() {
		if r := recover(); r != nil {
			m, err = nil, say.Errorf("the file is damaged: %v", r)
		}
	}()
	f, err := head(data)
	if err != nil {
		return nil, err
	}
	stored, err := f.decode(data)
	if err != nil {
		return nil, damaged(f, data, err)
	}
	return newImage(stored, f.meta(data), f.name == "WebP"), nil
}

// head is the format of a picture that is within the limits.
func head(data []byte) (format, error) {
	f, err := sniff(data)
	if err != nil {
		return format{}, err
	}
	c, err := f.config(data)
	if err != nil {
		return format{}, damaged(f, data, err)
	}
	if c.Width < 1 || c.Height < 1 {
		return format{}, say.Errorf("the %s has no pixels", f.name)
	}
	if c.Width > MaxSide || c.Height > MaxSide || c.Width*c.Height > MaxPixels {
		return format{}, say.Errorf("the %s claims %d x %d pixels: at most %d a side and %d million in all are read, so save it smaller",
			f.name, c.Width, c.Height, MaxSide, MaxPixels/1_000_000)
	}
	return f, nil
}

// damaged words a decoder's error for the person who has the file.
func damaged(f format, data []byte, err error) error {
	tail := data[max(0, len(data)-64):]
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) || !bytes.Contains(tail, []byte(f.end)) {
		return say.Errorf("the %s ends too early: it was cut short when it was copied or saved", f.name)
	}
	return say.Errorf("the %s is damaged or of an unusual kind: %v", f.name, err)
}

func newImage(stored image.Image, about meta, swing bool) *Image {
	m := &Image{turn: about.turn, opaque: true}
	b := stored.Bounds()
	w, h := b.Dx(), b.Dy()
	switch s := stored.(type) {
	case *image.YCbCr:
		m.planes, m.swing = ycbcr(s), swing
	case *image.Gray:
		m.planes = []plane{{s.Pix[s.PixOffset(b.Min.X, b.Min.Y):], s.Stride, 1, w, h, 1, 1}}
	default:
		p := interleaved(stored, swing)
		m.opaque = p.Opaque()
		m.planes = []plane{{p.Pix, p.Stride, 4, w, h, 1, 1}}
	}
	_, cmyk := stored.(*image.CMYK)
	m.profile, m.Assumed = readProfile(about.profile, len(m.planes) == 1 && m.planes[0].n == 1, cmyk)
	m.W, m.H = w, h
	if m.turn.swap {
		m.W, m.H = h, w
	}
	return m
}

// ycbcr gives the three planes of s. A chroma sample lies in the middle of the
// pixels it stands for, as in JPEG files (JFIF 1.02).
func ycbcr(s *image.YCbCr) []plane {
	b := s.Rect
	sx, sy := 1, 1
	switch s.SubsampleRatio {
	case image.YCbCrSubsampleRatio422:
		sx = 2
	case image.YCbCrSubsampleRatio420:
		sx, sy = 2, 2
	case image.YCbCrSubsampleRatio440:
		sy = 2
	case image.YCbCrSubsampleRatio411:
		sx = 4
	case image.YCbCrSubsampleRatio410:
		sx, sy = 4, 2
	}
	cw, ch := (b.Dx()+sx-1)/sx, (b.Dy()+sy-1)/sy
	co := s.COffset(b.Min.X, b.Min.Y)
	return []plane{
		{s.Y[s.YOffset(b.Min.X, b.Min.Y):], s.YStride, 1, b.Dx(), b.Dy(), 1, 1},
		{s.Cb[co:], s.CStride, 1, cw, ch, sx, sy},
		{s.Cr[co:], s.CStride, 1, cw, ch, sx, sy},
	}
}

// interleaved is any other picture as R, G, B, A with colours multiplied by
// alpha.
func interleaved(stored image.Image, swing bool) *image.RGBA {
	if p, ok := stored.(*image.RGBA); ok && p.Rect.Min == (image.Point{}) {
		return p
	}
	b := stored.Bounds()
	p := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	if s, ok := stored.(*image.NYCbCrA); ok && swing {
		for y := range b.Dy() {
			for x := range b.Dx() {
				yi, ci, ai := s.YOffset(b.Min.X+x, b.Min.Y+y), s.COffset(b.Min.X+x, b.Min.Y+y), s.AOffset(b.Min.X+x, b.Min.Y+y)
				r, g, bl := videoRGB(int32(s.Y[yi]), int32(s.Cb[ci]), int32(s.Cr[ci]))
				a := uint32(s.A[ai])
				copy(p.Pix[p.PixOffset(x, y):], []uint8{scale255(r, a), scale255(g, a), scale255(bl, a), uint8(a)})
			}
		}
		return p
	}
	draw.Draw(p, p.Rect, stored, b.Min, draw.Src)
	return p
}

// scale255 is v*a/255, rounded.
func scale255(v uint8, a uint32) uint8 {
	t := uint32(v)*a + 128
	return uint8((t + t>>8) >> 8)
}
