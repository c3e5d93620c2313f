package svg

import (
	"math"
	"sort"
	"strings"
)

// gradient is a linear or radial gradient (SVG 1.1, 13.2).
type gradient struct {
	radial bool
	box    bool // coordinates are parts of the shape's box
	place  matrix
	spread string
	at     [5]float64 // x1 y1 x2 y2, or cx cy r fx fy
	ramp   *ramp      // nil: no stops, so nothing is painted
}

type stop struct {
	offset float64
	colour [4]float64
}

// ramp is a gradient's colours from its beginning to its end, multiplied by
// alpha.
type ramp [256][4]float64

// readGradients makes the gradients of the file's gradient elements.
func (r *reading) readGradients(nodes []*node) *Error {
	byID := map[string]*node{}
	for _, n := range nodes {
		id, _ := n.attr("id")
		byID[id] = n
	}
	for _, n := range nodes {
		chain, bad := inherited(n, byID)
		if bad != nil {
			return bad
		}
		if bad := r.gradient(n, chain); bad != nil {
			return bad
		}
	}
	return nil
}

// inherited is n and the gradients it takes after, nearest first.
func inherited(n *node, byID map[string]*node) ([]*node, *Error) {
	chain := []*node{n}
	for len(chain) < 20 {
		last := chain[len(chain)-1]
		href, ok := last.attr("href")
		if !ok {
			return chain, nil
		}
		id, inside := strings.CutPrefix(href, "#")
		if !inside {
			return nil, fail(last.line, "the gradient refers to %q, outside the file: nothing outside is read", href)
		}
		if byID[id] == nil {
			return nil, fail(last.line, "the gradient refers to %q, which is no gradient of the file", href)
		}
		chain = append(chain, byID[id])
	}
	return nil, fail(n.line, "the gradient takes after itself")
}

// gradient makes one gradient: what its element leaves out comes from the next of
// the chain.
func (r *reading) gradient(n *node, chain []*node) *Error {
	g := &gradient{radial: n.name == "radialGradient"}
	whole := &node{name: n.name, line: n.line}
	for _, c := range chain {
		whole.attrs = append(whole.attrs, c.attrs...) // the first of a name is found
		if len(whole.children) == 0 {
			whole.children = c.children
		}
	}
	units, _ := whole.attr("gradientUnits")
	g.box = units != "userSpaceOnUse"
	g.spread, _ = whole.attr("spreadMethod")
	var bad *Error
	if g.place, bad = whole.transform("gradientTransform"); bad != nil {
		return bad
	}
	if bad := g.coordinates(whole); bad != nil {
		return bad
	}
	var stops []stop
	for _, c := range whole.children {
		if stops, bad = r.addStop(stops, c); bad != nil {
			return bad
		}
	}
	id, _ := n.attr("id")
	if len(stops) > 0 {
		g.ramp = makeRamp(stops)
	}
	r.gradients[id] = g
	return nil
}

// coordinates reads where the gradient begins and ends, in parts of the box or in
// the drawing's units.
func (g *gradient) coordinates(n *node) *Error {
	names, defaults := []string{"x1", "y1", "x2", "y2"}, []float64{0, 0, 1, 0}
	if g.radial {
		names, defaults = []string{"cx", "cy", "r", "fx", "fy"}, []float64{0.5, 0.5, 0.5, 0.5, 0.5}
	}
	for i, name := range names {
		g.at[i] = defaults[i]
		v, ok := n.attr(name)
		if !ok {
			if i >= 3 && g.radial {
				g.at[i] = g.at[i-3] // the focus is the centre
			}
			if !g.box && i < 3 {
				return fail(n.line, "the gradient lacks %s: in the drawing's units all have to be stated", name)
			}
			continue
		}
		text, scale := v, 1.0
		if p, found := strings.CutSuffix(v, "%"); found && g.box {
			text, scale = p, 0.01
		}
		f, bad := n.number(name, text)
		if bad != nil {
			return bad
		}
		g.at[i] = f * scale
	}
	return nil
}

func (r *reading) addStop(stops []stop, n *node) ([]stop, *Error) {
	if n.name != "stop" {
		return nil, fail(n.line, "%s does not belong in a gradient", n.name)
	}
	s := stop{colour: [4]float64{0, 0, 0, 1}}
	opacity := 1.0
	for _, d := range r.declarations(n) {
		var bad *Error
		switch d.name {
		case "offset":
			s.offset, bad = n.fraction(d)
		case "stop-color":
			s.colour, bad = n.colour(d)
		case "stop-opacity":
			opacity, bad = n.fraction(d)
		}
		if bad != nil {
			return nil, bad
		}
	}
	s.colour[3] *= opacity
	if k := len(stops); k > 0 {
		s.offset = max(s.offset, stops[k-1].offset)
	}
	return append(stops, s), nil
}

func makeRamp(stops []stop) *ramp {
	out := &ramp{}
	for i := range out {
		t := float64(i) / 255
		k := sort.Search(len(stops), func(k int) bool { return stops[k].offset > t })
		c := stops[max(k-1, 0)].colour
		if k > 0 && k < len(stops) {
			a, b := stops[k-1], stops[k]
			part := (t - a.offset) / (b.offset - a.offset)
			for j := range c {
				c[j] = a.colour[j]*(1-part) + b.colour[j]*part
			}
		}
		out[i] = [4]float64{c[0] * c[3], c[1] * c[3], c[2] * c[3], c[3]}
	}
	return out
}

// under gives the gradient's colour at a dot of the page for a shape whose box,
// before its own place, is lo..hi. It is nil where the gradient has no extent.
func (g *gradient) under(page matrix, lo, hi point) func(p point) [4]float64 {
	m := page
	if g.box {
		m = m.times(matrix{hi.X - lo.X, 0, 0, hi.Y - lo.Y, lo.X, lo.Y})
	}
	back, ok := m.times(g.place).inverse()
	last := g.ramp[255]
	if !ok {
		return func(point) [4]float64 { return last }
	}
	where := g.linear
	if g.radial {
		where = g.round
	}
	return func(p point) [4]float64 {
		t := where(back.apply(p))
		switch g.spread {
		case "repeat":
			t -= math.Floor(t)
		case "reflect":
			t = math.Abs(t - 2*math.Floor(t/2+0.5))
		}
		if math.IsNaN(t) {
			return last
		}
		return g.ramp[int(min(max(t, 0), 1)*255+0.5)]
	}
}

func (g *gradient) linear(p point) float64 {
	dx, dy := g.at[2]-g.at[0], g.at[3]-g.at[1]
	return ((p.X-g.at[0])*dx + (p.Y-g.at[1])*dy) / (dx*dx + dy*dy)
}

// round is t where p lies on the circle between the focus (t 0) and the outer
// circle (t 1).
func (g *gradient) round(p point) float64 {
	r := g.at[2]
	fx, fy := g.at[3]-g.at[0], g.at[4]-g.at[1]
	if far := math.Hypot(fx, fy); far > 0.99*r { // a focus outside is moved in
		fx, fy = fx*0.99*r/far, fy*0.99*r/far
	}
	x, y := p.X-g.at[0]-fx, p.Y-g.at[1]-fy
	// |f + (x, y)/t| = r, solved for 1/t.
	a, b, c := x*x+y*y, x*fx+y*fy, fx*fx+fy*fy-r*r
	if a == 0 {
		return 0
	}
	return a / (math.Sqrt(max(b*b-a*c, 0)) - b)
}
