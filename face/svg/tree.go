package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
)

// node is one element of a file.
type node struct {
	name     string
	line     int
	attrs    []xml.Attr
	children []*node
	text     string // of a style element
}

func (n *node) attr(name string) (string, bool) {
	for _, a := range n.attrs {
		if a.Name.Local == name && (a.Name.Space == "" || name == "href") {
			return strings.TrimSpace(a.Value), true
		}
	}
	return "", false
}

const namespace = "http://www.w3.org/2000/svg"

// refused says what to do about the elements that are not drawn.
var refused = map[string]string{
	"text": "convert text to paths", "tspan": "convert text to paths", "textPath": "convert text to paths",
	"use": "break clones and symbols apart", "symbol": "break clones and symbols apart",
	"clipPath": "cut the paths instead", "mask": "cut the paths instead", "filter": "take the effect out or save as PNG",
	"image":  "save the whole as PNG, or place the picture as an element of its own",
	"script": "take it out", "foreignObject": "take it out", "a": "take the link out", "switch": "take it out",
	"animate": "take it out", "animateTransform": "take it out", "set": "take it out", "marker": "draw it as a path",
	"pattern": "save as PNG", "svg": "take the inner drawing out of its svg element",
}

// drawn are the elements that are drawn, and those that hold them.
var drawn = map[string]bool{
	"g": true, "path": true, "rect": true, "circle": true, "ellipse": true, "line": true, "polyline": true, "polygon": true,
	"defs": true, "linearGradient": true, "radialGradient": true, "stop": true, "style": true,
}

// silent are the elements that say something about the drawing and draw nothing.
var silent = map[string]bool{"title": true, "desc": true, "metadata": true}

// treeReader builds the tree of a file.
type treeReader struct {
	decoder *xml.Decoder
	open    []*node
	root    *node
	count   int
}

func readTree(data []byte) (*node, *Error) {
	if len(data) > maxBytes {
		return nil, fail(1, "the file has %d bytes: at most %d are read, so simplify it or save it as PNG", len(data), maxBytes)
	}
	t := treeReader{decoder: xml.NewDecoder(bytes.NewReader(data))}
	for {
		line, _ := t.decoder.InputPos()
		token, err := t.decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, wellFormed(line, err)
		}
		if bad := t.token(token); bad != nil {
			return nil, bad
		}
	}
	if t.root == nil {
		return nil, fail(1, "the file is no SVG drawing")
	}
	return t.root, nil
}

func wellFormed(line int, err error) *Error {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return fail(syntax.Line, "the file is not well formed: %s", syntax.Msg)
	}
	return fail(line, "the file cannot be read: %v: save it as UTF-8", err)
}

func (t *treeReader) token(token xml.Token) *Error {
	line, _ := t.decoder.InputPos()
	switch k := token.(type) {
	case xml.StartElement:
		return t.start(k, line)
	case xml.EndElement:
		t.open = t.open[:len(t.open)-1]
	case xml.CharData:
		if n := len(t.open); n > 0 && t.open[n-1].name == "style" {
			t.open[n-1].text += string(k)
		}
	case xml.Directive:
		if bytes.ContainsRune(k, '[') {
			return fail(line, "the DOCTYPE declares entities of its own: take it out")
		}
	case xml.ProcInst:
		if k.Target != "xml" {
			return fail(line, "%q asks for another file: take it out", "<?"+k.Target)
		}
	}
	return nil
}

func (t *treeReader) start(e xml.StartElement, line int) *Error {
	n := &node{name: e.Name.Local, line: line, attrs: e.Attr}
	t.count++
	if t.count > maxElements {
		return fail(line, "the drawing has more than %d elements: simplify it or save it as PNG", maxElements)
	}
	if len(t.open) == 0 {
		if n.name != "svg" || t.root != nil {
			return fail(line, "the file begins with %q, so it is no SVG drawing", n.name)
		}
		t.root = n
		t.open = append(t.open, n)
		return nil
	}
	if silent[n.name] || e.Name.Space != "" && e.Name.Space != namespace {
		if err := t.decoder.Skip(); err != nil {
			return wellFormed(line, err)
		}
		return nil
	}
	if !drawn[n.name] {
		if what, ok := refused[n.name]; ok {
			return fail(line, "%s is not drawn: %s", n.name, what)
		}
		return fail(line, "%q is not drawn: save the drawing as plain SVG with paths only, or as PNG", n.name)
	}
	if len(t.open) >= maxDepth {
		return fail(line, "elements lie more than %d deep in each other: ungroup them", maxDepth)
	}
	parent := t.open[len(t.open)-1]
	parent.children = append(parent.children, n)
	t.open = append(t.open, n)
	return nil
}

// number reads one length in the drawing's units; units that depend on paper or
// screen are refused, but for the px that is the drawing's own.
func (n *node) number(name, value string) (float64, *Error) {
	v, err := parseNumber(strings.TrimSuffix(strings.TrimSpace(value), "px"))
	if err == nil {
		return v, nil
	}
	for _, unit := range []string{"mm", "cm", "in", "pt", "pc"} {
		// The size of the whole drawing may have any unit: only its shape counts.
		if v, err := parseNumber(strings.TrimSuffix(value, unit)); err == nil && n.name == "svg" {
			return v, nil
		}
	}
	return 0, fail(n.line, "%s is %q: it has to be a plain number in the drawing's units", name, value)
}

// length is an attribute that may be left out.
func (n *node) length(name string, otherwise float64) (float64, *Error) {
	v, ok := n.attr(name)
	if !ok || v == "auto" {
		return otherwise, nil
	}
	return n.number(name, v)
}

// bound keeps every coordinate an ordinary number.
const bound = 1e7

var errNumber = errors.New("not a number within bounds")

func parseNumber(s string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || !(math.Abs(v) <= bound) {
		return 0, errNumber
	}
	return v, nil
}

// numbers reads a list of numbers parted by commas and spaces.
func numbers(s string) ([]float64, error) {
	var out []float64
	for _, f := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' || r == '\t' || r == '\n' || r == '\r' }) {
		v, err := parseNumber(f)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}
