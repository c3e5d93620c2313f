package edit_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"reflect"
	"strings"
	"testing"

	"unspool/design"
	"unspool/design/edit"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

// demoSource is the demonstration's programme as it lands on disk.
func demoSource(t testing.TB) string {
	t.Helper()
	src, err := os.ReadFile("../../demo/programme.yaml.tmpl")
	if err != nil {
		t.Fatal(err)
	}
	return strings.NewReplacer("{{.Name}}", "Sundhaven crew", "{{.Why}}", "# Why.", "{{.Black}}", "objects").Replace(string(src))
}

func parsed(t testing.TB, s *edit.Source) *design.Programme {
	t.Helper()
	p, err := design.Parse("programme.yaml", s.Bytes())
	if err != nil {
		t.Fatalf("%v\n%s", err, s.Bytes())
	}
	return p
}

// unplaced is the programme without the places in its file.
func unplaced(p *design.Programme) *design.Programme {
	clear(reflect.ValueOf(p).Elem())
	return p
}

func clear(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			clear(v.Elem())
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[design.Pos]() {
			v.SetZero()
			return
		}
		for i := range v.NumField() {
			clear(v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			clear(v.Index(i))
		}
	}
}

// changed are the lines of a that are not in b, in order, by their longest
// common begin and end.
func changed(a, b string) []string {
	x, y := strings.SplitAfter(a, "\n"), strings.SplitAfter(b, "\n")
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	return x
}

// someEdit is a change of a programme: of its file, and of what Parse read of it.
type someEdit struct {
	what   string
	change edit.Change
	model  func(*design.Programme)
	lines  int // of the old file that may change
}

// randomEdit makes up a change that keeps the programme sound.
func randomEdit(r *rand.Rand, p *design.Programme) someEdit {
	side := site.Side(r.IntN(2))
	if p.Faces[side] == nil {
		side = site.Front
	}
	els := p.Faces[side].Elements
	i := r.IntN(len(els))
	e, at := els[i], edit.Element(side, i)
	set := func(key string, v edit.Value, model func(*design.Element)) someEdit {
		return someEdit{"set " + key, edit.Set{Path: at.Key(key), Value: v}, func(p *design.Programme) { model(&p.Faces[side].Elements[i]) }, 1}
	}
	switch k := r.IntN(9); {
	case k == 0 && e.Shape == nil:
		b := plane.Box{X: unit.MM(float64(r.IntN(80)) / 10), Y: unit.MM(float64(r.IntN(99)) / 10), W: unit.MM(float64(10+r.IntN(200)) / 10), H: unit.MM(float64(10+r.IntN(50)) / 10)}
		c := set("box", edit.Box(b), func(e *design.Element) { e.Box = b })
		c.lines = 2 // where it is written on two
		return c
	case k == 1 && e.Text != nil:
		c := [3]uint8{uint8(r.IntN(256)), uint8(r.IntN(256)), uint8(r.IntN(2) * 255)}
		return set("colour", edit.Colour(c), func(e *design.Element) { e.Text.Colour = c })
	case k == 2 && e.Text != nil:
		words := []string{"Nord, Süd", "a: b # c", "000", "it's \"x\"", "plain words", "{given} {{x}}", " ", "ünï ☃"}[r.IntN(8)]
		return set("text", edit.Text(words), func(e *design.Element) { e.Text.Text = template(words) })
	case k == 3:
		send := design.ToDye
		return set("send", edit.Text("dye"), func(e *design.Element) { e.Send = send })
	case k == 4:
		return set("show", edit.Group(edit.Pair{Key: "field", Value: edit.Text("role")}, edit.Pair{Key: "is", Value: edit.Text("007")}), func(e *design.Element) {
			e.Show = &design.Condition{Field: "role", Equals: "007"}
		})
	case k == 5 && e.Code != nil:
		return set("backing", edit.Flag(!e.Code.Backing), func(e *design.Element) { e.Code.Backing = !e.Code.Backing })
	case k == 6:
		to := r.IntN(len(els))
		return someEdit{"move", edit.MoveElement{Side: side, From: i, To: to}, func(p *design.Programme) {
			els := p.Faces[side].Elements
			moved := els[i]
			els = append(els[:i:i], els[i+1:]...)
			p.Faces[side].Elements = append(els[:to:to], append([]design.Element{moved}, els[to:]...)...)
		}, 1000}
	case k == 7:
		e := e
		e.Name = fmt.Sprintf("fresh %d", r.IntN(1000))
		return someEdit{"add", edit.AddElement{Side: side, At: i, Element: edit.Describe(e)}, func(p *design.Programme) {
			els := p.Faces[side].Elements
			p.Faces[side].Elements = append(els[:i:i], append([]design.Element{e}, els[i:]...)...)
		}, 0}
	}
	rd := r.IntN(len(p.Readers))
	return someEdit{"reader", edit.Set{Path: edit.Keys("readers").Item(rd).Key("min-height"), Value: edit.Number(2.75)},
		func(p *design.Programme) { p.Readers[rd].MinHeight = unit.MM(2.75) }, 1}
}

