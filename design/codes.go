package design

import (
	"slices"
	"strconv"
	"strings"

	"unspool/code"
	"unspool/symbol"
)

// kindNames are the symbologies a programme may name.
func kindNames() []string {
	var names []string
	for _, k := range code.All() {
		names = append(names, k.Name)
	}
	return names
}

// symbology reads the name of a symbology.
func (v value) symbology() (code.Kind, bool) {
	if v.kind == list || v.kind == object {
		v.wrong("the name of a code", "one of "+strings.Join(kindNames(), ", "))
		return code.Kind{}, false
	}
	k, ok := code.ByName(v.text)
	if !ok {
		v.fault("is %s, which is no code that is known; write one of %s", show(v.text), strings.Join(kindNames(), ", "))
	}
	return k, ok
}

// intoCheck reads a check rule, which is held to its symbology by checkLegal.
func intoCheck(to *code.Check) func(value) {
	all := []choice[code.Check]{{"none", code.NoCheck}, {"mod43", code.Mod43}, {"mod10", code.Mod10}, {"luhn", code.Luhn}, {"mod16", code.Mod16}, {"mod37", code.Mod37}}
	return intoChoice(to, all...)
}

// checkLegal holds a check rule to what the symbology knows.
func checkLegal(v value, k code.Kind, c code.Check) {
	if c == code.NoCheck {
		return
	}
	var words []string
	for _, legal := range k.Checks {
		if legal == c {
			return
		}
		words = append(words, string(legal))
	}
	if len(words) == 0 {
		v.fault("is %s, but %s has no check rule to choose; take it out", c, k.Title)
		return
	}
	v.fault("is %s, which %s does not know; write %s", c, k.Title, strings.Join(words, " or "))
}

// maxX is the largest narrow element in dots that fits any card.
const maxX = 40

// code reads a bar code element.
func (p *reading) code(v value, kind string, e *Element) group {
	c := &Code{Align: Middle}
	e.Code = c
	o := &c.Options
	var k code.Kind
	known := false
	letters := []choice[string]{{"A", "A"}, {"B", "B"}, {"C", "C"}, {"D", "D"}}
	g := boxed(v, kind, e,
		key{"code", func(v value) { k, known = v.symbology() }},
		key{"text", intoTemplate(&c.Text)},
		key{"check", intoCheck(&o.Check)},
		key{"given", intoFlag(&o.Given)},
		key{"full-ascii", intoFlag(&o.FullASCII)},
		key{"start", intoChoice(&o.Start, letters...)},
		key{"stop", intoChoice(&o.Stop, letters...)},
		key{"level", func(value) {}}, // read once the symbology is known
		key{"oblong", intoFlag(&o.Oblong)},
		key{"columns", autoOr(intoWhole(&o.Columns, 1, 30))},
		key{"compact", intoFlag(&o.Compact)},
		key{"gs1", intoFlag(&o.GS1)},
		key{"binary", intoFlag(&o.Binary)},
		key{"x", autoOr(func(v value) { intoWhole(&c.X, 1, maxX)(v) })},
		key{"ratio", autoOr(func(v value) { intoDecimal(&c.Ratio, 2, 3)(v) })},
		key{"reduce", intoWhole(&c.Reduce, -10, 10)},
		key{"turn", intoChoice(&c.Turn, choice[int]{"0", 0}, choice[int]{"90", 90}, choice[int]{"180", 180}, choice[int]{"270", 270})},
		key{"align", intoChoice(&c.Align, aligns...)},
		key{"colour", intoColour(&c.Colour)},
		key{"backing", intoFlag(&c.Backing)},
		key{"printed", intoLabel(&c.Printed)})
	g.need("text", `"{number}"`)
	if known {
		c.Kind = k.Name
		g.codeFits(c, k)
	}
	return g
}

// autoOr reads the word auto as the zero value, and the rest by read.
func autoOr(read func(value)) func(value) {
	return func(v value) {
		if (v.kind == word || v.kind == quoted) && v.text == "auto" {
			return
		}
		read(v)
	}
}

// codeFits holds the options of a code to its symbology.
func (g group) codeFits(c *Code, k code.Kind) {
	if g.has("check") {
		checkLegal(g.seen["check"], k, c.Options.Check)
	}
	if c.Options.Given && c.Options.Check == code.NoCheck {
		g.seen["given"].fault("says the text ends in its check character, but there is no check rule; write check: beside it")
	}
	for _, only := range []struct {
		key string
		of  []string
	}{{"full-ascii", []string{"code39"}}, {"start", []string{"codabar"}}, {"stop", []string{"codabar"}}, {"oblong", []string{"datamatrix"}},
		{"columns", []string{"pdf417"}}, {"compact", []string{"pdf417"}}, {"gs1", []string{"qr", "datamatrix"}}, {"level", []string{"qr", "aztec", "pdf417"}},
		{"binary", []string{"qr", "datamatrix", "aztec", "pdf417"}}} {
		if g.has(only.key) && !slices.Contains(only.of, k.Name) {
			g.seen[only.key].fault("belongs to %s alone; take it out", anyOf(only.of))
		}
	}
	if g.has("level") {
		level(g.seen["level"], k, &c.Options.Level)
	}
	if c.Options.GS1 && c.Options.Binary {
		g.seen["binary"].fault("cannot go with gs1: GS1 data is text; take one out")
	}
	if k.Family != symbol.TwoWidth && c.Ratio != 0 {
		g.seen["ratio"].fault("has no effect: %s has no wide:narrow ratio; take it out", k.Title)
	}
	if c.X > 0 && c.Reduce >= c.X {
		g.seen["reduce"].fault("is %d dots, but the narrow bar has only %d; write less", c.Reduce, c.X)
	}
}

// level reads the error correction of a two-dimensional symbology.
func level(v value, k code.Kind, to *string) {
	n := 0
	switch k.Name {
	case "qr":
		intoChoice(to, choice[string]{"L", "L"}, choice[string]{"M", "M"}, choice[string]{"Q", "Q"}, choice[string]{"H", "H"})(v)
		return
	case "pdf417":
		n, _ = v.whole(0, 8)
	case "aztec":
		n, _ = v.whole(5, 95) // per cent
	default:
		return
	}
	*to = strconv.Itoa(n)
}

// anyOf lists names: "qr, aztec or pdf417".
func anyOf(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
