package svg

import (
	"math"
	"strconv"
	"strings"

	"golang.org/x/image/colornames"

	"unspool/face/fill"
)

// paint is what a shape is filled or stroked with.
type paint struct {
	colour   [4]float64 // R, G, B and alpha, 0 to 1, not multiplied
	gradient *gradient
}

// style is what elements hand down to those in them.
type style struct {
	place                    matrix
	fill, stroke             *paint // nil: none
	rule                     fill.Rule
	fillOpacity, lineOpacity float64
	colour                   [4]float64 // of currentColor
	line                     line
	hidden                   bool
	ghost                    bool // takes room but is not seen
}

// line is how a stroke is drawn.
type line struct {
	width, miter, offset float64
	cap, join            string
	dashes               []float64
}

var initial = style{
	place: identity, fill: &paint{colour: [4]float64{0, 0, 0, 1}}, fillOpacity: 1, lineOpacity: 1,
	colour: [4]float64{0, 0, 0, 1}, line: line{width: 1, miter: 4, cap: "butt", join: "miter"},
}

// declaration is one property and its value.
type declaration struct{ name, value string }

// style is the style of n under that of what it lies in, and n's own opacity.
// Attributes are overruled by class rules, and these by the attribute style.
func (r *reading) style(n *node, s style) (style, float64, *Error) {
	opacity := 1.0
	m, bad := n.transform("transform")
	if bad != nil {
		return s, 0, bad
	}
	s.place = s.place.times(m)
	all := r.declarations(n)
	for _, d := range all { // fill and stroke may ask for it
		if d.name == "color" && d.value != "inherit" {
			if s.colour, bad = n.colour(d); bad != nil {
				return s, 0, bad
			}
		}
	}
	for _, d := range all {
		if d.name == "opacity" {
			opacity, bad = n.fraction(d)
		} else {
			bad = r.apply(n, &s, d)
		}
		if bad != nil {
			return s, 0, bad
		}
	}
	return s, opacity, nil
}

func (r *reading) declarations(n *node) []declaration {
	var out []declaration
	for _, a := range n.attrs {
		if a.Name.Space == "" && a.Name.Local != "style" {
			out = append(out, declaration{a.Name.Local, strings.TrimSpace(a.Value)})
		}
	}
	class, _ := n.attr("class")
	for _, c := range strings.Fields(class) {
		out = append(out, r.classes[c]...)
	}
	own, _ := n.attr("style")
	return append(out, declarations(own)...)
}

func declarations(text string) []declaration {
	var out []declaration
	for _, d := range strings.Split(text, ";") {
		name, value, ok := strings.Cut(d, ":")
		if ok {
			value = strings.TrimSuffix(strings.TrimSpace(value), "!important")
			out = append(out, declaration{strings.TrimSpace(name), strings.TrimSpace(value)})
		}
	}
	return out
}

// rules reads a style element: rules for classes, and nothing else.
func (r *reading) rules(n *node) *Error {
	text := n.text
	for {
		before, rest, found := strings.Cut(text, "/*")
		if !found {
			break
		}
		_, after, _ := strings.Cut(rest, "*/")
		text = before + after
	}
	for strings.TrimSpace(text) != "" {
		selectors, rest, found := strings.Cut(text, "{")
		body, after, closed := strings.Cut(rest, "}")
		if !found || !closed {
			return fail(n.line, "the rules in style cannot be read: save with style attributes instead")
		}
		for _, sel := range strings.Split(selectors, ",") {
			name, ok := strings.CutPrefix(strings.TrimSpace(sel), ".")
			if !ok || strings.ContainsAny(name, " .:#>[+~*") {
				return fail(n.line, "the rule for %q in style is not drawn: save with style attributes instead", strings.TrimSpace(sel))
			}
			r.classes[name] = append(r.classes[name], declarations(body)...)
		}
		text = after
	}
	return nil
}

// apply reads one property. Properties that do not change the picture are passed
// over; those that would change it and are not drawn are refused.
func (r *reading) apply(n *node, s *style, d declaration) (bad *Error) {
	if d.value == "inherit" {
		return nil
	}
	switch d.name {
	case "fill":
		s.fill, bad = r.paint(n, d, s)
	case "stroke":
		s.stroke, bad = r.paint(n, d, s)
	case "fill-rule":
		s.rule = fill.NonZero
		if d.value == "evenodd" {
			s.rule = fill.EvenOdd
		}
	case "fill-opacity":
		s.fillOpacity, bad = n.fraction(d)
	case "stroke-opacity":
		s.lineOpacity, bad = n.fraction(d)
	case "display":
		s.hidden = d.value == "none"
	case "visibility":
		s.ghost = d.value != "visible"
	default:
		if strings.HasPrefix(d.name, "stroke-") {
			return n.lineProperty(&s.line, d)
		}
		return n.unseen(d)
	}
	return bad
}

func (n *node) unseen(d declaration) *Error {
	switch d.name {
	case "clip-path", "mask", "filter", "marker-start", "marker-mid", "marker-end", "marker":
		if d.value != "none" && d.value != "" {
			return fail(n.line, "%s is not drawn: take it out, or save as PNG", d.name)
		}
	case "mix-blend-mode", "paint-order", "vector-effect":
		if d.value != "normal" && d.value != "none" {
			return fail(n.line, "%s %q is not drawn: take it out, or save as PNG", d.name, d.value)
		}
	}
	return nil
}

