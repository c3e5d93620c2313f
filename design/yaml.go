package design

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits of a programme file. A real one stays far below; a hostile one is
// turned away before anything grows from it.
const (
	maxBytes  = 1 << 20
	maxTokens = 40_000
	maxDepth  = 12
	maxKeys   = 250 // of one group written by indent
)

// kind is what a node of the file is.
type kind uint8

const (
	null   kind = iota
	word        // plain text
	quoted      // text in quotes or as a block
	number
	boolean
	list
	object
)

func (k kind) String() string {
	return [...]string{"empty", "text", "text in quotes", "a number", "true or false", "a list", "a group of keys"}[k%7]
}

// node is a part of the file: a scalar with its text as written, a list, or a
// group of keys in the order of the file.
type node struct {
	kind  kind
	text  string
	at    Pos
	items []*node
	pairs []pair
}

// pair is one key of an object.
type pair struct {
	name  string
	at    Pos
	value *node
}

// readYAML turns the file into nodes. Only the part of YAML that a programme
// needs is taken: no anchors, aliases, tags, merged or complex keys.
func readYAML(src []byte) (root *node, fault *Fault) {
	if len(src) > maxBytes {
		return nil, &Fault{Text: fmt.Sprintf("is %d bytes long, more than the %d a programme may have; is this the right file?", len(src), maxBytes)}
	}
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	if fault := checkText(src); fault != nil {
		return nil, fault
	}
	// The YAML library is fuzzed less than it is used; what it cannot read must
	// not take the program down.
	defer func() {
		if r := recover(); r != nil {
			root, fault = nil, &Fault{Text: "cannot be read as YAML; look for a bracket or a quote that is not closed"}
		}
	}()
	tokens := lexer.Tokenize(string(src))
	if fault := checkTokens(tokens); fault != nil {
		return nil, fault
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		fault := syntaxFault(err)
		if t := bareColour(tokens); t != nil {
			fault = &Fault{Pos: place(t), Text: "# without quotes begins a comment, which hides the rest of the line and its bracket; put quotes round a colour: \"#204060\""}
		}
		return nil, fault
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil {
		return nil, &Fault{Text: "is empty; a programme begins with unspool: 1"}
	}
	for _, doc := range file.Docs[1:] {
		if doc.Body != nil {
			return nil, &Fault{Pos: convert(doc.Body).at, Text: "a second document begins here; write one programme a file"}
		}
	}
	return convert(file.Docs[0].Body), nil
}

// checkText turns away what is not text.
func checkText(src []byte) *Fault {
	bad, what := bytes.IndexByte(src, 0), "has a zero byte"
	if bad < 0 {
		if utf8.Valid(src) {
			return nil
		}
		for i := 0; ; {
			r, n := utf8.DecodeRune(src[i:])
			if r == utf8.RuneError && n == 1 {
				bad, what = i, "is not UTF-8"
				break
			}
			i += n
		}
	}
	before := src[:bad]
	line := bytes.Count(before, []byte("\n")) + 1
	column := utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
	return &Fault{Pos: Pos{line, column}, Text: what + "; save the file as UTF-8 text"}
}

// bareColour is the first comment within brackets that stands where a value should,
// nil where there is none: a colour without quotes.
func bareColour(tokens token.Tokens) *token.Token {
	depth := 0
	for _, t := range tokens {
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth++
		case token.MappingEndType, token.SequenceEndType:
			depth--
		case token.CommentType:
			if depth > 0 && t.Prev != nil && t.Prev.Type == token.MappingValueType {
				return t
			}
		}
	}
	return nil
}