// template reads a text as Parse does.
func template(s string) design.Template {
	switch s {
	case "{given} {{x}}":
		return design.Template{Parts: []design.Part{{Field: "given"}, {Literal: " {x}"}}}
	}
	return design.Template{Parts: []design.Part{{Literal: s}}}
}

// Whatever is changed, Parse reads of the new file what it read of the old one
// with that change; only lines of the part that is changed differ. The names
// that elements go by without stating one are stated first, so that they do not
// depend on the order.
func TestRandomEdits(t *testing.T) {
	for name, src := range map[string]string{"full": sample(t, "full.yaml"), "short": sample(t, "short.yaml"), "demo": demoSource(t), "blocks": blocks(t), "crlf": strings.ReplaceAll(sample(t, "full.yaml"), "\n", "\r\n")} {
		t.Run(name, func(t *testing.T) {
			s := named(t, open(t, src))
			start := s
			for seed := range uint64(120) {
				r := rand.New(rand.NewPCG(seed, 1))
				if seed%12 == 0 {
					s = start
				}
				before := parsed(t, s)
				c := randomEdit(r, before)
				next, err := s.Apply(c.change)
				if err != nil {
					t.Fatalf("%s: %v\n%s", c.what, err, s.Bytes())
				}
				c.model(before)
				after := parsed(t, next)
				before.Assumed, after.Assumed = nil, nil
				if !reflect.DeepEqual(unplaced(after), unplaced(before)) {
					t.Fatalf("%s (seed %d):\n%s\nreads as\n%+v\nnot as\n%+v", c.what, seed, next.Bytes(), after, before)
				}
				if lines := changed(string(s.Bytes()), string(next.Bytes())); len(lines) > c.lines {
					t.Errorf("%s changes %d lines:\n%s", c.what, len(lines), strings.Join(lines, ""))
				}
				s = next
			}
		})
	}
}

// named states the name of every element.
func named(t testing.TB, s *edit.Source) *edit.Source {
	t.Helper()
	for _, face := range parsed(t, s).Faces {
		if face == nil {
			continue
		}
		for i, e := range face.Elements {
			next, err := s.Apply(edit.Set{Path: edit.Element(face.Side, i).Key("name"), Value: edit.Text(e.Name)})
			if err != nil {
				t.Fatal(err)
			}
			s = next
		}
	}
	return s
}

// blocks is the short sample with a key a line, comments and blank lines.
func blocks(t testing.TB) string {
	return strings.NewReplacer(
		"    - {text: \"{full}\", box: [5, 5, 40, 6], size: 4}\n", "    # who\n    -   text: '{full}' # name\n        # where\n        box: [ 5, 5,\n              40, 6 ]\n\n        size: 4\n",
		"    - {code: code39, text: \"{number}\", box: [5, 40, 70, 10]}\n", "    - {\n        code: code39, # old\n        text: \"{number}\",\n        box: [5, 40, 70, 10],\n      }\n",
	).Replace(sample(t, "short.yaml"))
}

