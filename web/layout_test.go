package web

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"unspool/folder"
)

// ownBench is a bench on a copy of the demo that a test may write to: its text
// and roster, and one photo for everybody.
func ownBench(t testing.TB) (b *Bench, at string) {
	t.Helper()
	if _, err := sundhaven(); err != nil {
		t.Fatal(err)
	}
	own := t.TempDir()
	if err := os.CopyFS(filepath.Join(own, "art"), os.DirFS(filepath.Join(dir, "art"))); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{folder.Name, "crew.csv"} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(own, name), string(data))
	}
	f, err := folder.Open(own)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return bench(t, func(o *Options) { o.Folder = f }), filepath.Join(own, folder.Name)
}

func write(t testing.TB, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

type obj = map[string]any

// lay makes changes on the bench as it now is.
func lay(t testing.TB, b *Bench, changes ...obj) benchForm {
	t.Helper()
	return post[benchForm](t, b, "/api/layout", obj{"revision": b.now.Load().revision, "changes": changes})
}

// text is the programme as the bench has it.
func text(b *Bench) string { return string(b.draft.history.Now().Bytes()) }

// Each change alters its own piece of the file and nothing else: the wanted text
// is the demo's own with that piece put in by hand.
func TestLayoutChanges(t *testing.T) {
	b, at := ownBench(t)
	before := read(t, at)
	const code = `{name: crew code, code: code39, text: "{number}", box: [30, 36.4, 52, 11], x: auto, align: middle, backing: true, printed: crew number}`
	const number = `    - {name: crew number, text: "{number}", box: [30, 48, 52, 3.6], size: 3.2, align: middle, valign: middle}` + "\n"
	for _, c := range []struct {
		name     string
		change   obj
		old, new string
	}{
		{"move", obj{"do": "box", "side": "front", "element": 8, "box": []float64{31.5, 36.4, 50, 11}}, "[30, 36.4, 52, 11]", "[31.5, 36.4, 50, 11]"},
		{"micrometres", obj{"do": "box", "side": "front", "element": 8, "box": []float64{30.0847, 36.4, 52, 11}}, "[30, 36.4, 52, 11]", "[30.085, 36.4, 52, 11]"},
		{"a key", obj{"do": "set", "side": "front", "element": 8, "key": "x", "value": 3}, "11], x: auto", "11], x: 3"},
		{"a text", obj{"do": "set", "side": "front", "element": 7, "key": "text", "value": "until {until}"}, "valid until {until}", "until {until}"},
		{"a key out", obj{"do": "set", "side": "front", "element": 8, "key": "backing", "value": nil}, ", backing: true", ""},
		{"rename", obj{"do": "rename", "side": "front", "element": 9, "name": "digits"}, "crew number", "digits"},
		{"order", obj{"do": "move", "side": "front", "element": 9, "to": 8}, "    - " + code + "\n" + number, number + "    - " + code + "\n"},
		{"delete", obj{"do": "delete", "side": "front", "element": 9}, ", printed: crew number}\n" + number, "}\n"},
	} {
		want := strings.ReplaceAll(before, c.old, c.new)
		if want == before {
			t.Fatalf("%s: the demo holds no %q", c.name, c.old)
		}
		f := lay(t, b, c.change)
		if got := text(b); got != want || !f.Unsaved || !f.Undo || f.Redo || f.Changed {
			t.Errorf("%s: undo %v, unsaved %v; the file became\n%s", c.name, f.Undo, f.Unsaved, got)
		}
		if f = post[benchForm](t, b, "/api/undo", obj{}); text(b) != before || f.Unsaved || !f.Redo {
			t.Errorf("%s: not taken back", c.name)
		}
	}
	if read(t, at) != before {
		t.Error("a change that was not saved was written")
	}
}

// What is added or duplicated is on the card, in its box, and every line that was
// there stays.
func TestLayoutAdds(t *testing.T) {
	b, at := ownBench(t)
	lines := strings.Split(read(t, at), "\n")
	for _, kind := range []string{"text", "code", "photo", "picture", "mrz", "line", "rectangle", "ellipse"} {
		f := lay(t, b, obj{"do": "add", "side": "back", "kind": kind, "box": []float64{5, 20, 60, 10}, "text": map[string]string{"picture": "art/mark.svg"}[kind]})
		all := f.Sides[1].Elements
		if e := all[len(all)-1]; e.Kind != kind || e.Box != (boxForm{5, 20, 60, 10}) {
			t.Errorf("%s: %+v", kind, e)
		}
	}
	f := lay(t, b, obj{"do": "duplicate", "side": "front", "element": 8}, obj{"do": "box", "side": "front", "element": 9, "box": []float64{2, 2, 52, 11}})
	if e := f.Sides[0].Elements[9]; e.Name != "crew code 2" || e.Box != (boxForm{2, 2, 52, 11}) || f.Sides[0].Elements[8].Box != (boxForm{30, 36.4, 52, 11}) {
		t.Errorf("duplicate: %+v", e)
	}
	if f = lay(t, b, obj{"do": "add", "side": "front", "kind": "text", "at": 0}); f.Sides[0].Elements[0].Kind != "text" {
		t.Errorf("at the bottom: %+v", f.Sides[0].Elements[0])
	}
	rest := text(b)
	for _, l := range lines {
		_, after, found := strings.Cut(rest, l+"\n")
		if !found && l != "" {
			t.Fatalf("the line %q is gone", l)
		}
		rest = after
	}
}

// One history holds moves and black rules; changes of one gesture are one step.
func TestLayoutUndoRedo(t *testing.T) {
	b, _ := ownBench(t)
	start := text(b)
	drag := func(x float64) benchForm {
		return post[benchForm](t, b, "/api/layout", obj{"revision": b.now.Load().revision, "gesture": "drag 1",
			"changes": []obj{{"do": "box", "side": "front", "element": 8, "box": []float64{x, 36.4, 52, 11}}}})
	}
	drag(30.5)
	drag(31)
	drag(31.5)
	post[benchForm](t, b, "/api/black", obj{"side": "front", "rule": "none"})
	lay(t, b, obj{"do": "set", "side": "front", "element": 8, "key": "x", "value": 3})
	for f := (benchForm{Undo: true}); f.Undo; {
		f = post[benchForm](t, b, "/api/undo", obj{})
	}
	if text(b) != start {
		t.Fatal("undo does not lead back to the file as it was")
	}
	steps := 0
	for f := (benchForm{Redo: true}); f.Redo; steps++ {
		f = post[benchForm](t, b, "/api/redo", obj{})
	}
	if steps != 3 {
		t.Errorf("%d steps; want a drag, a rule and an X", steps)
	}
	for _, want := range []string{"black: none", "[31.5, 36.4, 52, 11], x: 3"} {
		if !strings.Contains(text(b), want) {
			t.Errorf("no %q", want)
		}
	}
}

// What makes no sound programme is told with its line and changes nothing.
func TestLayoutRefused(t *testing.T) {
	b, at := ownBench(t)
	before := read(t, at)
	set := func(element int, key string, value any) obj {
		return obj{"do": "set", "side": "front", "element": element, "key": key, "value": value}
	}
	for _, c := range []struct {
		name    string
		changes []obj
		status  int
		holds   string
	}{
		{"no size", []obj{{"do": "box", "side": "front", "element": 8, "box": []float64{30, 36, 0, 11}}}, 422, `"faults":[{"line":39,`},
		{"far off", []obj{{"do": "box", "side": "front", "element": 8, "box": []float64{1e6, 36, 10, 11}}}, 422, `"line":39`},
		{"unknown column", []obj{set(9, "text", "{nonsense}")}, 422, "nonsense"},
		{"open brace", []obj{set(9, "text", "{number")}, 422, "not closed"},
		{"unknown key", []obj{set(9, "colr", "black")}, 422, "colr"},
		{"the second of two", []obj{set(9, "size", 3), set(8, "x", "wide")}, 422, "faults"},
		{"picture above the folder", []obj{set(0, "picture", "../secret.png")}, 422, "within the programme folder"},
		{"picture anywhere", []obj{set(0, "picture", "/etc/hostname")}, 422, "within the programme folder"},
		{"picture missing", []obj{set(0, "picture", "art/none.png")}, 422, "art/none.png"},
		{"added picture above", []obj{{"do": "add", "side": "front", "kind": "picture", "text": "art/../../x.png"}}, 422, "within the programme folder"},
		{"photo folder above", []obj{set(3, "folder", "..")}, 422, "within the programme folder"},
		{"font above", []obj{set(9, "font", "../x.ttf")}, 422, "within the programme folder"},
		{"no such element", []obj{set(99, "x", 1)}, 400, "no such item"},
		{"below 0", []obj{set(-1, "x", 1)}, 400, "count from 0"},
		{"no key", []obj{set(1, "", 1)}, 400, "not a change"},
		{"no box", []obj{{"do": "box", "side": "front", "element": 1}}, 400, "not a change"},
		{"no side", []obj{{"do": "delete", "side": "edge", "element": 1}}, 404, "no such side"},
		{"no such change", []obj{{"do": "burn", "side": "front"}}, 400, "not a change"},
		{"no such kind", []obj{{"do": "add", "side": "front", "kind": "clip"}}, 400, "no such kind"},
		{"picture without file", []obj{{"do": "add", "side": "front", "kind": "picture"}}, 400, "needs its file"},
		{"name taken", []obj{{"do": "rename", "side": "front", "element": 9, "name": "crew code"}}, 422, "crew code"},
		{"nothing", nil, 400, "no change"},
	} {
		body, err := json.Marshal(obj{"revision": 1, "changes": c.changes})
		if err != nil {
			t.Fatal(err)
		}
		said := tell(t, ask(b, request(http.MethodPost, "/api/layout", string(body))))
		if !strings.HasPrefix(said, strconv.Itoa(c.status)) || !strings.Contains(said, c.holds) {
			t.Errorf("%s: %.400s; want %d %q", c.name, said, c.status, c.holds)
		}
		if undo, _, unsaved := b.steps(); undo || unsaved || b.now.Load().revision != 1 || text(b) != before {
			t.Fatalf("%s changed the bench", c.name)
		}
	}
	body := `{"revision":7,"changes":[{"do":"delete","side":"front","element":1}]}`
	if said := tell(t, ask(b, request(http.MethodPost, "/api/layout", body))); !strings.HasPrefix(said, "409") {
		t.Errorf("another state: %s", said)
	}
}

// A photo named by the roster is read within the folder only; a name that leads
// out of it is a finding, and nothing of the file is shown.
func TestPhotoStaysInFolder(t *testing.T) {
	b, at := ownBench(t)
	secret := filepath.Join(filepath.Dir(filepath.Dir(at)), "secret.jpg")
	write(t, secret, "not for the bench")
	t.Cleanup(func() { os.Remove(secret) })
	lay(t, b, obj{"do": "set", "side": "front", "element": 3, "key": "photo", "value": "../../secret.jpg"})
	c := get[cardForm](t, b, "/api/card/0")
	found := ""
	for _, f := range c.Findings {
		if f.Element == "portrait" {
			found += f.ID + " " + f.Detail + "\n"
		}
	}
	if !strings.Contains(found, "photo") || strings.Contains(found, "not for the bench") {
		t.Errorf("%q", found)
	}
}

func TestSave(t *testing.T) {
	b, at := ownBench(t)
	before := read(t, at)
	save := func(instead string) *http.Response {
		body, err := json.Marshal(saveForm{b.now.Load().revision, instead})
		if err != nil {
			t.Fatal(err)
		}
		return ask(b, request(http.MethodPost, "/api/save", string(body)))
	}
	move := obj{"do": "box", "side": "front", "element": 8, "box": []float64{31, 36.4, 50, 11}}
	lay(t, b, move)
	mine := strings.Replace(before, "[30, 36.4, 52, 11]", "[31, 36.4, 50, 11]", 1)
	if f := said[savedForm](t, save("")); f.Unsaved || f.Changed || !f.Undo || read(t, at) != mine {
		t.Errorf("saved: %+v\n%s", f.Unsaved, read(t, at))
	}
	if said := tell(t, ask(b, request(http.MethodPost, "/api/save", `{"revision":1}`))); !strings.HasPrefix(said, "409") {
		t.Errorf("another state: %s", said)
	}
	if said := tell(t, save("anyway")); !strings.HasPrefix(said, "400") {
		t.Errorf("anyway: %s", said)
	}

	// Somebody else saves; what they wrote stays until the person has chosen.
	theirs := "# theirs\n" + mine
	lay(t, b, obj{"do": "set", "side": "front", "element": 8, "key": "x", "value": 3})
	write(t, at, theirs)
	if f := get[benchForm](t, b, "/api/bench"); !f.Changed || !f.Unsaved {
		t.Errorf("changed on disk: %v, unsaved: %v", f.Changed, f.Unsaved)
	}
	if said := tell(t, save("")); !strings.HasPrefix(said, "409") || !strings.Contains(said, "changed on disk") || read(t, at) != theirs {
		t.Errorf("conflict: %s", said)
	}
	kept := text(b)
	for _, want := range []string{"programme.yaml.mine", "programme.yaml.mine-2"} {
		f := said[savedForm](t, save("keep"))
		if f.Kept != want || read(t, filepath.Join(filepath.Dir(at), f.Kept)) != kept || read(t, at) != theirs {
			t.Errorf("kept as %q", f.Kept)
		}
	}
	if f := said[savedForm](t, save("reload")); f.Unsaved || f.Changed || text(b) != theirs || f.Sides[0].Elements[8].Box.X != 31 {
		t.Errorf("reloaded: %v %v\n%s", f.Unsaved, f.Changed, text(b))
	}
	// What was on the bench before is one step back, and can be saved knowingly.
	post[benchForm](t, b, "/api/undo", obj{})
	if f := said[savedForm](t, save("")); text(b) != kept || read(t, at) != kept || f.Unsaved {
		t.Error("what was on the bench is lost")
	}

	// What else lies in the folder is taken up with the card file.
	light := get[benchForm](t, b, "/api/bench").Light
	write(t, at, strings.Replace(kept, "resin: carbon", "resin: not carbon", 1))
	roster := filepath.Join(filepath.Dir(at), "crew.csv")
	people := read(t, roster)
	write(t, roster, people[:strings.LastIndex(strings.TrimSpace(people), "\n")+1])
	eye := panelsAt(t, b, "/api/card/0/eye/front.rgba").planes["rgba"]
	write(t, filepath.Join(filepath.Dir(at), "art", "mark.svg"), `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"><path d="M0 0h4v4z"/></svg>`)
	f := said[savedForm](t, save("reload"))
	if f.Cards != cards-1 || f.Light != f.Revision || f.Light == light {
		t.Errorf("%d cards, inks since %d at %d", f.Cards, f.Light, f.Revision)
	}
	if bytes.Equal(eye, panelsAt(t, b, "/api/card/0/eye/front.rgba").planes["rgba"]) {
		t.Error("the artwork of before is still on the card")
	}
	if now := lay(t, b, obj{"do": "box", "side": "front", "element": 8, "box": []float64{32, 36.4, 49, 11}}); now.Revision == f.Revision || now.Light != f.Light {
		t.Error("a moved element passes for other inks")
	}
	post[benchForm](t, b, "/api/undo", obj{})
	if f := post[benchForm](t, b, "/api/undo", obj{}); f.Light != f.Revision {
		t.Error("the ribbon of before the file was taken up passes for that of the file")
	}

	// A file that is gone or broken is not taken up.
	lay(t, b, move)
	write(t, at, "unspool: [")
	if said := tell(t, save("reload")); !strings.HasPrefix(said, "422") || !strings.Contains(said, `"line":1`) {
		t.Errorf("broken: %s", said)
	}
	if err := os.Remove(at); err != nil {
		t.Fatal(err)
	}
	for _, instead := range []string{"", "reload"} {
		if said := tell(t, save(instead)); said[:1] != "4" {
			t.Errorf("gone, %q: %s", instead, said)
		}
	}
}

// A file that cannot be changed in place is shown, and says why it stays as it is.
func TestLayoutOfFixedFile(t *testing.T) {
	b := bench(t)
	b.draft = newDraft([]byte("unspool: &one 1\n")) // an anchor
	for _, c := range [][2]string{
		{"/api/layout", `{"revision":1,"changes":[{"do":"delete","side":"front","element":1}]}`},
		{"/api/black", `{"side":"front","rule":"none"}`}, {"/api/save", `{"revision":1}`}, {"/api/save", `{"instead":"keep"}`},
	} {
		if said := tell(t, ask(b, request(http.MethodPost, c[0], c[1]))); !strings.HasPrefix(said, "409") || !strings.Contains(said, "by hand") {
			t.Errorf("%s: %s", c[0], said)
		}
	}
	if said := tell(t, ask(b, request(http.MethodGet, "/api/layout", ""))); !strings.Contains(said, `"why":"`) {
		t.Error(said)
	}
}

// The page gets every element as the file states it, and the names to choose
// from.
func TestLayoutStated(t *testing.T) {
	b, _ := ownBench(t)
	l := get[struct {
		Revision         int
		Fields, Pictures []string
		Sides            []struct {
			Side     string
			Elements []struct {
				Name, Kind string
				Stated     map[string]any
			}
		}
	}](t, b, "/api/layout")
	e := l.Sides[0].Elements[8]
	if e.Name != "crew code" || e.Kind != "code" || e.Stated["x"] != "auto" || e.Stated["text"] != "{number}" || l.Revision != 1 {
		t.Errorf("%+v", e)
	}
	if all := strings.Join(l.Pictures, " "); !strings.Contains(all, "art/front.png") || !strings.Contains(strings.Join(l.Fields, " "), "number") {
		t.Errorf("%q %q", l.Pictures, l.Fields)
	}
}

// The steps of X are those of a hand count: Code 39 with six digits and its two
// stop characters has 8 characters of 6 narrow and 3 wide elements, 7 gaps of X
// and two quiet zones of 10 X (ISO/IEC 16388), at the smallest ratio the
// standard allows at that X.
func TestCodeSteps(t *testing.T) {
	b, _ := ownBench(t)
	steps := get[cardForm](t, b, "/api/card/0").Codes[0].Steps
	if len(steps) < 4 {
		t.Fatalf("%+v", steps)
	}
	const dot = 25.4 / 300
	for _, s := range steps {
		fits := false
		for wide := 2 * s.Dots; wide <= 3*s.Dots; wide++ {
			dots := 8*(6*s.Dots+3*wide) + 7*s.Dots + 2*10*s.Dots
			fits = fits || near(float64(s.Need), float64(dots)*dot)
		}
		if !fits || !near(float64(s.MM), float64(s.Dots)*dot) {
			t.Errorf("%+v is the width of no legal size", s)
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-3 && b-a < 1e-3 }

// BenchmarkLayout is a move of a code and the proof of the card that is shown, with its
// picture: it is to take less than 150 ms.
func BenchmarkLayout(b *testing.B) {
	n, _ := ownBench(b)
	x := 30.0
	for b.Loop() {
		x = 61 - x
		held := n.now.Load().revision
		lay(b, n, obj{"do": "box", "side": "front", "element": 8, "box": []float64{x, 36.4, 51, 11}})
		for _, part := range []string{"/api/card/0", "/api/card/0/eye/front.rgba?since=" + strconv.Itoa(held)} {
			w := ask(n, request(http.MethodGet, part, ""))
			if _, err := io.Copy(io.Discard, w.Body); err != nil || w.StatusCode != http.StatusOK {
				b.Fatal(w.StatusCode, err)
			}
		}
	}
}
