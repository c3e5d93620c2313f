package pdf

import (
	"encoding/binary"
	"fmt"
	"slices"
)

// subset is the font with only the given glyphs, and those they are made of:
// their numbers stay, the rest is empty. It keeps the tables that an embedded
// font needs (9.9).
func (t *trueType) subset(glyphs []int) ([]byte, error) {
	keep, err := t.closure(glyphs)
	if err != nil {
		return nil, err
	}
	n := keep[len(keep)-1] + 1
	var outlines []byte
	loca, metrics := make([]byte, 4*(n+1)), make([]byte, 4*n)
	for i, next := 0, 0; i <= n; i++ {
		binary.BigEndian.PutUint32(loca[4*i:], uint32(len(outlines)))
		if next == len(keep) || keep[next] != i {
			continue
		}
		next++
		outlines = append(outlines, t.outline(i)...)
		for len(outlines)%4 != 0 {
			outlines = append(outlines, 0)
		}
		copy(metrics[4*i:], t.metric(i))
	}
	head, hhea, maxp := slices.Clone(t.tables["head"]), slices.Clone(t.tables["hhea"]), slices.Clone(t.tables["maxp"])
	binary.BigEndian.PutUint32(head[8:], 0)  // the checksum, set when all is there
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets
	binary.BigEndian.PutUint16(hhea[34:], uint16(n))
	binary.BigEndian.PutUint16(maxp[4:], uint16(n))
	out := map[string][]byte{"glyf": outlines, "head": head, "hhea": hhea, "hmtx": metrics, "loca": loca, "maxp": maxp}
	for _, hints := range [...]string{"cvt ", "fpgm", "prep"} {
		if d, ok := t.tables[hints]; ok {
			out[hints] = d
		}
	}
	return assemble(out), nil
}

// closure is the given glyphs, glyph 0, and those that composite ones are made
// of, in order.
func (t *trueType) closure(glyphs []int) ([]int, error) {
	seen := make([]bool, t.glyphs)
	todo := append([]int{0}, glyphs...)
	var keep []int
	for len(todo) > 0 {
		g := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if g >= t.glyphs {
			return nil, fmt.Errorf("pdf: the font is made of a glyph %d that it has not", g)
		}
		if seen[g] {
			continue
		}
		seen[g] = true
		keep = append(keep, g)
		todo = append(todo, t.parts(g)...)
	}
	slices.Sort(keep)
	return keep, nil
}

// Flags of a part of a composite glyph (OpenType, glyf).
const (
	argsAreWords = 1 << 0
	oneScale     = 1 << 3
	moreParts    = 1 << 5
	twoScales    = 1 << 6
	fullMatrix   = 1 << 7
)

// parts are the glyphs that a composite glyph is made of.
func (t *trueType) parts(g int) (parts []int) {
	o := t.outline(g)
	if o.i16(0) >= 0 { // a simple glyph says how many outlines it has
		return nil
	}
	for at := 10; at+4 <= len(o); {
		flags := o.u16(at)
		parts = append(parts, o.u16(at+2))
		at += 6
		if flags&argsAreWords != 0 {
			at += 2
		}
		switch {
		case flags&oneScale != 0:
			at += 2
		case flags&twoScales != 0:
			at += 4
		case flags&fullMatrix != 0:
			at += 8
		}
		if flags&moreParts == 0 {
			break
		}
	}
	return parts
}

func (t *trueType) outline(g int) table { return t.tables["glyf"][t.loca[g]:t.loca[g+1]] }

// metric is the advance and left side bearing of a glyph.
func (t *trueType) metric(g int) []byte {
	m := t.tables["hmtx"]
	if g < t.long {
		return m[4*g : 4*g+4]
	}
	bearing := 4*t.long + 2*(g-t.long)
	return append(slices.Clone(m[4*t.long-4:4*t.long-2]), m[bearing:bearing+2]...)
}

// assemble puts tables together to a font file (OpenType, table directory).
func assemble(tables map[string][]byte) []byte {
	names := make([]string, 0, len(tables))
	for name := range tables {
		names = append(names, name)
	}
	slices.Sort(names)
	log := 0
	for 2<<log <= len(names) {
		log++
	}
	file := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range [...]int{len(names), 16 << log, log, 16 * (len(names) - 1<<log)} {
		file = binary.BigEndian.AppendUint16(file, uint16(v))
	}
	at, body := len(file)+16*len(names), []byte(nil)
	head := 0
	for _, name := range names {
		d := tables[name]
		if name == "head" {
			head = at + len(body)
		}
		file = append(file, name...)
		for _, v := range [...]uint32{checksum(d), uint32(at + len(body)), uint32(len(d))} {
			file = binary.BigEndian.AppendUint32(file, v)
		}
		body = append(body, d...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	file = append(file, body...)
	binary.BigEndian.PutUint32(file[head+8:], 0xB1B0AFBA-checksum(file))
	return file
}

// checksum adds up a table as big-endian words, the last one filled with zeros.
func checksum(d []byte) (sum uint32) {
	for ; len(d) >= 4; d = d[4:] {
		sum += binary.BigEndian.Uint32(d)
	}
	var last [4]byte
	copy(last[:], d)
	return sum + binary.BigEndian.Uint32(last[:])
}
