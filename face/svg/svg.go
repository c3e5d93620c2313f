// Package svg draws SVG artwork: paths and plain shapes with transforms, strokes,
// dashes, gradients, group opacity and class rules. What it does not draw exactly
// it refuses, with the line and what to do instead; it never leaves a part out in
// silence and never looks outside the file.
//
// Clauses of SVG 1.1 are cited from memory; a test holds the drawings against
// librsvg.
package svg

import (
	"fmt"
	"image"
)

// Limits of a file, so that no artwork can take hold of the machine.
const (
	maxBytes    = 4 << 20
	maxElements = 20_000
	maxDepth    = 40
	maxSegments = 400_000
)

// Error is why a file is not drawn.
type Error struct {
	Line int // counted from 1
	Text string
}

func (e *Error) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Text) }

func fail(line int, format string, args ...any) *Error {
	return &Error{line, fmt.Sprintf(format, args...)}
}

// Drawing is a parsed file.
type Drawing struct {
	// X, Y, W and H are the part of the drawing that is seen, in its own units.
	X, Y, W, H float64
	root       group
}

// Parse reads a file. The error is an *Error.
func Parse(data []byte) (*Drawing, error) {
	root, bad := readTree(data)
	if bad != nil {
		return nil, bad
	}
	r := reading{gradients: map[string]*gradient{}, classes: map[string][]declaration{}}
	d, bad := r.drawing(root)
	if bad != nil {
		return nil, bad
	}
	return d, nil
}

// reading turns the tree of a file into a drawing.
type reading struct {
	gradients map[string]*gradient
	classes   map[string][]declaration
	segments  int
}

func (r *reading) drawing(root *node) (*Drawing, *Error) {
	d := &Drawing{}
	if bad := d.readSize(root); bad != nil {
		return nil, bad
	}
	gradients, bad := r.definitions(root, nil)
	if bad != nil {
		return nil, bad
	}
	if bad := r.readGradients(gradients); bad != nil {
		return nil, bad
	}
	s, opacity, bad := r.style(root, initial)
	if bad != nil {
		return nil, bad
	}
	d.root.opacity = opacity
	d.root.items, bad = r.items(root, s)
	if bad != nil {
		return nil, bad
	}
	return d, nil
}

// readSize reads viewBox, or width and height where there is none.
func (d *Drawing) readSize(root *node) *Error {
	if v, ok := root.attr("viewBox"); ok {
		n, err := numbers(v)
		if err != nil || len(n) != 4 {
			return fail(root.line, "viewBox is %q: it has to be four numbers", v)
		}
		d.X, d.Y, d.W, d.H = n[0], n[1], n[2], n[3]
	} else {
		w, okW := root.attr("width")
		h, okH := root.attr("height")
		if !okW || !okH {
			return fail(root.line, "the drawing has no size: give svg a viewBox")
		}
		var bad *Error
		if d.W, bad = root.number("width", w); bad != nil {
			return bad
		}
		if d.H, bad = root.number("height", h); bad != nil {
			return bad
		}
	}
	if !(d.W >= 1e-6 && d.H >= 1e-6) {
		return fail(root.line, "the drawing's size is %g by %g: both have to be above 0", d.W, d.H)
	}
	return nil
}

// definitions reads the class rules and collects the gradients, which may stand
// anywhere.
func (r *reading) definitions(n *node, gradients []*node) (_ []*node, bad *Error) {
	for _, c := range n.children {
		switch c.name {
		case "linearGradient", "radialGradient":
			gradients = append(gradients, c)
		case "style":
			bad = r.rules(c)
		default:
			gradients, bad = r.definitions(c, gradients)
		}
		if bad != nil {
			return nil, bad
		}
	}
	return gradients, nil
}

// items reads what a group holds.
func (r *reading) items(n *node, s style) ([]item, *Error) {
	var out []item
	for _, c := range n.children {
		switch c.name {
		case "linearGradient", "radialGradient", "style", "defs":
			continue
		}
		own, opacity, bad := r.style(c, s)
		if bad != nil {
			return nil, bad
		}
		if own.hidden {
			continue
		}
		it := item{}
		if c.name == "g" {
			it.group = &group{opacity: opacity}
			it.group.items, bad = r.items(c, own)
		} else {
			it.shape, bad = r.shape(c, own)
			if it.shape != nil && opacity < 1 {
				it = item{group: &group{opacity, []item{it}}}
			}
		}
		if bad != nil {
			return nil, bad
		}
		if it != (item{}) {
			out = append(out, it)
		}
	}
	return out, nil
}

// group is items that are drawn together and then let through by opacity.
type group struct {
	opacity float64
	items   []item
}

// item is a group or a shape.
type item struct {
	group *group
	shape *shape
}

// View is the part of a drawing to draw, in its units.
type View struct{ X0, Y0, X1, Y1 float64 }

// Draw draws the view on w x h dots, colours multiplied by alpha.
func (d *Drawing) Draw(w, h int, v View) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	sx, sy := float64(w)/(v.X1-v.X0), float64(h)/(v.Y1-v.Y0)
	p := painter{out: out, view: matrix{sx, 0, 0, sy, -v.X0 * sx, -v.Y0 * sy}}
	p.group(d.root)
	return out
}
