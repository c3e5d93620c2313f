package pdf

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"image/color"
	"strings"
	"unicode"
	"unicode/utf16"
)

// Font is one or several TrueType files of one look, in the order in which a
// character is looked for. Of each file only the glyphs used are embedded.
type Font struct {
	doc   *Doc
	faces []*face
}

// Font adds a font. The files must stay as they are. An error means a file that
// is no whole TrueType font.
func (d *Doc) Font(files ...[]byte) (*Font, error) {
	f := &Font{doc: d}
	for _, data := range files {
		sum := sha256.Sum256(data)
		a := d.faces[sum]
		if a == nil {
			t, err := parseTrueType(data)
			if err != nil {
				return nil, err
			}
			a = &face{trueType: t, name: fmt.Sprintf("F%d", len(d.faceList)+1), codes: map[rune]uint16{}}
			d.faces[sum] = a
			d.faceList = append(d.faceList, a)
		}
		f.faces = append(f.faces, a)
	}
	if len(f.faces) == 0 {
		return nil, fmt.Errorf("pdf: a font needs a file")
	}
	return f, nil
}

// Sets says whether the font can set s as it is written: it has every character,
// and all are of scripts that are set letter by letter from left to right.
func (f *Font) Sets(s string) bool {
	for _, r := range printable(s) {
		_, glyph := f.find(r)
		if glyph == 0 || unicode.IsLetter(r) && !unicode.In(r, unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Common) {
			return false
		}
	}
	return true
}

// Width is the length of s in millimetres at an em of the given size.
func (f *Font) Width(s string, em float64) float64 {
	sum := 0
	for _, r := range printable(s) {
		a, glyph := f.find(r)
		sum += a.advance(glyph)
	}
	return em * float64(sum) / 1000
}

// find is the first face that has a character, and its glyph; where none has,
// the first face's own sign for that.
func (f *Font) find(r rune) (*face, int) {
	for _, a := range f.faces {
		if g := a.glyph(r); g != 0 {
			return a, g
		}
	}
	return f.faces[0], 0
}

// printable is s with every control character as a space, and without marks that
// show nothing, such as those of writing direction.
func printable(s string) []rune {
	out := make([]rune, 0, len(s))
	for _, r := range s {
		switch {
		case unicode.IsControl(r):
			out = append(out, ' ')
		case !unicode.Is(unicode.Cf, r):
			out = append(out, r)
		}
	}
	return out
}

// Style is how text looks.
type Style struct {
	*Font
	Size   float64 // of an em, in millimetres
	Colour color.Color
}

// Text sets a line of text whose baseline begins at x, y (9.4).
func (p *Page) Text(st Style, x, y float64, s string) {
	p.turn(drawing)
	p.colour(st.Colour, "g", "rg")
	p.op("BT")
	p.op("Tm", 1, 0, 0, -1, x, y) // y runs down the page, and letters up
	var on *face
	var codes strings.Builder
	show := func() {
		if codes.Len() > 0 {
			fmt.Fprintf(&p.content, "<%s> ", codes.String())
			p.op("Tj")
			codes.Reset()
		}
	}
	for _, r := range printable(s) {
		a, glyph := st.find(r)
		if a != on {
			show()
			fmt.Fprintf(&p.content, "/%s ", a.name)
			p.op("Tf", st.Size)
			on = a
		}
		code, err := a.code(r, glyph)
		if err != nil {
			p.doc.fail(err)
			return
		}
		fmt.Fprintf(&codes, "%04X", code)
	}
	show()
	p.op("ET")
}

// face is one font file of a document. Characters get codes of their own in the
// order in which they are first set, so that the way back from code to character
// is exact even where two share a glyph.
type face struct {
	*trueType
	name  string
	codes map[rune]uint16
	runes []rune // by code, from 1
	gids  []int  // by code, from 1
}

