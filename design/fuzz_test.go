package design_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"unspool/design"
	"unspool/site"
)

// Whatever the file holds, Parse gives either a programme that holds together or
// faults with places inside the file.
func FuzzParse(f *testing.F) {
	for _, name := range []string{"full.yaml", "short.yaml"} {
		f.Add(read(f, name))
	}
	for _, s := range []string{"", "unspool: 1", "- a", "a: [", "a: {b: *c}", "unspool: 1\nfields: {a: '{a}'}", "\ufeffunspool: 1\r\n", "a: |\n  x\n y", "? a\n: b", "{{}}", "- - -"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		p, err := design.Parse("p.yaml", src)
		if (p == nil) == (err == nil) {
			t.Fatalf("programme %v, error %v", p, err)
		}
		if err != nil {
			var faults *design.Faults
			if !errors.As(err, &faults) || len(faults.List) == 0 || len(faults.List) > 20 {
				t.Fatalf("%v", err)
			}
			for _, fault := range faults.List {
				if lines := strings.Count(string(src), "\n") + strings.Count(string(src), "\r") + 1; fault.Pos.Line > lines+1 || fault.Text == "" {
					t.Errorf("%+v in a file of %d lines", fault, lines)
				}
			}
			return
		}
		for _, face := range p.Faces {
			if face == nil {
				continue
			}
			for _, e := range face.Elements {
				if e.Name == "" || e.Box.W < 0 || e.Box.H < 0 || e.Box.X > p.Card.W || e.Box.Y > p.Card.H {
					t.Errorf("%+v", e)
				}
			}
		}
		for _, s := range []site.Side{site.Front, site.Back} {
			if g := p.Printer.Grid(p.Card, p.Printer.Lie[s]); g.Dots() <= 0 || g.Dots() > 16_000_000 || p.Faces[s] != nil && len(p.Ribbon.Set(s)) == 0 {
				t.Errorf("grid %+v of the %v, ribbon %+v", g, s, p.Ribbon)
			}
		}
		if err := p.CheckFields(nil); err == nil {
			t.Error("a roster without columns passes")
		}
		who := p.Person(row{})
		for _, field := range p.Fields {
			who.Field(field.Name)
		}
	})
}

// A programme with as many elements as it may have.
func BenchmarkParse(b *testing.B) {
	s := string(read(b, "short.yaml"))
	cut := strings.Index(s, "readers:")
	var many strings.Builder
	for i := range 490 {
		fmt.Fprintf(&many, "    - {text: \"Deck {number} %d\", box: [5, 5, 40, 6], size: 4, show: {field: deck, is: %d}}\n", i, i)
	}
	src := []byte(s[:cut] + many.String() + s[cut:])
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		if _, err := design.Parse("p.yaml", src); err != nil {
			b.Fatal(err)
		}
	}
}