// checkTokens turns away what a programme does not use and what would nest or
// grow beyond measure.
func checkTokens(tokens token.Tokens) *Fault {
	if len(tokens) > maxTokens {
		return &Fault{Text: fmt.Sprintf("holds more than %d words; is this the right file?", maxTokens)}
	}
	depth, run, line := 0, 0, 0
	var keys keyCount
	for _, t := range tokens {
		if text, bad := unused[t.Type]; bad {
			return &Fault{Pos: place(t), Text: text}
		}
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth++
		case token.MappingEndType, token.SequenceEndType:
			depth--
		case token.SequenceEntryType:
			if t.Position.Line != line {
				run, line = 0, t.Position.Line
			}
			run++
			keys.leave(t.Position.Column)
		case token.MappingValueType:
			if depth == 0 && t.Prev != nil && keys.add(t.Prev.Position.Column) > maxKeys {
				return &Fault{Pos: place(t.Prev), Text: fmt.Sprintf("follows more than %d keys in one group; is this the right file?", maxKeys)}
			}
		}
		if depth > maxDepth || run > maxDepth || t.Position.Column > 200*maxDepth && t.Type == token.SequenceEntryType {
			return &Fault{Pos: place(t), Text: fmt.Sprintf("lies more than %d brackets deep; no part of a programme does", maxDepth)}
		}
	}
	return nil
}

// keyCount counts the keys of groups written by indent, outermost first: the
// YAML library's time grows with the square of a group.
type keyCount []struct{ column, n int }

// leave ends the groups that stand further in than column.
func (k *keyCount) leave(column int) {
	for len(*k) > 0 && (*k)[len(*k)-1].column > column {
		*k = (*k)[:len(*k)-1]
	}
}

// add counts a key at column and is the number of keys of its group so far.
func (k *keyCount) add(column int) int {
	k.leave(column)
	if n := len(*k); n == 0 || (*k)[n-1].column < column {
		*k = append(*k, struct{ column, n int }{column, 0})
	}
	last := &(*k)[len(*k)-1]
	last.n++
	return last.n
}

// unused are the parts of YAML that a programme does without.
var unused = map[token.Type]string{
	token.AnchorType:     "& begins an anchor, which a programme does not use; put quotes round a text that begins so",
	token.AliasType:      "* begins an alias, which a programme does not use; put quotes round a text that begins so",
	token.TagType:        "! begins a tag, which a programme does not use; put quotes round a text that begins so",
	token.MergeKeyType:   "<< merges keys, which a programme does not use; write the keys out",
	token.MappingKeyType: "? begins a long key, which a programme does not use; put quotes round a text that begins so",
	token.DirectiveType:  "% begins a directive, which a programme does not use; put quotes round a text that begins so",
}

// syntaxFault is the YAML library's complaint with its place.
func syntaxFault(err error) *Fault {
	var e yaml.Error
	if !errors.As(err, &e) {
		return &Fault{Text: "cannot be read as YAML: " + firstLine(err.Error())}
	}
	return &Fault{Pos: place(e.GetToken()), Text: "cannot be read as YAML: " + firstLine(e.GetMessage()) +
		"; look at the indent, the brackets and the quotes here and just above"}
}

func firstLine(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	return s
}

func place(t *token.Token) Pos {
	if t == nil || t.Position == nil {
		return Pos{}
	}
	return Pos{max(t.Position.Line, 1), max(t.Position.Column, 1)}
}

// convert takes over a part of the library's tree.
func convert(n ast.Node) *node {
	if n == nil {
		return &node{}
	}
	t := n.GetToken()
	out := &node{at: place(t)}
	switch n := n.(type) {
	case *ast.MappingNode:
		out.kind = object
		for _, v := range n.Values {
			out.pairs = append(out.pairs, convertPair(v))
		}
		if !n.IsFlowStyle && len(out.pairs) > 0 {
			out.at = out.pairs[0].at
		}
	case *ast.MappingValueNode:
		p := convertPair(n)
		out.kind, out.at, out.pairs = object, p.at, []pair{p}
	case *ast.SequenceNode:
		out.kind = list
		for _, v := range n.Values {
			out.items = append(out.items, convert(v))
		}
	case *ast.LiteralNode:
		out.kind, out.text = quoted, strings.TrimSuffix(n.Value.Value, "\n")
	case *ast.StringNode:
		out.kind, out.text = word, n.Value
		if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
			out.kind = quoted
		}
	case *ast.NullNode:
	case *ast.BoolNode:
		out.kind, out.text = boolean, t.Value
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode:
		out.kind, out.text = number, t.Value
	default:
		out.kind, out.text = word, n.String()
	}
	return out
}

func convertPair(v *ast.MappingValueNode) pair {
	t := v.Key.GetToken()
	return pair{name: t.Value, at: place(t), value: convert(v.Value)}
}