func (n *node) lineProperty(l *line, d declaration) (bad *Error) {
	switch d.name {
	case "stroke-width":
		l.width, bad = n.number(d.name, d.value)
		if bad == nil && l.width < 0 {
			return fail(n.line, "stroke-width is %q: it has to be 0 or more", d.value)
		}
	case "stroke-miterlimit":
		l.miter, bad = n.number(d.name, d.value)
	case "stroke-dashoffset":
		l.offset, bad = n.number(d.name, d.value)
	case "stroke-linecap":
		l.cap, bad = n.word(d, "butt", "round", "square")
	case "stroke-linejoin":
		l.join, bad = n.word(d, "miter", "round", "bevel")
	case "stroke-dasharray":
		l.dashes, bad = n.dashes(d)
	}
	return bad
}

func (n *node) word(d declaration, words ...string) (string, *Error) {
	for _, w := range words {
		if d.value == w {
			return w, nil
		}
	}
	return "", fail(n.line, "%s is %q: it has to be one of %s", d.name, d.value, strings.Join(words, ", "))
}

// dashes reads the lengths of dashes and gaps; an odd number is said twice.
func (n *node) dashes(d declaration) ([]float64, *Error) {
	if d.value == "none" {
		return nil, nil
	}
	v, err := numbers(strings.ReplaceAll(d.value, "px", ""))
	sum := 0.0
	for _, l := range v {
		if l < 0 {
			err = errNumber
		}
		sum += l
	}
	if err != nil || len(v) > 100 {
		return nil, fail(n.line, "stroke-dasharray is %q: it has to be lengths of 0 or more", d.value)
	}
	if sum == 0 {
		return nil, nil
	}
	if len(v)%2 == 1 {
		v = append(v, v...)
	}
	return v, nil
}

// fraction reads a number from 0 to 1, or a percentage; what lies beyond is cut.
func (n *node) fraction(d declaration) (float64, *Error) {
	text, scale := d.value, 1.0
	if p, ok := strings.CutSuffix(text, "%"); ok {
		text, scale = p, 0.01
	}
	v, err := parseNumber(text)
	if err != nil {
		return 0, fail(n.line, "%s is %q: it has to be a number from 0 to 1", d.name, d.value)
	}
	return min(max(v*scale, 0), 1), nil
}

func (r *reading) paint(n *node, d declaration, s *style) (*paint, *Error) {
	if d.value == "none" {
		return nil, nil
	}
	if rest, ok := strings.CutPrefix(d.value, "url("); ok {
		id, _, _ := strings.Cut(rest, ")")
		id = strings.Trim(id, `"' `)
		g := r.gradients[strings.TrimPrefix(id, "#")]
		if !strings.HasPrefix(id, "#") {
			return nil, fail(n.line, "%s refers to %q, outside the file: nothing outside is read", d.name, id)
		}
		if g == nil {
			return nil, fail(n.line, "%s refers to %q, which is no gradient of the file", d.name, id)
		}
		if g.ramp == nil {
			return nil, nil
		}
		return &paint{gradient: g}, nil
	}
	if strings.EqualFold(d.value, "currentcolor") {
		return &paint{colour: s.colour}, nil
	}
	c, bad := n.colour(d)
	return &paint{colour: c}, bad
}

func (n *node) colour(d declaration) ([4]float64, *Error) {
	c, ok := parseColour(d.value)
	if !ok {
		return c, fail(n.line, "%s is %q: write a colour such as #1a2b3c", d.name, d.value)
	}
	return c, nil
}

// parseColour reads #rgb, #rgba, #rrggbb, #rrggbbaa, rgb(), rgba() and names.
func parseColour(text string) (c [4]float64, ok bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	if hex, found := strings.CutPrefix(text, "#"); found {
		return hexColour(hex)
	}
	if inner, found := strings.CutPrefix(text, "rgb"); found {
		return functionColour(strings.TrimPrefix(inner, "a"))
	}
	if text == "transparent" {
		return c, true
	}
	named, ok := colornames.Map[text]
	return [4]float64{float64(named.R) / 255, float64(named.G) / 255, float64(named.B) / 255, 1}, ok
}

func hexColour(hex string) (c [4]float64, ok bool) {
	if len(hex) == 3 || len(hex) == 4 {
		long := ""
		for _, r := range hex {
			long += string(r) + string(r)
		}
		hex = long
	}
	if len(hex) == 6 {
		hex += "ff"
	}
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil || len(hex) != 8 {
		return c, false
	}
	for i := range c {
		c[i] = float64(v>>(24-8*i)&255) / 255
	}
	return c, true
}

func functionColour(inner string) (c [4]float64, ok bool) {
	inner, okOpen := strings.CutPrefix(inner, "(")
	inner, okClose := strings.CutSuffix(inner, ")")
	parts := strings.FieldsFunc(inner, func(r rune) bool { return r == ',' || r == ' ' || r == '/' })
	if !okOpen || !okClose || len(parts) != 3 && len(parts) != 4 {
		return c, false
	}
	c[3] = 1
	for i, p := range parts {
		scale := 255.0
		if i == 3 {
			scale = 1
		}
		if q, percent := strings.CutSuffix(p, "%"); percent {
			p, scale = q, 100
		}
		v, err := parseNumber(p)
		if err != nil {
			return c, false
		}
		c[i] = math.Min(math.Max(v/scale, 0), 1)
	}
	return c, true
}
