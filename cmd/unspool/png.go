package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"math"

	"unspool/unit"
)

// encodePNG writes a picture with its resolution, which image/png leaves out: a
// pHYs chunk (PNG specification, third edition, 11.3.4.3) right after IHDR, in
// whole dots per metre.
func encodePNG(m image.Image, dx, dy unit.Pitch) ([]byte, error) {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, m); err != nil {
		return nil, err
	}
	const ihdrEnd = 8 + 4 + 4 + 13 + 4 // signature; length, type, data, CRC
	chunk := append(binary.BigEndian.AppendUint32(nil, 9), "pHYs"...)
	for _, p := range []unit.Pitch{dx, dy} {
		chunk = binary.BigEndian.AppendUint32(chunk, uint32(math.Round(1000*p.PerMM())))
	}
	chunk = append(chunk, 1) // the unit is the metre
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	head, rest := b.Bytes()[:ihdrEnd], b.Bytes()[ihdrEnd:]
	return bytes.Join([][]byte{head, chunk, rest}, nil), nil
}
