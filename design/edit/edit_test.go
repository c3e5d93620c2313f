package edit_test

import (
	"strings"
	"testing"

	"unspool/design/edit"
	"unspool/plane"
	"unspool/site"
	"unspool/unit"
)

func path(t testing.TB, s string) edit.Path {
	t.Helper()
	p, err := edit.ParsePath(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func box(x, y, w, h float64) plane.Box {
	return plane.Box{X: unit.MM(x), Y: unit.MM(y), W: unit.MM(w), H: unit.MM(h)}
}

func open(t testing.TB, src string) *edit.Source {
	t.Helper()
	s, err := edit.Open([]byte(src))
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	return s
}

// set, remove and so on are short for the changes of the tables below.
func set(p string, v edit.Value) func(testing.TB) edit.Change {
	return func(t testing.TB) edit.Change { return edit.Set{Path: path(t, p), Value: v} }
}

func remove(p string) func(testing.TB) edit.Change {
	return func(t testing.TB) edit.Change { return edit.Remove{Path: path(t, p)} }
}

func insert(p string, v edit.Value) func(testing.TB) edit.Change {
	return func(t testing.TB) edit.Change { return edit.Insert{Path: path(t, p), Value: v} }
}

func move(p string, to int) func(testing.TB) edit.Change {
	return func(t testing.TB) edit.Change { return edit.Move{Path: path(t, p), To: to} }
}

func change(c edit.Change) func(testing.TB) edit.Change {
	return func(testing.TB) edit.Change { return c }
}

var (
	hello = edit.Group(edit.Pair{Key: "text", Value: edit.Text("Hello")}, edit.Pair{Key: "box", Value: edit.Box(box(1, 2, 30, 4))}, edit.Pair{Key: "size", Value: edit.MM(unit.MM(3.5))})
	gate  = edit.Group(edit.Pair{Key: "name", Value: edit.Text("Gate")}, edit.Pair{Key: "kind", Value: edit.Text("hand")}, edit.Pair{Key: "light", Value: edit.Whole(660)},
		edit.Pair{Key: "accepts", Value: edit.List(edit.Text("code39"))})
)

type editCase struct {
	what, before string
	change       func(testing.TB) edit.Change
	after        string
}

func run(t *testing.T, cases []editCase) {
	t.Helper()
	for _, c := range cases {
		for _, way := range []struct {
			name string
			as   func(string) string
		}{
			{"", func(s string) string { return s }},
			{" in a file with CRLF", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }},
			{" in a file with a byte order mark", func(s string) string { return "\ufeff" + s }},
			{" in a file without a last line end", func(s string) string { return strings.TrimSuffix(s, "\n") }},
		} {
			t.Run(c.what+way.name, func(t *testing.T) {
				s, err := open(t, way.as(c.before)).Apply(c.change(t))
				if err != nil {
					t.Fatal(err)
				}
				if got, want := string(s.Bytes()), way.as(c.after); got != want {
					t.Errorf("got\n%s\nwant\n%s\n%q\n%q", got, want, got, want)
				}
				open(t, string(s.Bytes())) // and the YAML library reads it alike
			})
		}
	}
}

func TestSetScalars(t *testing.T) {
	run(t, []editCase{
		{"a word", "black: objects # as the driver says\nname: x\n", set("black", edit.Text("dark")), "black: dark # as the driver says\nname: x\n"},
		{"a number keeps its line", "a: {x: 3,  y: 4.50}  # dots\n", set("a.x", edit.Whole(12)), "a: {x: 12,  y: 4.50}  # dots\n"},
		{"a number that is the same stays as it is written", "a: {y: 4.50}\n", set("a.y", edit.MM(unit.MM(4.5))), "a: {y: 4.50}\n"},
		{"of a box only what differs", "a: {box: [0, 0,  85.60, 53.98]}\n", set("a.box", edit.Box(box(1.5, 0, 85.6, 53.98))), "a: {box: [1.5, 0,  85.60, 53.98]}\n"},
		{"no noise of binary fractions", "a: 1\n", set("a", edit.Number(0.1+0.2)), "a: 0.3\n"},
		{"no more than a micrometre", "a: 1\n", set("a", edit.MM(unit.Length(12_345_678))), "a: 12.346\n"},
		{"text that YAML takes for text needs no quotes", "name: x\n", set("name", edit.Text("Gäste 2027, Nord")), "name: Gäste 2027, Nord\n"},
		{"but in brackets a comma does", "a: {name: x}\n", set("a.name", edit.Text("Nord, Süd")), "a: {name: \"Nord, Süd\"}\n"},
		{"a field needs quotes", "a: {text: x}\n", set("a.text", edit.Text("{given}")), "a: {text: \"{given}\"}\n"},
		{"quotes that are there stay", "a: {text: 'x', b: \"y\"}\n", set("a.text", edit.Text("it's")), "a: {text: 'it''s', b: \"y\"}\n"},
		{"double quotes too", "a: \"x\" # c\n", set("a", edit.Text("say \"so\"\n")), "a: \"say \\\"so\\\"\\n\" # c\n"},
		{"a number that is meant as text needs quotes", "a: x\n", set("a", edit.Text("000123")), "a: \"000123\"\n"},
		{"so do words that some readers take for true", "a: x\n", set("a", edit.Text("Yes")), "a: \"Yes\"\n"},
		{"a colour needs quotes", "a: {colour: black}\n", set("a.colour", edit.Colour([3]uint8{0x12, 0x3a, 0x56})), "a: {colour: \"#123a56\"}\n"},
		{"a colour that is the same stays as it is written", "a: {colour: \"#FFF\"}\n", set("a.colour", edit.Colour([3]uint8{255, 255, 255})), "a: {colour: \"#FFF\"}\n"},
		{"a key without a value", "a:   # none yet\nb: 1\n", set("a", edit.Text("x")), "a: x   # none yet\nb: 1\n"},
		{"text over several lines", "a: |\n  one\n  two\nb: 1\n", set("a", edit.Text("three")), "a: three\nb: 1\n"},
		{"a text over lines without quotes", "a: one\n  two # c\nb: 1\n", set("a", edit.Text("three")), "a: three # c\nb: 1\n"},
		{"an item of a list", "a:\n  - x\n  - y # why\n", set("a[2]", edit.Text("z")), "a:\n  - x\n  - z # why\n"},
		{"a list of the same kind grows at its end", "a: [code39] # c\n", set("a", edit.List(edit.Text("code39"), edit.Text("itf"))), "a: [code39, itf] # c\n"},
		{"or loses the item that is gone", "a:\n  # first\n  - x\n  # second\n  - y\n  - z\n", set("a", edit.List(edit.Text("x"), edit.Text("z"))), "a:\n  # first\n  - x\n  - z\n"},
		{"a group becomes a word", "black:\n  rule: dark # c\n  limit: 3\n\nname: x\n", set("black", edit.Text("all")), "black: all\n\nname: x\n"},
		{"nothing in place of something", "a: x\nb: [1]\n", set("b", edit.List()), "a: x\nb: []\n"},
	})
}

func TestSetAddsKeys(t *testing.T) {
	const element = "faces:\n  front:\n    - {text: Hello, size: 4, send: dye}\n"
	const lines = `faces:
  front:
    - text: Hello
      # as large as may be
      size: 4 # mm

      send: dye
`
	run(t, []editCase{
		{"in brackets, where the documented order has it", element, set("faces.front[1].box", edit.Box(box(1, 2, 3, 4))),
			"faces:\n  front:\n    - {text: Hello, box: [1, 2, 3, 4], size: 4, send: dye}\n"},
		{"first", element, set("faces.front[1].name", edit.Text("greeting")),
			"faces:\n  front:\n    - {name: greeting, text: Hello, size: 4, send: dye}\n"},
		{"last", element, set("faces.front[1].show.field", edit.Text("role")),
			"faces:\n  front:\n    - {text: Hello, size: 4, send: dye, show: {field: role}}\n"},
		{"on a line of its own where the others have one", lines, set("faces.front[1].floor", edit.MM(unit.MM(3))),
			strings.Replace(lines, "mm\n", "mm\n      floor: 3\n", 1)},
		{"before the key beside the dash", lines, set("faces.front[1].name", edit.Text("greeting")),
			strings.Replace(lines, "text:", "name: greeting\n      text:", 1)},
		{"below the key beside the dash", lines, set("faces.front[1].box", edit.Box(box(1, 2, 3, 4))),
			strings.Replace(lines, "Hello\n", "Hello\n      box: [1, 2, 3, 4]\n", 1)},
		{"in brackets over several lines", "a: {\n  name: x, # c\n  y: 2\n}\n", set("a.z", edit.Whole(3)), "a: {\n  name: x, # c\n  y: 2,\n  z: 3\n}\n"},
		{"with a comma at the end", "card: {\n  size: CR80, # c\n  keepouts: [],\n}\n", set("card.upright", edit.Flag(true)), "card: {\n  size: CR80, # c\n  upright: true,\n  keepouts: [],\n}\n"},
		{"a line that begins beside the bracket", "a: {name: x,\n    y: 2}\n", set("a.z", edit.Whole(3)), "a: {name: x,\n    y: 2,\n    z: 3}\n"},
		{"into empty brackets", "card: {}\n", set("card.upright", edit.Flag(true)), "card: {upright: true}\n"},
		{"with everything on the way", "name: x\n\nprinter:\n  dpi: 300\n", set("printer.growth.along", edit.MM(30*unit.Micrometre)), "name: x\n\nprinter:\n  dpi: 300\n  growth: {along: 0.03}\n"},
		{"a section, set off as sections are", "name: x\n\n# the card\ncard:\n  size: CR80\n\nroster:\n  file: a.csv\n", set("ribbon.panels", edit.Text("YMCKO")),
			"name: x\n\n# the card\ncard:\n  size: CR80\n\nribbon:\n  panels: YMCKO\n\nroster:\n  file: a.csv\n"},
		{"a section in brackets where sections are", "name: x\ncard: {size: CR80}\n", set("ribbon.panels", edit.Text("YMCKO")), "name: x\ncard: {size: CR80}\nribbon: {panels: YMCKO}\n"},
		{"a field, whatever its name", "fields:\n  full: a\n", set(`fields."a: b.c"`, edit.Text("x")), "fields:\n  full: a\n  \"a: b.c\": x\n"},
		{"below what is commented out", "faces:\n  front:\n    - {a: 1}\n    # - {old: 1}\n      # deep\nroster: x\n", set("readers", edit.List(gate)),
			"faces:\n  front:\n    - {a: 1}\n    # - {old: 1}\n      # deep\nreaders:\n  - {name: Gate, kind: hand, light: 660, accepts: [code39]}\nroster: x\n"},
	})
}

func TestRemove(t *testing.T) {
	run(t, []editCase{
		{"a line", "a: 1\nb: 2 # two\nc: 3\n", remove("b"), "a: 1\nc: 3\n"},
		{"with its own comment, not with others", "a: 1\n# of nobody\n\n# of b\n# and more\nb:\n  x: 1\n  # in b\n\n# of c\nc: 3\n", remove("b"), "a: 1\n# of nobody\n\n# of c\nc: 3\n"},
		{"the last", "a: 1\n\n# of b\nb: 2\n", remove("b"), "a: 1\n"},
		{"in brackets", "a: {x: 1,  y: 2,  z: 3}\n", remove("a.y"), "a: {x: 1,  z: 3}\n"},
		{"first in brackets", "a: {x: 1, y: 2}\n", remove("a.x"), "a: {y: 2}\n"},
		{"last in brackets", "a: { x: 1, y: 2 } # c\n", remove("a.y"), "a: { x: 1 } # c\n"},
		{"all there is in brackets", "a: {x: 1}\n", remove("a.x"), "a: {}\n"},
		{"all there is below a key", "a: # what\n  x: 1\nb: 2\n", remove("a.x"), "a: {} # what\nb: 2\n"},
		{"all there is of a list", "a:\n  # c\n  - x\nb: 2\n", remove("a[1]"), "a: []\nb: 2\n"},
		{"a line in brackets", "a: {\n  x: 1, # one\n  # two\n  y: 2, # 2\n  z: 3\n}\n", remove("a.y"), "a: {\n  x: 1, # one\n  z: 3\n}\n"},
		{"the last line in brackets", "a: {\n  x: 1, # one\n  y: 2 # two\n}\n", remove("a.y"), "a: {\n  x: 1 # one\n}\n"},
		{"the end of a line in brackets", "a: {x: 1, y: 2,\n    z: 3}\n", remove("a.y"), "a: {x: 1,\n    z: 3}\n"},
		{"a key beside its dash", "a:\n  # of all\n  - x: 1\n    # of y\n    y: 2\n  - z\n", remove("a[1].x"), "a:\n  # of all\n  # of y\n  - y: 2\n  - z\n"},
		{"an item with lines of its own", "a:\n  - x: 1\n    y: 2\n  # of z\n  - z: 1\n", remove("a[1]"), "a:\n  # of z\n  - z: 1\n"},
	})
}

func TestLists(t *testing.T) {
	const items = `faces:
  front:
    # ground
    - {picture: a.png}
    - text: Hello # lines
      # size
      size: 4
    # top
    - {code: itf}
  back: []
`
	run(t, []editCase{
		{"insert in brackets", items, insert("faces.front[2]", hello),
			strings.Replace(items, "    - text", "    - {text: Hello, box: [1, 2, 30, 4], size: 3.5}\n    - text", 1)},
		{"insert in lines beside an item in lines", items, insert("faces.front[3]", hello),
			strings.Replace(items, "    # top", "    - text: Hello\n      box: [1, 2, 30, 4]\n      size: 3.5\n    # top", 1)},
		{"insert below all", items, insert("faces.front[1]", hello),
			strings.Replace(items, "    # ground", "    - {text: Hello, box: [1, 2, 30, 4], size: 3.5}\n    # ground", 1)},
		{"insert on top", items, insert("faces.front[4]", hello),
			strings.Replace(items, "  back", "    - {text: Hello, box: [1, 2, 30, 4], size: 3.5}\n  back", 1)},
		{"insert into an empty list", items, insert("faces.back[1]", hello),
			strings.Replace(items, "back: []", "back:\n    - {text: Hello, box: [1, 2, 30, 4], size: 3.5}", 1)},
		{"insert into brackets", "a: [x, y]\n", insert("a[2]", edit.Text("z, z")), "a: [x, \"z, z\", y]\n"},
		{"move down with its comment", items, move("faces.front[1]", 2),
			"faces:\n  front:\n    - text: Hello # lines\n      # size\n      size: 4\n    # top\n    - {code: itf}\n    # ground\n    - {picture: a.png}\n  back: []\n"},
		{"move up", items, move("faces.front[3]", 0),
			"faces:\n  front:\n    # top\n    - {code: itf}\n    # ground\n    - {picture: a.png}\n    - text: Hello # lines\n      # size\n      size: 4\n  back: []\n"},
		{"move in brackets", "a: [x,  y, z] # c\n", move("a[1]", 2), "a: [y,  z, x] # c\n"},
		{"dashes below their key", "a:\n- x\n- y\n", insert("a[3]", edit.Text("z")), "a:\n- x\n- y\n- z\n"},
		{"items set off by blank lines", "a:\n  - x: 1\n\n  - x: 2\nb: 1\n", insert("a[3]", edit.Group(edit.Pair{Key: "x", Value: edit.Whole(3)})), "a:\n  - x: 1\n\n  - x: 2\n\n  - x: 3\nb: 1\n"},
		{"items moved among blank lines", "a:\n  - 1\n\n  - 2\n\n  - 3\nb: 1\n", move("a[1]", 2), "a:\n  - 2\n\n  - 3\n\n  - 1\nb: 1\n"},
	})
}

func TestElements(t *testing.T) {
	const faces = `faces:
  front:
    - {text: "{number}", box: [1, 2, 3, 4], size: 3} # by number
    - {text: "{name}", box: [1, 2, 3, 4], size: 3}
    - {name: bars, code: itf, text: "{number}", printed: text 2}
`
	back := strings.Replace(faces, "front", "back", 1) + "  front: []\n"
	run(t, []editCase{
		{"a side that is not printed yet", faces, change(edit.AddElement{Side: site.Back, Element: hello}),
			strings.Replace(faces, "{text: \"{name}\"", "{name: text 2, text: \"{name}\"", 1) + "  back:\n    - {text: Hello, box: [1, 2, 30, 4], size: 3.5}\n"},
		{"a name that hangs on the number of elements is stated before it shifts", faces, change(edit.DeleteElement{Side: site.Front, Index: 0}),
			"faces:\n  front:\n    - {name: text 2, text: \"{name}\", box: [1, 2, 3, 4], size: 3}\n    - {name: bars, code: itf, text: \"{number}\", printed: text 2}\n"},
		{"nobody names what is gone", back, change(edit.DeleteElement{Side: site.Back, Index: 1}),
			"faces:\n  back:\n    - {text: \"{number}\", box: [1, 2, 3, 4], size: 3} # by number\n    - {name: bars, code: itf, text: \"{number}\"}\n  front: []\n"},
		{"rename with what names it", faces, change(edit.RenameElement{Side: site.Front, Index: 1, Name: "holder"}),
			"faces:\n  front:\n    - {text: \"{number}\", box: [1, 2, 3, 4], size: 3} # by number\n    - {name: holder, text: \"{name}\", box: [1, 2, 3, 4], size: 3}\n    - {name: bars, code: itf, text: \"{number}\", printed: holder}\n"},
		{"duplicate under a free name", "faces: {back: [{name: a, line: [1, 1, 1, 0]}, {name: a 2, text: b}]}\n", change(edit.DuplicateElement{Side: site.Back}),
			"faces: {back: [{name: a, line: [1, 1, 1, 0]}, {name: a 3, line: [1, 1, 1, 0]}, {name: a 2, text: b}]}\n"},
		{"duplicate under a given name", "faces:\n  back:\n    # one\n    - line: [1, 1, 1, 0] # c\n      width: 1\n    - {text: b}\n", change(edit.DuplicateElement{Side: site.Back, Name: "rule"}),
			"faces:\n  back:\n    # one\n    - line: [1, 1, 1, 0] # c\n      width: 1\n    - name: rule\n      line: [1, 1, 1, 0] # c\n      width: 1\n    - {text: b}\n"},
		{"the last of a side takes the side along", "faces:\n  front:\n    - {text: a}\n  back:\n    - {text: b}\n", change(edit.DeleteElement{Side: site.Back}), "faces:\n  front:\n    - {text: a}\n"},
		{"an element lies elsewhere in the order", "faces:\n  front:\n    - {text: a}\n    - {text: b}\n", change(edit.MoveElement{Side: site.Front, From: 1}), "faces:\n  front:\n    - {text: b}\n    - {text: a}\n"},
	})
}

func TestBlackRules(t *testing.T) {
	side := func(panels string) string {
		return "ribbon:\n  panels: " + panels + "\nblack: objects # asked the maker\nfaces:\n  front: [{text: a}]\n"
	}
	both := side("YMCKO") + "  back: [{text: a}]\n"
	tail := side("YMCKOK") + "  back: [{text: a}]\n"
	dark := site.Black{Rule: site.Dark, Limit: 40}
	zones := site.Black{Rule: site.Zones, Limit: 60, Zones: []plane.Box{box(1, 2, 3, 4)}, Outside: true, KeepDyes: true}
	rule := func(s site.Side, b site.Black) func(testing.TB) edit.Change {
		return change(edit.SetBlack{Side: s, Rule: b})
	}
	run(t, []editCase{
		{"the only side", side("YMCKO"), rule(site.Front, dark), strings.Replace(side("YMCKO"), "objects", "dark", 1)},
		{"with its settings", side("YMCKO"), rule(site.Front, zones),
			strings.Replace(side("YMCKO"), "black: objects # asked the maker", "black: # asked the maker\n  rule: zones\n  limit: 60\n  zones: [[1, 2, 3, 4]]\n  outside: true\n  dyes: keep", 1)},
		{"one of two sides", both, rule(site.Back, dark), strings.Replace(both, "black: objects # asked the maker", "black: # asked the maker\n  front: objects\n  back: dark", 1)},
		{"the other side is black resin anyway", tail, rule(site.Front, dark), strings.Replace(tail, "objects", "dark", 1)},
		{"a side that was black resin anyway", tail, rule(site.Back, dark), strings.Replace(tail, "black: objects # asked the maker", "black: # asked the maker\n  front: objects\n  back: dark", 1)},
		{"where each has its own", "black: {front: objects, back: all}\n", rule(site.Back, dark), "black: {front: objects, back: dark}\n"},
		{"what is stated stays stated", "black: {front: {rule: dark, limit: 40, dyes: leave}}\n", rule(site.Front, site.Black{Rule: site.Exact}), "black: {front: {rule: exact, dyes: leave}}\n"},
		{"where none was", "name: x\nribbon: {panels: YMCKO}\nfaces:\n  front: [{text: a}]\n", rule(site.Front, dark), "name: x\nribbon: {panels: YMCKO}\nblack: dark\nfaces:\n  front: [{text: a}]\n"},
	})
}

func TestTurnedAway(t *testing.T) {
	const src = "name: x\na: 1\na: 2\nlist:\n  - - x\n    - y\n"
	for _, c := range []struct {
		what   string
		change func(testing.TB) edit.Change
		says   string
	}{
		{"no such key", remove("b"), "b: is not in the file"},
		{"no such item", set("list[3]", edit.Whole(1)), "list[3]: there is no such item; the list has 1"},
		{"a key written twice", set("a", edit.Whole(1)), "a: is written twice in the file; keep one"},
		{"a key under a word", set("name.x", edit.Whole(1)), "name.x: is not in the file"},
		{"beyond the end", insert("list[3]", edit.Whole(1)), "list[3]: there is no such item; the list has 1"},
		{"to beyond the end", move("list[1]", 1), "list[2]: there is no such item; the list has 1"},
		{"into a word", insert("name[1]", edit.Whole(1)), "name: is no list"},
		{"a list beside a dash", move("list[1][1]", 1), "begins beside another dash"},
		{"the whole file", set("", edit.Whole(1)), "the whole file cannot be set"},
		{"no element", change(edit.DeleteElement{}), "faces: is not in the file"},
	} {
		if _, err := open(t, src).Apply(c.change(t)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.what, err)
		}
	}
	for what, src := range map[string]string{
		"tabs":             "a:\n\tb: 1\n",
		"anchors":          "a: &x 1\n",
		"no group":         "- a\n",
		"nothing":          "# c\n",
		"not closed":       "a: [1\n",
		"two documents":    "a: 1\n---\nb: 1\n",
		"old line ends":    "a: 1\rb: 2\r",
		"a lone pair":      "a: [b: 1]\n",
		"a key of lists":   "[a]: 1\n",
		"not UTF-8":        "a: \xff\n",
		"more than a page": "a: " + strings.Repeat("x", 1<<20),
	} {
		if _, err := edit.Open([]byte(src)); err == nil {
			t.Errorf("%s are taken", what)
		}
	}
}