// A change and the one that takes it back give the bytes there were.
func TestThereAndBack(t *testing.T) {
	for name, src := range map[string]string{"full": sample(t, "full.yaml"), "demo": demoSource(t), "blocks": blocks(t)} {
		s := named(t, open(t, src))
		for side, face := range parsed(t, s).Faces {
			if face == nil {
				continue
			}
			side := site.Side(side)
			for i, e := range face.Elements {
				last := len(face.Elements) - 1
				for what, both := range map[string][2]edit.Change{
					"name":  {edit.RenameElement{Side: side, Index: i, Name: "other"}, edit.RenameElement{Side: side, Index: i, Name: e.Name}},
					"order": {edit.MoveElement{Side: side, From: i, To: last}, edit.MoveElement{Side: side, From: last, To: i}},
					"add":   {edit.AddElement{Side: side, At: i, Element: hello}, edit.DeleteElement{Side: side, Index: i}},
					"copy":  {edit.DuplicateElement{Side: side, Index: i, Name: "twin"}, edit.DeleteElement{Side: side, Index: i + 1}},
					"show":  {edit.Set{Path: edit.Element(side, i).Key("x-key"), Value: edit.Whole(1)}, edit.Remove{Path: edit.Element(side, i).Key("x-key")}},
				} {
					out, err := s.Apply(both[0], both[1])
					if err != nil {
						t.Fatal(err)
					}
					if got := string(out.Bytes()); got != string(s.Bytes()) {
						t.Errorf("%s: %s of %s:\n%q\n%q", name, what, e.Name, changed(got, string(s.Bytes())), changed(string(s.Bytes()), got))
					}
				}
			}
		}
	}
}

// Any element that Parse reads is described so that Parse reads it again.
func TestDescribe(t *testing.T) {
	for _, src := range []string{sample(t, "full.yaml"), sample(t, "short.yaml"), demoSource(t)} {
		s := open(t, src)
		want := parsed(t, s)
		for side, face := range want.Faces {
			if face == nil {
				continue
			}
			for i, e := range face.Elements {
				var err error
				if s, err = s.Apply(edit.Set{Path: edit.Element(site.Side(side), i), Value: edit.Describe(e)}); err != nil {
					t.Fatal(err)
				}
			}
		}
		if got := parsed(t, s); !reflect.DeepEqual(unplaced(got), unplaced(want)) {
			t.Errorf("%s", s.Bytes())
		}
	}
}

// many is a programme with as many elements as it may have.
func many(t testing.TB) string {
	s := sample(t, "short.yaml")
	cut := strings.Index(s, "readers:")
	var b strings.Builder
	for i := range 490 {
		fmt.Fprintf(&b, "    - {text: \"Deck {number} %d\", box: [5, 5, 40, 6], size: 4, show: {field: deck, is: %d}}\n", i, i)
	}
	return s[:cut] + b.String() + s[cut:]
}

// A box dragged on a programme with as many elements as it may have.
func BenchmarkSet(b *testing.B) {
	s := open(b, many(b))
	p := edit.Element(site.Front, 250).Key("box")
	b.SetBytes(int64(len(s.Bytes())))
	for i := 0; b.Loop(); i++ {
		next, err := s.Apply(edit.Set{Path: p, Value: edit.Box(box(float64(i%20)+0.5, 7, 40, 6))})
		if err != nil {
			b.Fatal(err)
		}
		s = next
	}
}

// The costliest change of one element: every name that hangs on the order is
// looked for.
func BenchmarkMoveElement(b *testing.B) {
	s := open(b, many(b))
	for b.Loop() {
		if _, err := s.Apply(edit.MoveElement{Side: site.Front, From: 400, To: 3}); err != nil {
			b.Fatal(err)
		}
	}
}
