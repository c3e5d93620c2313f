package face

import (
	"fmt"
	"strings"

	"unspool/code"
	"unspool/design"
	"unspool/plane"
	"unspool/site"
)

// maxDots bounds a face: an A4 page at 600 dpi has 35 million dots.
const maxDots = 64_000_000

// Plan is a face made ready to compose for any number of people: its fixed
// pictures and fonts are decoded, its fixed elements drawn. It is safe for use by
// several goroutines.
type Plan struct {
	grid   plane.Grid
	parts  []part
	fonts  *fontStore
	assets Assets
	first  int  // the first part that varies
	floor  *Art // the fixed parts below it
	base   *Art // all fixed parts that are always shown
	boxes  []plane.Rect
}

// part is one element as the plan knows it.
type part struct {
	*design.Element
	index  int
	id     *identity // of what is drawn; the parts that a later plan takes over keep it
	drawn  *layer    // nil where it has to be drawn for each person
	varies bool      // it may differ from card to card, be it only shown or hidden
	art    artwork
	font   *fontList
	kind   code.Kind
}

// identity tells parts apart: two that have the same one draw the same.
type identity struct{ _ byte }

// Compile makes the plan of one side of a programme. Errors are a *design.Faults
// that names the elements and their places in the programme file.
func Compile(p *design.Programme, side site.Side, a Assets) (*Plan, error) {
	return Recompile(p, side, a, nil)
}

// Recompile is Compile for a programme that has changed since last was made from
// the same files: what of it still holds is taken over. A nil last is none.
func Recompile(p *design.Programme, side site.Side, a Assets, last *Plan) (*Plan, error) {
	f := p.Faces[side]
	if f == nil {
		return nil, fmt.Errorf("%s: the programme has no %s", p.File, side)
	}
	pl := &Plan{grid: p.Printer.Grid(p.Card, p.Printer.Lie[side]), fonts: newFontStore(a), assets: a}
	if g := pl.grid; g.W < 1 || g.H < 1 || g.W > maxDots/g.H {
		return nil, fmt.Errorf("%s: a face of %d by %d dots cannot be composed: check the card's size and the printer's dots per inch", p.File, g.W, g.H)
	}
	faults := &design.Faults{File: p.File}
	old := newEarlier(last, pl)
	w := newWork(pl)
	for i := range f.Elements {
		e := &f.Elements[i]
		if err := pl.addPart(w, old, i, e); err != nil {
			path := fmt.Sprintf("faces.%s[%d]", side, i+1)
			if e.Name != "" {
				path += fmt.Sprintf(" (%s)", e.Name)
			}
			faults.List = append(faults.List, design.Fault{Pos: e.Pos, Path: path, Text: err.Error()})
		}
	}
	if len(faults.List) > 0 {
		return nil, faults
	}
	pl.settle(old)
	return pl, nil
}

// addPart loads what the element needs and draws it where it is fixed.
func (pl *Plan) addPart(w *Work, old *earlier, i int, e *design.Element) error {
	if pt, ok := old.part(i, e); ok {
		pl.parts = append(pl.parts, pt)
		return nil
	}
	pt := part{Element: e, index: i, id: &identity{}, varies: e.Show != nil || !same(e)}
	var err error
	switch {
	case e.Picture != nil:
		pt.art, err = old.artwork(pl.assets, e.Picture.File)
	case e.Text != nil:
		pt.font, err = old.font(pl.fonts, e)
	case e.MRZ != nil:
		pt.font, err = old.font(pl.fonts, e)
	case e.Code != nil:
		pt.kind, err = checkCode(e.Code, runOf(e.Code, pl.grid, plane.Rect{}).pitch)
	case e.Photo == nil && e.Shape == nil:
		err = fmt.Errorf("is empty")
	}
	if err != nil {
		return err
	}
	if same(e) {
		pt.drawn = &layer{}
		w.draw(pt.drawn, &pt, w.source(&pt, nobody{}))
	}
	pl.parts = append(pl.parts, pt)
	return nil
}

// nobody is who fixed elements are drawn for.
type nobody struct{}

func (nobody) Field(string) string { return "" }

// same says whether the element looks the same on every card that shows it.
func same(e *design.Element) bool {
	switch {
	case e.Photo != nil:
		return e.Photo.File.Fixed()
	case e.Text != nil:
		return e.Text.Text.Fixed()
	case e.Code != nil:
		return e.Code.Text.Fixed()
	case e.MRZ != nil:
		return e.MRZ.Fixed()
	}
	return true
}

// settle composes what no card changes.
func (pl *Plan) settle(old *earlier) {
	pl.first = len(pl.parts)
	for i := range pl.parts {
		if pt := &pl.parts[i]; pt.varies {
			pl.first = min(pl.first, i)
			pl.boxes = append(pl.boxes, pt.reach(pl.grid))
		}
	}
	last := old.plan
	if last == nil {
		last = &Plan{}
	}
	pl.base = old.compose(pl, len(pl.parts), last.base, len(last.parts))
	pl.floor = old.compose(pl, pl.first, last.floor, last.first)
}

// layFixed lays the fixed parts below the one at place to on a bare part of a face.
func (pl *Plan) layFixed(a *Art, to int, r plane.Rect) {
	for i := range pl.parts[:to] {
		if pt := &pl.parts[i]; !pt.varies {
			pt.drawn.lay(a, r)
		}
	}
}

// reach is the part of the face that the element changes on almost every card.
// Accents and overhanging letters reach beyond a text's box.
func (pt *part) reach(g plane.Grid) plane.Rect {
	r := g.Box(pt.Box)
	switch {
	case pt.drawn != nil:
		r = plane.Rect{}
		for _, c := range pt.drawn.coats {
			r = r.Or(c.rect)
		}
	case pt.Text != nil:
		em := pt.Text.Size
		dx, dy := g.DX.Ceil(em/4), g.DY.Ceil(em/2)
		r = plane.Rect{X0: r.X0 - dx, Y0: r.Y0 - dy, X1: r.X1 + dx, Y1: r.Y1 + dy}
	}
	return r.And(g.Rect())
}

// Grid is the raster of the face.
func (pl *Plan) Grid() plane.Grid { return pl.grid }

// Base is the face without the elements that vary from card to card. It must not
// be changed.
func (pl *Plan) Base() *Art { return pl.base }

// holds says whether a condition shows its element to a person.
func holds(c *design.Condition, p design.Person) bool {
	if c == nil {
		return true
	}
	value := p.Field(c.Field)
	is := strings.TrimSpace(value) != ""
	if c.Equals != "" {
		is = value == c.Equals
	}
	return is != c.Not
}

// bare takes everything off the part r.
func (a *Art) bare(r plane.Rect) {
	for y := r.Y0; y < r.Y1; y++ {
		i, j := a.At(r.X0, y), a.At(r.X1, y)
		white(a.Page[3*i : 3*j])
		white(a.Under[3*i : 3*j])
		clear(a.Class[i:j])
		clear(a.Owner[i:j])
		clear(a.Mark[i:j])
	}
}

// copy takes over the part r of src, which has the same grid.
func (a *Art) copy(src *Art, r plane.Rect) {
	for y := r.Y0; y < r.Y1; y++ {
		i, j := a.At(r.X0, y), a.At(r.X1, y)
		copy(a.Page[3*i:3*j], src.Page[3*i:3*j])
		copy(a.Under[3*i:3*j], src.Under[3*i:3*j])
		copy(a.Class[i:j], src.Class[i:j])
		copy(a.Owner[i:j], src.Owner[i:j])
		copy(a.Mark[i:j], src.Mark[i:j])
	}
}
