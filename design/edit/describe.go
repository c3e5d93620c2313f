package edit

import (
	"strconv"
	"strings"

	"unspool/code"
	"unspool/design"
	"unspool/plane"
	"unspool/unit"
)

// What docs/programme.md promises where a key is left out.
const (
	usualLeading = 1.2
	usualStroke  = 3 * unit.Millimetre / 10
	usualFolder  = "photos"
	portraitX    = 0.5
	portraitY    = 0.35
)

// Describe writes an element as the file has it. What is as it would be anyway
// is left out, and so is a name that is empty.
func Describe(e design.Element) Value {
	var d described
	if e.Name != "" {
		d.put("name", Text(e.Name))
	}
	switch {
	case e.Picture != nil:
		d.picture(e)
	case e.Photo != nil:
		d.photo(e)
	case e.Text != nil:
		d.text(e)
	case e.Code != nil:
		d.code(e)
	case e.MRZ != nil:
		d.mrz(e)
	case e.Shape != nil:
		d.shape(e)
	}
	if e.Send != design.ByRule {
		d.put("send", Text(e.Send.String()))
	}
	if e.Show != nil {
		d.put("show", condition(*e.Show))
	}
	return Group(d...)
}

// described is an element while its keys are put together.
type described []Pair

func (d *described) put(key string, v Value) { *d = append(*d, Pair{key, v}) }

// unless puts a word unless it is the usual one.
func (d *described) unless(usual, key, word string) {
	if word != usual {
		d.put(key, Text(word))
	}
}

func (d *described) flag(key string, b bool) {
	if b {
		d.put(key, Flag(true))
	}
}

func (d *described) colour(key string, c *[3]uint8) {
	if c != nil {
		d.put(key, Colour(*c))
	}
}

func (d *described) box(b plane.Box) { d.put("box", Box(b)) }

var (
	fitWords    = [...]string{"cover", "contain", "stretch"}
	alignWords  = [...]string{"start", "middle", "end"}
	valignWords = [...]string{"top", "middle", "bottom"}
	shapeWords  = [...]string{"rectangle", "ellipse", "line"}
)

func (d *described) picture(e design.Element) {
	d.put("picture", Text(e.Picture.File))
	d.box(e.Box)
	d.unless("cover", "fit", fitWords[e.Picture.Fit%3])
}

func (d *described) photo(e design.Element) {
	p := e.Photo
	d.put("photo", Text(templateText(p.File)))
	if p.Folder != "" {
		d.unless(usualFolder, "folder", p.Folder)
	}
	d.box(e.Box)
	d.unless("cover", "fit", fitWords[p.Fit%3])
	if p.AnchorX != portraitX || p.AnchorY != portraitY {
		d.put("anchor", List(Number(p.AnchorX), Number(p.AnchorY)))
	}
}

func (d *described) text(e design.Element) {
	t := e.Text
	d.put("text", Text(templateText(t.Text)))
	d.box(e.Box)
	d.put("size", MM(t.Size))
	if t.Floor > 0 && t.Floor != t.Size {
		d.put("floor", MM(t.Floor))
	}
	d.flag("wrap", t.Wrap)
	d.unless("", "font", t.Font)
	d.flag("bold", t.Bold)
	if t.Colour != [3]uint8{} {
		d.put("colour", Colour(t.Colour))
	}
	d.unless("start", "align", alignWords[t.Align%3])
	d.unless("top", "valign", valignWords[t.Valign%3])
	if t.Leading != 0 && t.Leading != usualLeading {
		d.put("leading", Number(t.Leading))
	}
}

func (d *described) code(e design.Element) {
	c := e.Code
	d.put("code", Text(c.Kind))
	d.put("text", Text(templateText(c.Text)))
	d.box(e.Box)
	if c.Options.Check != code.NoCheck {
		d.put("check", Text(string(c.Options.Check)))
	}
	d.flag("given", c.Options.Given)
	d.flag("full-ascii", c.Options.FullASCII)
	d.unless("", "start", c.Options.Start)
	d.unless("", "stop", c.Options.Stop)
	switch {
	case c.Options.Level == "":
	case c.Kind == "qr":
		d.put("level", Text(c.Options.Level))
	default:
		n, _ := strconv.Atoi(c.Options.Level)
		d.put("level", Whole(n))
	}
	d.flag("oblong", c.Options.Oblong)
	if c.Options.Columns > 0 {
		d.put("columns", Whole(c.Options.Columns))
	}
	d.flag("compact", c.Options.Compact)
	d.flag("gs1", c.Options.GS1)
	d.flag("binary", c.Options.Binary)
	if c.X > 0 {
		d.put("x", Whole(c.X))
	}
	if c.Ratio > 0 {
		d.put("ratio", Number(c.Ratio))
	}
	for _, n := range []struct {
		key string
		n   int
	}{{"reduce", c.Reduce}, {"turn", c.Turn}} {
		if n.n != 0 {
			d.put(n.key, Whole(n.n))
		}
	}
	if c.Colour != [3]uint8{} {
		d.put("colour", Colour(c.Colour))
	}
	d.unless("middle", "align", alignWords[c.Align%3])
	d.flag("backing", c.Backing)
	d.unless("", "printed", c.Printed)
}

func (d *described) shape(e design.Element) {
	s := e.Shape
	line := s.Kind == design.Line
	d.put(shapeWords[s.Kind%3], Box(e.Box))
	d.colour("fill", s.Fill)
	if !line || s.Stroke != nil && *s.Stroke != [3]uint8{} {
		d.colour("stroke", s.Stroke)
	}
	if s.Width > 0 && s.Width != usualStroke {
		d.put("width", MM(s.Width))
	}
	if s.Radius > 0 {
		d.put("radius", MM(s.Radius))
	}
}

// condition writes when an element is shown.
func condition(c design.Condition) Value {
	pairs := []Pair{{"field", Text(c.Field)}}
	switch {
	case c.Equals != "" && c.Not:
		pairs = append(pairs, Pair{"not", Text(c.Equals)})
	case c.Equals != "" || c.Not:
		pairs = append(pairs, Pair{"is", Text(c.Equals)})
	}
	return Group(pairs...)
}

// templateText is a text with fields as the file has it: "{given} {family}".
func templateText(t design.Template) string {
	var b strings.Builder
	double := strings.NewReplacer("{", "{{", "}", "}}")
	for _, p := range t.Parts {
		if p.Field != "" {
			b.WriteString("{" + p.Field + "}")
			continue
		}
		b.WriteString(double.Replace(p.Literal))
	}
	return b.String()
}
