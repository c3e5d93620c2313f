package say

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"

	"unspool/unit"
)

// Hole is the place of one argument in a format, and what fills it: one of Text,
// Figure and Data.
type Hole struct {
	Verb   string // as the format has it: "%.1f"
	Text   Text   // what has words of its own
	Figure string // a number, as English writes it: "0.25"
	Data   string // what is the same in every language, without quotes
}

// verb is a verb of package fmt as formats here have them, or a per cent sign.
var verb = regexp.MustCompile(`%[-+#0]*[0-9]*(?:\.[0-9]+)?[a-zA-Z%]`)

// Verbs are the verbs of a format in their order. A format without any is words.
func Verbs(format string) (verbs []string) {
	for _, v := range verb.FindAllString(format, -1) {
		if !strings.HasSuffix(v, "%") {
			verbs = append(verbs, v)
		}
	}
	return verbs
}

// Holes are the places of the arguments, in their order.
func (t Text) Holes() []Hole {
	if len(t.Args) == 0 {
		return nil
	}
	verbs := Verbs(t.Format)
	holes := make([]Hole, 0, len(verbs))
	for i, v := range verbs[:min(len(verbs), len(t.Args))] {
		holes = append(holes, fill(v, t.Args[i]))
	}
	return holes
}

func fill(verb string, arg any) Hole {
	h := Hole{Verb: verb}
	switch a := arg.(type) {
	case string:
		h.Data = a
	case figures:
		h.Figure = string(a)
	case Text:
		h.Text = a
	case unit.Length:
		h.Text = withUnit("%v mm", a.String())
	case unit.Nanometres:
		h.Text = withUnit("%v nm", a.String())
	case error:
		h.Text = Of(a)
	case fmt.Stringer:
		h.Text = Words(a.String())
	default:
		h.fillPlain(arg)
	}
	return h
}

// withUnit takes the unit off what a quantity says of itself.
func withUnit(format, said string) Text {
	figure, _, _ := strings.Cut(said, " ")
	return F(format, figures(figure))
}

// figures is a number already written.
type figures string

// fillPlain fills a hole with a number where the verb writes one as people do.
// A letter keeps itself; patterns and code points are what the verb makes of them.
func (h *Hole) fillPlain(arg any) {
	v := reflect.ValueOf(arg)
	last := h.Verb[len(h.Verb)-1]
	switch number := v.CanInt() || v.CanUint() || v.CanFloat(); {
	case number && strings.ContainsRune("dfv", rune(last)):
		h.Figure = fmt.Sprintf(h.Verb, arg)
	case v.Kind() == reflect.Int32 && last == 'q':
		h.Data = string(rune(v.Int()))
	case v.Kind() == reflect.String:
		h.Data = v.String()
	default:
		h.Data = fmt.Sprintf(h.Verb, arg)
	}
}
