package pdf

import (
	"encoding/binary"
	"fmt"
	"math"
)

// trueType is a TrueType font taken apart (OpenType specification: the tables of
// that name).
type trueType struct {
	tables map[string]table
	glyphs int
	units  int   // in an em
	long   int   // glyphs with an advance of their own
	loca   []int // where each glyph begins in glyf, and the last one's end
	cmap   table // the subtable used
}

// table is bytes read big-endian. Past its end everything is 0, so that a font
// that promises more than it holds draws nothing there.
type table []byte

func (t table) u16(i int) int {
	if i < 0 || i+2 > len(t) {
		return 0
	}
	return int(binary.BigEndian.Uint16(t[i:]))
}

func (t table) i16(i int) int { return int(int16(t.u16(i))) }

func (t table) u32(i int) int {
	if i < 0 || i+4 > len(t) {
		return 0
	}
	return int(binary.BigEndian.Uint32(t[i:]))
}

func parseTrueType(data []byte) (*trueType, error) {
	t := &trueType{tables: map[string]table{}}
	file := table(data)
	if v := file.u32(0); v != 0x00010000 && v != 0x74727565 { // 1.0, or "true"
		return nil, fmt.Errorf("pdf: this is no TrueType font")
	}
	for i := range file.u16(4) {
		at := 12 + 16*i
		from, n := file.u32(at+8), file.u32(at+12)
		if at+16 > len(data) || from+n > len(data) {
			return nil, fmt.Errorf("pdf: the font is cut short")
		}
		t.tables[string(data[at:at+4])] = file[from : from+n]
	}
	for name, least := range map[string]int{"head": 54, "hhea": 36, "maxp": 6, "hmtx": 4, "loca": 4, "cmap": 4, "glyf": 0} {
		if have, ok := t.tables[name]; !ok || len(have) < least {
			return nil, fmt.Errorf("pdf: the font has no outlines that can be embedded: its tables are not whole")
		}
	}
	t.glyphs, t.units, t.long = t.tables["maxp"].u16(4), t.tables["head"].u16(18), t.tables["hhea"].u16(34)
	if t.glyphs < 1 || t.units < 16 || t.units > 16384 || t.long < 1 || t.long > t.glyphs || len(t.tables["hmtx"]) < 4*t.long+2*(t.glyphs-t.long) {
		return nil, fmt.Errorf("pdf: the font's metrics contradict themselves")
	}
	if err := t.locate(); err != nil {
		return nil, err
	}
	return t, t.chooseMap()
}

// locate reads loca: short offsets are halved.
func (t *trueType) locate() error {
	loca, short := t.tables["loca"], t.tables["head"].u16(50) == 0
	size := 4
	if short {
		size = 2
	}
	if len(loca) < size*(t.glyphs+1) {
		return fmt.Errorf("pdf: the font does not say where its glyphs are")
	}
	t.loca = make([]int, t.glyphs+1)
	for i := range t.loca {
		if short {
			t.loca[i] = 2 * loca.u16(2*i)
		} else {
			t.loca[i] = loca.u32(4 * i)
		}
		if i > 0 && t.loca[i] < t.loca[i-1] || t.loca[i] > len(t.tables["glyf"]) {
			return fmt.Errorf("pdf: glyph %d of the font lies outside it", i)
		}
	}
	return nil
}

// chooseMap finds a Unicode map from characters to glyphs, the fullest first:
// format 12 holds all of Unicode, format 4 its first plane.
func (t *trueType) chooseMap() error {
	all := t.tables["cmap"]
	for _, format := range [...]int{12, 4} {
		for i := range all.u16(2) {
			platform, encoding, at := all.u16(4+8*i), all.u16(6+8*i), all.u32(8+8*i)
			unicode := platform == 0 || platform == 3 && (encoding == 1 || encoding == 10)
			if unicode && at < len(all) && all.u16(at) == format {
				t.cmap = all[at:]
				return nil
			}
		}
	}
	return fmt.Errorf("pdf: the font has no Unicode map")
}

// glyph is the glyph of a character, 0 where there is none.
func (t *trueType) glyph(r rune) int {
	g := 0
	if t.cmap.u16(0) == 12 {
		g = t.glyph12(int(r))
	} else {
		g = t.glyph4(int(r))
	}
	if g >= t.glyphs {
		return 0
	}
	return g
}

func (t *trueType) glyph12(r int) int {
	m := t.cmap
	lo, hi := 0, min(m.u32(12), (len(m)-16)/12)
	for lo < hi {
		mid := (lo + hi) / 2
		switch at := 16 + 12*mid; {
		case r < m.u32(at):
			hi = mid
		case r > m.u32(at+4):
			lo = mid + 1
		default:
			return m.u32(at+8) + r - m.u32(at)
		}
	}
	return 0
}

func (t *trueType) glyph4(r int) int {
	m := t.cmap
	twice := m.u16(6) // two bytes a segment: ends, a gap, starts, shifts, ranges
	for i := 0; i < twice && r <= 0xffff; i += 2 {
		start := m.u16(16 + twice + i)
		if r > m.u16(14+i) {
			continue
		}
		if r < start {
			break
		}
		shift, from := m.u16(16+2*twice+i), 16+3*twice+i
		if m.u16(from) == 0 {
			return (r + shift) & 0xffff
		}
		if g := m.u16(from + m.u16(from) + 2*(r-start)); g != 0 {
			return (g + shift) & 0xffff
		}
		break
	}
	return 0
}

// advance is how far the next glyph stands, in thousandths of an em, the unit of
// PDF's own widths (9.2.4). It is whole, and so adds up alike in every viewer.
func (t *trueType) advance(g int) int {
	return int(math.Round(1000 * float64(t.tables["hmtx"].u16(4*min(g, t.long-1))) / float64(t.units)))
}
