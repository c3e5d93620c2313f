package face

import (
	"unspool/design"
	"unspool/plane"
)

// coat is one paint laid on part of a face. Its parts that lie beyond the face
// are left out before it is made.
type coat struct {
	rect   plane.Rect
	alpha  []uint8 // coverage, row by row; nil where all is covered
	pix    []uint8 // R, G, B multiplied by alpha, row by row; nil where colour says it
	colour [3]uint8
	class  Class
	owner  uint16
	send   design.Send
	// object: it arrives at the driver as a black object, which a driver can take
	// out of the page.
	object bool

	alphaBuf, pixBuf []uint8 // kept from card to card
}

// layer is what one element lays on a face for one person, and what is to be said
// of it.
type layer struct {
	coats []coat
	codes []Placed
	texts []SetText
	zones []SetZone
	notes []Note
}

func (l *layer) reset() {
	l.coats, l.codes, l.texts, l.zones, l.notes = l.coats[:0], l.codes[:0], l.texts[:0], l.zones[:0], l.notes[:0]
}

// cover appends what the layer's coats lie on; a layer that is not there covers
// nothing.
func (l *layer) cover(rects []plane.Rect) []plane.Rect {
	if l == nil {
		return rects
	}
	for i := range l.coats {
		rects = append(rects, l.coats[i].rect)
	}
	return rects
}

func (l *layer) note(n Note) { l.notes = append(l.notes, n) }

// add begins a coat over rect for the element at index i.
func (l *layer) add(i int, e *design.Element, class Class, rect plane.Rect) *coat {
	if len(l.coats) < cap(l.coats) {
		l.coats = l.coats[:len(l.coats)+1]
	} else {
		l.coats = append(l.coats, coat{})
	}
	c := &l.coats[len(l.coats)-1]
	*c = coat{rect: rect, class: class, owner: uint16(i + 1), send: e.Send, alphaBuf: c.alphaBuf, pixBuf: c.pixBuf}
	return c
}

// paint sets the coat's one colour. Black text, line art and codes are objects.
func (c *coat) paint(colour [3]uint8) {
	c.colour = colour
	c.object = colour == [3]uint8{} && c.send == design.ByRule && (c.class == Text || c.class == Code || c.class == LineArt)
}

// withAlpha gives the coat coverage of its own, with what the last card left in
// it.
func (c *coat) withAlpha() []uint8 {
	c.alphaBuf = resize(c.alphaBuf, c.rect.W()*c.rect.H())
	c.alpha = c.alphaBuf
	return c.alpha
}

// withPix gives the coat colours of its own, with what the last card left in it.
func (c *coat) withPix() []uint8 {
	c.pixBuf = resize(c.pixBuf, 3*c.rect.W()*c.rect.H())
	c.pix = c.pixBuf
	return c.pix
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// byHand are the marks of which a dot has at most one.
const byHand = Resin | Dye | Fluor | Special

// half is the least coverage at which a dot belongs to an element.
const half = 128

// lay puts the layer's coats on the face, within clip.
func (l *layer) lay(a *Art, clip plane.Rect) {
	for i := range l.coats {
		c := &l.coats[i]
		r := c.rect.And(clip)
		for y := r.Y0; y < r.Y1; y++ {
			at, from := a.At(r.X0, y), (y-c.rect.Y0)*c.rect.W()+r.X0-c.rect.X0
			switch {
			case c.send == design.ToResin:
				c.sent(a, at, from, r.W(), Resin)
			case c.send == design.ToFluor:
				c.sent(a, at, from, r.W(), Fluor)
			case c.send == design.ToSpecial:
				c.sent(a, at, from, r.W(), Special)
			case c.object:
				c.black(a, at, from, r.W())
			case c.alpha == nil:
				c.solid(a, at, from, r.W())
			default:
				c.blend(a, at, from, r.W())
			}
		}
	}
}

func (c *coat) cover(i int) uint32 {
	if c.alpha == nil {
		return 255
	}
	return uint32(c.alpha[i])
}

// mark is what an element of the page leaves on a dot that it covers.
func (c *coat) mark() Mark {
	if c.send == design.ToDye {
		return Dye
	}
	return 0
}

// sent marks a row of dots of an element sent by hand to a panel that is no part
// of the page.
func (c *coat) sent(a *Art, at, from, n int, mark Mark) {
	for i := range n {
		if c.cover(from+i) >= half {
			a.Mark[at+i] = a.Mark[at+i]&^byHand | mark
			a.Class[at+i], a.Owner[at+i] = c.class, c.owner
		}
	}
}

// black lays a row of a black object: on the page, not under it.
func (c *coat) black(a *Art, at, from, n int) {
	for i := range n {
		v := c.cover(from + i)
		if v == 0 {
			continue
		}
		p := a.Page[3*(at+i) : 3*(at+i)+3]
		for k := range p {
			p[k] = scale255(255-v, p[k])
		}
		a.Mark[at+i] |= Touched
		if v >= half {
			a.Mark[at+i] = Object | Touched
			a.Class[at+i], a.Owner[at+i] = c.class, c.owner
		}
	}
}

// solid lays a row that covers all it lies on.
func (c *coat) solid(a *Art, at, from, n int) {
	page, under := a.Page[3*at:3*(at+n)], a.Under[3*at:3*(at+n)]
	if c.pix != nil {
		copy(page, c.pix[3*from:3*(from+n)])
	} else {
		for i := range n {
			copy(page[3*i:3*i+3], c.colour[:])
		}
	}
	copy(under, page)
	mark := c.mark()
	for i := at; i < at+n; i++ {
		a.Mark[i], a.Class[i], a.Owner[i] = mark, c.class, c.owner
	}
}

// blend lays a row by its coverage, on the page and under its black objects
// alike. What is covered whole is forgotten; what is covered by half or more
// belongs to this element, but page and what lies under it still differ there.
func (c *coat) blend(a *Art, at, from, n int) {
	for i := range n {
		v := c.cover(from + i)
		if v == 0 {
			continue
		}
		colour := [3]uint8{scale255(v, c.colour[0]), scale255(v, c.colour[1]), scale255(v, c.colour[2])}
		if c.pix != nil {
			colour = [3]uint8(c.pix[3*(from+i) : 3*(from+i)+3])
		}
		d := at + i
		page, under := a.Page[3*d:3*d+3], a.Under[3*d:3*d+3]
		for k := range colour {
			page[k] = colour[k] + scale255(255-v, page[k])
			under[k] = colour[k] + scale255(255-v, under[k])
		}
		switch {
		case v == 255:
			a.Mark[d] = c.mark()
		case v >= half:
			a.Mark[d] = a.Mark[d]&Touched | c.mark()
		}
		if v >= half {
			a.Class[d], a.Owner[d] = c.class, c.owner
		}
	}
}

// scale255 is v*p/255, rounded.
func scale255(v uint32, p uint8) uint8 {
	t := v*uint32(p) + 128
	return uint8((t + t>>8) >> 8)
}
