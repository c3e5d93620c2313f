package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"image"
	"image/draw"
	"image/png"
)

// Image is a picture of a document. It is stored once, however often it is
// drawn or added.
type Image struct {
	name  string
	dict  string
	data  []byte // compressed, with a PNG predictor
	drawn bool
}

// Image adds a picture: grey, with a palette (of two colours in one bit a
// pixel), or in colour, at 8 bits. What is not opaque is laid on white.
func (d *Doc) Image(m image.Image) (*Image, error) {
	size := m.Bounds().Size()
	if size.X < 1 || size.Y < 1 {
		return nil, fmt.Errorf("pdf: a picture of %d by %d pixels has none to draw", size.X, size.Y)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, plain(m)); err != nil {
		return nil, fmt.Errorf("pdf: picture: %w", err)
	}
	sum := sha256.Sum256(b.Bytes())
	if known := d.images[sum]; known != nil {
		return known, nil
	}
	out := newImage(b.Bytes())
	out.name = fmt.Sprintf("I%d", len(d.imageList)+1)
	d.images[sum] = out
	d.imageList = append(d.imageList, out)
	return out, nil
}

// plain is a picture that is written as it stands, or a copy on white.
func plain(m image.Image) image.Image {
	switch m := m.(type) {
	case *image.Gray:
		return m
	case *image.Paletted:
		if m.Opaque() && len(m.Palette) > 0 {
			return m
		}
	case *image.RGBA:
		if m.Opaque() {
			return m
		}
	}
	out := image.NewRGBA(m.Bounds())
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, m, out.Rect.Min, draw.Over)
	return out
}

// newImage takes a PNG file apart. The data of a PNG file is what FlateDecode
// takes with the PNG predictors (7.4.4.4), so a picture is packed by the
// standard library's own PNG writer.
func newImage(file []byte) *Image {
	const signature, chunk = 8, 12 // a chunk: length, name, data, checksum
	out := new(Image)
	var w, h, bits uint32
	space, colours := "/DeviceGray", 1
	for at := signature; at+chunk <= len(file); {
		n := int(binary.BigEndian.Uint32(file[at:]))
		data := file[at+8 : at+8+n]
		switch string(file[at+4 : at+8]) {
		case "IHDR":
			w, h, bits = binary.BigEndian.Uint32(data), binary.BigEndian.Uint32(data[4:]), uint32(data[8])
			if trueColour := data[9] == 2; trueColour {
				space, colours = "/DeviceRGB", 3
			}
		case "PLTE":
			space = fmt.Sprintf("[/Indexed/DeviceRGB %d<%x>]", len(data)/3-1, data)
		case "IDAT":
			out.data = append(out.data, data...)
		}
		at += chunk + n
	}
	out.dict = fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent %d/ColorSpace%s/DecodeParms<</Predictor 15/Colors %d/BitsPerComponent %d/Columns %d>>",
		w, h, bits, space, colours, bits, w)
	return out
}

func (m *Image) write(f *file) ref { return f.deflated(m.dict, m.data) }