func TestPaths(t *testing.T) {
	for _, s := range []string{"", "name", "faces.front[2].box", "a[1][2].b", `fields."a.b"`, `"[x]".c`, `""`} {
		if got := path(t, s).String(); got != s {
			t.Errorf("%q comes back as %q", s, got)
		}
	}
	for _, s := range []string{".a", "a.", "a..b", "a[0]", "a[x]", "a[1", `"a`, "a[1]b"} {
		if p, err := edit.ParsePath(s); err == nil {
			t.Errorf("%q is taken for %v", s, p)
		}
	}
	if got := edit.Element(site.Back, 2).Key("box").String(); got != "faces.back[3].box" {
		t.Error(got)
	}
}

func TestHistory(t *testing.T) {
	states := make([]*edit.Source, 4)
	for i := range states {
		states[i] = open(t, "a: "+string(rune('0'+i))+"\n")
	}
	h := edit.NewHistory(states[0], 2)
	if h.Undo() || h.Redo() {
		t.Error("a new history has steps")
	}
	for _, s := range states[1:] {
		h.Do(s)
		h.Do(open(t, string(s.Bytes()))) // the same text is no step
	}
	if back, forth := h.Steps(); back != 2 || forth != 0 {
		t.Errorf("%d back, %d forth", back, forth)
	}
	if !h.Undo() || !h.Undo() || h.Undo() || h.Now() != states[1] {
		t.Error("undo does not lead to the oldest state that is kept")
	}
	if !h.Redo() || h.Now() != states[2] {
		t.Error("redo does not lead on")
	}
	h.Do(states[0])
	if back, forth := h.Steps(); back != 2 || forth != 0 {
		t.Errorf("after a new step %d back, %d forth", back, forth)
	}
}

// A batch is made as a whole: a text may change its kind with all that hangs on
// it, and nothing changes where one step cannot be made.
func TestApplyTogether(t *testing.T) {
	s := open(t, "faces:\n  front:\n    - {code: codabar, text: \"1\", box: [1, 1, 50, 9], start: A}\n")
	p := edit.Element(site.Front, 0)
	changes := []edit.Change{edit.Set{Path: p.Key("code"), Value: edit.Text("code39")}, edit.Remove{Path: p.Key("start")}}
	got, err := s.Apply(changes...)
	if err != nil {
		t.Fatal(err)
	}
	if want := "faces:\n  front:\n    - {code: code39, text: \"1\", box: [1, 1, 50, 9]}\n"; string(got.Bytes()) != want {
		t.Errorf("%s", got.Bytes())
	}
	if got, err := s.Apply(append(changes, changes[1])...); got != nil || err == nil {
		t.Error("a batch with a step that cannot be made is made")
	}
}
