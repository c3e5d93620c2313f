package face

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"path"
	"strings"
	"sync"

	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"

	"unspool/font"
)

// typeface is one font, loaded when it is first needed.
type typeface struct {
	name string
	load func() (*gofont.Font, error)
}

// bundled are the fonts that come with the program, by weight. They are parsed
// at most once, for they never change.
var bundled = [2][]*typeface{bundledFaces(false), bundledFaces(true)}

func bundledFaces(bold bool) []*typeface {
	var out []*typeface
	for _, f := range font.Bundled(bold) {
		out = append(out, &typeface{f.Name, sync.OnceValues(func() (*gofont.Font, error) { return parseFont(f.Name, f.Data, 0) })})
	}
	return out
}

// fontList is where a text's characters are looked for, in this order, before the
// installed fonts are asked.
type fontList struct{ faces []*typeface }

// fontStore holds the fonts of a plan. It is safe for use by several goroutines.
type fontStore struct {
	assets Assets

	mu       sync.Mutex
	fallback map[rune]*gofont.Font
	parsed   map[[sha256.Size]byte]*gofont.Font
	sums     map[*byte][sha256.Size]byte // of files, by their first byte in memory: they are large
}

func newFontStore(a Assets) *fontStore {
	return &fontStore{assets: a, fallback: map[rune]*gofont.Font{}, parsed: map[[sha256.Size]byte]*gofont.Font{},
		sums: map[*byte][sha256.Size]byte{}}
}

// list makes the list that begins with the named font; an empty name is the
// bundled one.
func (s *fontStore) list(name string, bold bool) (*fontList, error) {
	weight := 0
	if bold {
		weight = 1
	}
	l := &fontList{}
	if name != "" {
		t, err := s.named(name, bold)
		if err != nil {
			return nil, err
		}
		l.faces = append(l.faces, t)
	}
	l.faces = append(l.faces, bundled[weight]...)
	return l, nil
}

// named loads a font the programme names. A bold one of a family is looked for by
// the name that installed fonts have: "Family Bold".
func (s *fontStore) named(name string, bold bool) (*typeface, error) {
	var data []byte
	err := fmt.Errorf("none was looked for")
	if bold && path.Ext(name) == "" {
		data, err = s.assets.Font(name + " Bold")
	}
	if err != nil {
		data, err = s.assets.Font(name)
	}
	if err != nil {
		return nil, fmt.Errorf("the font %q %w", name, err)
	}
	f, err := parseFont(name, data, 0)
	if err != nil {
		return nil, err
	}
	if err := tryFont(name, f); err != nil {
		return nil, err
	}
	return &typeface{name, func() (*gofont.Font, error) { return f, nil }}, nil
}

// has gives an installed font that has the rune, nil where there is none. What it
// gives depends on the rune alone, not on what was asked before.
func (s *fontStore) has(r rune) *gofont.Font {
	s.mu.Lock()
	defer s.mu.Unlock()
	f, known := s.fallback[r]
	if !known {
		f = s.find(r)
		s.fallback[r] = f
	}
	return f
}

func (s *fontStore) find(r rune) *gofont.Font {
	data := s.assets.Fallback(r)
	if len(data) == 0 {
		return nil
	}
	key, known := s.sums[&data[0]]
	if !known {
		key = sha256.Sum256(data)
		s.sums[&data[0]] = key
	}
	if f := s.parsed[key]; f != nil && covers(f, r) {
		return f
	}
	f, err := parseFont("installed", data, r)
	if err != nil || tryFont("installed", f) != nil {
		return nil
	}
	s.parsed[key] = f
	return f
}

func covers(f *gofont.Font, r rune) bool {
	_, ok := f.NominalGlyph(r)
	return ok
}

// parseFont reads a font file. Of a collection it takes the first font that has
// the rune r; r 0 takes the first. The parser can panic on damaged fonts.
func parseFont(name string, data []byte, r rune) (f *gofont.Font, err error) {
	defer func() {
		if p := recover(); p != nil {
			f, err = nil, fmt.Errorf("the font %q is damaged (%v): use another file", name, p)
		}
	}()
	if !wholeFont(data) {
		return nil, fmt.Errorf("the font %q is damaged or of another kind: use a whole TrueType or OpenType file", name)
	}
	loaders, err := opentype.NewLoaders(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the font %q cannot be read (%w): use another file", name, err)
	}
	for _, l := range loaders {
		f, err = gofont.NewFont(l)
		if err == nil && (r == 0 || covers(f, r)) {
			plainCoverage(f)
			return f, nil
		}
	}
	if err == nil {
		err = fmt.Errorf("it lacks %q", r)
	}
	return nil, fmt.Errorf("the font %q cannot be used: %w", name, err)
}

// wholeFont says whether the tables that a font file lists lie within it: the
// parser takes the memory that they claim before it looks. Offsets and lengths are
// those of the OpenType specification, "Organization of an OpenType Font".
func wholeFont(data []byte) bool {
	if len(data) < 12 {
		return false
	}
	word := func(at uint32) uint32 {
		if uint64(at)+4 > uint64(len(data)) {
			return 0
		}
		return binary.BigEndian.Uint32(data[at:])
	}
	switch string(data[:4]) {
	case "\x00\x01\x00\x00", "OTTO", "true":
		return wholeTables(data, 0, word)
	case "ttcf":
		n := word(8)
		if n > maxFonts {
			return false
		}
		for i := range n {
			if !wholeTables(data, word(12+4*i), word) {
				return false
			}
		}
		return n > 0
	}
	return false
}

// maxFonts and maxTables bound a collection; large ones have some ten fonts of
// some twenty tables.
const maxFonts, maxTables = 256, 256

func wholeTables(data []byte, at uint32, word func(uint32) uint32) bool {
	if uint64(at)+12 > uint64(len(data)) {
		return false
	}
	n := uint32(binary.BigEndian.Uint16(data[at+4:]))
	if n > maxTables || uint64(at)+12+16*uint64(n) > uint64(len(data)) {
		return false
	}
	for i := range n {
		e := at + 12 + 16*i
		if uint64(word(e+8))+uint64(word(e+12)) > uint64(len(data)) {
			return false
		}
	}
	return true
}

// tryFont sets a few letters, so that a font that stops the shaper is found
// before the first card.
func tryFont(name string, f *gofont.Font) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the font %q stops the shaper (%v): use another file", name, p)
		}
	}()
	if f.Upem() == 0 {
		return fmt.Errorf("the font %q has no size: use another file", name)
	}
	s := newSetter(nil)
	l := &fontList{[]*typeface{{name, func() (*gofont.Font, error) { return f, nil }}}}
	p := s.paragraph(l, []rune("Ag fi 09"))
	for _, r := range p.runs {
		for _, g := range r.Glyphs {
			s.masks.of(s.face(r.font), g.GlyphID, ppem{20 * 64, 20 * 64}, 0)
		}
	}
	return nil
}

// nameOf is the name of the first font of the list, for messages.
func (l *fontList) nameOf() string { return strings.TrimSpace(l.faces[0].name) }