func (a *face) code(r rune, glyph int) (uint16, error) {
	if c, ok := a.codes[r]; ok {
		return c, nil
	}
	if len(a.runes) == 0xffff {
		return 0, fmt.Errorf("pdf: more than %d different characters in one font", len(a.runes))
	}
	a.runes, a.gids = append(a.runes, r), append(a.gids, glyph)
	c := uint16(len(a.runes))
	a.codes[r] = c
	return c, nil
}

// write embeds the face as a composite font (9.7): codes of two bytes, their
// glyphs, widths and characters.
func (a *face) write(f *file) (ref, error) {
	data, err := a.subset(a.gids)
	if err != nil {
		return 0, err
	}
	sum := sha256.Sum256(data)
	name := a.postScriptName(sum)
	em := func(v int) string { return number(1000 * float64(v) / float64(a.units)) }
	head, hhea := a.tables["head"], a.tables["hhea"]
	program := f.stream(fmt.Sprintf("/Length1 %d", len(data)), data)
	descriptor := f.add(fmt.Sprintf("<</Type/FontDescriptor/FontName/%s/Flags 4/FontBBox[%s %s %s %s]/ItalicAngle 0/Ascent %s/Descent %s/CapHeight %s/StemV %d/FontFile2 %s>>",
		name, em(head.i16(36)), em(head.i16(38)), em(head.i16(40)), em(head.i16(42)), em(hhea.i16(4)), em(hhea.i16(6)), em(a.capHeight()), a.stem(), program))
	gids := make([]byte, 2, 2+2*len(a.gids))
	var widths strings.Builder
	for _, g := range a.gids {
		gids = binary.BigEndian.AppendUint16(gids, uint16(g))
		fmt.Fprintf(&widths, "%d ", a.advance(g))
	}
	descendant := f.add(fmt.Sprintf("<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor %s/DW 0/W[1[%s]]/CIDToGIDMap %s>>",
		name, descriptor, strings.TrimSpace(widths.String()), f.stream("", gids)))
	return f.add(fmt.Sprintf("<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%s]/ToUnicode %s>>",
		name, descendant, f.stream("", a.toUnicode()))), nil
}

// postScriptName is the name of the subset: six letters, a plus sign and the
// font's own name (9.6.4).
func (a *face) postScriptName(sum [sha256.Size]byte) string {
	var b strings.Builder
	for _, v := range sum[:6] {
		b.WriteByte('A' + v%26)
	}
	b.WriteByte('+')
	plain := 0
	for _, c := range a.ownName() {
		if c == '-' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
			b.WriteByte(c)
			plain++
		}
	}
	if plain == 0 {
		b.WriteString(a.name)
	}
	return b.String()
}

// ownName is the font's PostScript name as bytes, in whatever encoding; empty
// where it has none (OpenType, name: identifier 6).
func (a *face) ownName() table {
	names := a.tables["name"]
	for i := range names.u16(2) {
		at := 6 + 12*i
		from, n := names.u16(4)+names.u16(at+10), names.u16(at+8)
		if names.u16(at+6) == 6 && from+n <= len(names) {
			return names[from : from+n]
		}
	}
	return nil
}

// capHeight is the height of capitals (OpenType, OS/2 version 2 on), or the
// ascent where the font does not say.
func (a *face) capHeight() int {
	if os2 := a.tables["OS/2"]; os2.u16(0) >= 2 {
		return os2.i16(88)
	}
	return a.tables["hhea"].i16(4)
}

// stem is a guess at the width of upright strokes from the weight, for viewers
// that must replace the font (common practice, no source).
func (a *face) stem() int { return 10 + a.tables["OS/2"].u16(4)/5 }

// toUnicode is the way back from codes to characters (9.10.3).
func (a *face) toUnicode() []byte {
	var b strings.Builder
	b.WriteString("/CIDInit/ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n/CMapName/Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000><FFFF>\nendcodespacerange\n")
	const most = 100 // entries in a block
	for from := 0; from < len(a.runes); from += most {
		block := a.runes[from:min(from+most, len(a.runes))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(block))
		for i, r := range block {
			fmt.Fprintf(&b, "<%04X><", from+i+1)
			for _, u := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict/CMap defineresource pop\nend\nend\n")
	return []byte(b.String())
}
