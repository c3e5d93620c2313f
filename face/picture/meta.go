package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
)

// meta is what a file says of its picture beside the pixels.
type meta struct {
	turn    turn
	profile []byte // ICC profile, nil where there is none
}

// turn says how the stored picture is turned to be seen upright: rows and columns
// are swapped, then each may run backwards. Pixel (x, y) of the upright picture
// is the stored pixel (x, y), or (y, x) where swap is set, counted from the far
// end along the stored x where flipX and along the stored y where flipY is set.
type turn struct{ swap, flipX, flipY bool }

// turns are the values of the EXIF tag Orientation, 1 to 8 (EXIF 2.3, 4.6.4 A).
var turns = [9]turn{
	1: {},
	2: {flipX: true},
	3: {flipX: true, flipY: true},
	4: {flipY: true},
	5: {swap: true},
	6: {swap: true, flipY: true},
	7: {swap: true, flipX: true, flipY: true},
	8: {swap: true, flipX: true},
}

// maxProfile bounds a compressed ICC profile; large printing profiles take 3 MB.
const maxProfile = 8 << 20

// jpegMeta reads the application segments before the first scan of a JPEG file:
// APP1 "Exif" and the parts of the ICC profile in APP2 (ICC.1:2022 B.4).
func jpegMeta(data []byte) (m meta) {
	var parts [256][]byte
	count := 0
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		marker := data[at+1]
		if marker == 0xff {
			at++
			continue
		}
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if marker == 0xda || size < 2 || at+2+size > len(data) {
			break
		}
		body := data[at+4 : at+2+size]
		switch {
		case marker == 0xe1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")):
			m.turn, _ = tiffTags(body[6:])
		case marker == 0xe2 && len(body) >= 14 && bytes.HasPrefix(body, []byte("ICC_PROFILE\x00")):
			parts[body[12]], count = body[14:], int(body[13])
		}
		at += 2 + size
	}
	for i := 1; i <= count; i++ {
		m.profile = append(m.profile, parts[i]...)
	}
	return m
}

// pngMeta reads the chunks iCCP and eXIf of a PNG file (PNG 11.3.2.3, 11.3.4.5).
func pngMeta(data []byte) (m meta) {
	for at := 8; at+12 <= len(data); {
		size := int(binary.BigEndian.Uint32(data[at:]))
		if size < 0 || size > len(data)-at-12 {
			break
		}
		body := data[at+8 : at+8+size]
		switch string(data[at+4 : at+8]) {
		case "iCCP":
			if _, rest, ok := bytes.Cut(body, []byte{0}); ok && len(rest) > 1 {
				m.profile = inflate(rest[1:])
			}
		case "eXIf":
			m.turn, _ = tiffTags(body)
		}
		at += 12 + size
	}
	return m
}

func inflate(data []byte) []byte {
	z, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	out, err := io.ReadAll(io.LimitReader(z, maxProfile))
	if err != nil {
		return nil
	}
	return out
}

// webpMeta reads the chunks ICCP and EXIF of a WebP file.
func webpMeta(data []byte) (m meta) {
	for at := 12; at+8 <= len(data); {
		size := int(binary.LittleEndian.Uint32(data[at+4:]))
		if size < 0 || size > len(data)-at-8 {
			break
		}
		body := data[at+8 : at+8+size]
		switch string(data[at : at+4]) {
		case "ICCP":
			m.profile = body
		case "EXIF":
			m.turn, _ = tiffTags(bytes.TrimPrefix(body, []byte("Exif\x00\x00")))
		}
		at += 8 + size + size&1
	}
	return m
}

func tiffMeta(data []byte) (m meta) {
	m.turn, m.profile = tiffTags(data)
	return m
}

// Tags of a TIFF image file directory (TIFF 6.0 section 8; ICC.1:2022 B.3).
const (
	tagOrientation = 0x0112
	tagProfile     = 0x8773
)

// tiffTags reads the first directory of a TIFF structure, which is also what EXIF
// data is. What is out of bounds is passed over.
func tiffTags(data []byte) (t turn, profile []byte) {
	if len(data) < 8 {
		return t, nil
	}
	var order binary.ByteOrder = binary.BigEndian
	if data[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int64(order.Uint32(data[4:]))
	if at+2 > int64(len(data)) {
		return t, nil
	}
	entries := int(order.Uint16(data[at:]))
	for i := range entries {
		from := at + 2 + 12*int64(i)
		if from+12 > int64(len(data)) {
			break
		}
		e := data[from : from+12]
		value := int64(order.Uint32(e[8:]))
		switch order.Uint16(e) {
		case tagOrientation:
			if v := order.Uint16(e[8:]); v < uint16(len(turns)) {
				t = turns[v]
			}
		case tagProfile:
			if n := int64(order.Uint32(e[4:])); value+n <= int64(len(data)) {
				profile = data[value : value+n]
			}
		}
	}
	return t, profile
}
