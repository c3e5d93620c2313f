package report

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"html/template"
	"image"
	"image/color"
	"image/png"
	"math"
	"strings"

	"unspool/ink"
	"unspool/plane"
	"unspool/proof"
	"unspool/ribbon"
	"unspool/site"
	"unspool/unit"
)

// Picture is one PNG file of one side of a card, one pixel a dot; it states its
// size in pixels a metre.
type Picture struct {
	Name string // "eye", "red-660", "panel-1-y", "ribbon-4-k": lower case, fit for a file name
	PNG  []byte
}

// Pictures draws a side by eye, under every lamp of the view, and each panel as
// it lies on the card and as it stays on the web, numbered in the order of
// feeding.
func Pictures(v proof.View) []Picture {
	out := []Picture{{"eye", eyePNG(v)}}
	for _, l := range v.Lights {
		out = append(out, Picture{fmt.Sprintf("%s-%.0f", light(l.NM), float64(l.NM)), lightPNG(l.Picture)})
	}
	for i, p := range v.Panels {
		out = append(out, Picture{numbered("panel", i, p.Panel), framePNG(laid(v.Grid, p))})
	}
	for i, f := range v.Spent {
		out = append(out, Picture{numbered("ribbon", i, f.Panel), framePNG(f)})
	}
	return out
}

func numbered(what string, i int, p site.Panel) string {
	return strings.ToLower(fmt.Sprintf("%s-%d-%c", what, i+1, p.Letter))
}

// eyePNG is a side as the eye sees it.
func eyePNG(v proof.View) []byte { return encode(smallest(v.Eye), v.DX, v.DY) }

// lightPNG is a side under one lamp as a grey PNG: reflectance 0 to 1 on the
// sRGB curve (IEC 61966-2-1), as a camera that sees this light would show it.
func lightPNG(p plane.Picture) []byte { return encode(lightGrey(p), p.DX, p.DY) }

func lightGrey(p plane.Picture) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, p.W, p.H))
	var last float32 // most dots are like their neighbour, and a power takes long
	var grey uint8
	for i, r := range p.R {
		if r != last {
			last, grey = r, uint8(math.Round(255*ink.Encode(float64(min(max(r, 0), 1)))))
		}
		m.Pix[i] = grey
	}
	return m
}

// laid is a panel's print on the card as a frame: what is on the card has the
// look of what is left on the web.
func laid(g plane.Grid, p proof.PanelView) ribbon.Frame {
	f := ribbon.Frame{Panel: p.Panel, Grid: g, Gone: make([]uint8, len(p.Amount))}
	for i, a := range p.Amount {
		f.Gone[i] = 255 - a
	}
	return f
}

// framePNG is one frame of spent ribbon in web directions.
func framePNG(f ribbon.Frame) []byte { return encode(trim(f.Palette()), f.DX, f.DY) }

// smallest is the picture with a palette where it has few colours: the same
// picture in a smaller file.
func smallest(m *image.RGBA) image.Image {
	index := map[color.RGBA]uint8{}
	p := image.NewPaletted(m.Rect, nil)
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		for x := m.Rect.Min.X; x < m.Rect.Max.X; x++ {
			c := m.RGBAAt(x, y)
			i, known := index[c]
			if !known {
				if len(p.Palette) == 256 {
					return m
				}
				i = uint8(len(p.Palette))
				index[c] = i
				p.Palette = append(p.Palette, c)
			}
			p.Pix[p.PixOffset(x, y)] = i
		}
	}
	return p
}

// trim drops the palette entries that no dot uses: two colours take one bit a
// dot.
func trim(p *image.Paletted) *image.Paletted {
	var to [256]uint8
	var used [256]bool
	for _, v := range p.Pix {
		used[v] = true
	}
	out := &image.Paletted{Pix: make([]uint8, len(p.Pix)), Stride: p.Stride, Rect: p.Rect}
	for v, c := range p.Palette {
		if used[v] {
			to[v] = uint8(len(out.Palette))
			out.Palette = append(out.Palette, c)
		}
	}
	for i, v := range p.Pix {
		out.Pix[i] = to[v]
	}
	return out
}

// encode writes a PNG with a pHYs chunk (ISO/IEC 15948 11.3.5.3: pixels a metre)
// after its header. Its usual compression takes a seventh of the time of the best
// one, for files a thirtieth longer.
func encode(m image.Image, dx, dy unit.Pitch) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic("report: a buffer took no PNG: " + err.Error()) // a side has dots, and a buffer takes all
	}
	const header = 8 + 8 + 13 + 4 // signature; IHDR: length and name, data, checksum
	file := b.Bytes()
	out := make([]byte, 0, len(file)+21)
	out = append(out, file[:header]...)
	out = binary.BigEndian.AppendUint32(out, 9)
	chunk := append([]byte("pHYs"), 0, 0, 0, 0, 0, 0, 0, 0, 1) // 1: the unit is the metre
	binary.BigEndian.PutUint32(chunk[4:], perMetre(dx))
	binary.BigEndian.PutUint32(chunk[8:], perMetre(dy))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, file[header:]...)
}

func perMetre(p unit.Pitch) uint32 { return uint32(math.Round(1000 * p.PerMM())) }

// dataURI is a PNG file inside a page.
func dataURI(png []byte) template.URL {
	return template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(png))
}
