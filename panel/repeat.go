package panel

import (
	"bytes"
	"slices"

	"unspool/face"
	"unspool/plane"
)

// tileW is the width of a tile, a stretch of one row that is separated again
// only when its artwork has changed.
const tileW = 64

// Repeat separates one card after another into the same panels. Most of a face
// is the same on the next card, also within the boxes of its texts; those tiles
// are left as they are and only their counts are added up. It gives what Split
// gives.
type Repeat struct {
	setup *Setup
	dst   *Panels
	last  *face.Art // as it was when each tile was separated
	tiles []tile
}

// tile is what is known of a tile: the dots from one to the other that were
// separated last, none where they are equal, and their counts. Where two
// rectangles share a tile, the one forgets what the other knew.
type tile struct {
	from, to int
	tally    []ownCount
}

// Repeat begins with panels that the setup made.
func (u *Setup) Repeat(dst *Panels) *Repeat {
	return &Repeat{setup: u, dst: dst, last: face.NewArt(u.grid), tiles: make([]tile, u.grid.H*u.tilesAcross())}
}

func (u *Setup) tilesAcross() int { return (u.grid.W + tileW - 1) / tileW }

// Forget makes the next Split separate everything: the rectangles to come are
// not those of before.
func (p *Repeat) Forget() {
	p.forget(p.setup.grid.Rect())
}

func (p *Repeat) forget(r plane.Rect) {
	across := p.setup.tilesAcross()
	for y := r.Y0; y < r.Y1; y++ {
		for x := r.X0 / tileW; x*tileW < r.X1; x++ {
			t := &p.tiles[y*across+x]
			t.from, t.to = 0, 0
		}
	}
}

// Split does what Setup.Split does.
func (p *Repeat) Split(a *face.Art, r plane.Rect, counts []Count) {
	u := p.setup
	r = r.And(u.grid.Rect())
	s := splitter{Setup: u, all: u.Solid(), dst: p.dst, art: a, last: -1}
	if len(u.dead) > 0 || s.all && s.tone(r) {
		p.forget(r)
		u.Split(p.dst, a, r, counts)
		return
	}
	across := u.tilesAcross()
	for y := r.Y0; y < r.Y1; y++ {
		for x := r.X0; x < r.X1; {
			end := min(r.X1, (x/tileW+1)*tileW)
			t := &p.tiles[y*across+x/tileW]
			i, j := u.grid.At(x, y), u.grid.At(end, y)
			if t.from != i || t.to != j || !alike(a, p.last, i, j) {
				s.row(y, x, end)
				t.from, t.to = i, j
				t.tally = append(t.tally[:0], s.tally...)
				s.tally = s.tally[:0]
				remember(p.last, a, i, j)
			}
			for k := range t.tally {
				counts[t.tally[k].owner].Add(t.tally[k].Count)
			}
			x = end
		}
	}
}

// alike says whether dots i to j are the same in two artworks.
func alike(a, b *face.Art, i, j int) bool {
	return bytes.Equal(a.Page[3*i:3*j], b.Page[3*i:3*j]) && bytes.Equal(a.Under[3*i:3*j], b.Under[3*i:3*j]) &&
		slices.Equal(a.Owner[i:j], b.Owner[i:j]) && slices.Equal(a.Mark[i:j], b.Mark[i:j]) && slices.Equal(a.Class[i:j], b.Class[i:j])
}

func remember(dst, src *face.Art, i, j int) {
	copy(dst.Page[3*i:3*j], src.Page[3*i:3*j])
	copy(dst.Under[3*i:3*j], src.Under[3*i:3*j])
	copy(dst.Owner[i:j], src.Owner[i:j])
	copy(dst.Mark[i:j], src.Mark[i:j])
	copy(dst.Class[i:j], src.Class[i:j])
}
