package face

import (
	"math"

	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/shaping"

	"unspool/face/fill"
)

type glyph = shaping.Glyph

// ppem is an em in 64ths of a dot, along x and along y.
type ppem struct{ x, y int32 }

// subdots is in how many places within a dot a glyph of a joined script may begin.
const subdots = 4

// maskKey names a glyph's coverage: part is the place within a dot, in 1/subdots.
type maskKey struct {
	font *gofont.Font
	gid  gofont.GID
	em   ppem
	part int8
}

// mask is a glyph's coverage; x and y are its top-left dot, counted from the dot
// of the glyph's origin.
type mask struct {
	x, y, w, h int
	alpha      []uint8
	empty      bool // the font has no outline for the glyph
}

// masks keeps the coverage of glyphs drawn before.
type masks struct {
	known  map[maskKey]*mask
	raster fill.Raster
}

// maxMasks bounds the masks kept: a roster of Chinese names has a few thousand
// characters. Beyond, all are forgotten.
const maxMasks = 10_000

// maxGlyph bounds a glyph's side in dots; damaged fonts have boundless ones.
const maxGlyph = 8192

func newMasks() masks { return masks{known: map[maskKey]*mask{}} }

// of draws a glyph, or finds it drawn.
func (m *masks) of(face *gofont.Face, gid gofont.GID, em ppem, part int8) *mask {
	key := maskKey{face.Font, gid, em, part}
	if k := m.known[key]; k != nil {
		return k
	}
	if len(m.known) >= maxMasks {
		clear(m.known)
	}
	k := m.draw(face, gid, em, part)
	m.known[key] = k
	return k
}

func (m *masks) draw(face *gofont.Face, gid gofont.GID, em ppem, part int8) *mask {
	segments, ok := outlineOf(face, gid)
	if !ok {
		return &mask{empty: true}
	}
	upem := float64(face.Upem())
	sx, sy, dx := float64(em.x)/64/upem, float64(em.y)/64/upem, float64(part)/subdots
	at := func(p opentype.SegmentPoint) fill.Point {
		return fill.Point{X: float64(p.X)*sx + dx, Y: -float64(p.Y) * sy}
	}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range segments {
		for _, p := range s.ArgsSlice() {
			q := at(p)
			x0, x1, y0, y1 = min(x0, q.X), max(x1, q.X), min(y0, q.Y), max(y1, q.Y)
		}
	}
	if !(x1 > x0 && y1 > y0) {
		return &mask{}
	}
	if !(x1-x0 < maxGlyph && y1-y0 < maxGlyph && math.Abs(x0) < maxGlyph && math.Abs(y0) < maxGlyph) {
		return &mask{empty: true}
	}
	k := &mask{x: int(math.Floor(x0)), y: int(math.Floor(y0))}
	k.w, k.h = int(math.Ceil(x1))-k.x, int(math.Ceil(y1))-k.y
	m.raster.Reset(k.w, k.h)
	trace(&m.raster, segments, func(p opentype.SegmentPoint) fill.Point {
		q := at(p)
		return fill.Point{X: q.X - float64(k.x), Y: q.Y - float64(k.y)}
	})
	k.alpha = make([]uint8, k.w*k.h)
	m.raster.Coverage(k.alpha, fill.NonZero)
	return k
}

func trace(r *fill.Raster, segments []gofont.Segment, at func(opentype.SegmentPoint) fill.Point) {
	for _, s := range segments {
		switch s.Op {
		case opentype.SegmentOpMoveTo:
			r.MoveTo(at(s.Args[0]))
		case opentype.SegmentOpLineTo:
			r.LineTo(at(s.Args[0]))
		case opentype.SegmentOpQuadTo:
			r.QuadTo(at(s.Args[0]), at(s.Args[1]))
		case opentype.SegmentOpCubeTo:
			r.CubeTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
		}
	}
}

// outlineOf is a glyph's outline; pictures that colour fonts have instead cannot
// go to a card's text.
func outlineOf(face *gofont.Face, gid gofont.GID) ([]gofont.Segment, bool) {
	if gid == gofont.EmptyGlyph {
		return nil, true
	}
	switch d := face.GlyphData(gid).(type) {
	case gofont.GlyphOutline:
		return d.Segments, true
	case gofont.GlyphSVG:
		return d.Outline.Segments, len(d.Outline.Segments) > 0
	case gofont.GlyphBitmap:
		if d.Outline != nil {
			return d.Outline.Segments, true
		}
	case gofont.GlyphColor:
		o, ok := face.GlyphDataOutline(gid)
		return o.Segments, ok && len(o.Segments) > 0
	}
	return nil, false
}
