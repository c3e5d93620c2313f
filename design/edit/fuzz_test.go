package edit_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"unspool/design"
	"unspool/design/edit"
	"unspool/site"
)

func sample(t testing.TB, name string) string {
	t.Helper()
	src, err := os.ReadFile("../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// Whatever the file and whatever the change, the result is an error or a text
// that the YAML library reads as this package does; nothing panics.
func FuzzApply(f *testing.F) {
	value := `{"text": "{given}: x", "box": [1, 2.5, 3, 4], "bold": true, "show": {"field": "a"}, "n": null}`
	for _, name := range []string{"full.yaml", "short.yaml"} {
		f.Add([]byte(sample(f, name)), "faces.front[2].box", value, 1, byte(0))
		f.Add([]byte(strings.ReplaceAll(sample(f, name), "\n", "\r\n")), "faces.front[2]", value, 2, byte(2))
	}
	for i, s := range []string{"a: 1", "a: {b: 1,\n  c: [1, 2], # x\n}\n", "a: >-\n  x\n   y\n\n  z\nb: |+\n  q\n\n", "a:\n- b: 1\n  c: \"x\n    y\"\n- - d\n", "\ufeffa: 'x''y'\r\nb:\r\n", "---\na: b\n  c\n...\n", "a: {b: }\n? c\n"} {
		f.Add([]byte(s), "a", `"x # y"`, i, byte(i))
		f.Add([]byte(s), "a[1].b", `[[], {}, "\u2028"]`, i, byte(i+3))
	}
	f.Fuzz(func(t *testing.T, src []byte, where, value string, n int, what byte) {
		s, err := edit.Open(src)
		if err != nil {
			return
		}
		if string(s.Bytes()) != string(src) {
			t.Fatal("the text is another before any change")
		}
		p, err := edit.ParsePath(where)
		if err != nil {
			return
		}
		var v edit.Value
		if json.Unmarshal([]byte(value), &v) != nil {
			v = edit.Text(value)
		}
		side := site.Side(n & 1)
		changes := []edit.Change{
			edit.Set{Path: p, Value: v}, edit.Remove{Path: p}, edit.Insert{Path: p, Value: v}, edit.Move{Path: p, To: n}, edit.Duplicate{Path: p, Name: value},
			edit.AddElement{Side: side, At: n, Element: v}, edit.DeleteElement{Side: side, Index: n}, edit.MoveElement{Side: side, From: n, To: 0},
			edit.DuplicateElement{Side: side, Index: n}, edit.RenameElement{Side: side, Index: n, Name: value}, edit.SetBlack{Side: side, Rule: site.Black{Rule: site.Rules[n&3]}},
		}
		out, err := s.Apply(changes[int(what)%len(changes)])
		if err != nil {
			return
		}
		if _, err := edit.Open(out.Bytes()); err != nil && len(out.Bytes()) < 100_000 {
			t.Errorf("%v\n%q\n%q", err, src, out.Bytes())
		}
		design.Parse("p.yaml", out.Bytes())
	})
}

// Any text comes back as it was set, as a value and as a key, in brackets and
// outside, and the YAML library reads it so.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", " x", "a: b", "a #b", "#", "- a", "-1", "0x1f", "1e3", "~", "null", "True", "\t", "a\nb", "\u2028\ufeff", "it's", `"`, `\`, "{", "]", "a,b", "x:", "?", "? a", "%", "@", "`", "|", ">", "!", "&", "*", "<<", "=", "...", "---", "é", "😀", "2031-12-31", "12:30", ".5", "+", "\u0301", "\u00a0", "\u200b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if !utf8.ValidString(s) || len(s) > 1000 || strings.ContainsRune(s, 0) {
			return
		}
		const src = "a: x\nb: {c: y, d: 'z', e: [q]}\nf:\n  - \"w\"\n"
		paths := []edit.Path{edit.Keys("a"), edit.Keys("b", "c"), edit.Keys("b", "d"), edit.Keys("b", "e").Item(0), edit.Keys("f").Item(0), edit.Keys("b", "x "+s), edit.Keys("y " + s)}
		out := open(t, src)
		for _, p := range paths {
			next, err := out.Apply(edit.Set{Path: p, Value: edit.Text(s)})
			if err != nil {
				t.Fatalf("%q at %v: %v", s, p, err)
			}
			out = next
		}
		for _, p := range paths {
			v, _ := open(t, string(out.Bytes())).Value(p)
			if want, _ := json.Marshal(s); !equalJSON(v, string(want)) {
				t.Errorf("%q at %v comes back from\n%s", s, p, out.Bytes())
			}
		}
	})
}

func equalJSON(v edit.Value, want string) bool {
	got, err := json.Marshal(v)
	return err == nil && string(got) == want
}
