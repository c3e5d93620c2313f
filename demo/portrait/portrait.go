// Package portrait paints the invented crew of the Sundhaven ferry line: each
// portrait is worked out from a few numbers, and shows nobody.
//
// A head is modelled as a sheet of points, turned, seen by a camera and lit;
// hair is drawn strand by strand. The same person always gives the same
// picture.
package portrait

import (
	"bytes"
	"image"
	"image/jpeg"
)

// Draw paints the portrait of p, Width by Height dots.
func Draw(p Person) *image.RGBA {
	b := newBrush(newTraits(p))
	b.build()
	b.wall = newWall(b.t, b.s, b.st.lamps[0].dir)
	b.illuminate()
	b.paint()
	b.smoothEdges()
	b.brows()
	b.lashes()
	b.beard()
	b.glasses()
	b.dressHair()
	return b.develop()
}

func newBrush(t *traits) *brush {
	s := newStage(Width, Height, t.tall)
	s.cx, s.cy = s.cx+t.offX, s.cy+t.offY
	ahead := turn(t.yaw, t.pitch, t.roll, vec{0, -60, -85}, vec{})
	b := &brush{s: s, t: t, st: newStudio(t), g: newGrain(t.dice.fork(3)), p: &ahead,
		outfit: newOutfit(t), rows: headRows()}
	b.hair, b.browHair = hairTones(t)
	return b
}

// build puts all sheets on the stage.
func (b *brush) build() {
	s, t, p := b.s, b.t, b.p
	b.head = t.head(p)
	s.draw(b.head, face)
	s.draw(t.neck(), neck)
	s.draw(t.torso(), jacket)
	if t.Style == Scarf {
		s.draw(t.hood(p, b.g), scarf)
		s.draw(t.drape(b.g), scarf)
		return
	}
	for _, side := range []float64{-1, 1} {
		s.draw(t.ear(p, side), ear)
		s.draw(t.collar(side), collar)
	}
	if t.Style != Crop {
		s.draw(t.hairShell(p), hairBase)
	}
	if t.cut.hang != 0 {
		for _, m := range t.hangings(p) {
			s.draw(m, hairBase)
		}
	}
}

// Quality is the JPEG quality of a portrait file.
const Quality = 90

// JPEG is Draw's picture as a JPEG file.
func JPEG(p Person) []byte {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, Draw(p), &jpeg.Options{Quality: Quality}); err != nil {
		panic("portrait: a buffer took no JPEG: " + err.Error()) // neither can fail
	}
	return buf.Bytes()
}
