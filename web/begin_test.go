package web

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"unspool/folder"
)

// beginning is a bench in whose folder a programme is to be begun.
func beginning(t testing.TB, files map[string]string, change ...func(*Options)) (*Bench, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "quay passes")
	place(t, dir, nil)
	place(t, dir, files)
	fresh, err := folder.OpenFresh(dir)
	if err != nil || fresh == nil {
		t.Fatal(fresh, err)
	}
	o := Options{Fresh: fresh, Hosts: []string{host}, Fault: func(what string) { t.Error(what) }}
	for _, c := range change {
		c(&o)
	}
	b, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close(); fresh.Close() })
	return b, dir
}

func place(t testing.TB, dir string, files map[string]string) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		at := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

func portrait(t testing.TB) string {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 31, 40))
	for i := range m.Pix {
		m.Pix[i] = uint8(i)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// file is a request that brings a file.
func file(name, data string) *http.Request {
	r := request(http.MethodPost, "/api/begin/file?"+url.Values{"name": {name}}.Encode(), data)
	r.Header.Set("Content-Type", "application/octet-stream")
	return r
}

// inFolder is what a test reads of a beginForm.
type inFolder struct {
	Folder, Roster, Sheet, Encoding, Problem string
	Rosters, Sheets                          []string
	Photos                                   int
	Table                                    *rosterForm
}

const crew = "number,given,family,role\n000101,Ida,Sund,Mate\n000102,Per,Holm,Deck\n000103,Ole,Strand,Deck\n"

// startOf is what a page sends to begin a programme of that crew.
func startOf() map[string]any {
	return map[string]any{"name": "Quay passes", "roster": "crew.csv", "dpi": 300, "panels": "YMCKO", "resin": "carbon", "black": "objects", "readers": []map[string]any{
		{"name": "Gate", "kind": "slot", "light": 940, "accepts": []string{"code39"}, "side": "front", "from": "bottom", "line": 12},
		{"name": "Purser", "kind": "hand", "light": 660, "accepts": []string{"code39"}},
	}}
}

// An empty folder is filled, looked at, tried and begun; from then on it is a
// bench as any other.
func TestBeginAProgramme(t *testing.T) {
	b, dir := beginning(t, nil)
	if f := get[inFolder](t, b, "/api/begin"); f.Folder != "quay passes" || len(f.Rosters)+f.Photos != 0 || f.Table != nil || f.Problem != "" {
		t.Errorf("an empty folder: %+v", f)
	}
	if f := get[struct{ Begin bool }](t, b, "/api/bench"); !f.Begin {
		t.Error("the bench does not say that there is no programme")
	}
	for name, data := range map[string]string{"crew.csv": crew, "000101.png": portrait(t), "000103.png": portrait(t), "other.png": portrait(t)} {
		if said := tell(t, ask(b, file(name, data))); !strings.HasPrefix(said, `200 {"kept":`) {
			t.Fatalf("%s: %s", name, said)
		}
	}
	f := get[inFolder](t, b, "/api/begin")
	want := rolesForm{Key: "number", Name: []string{"given", "family"}, Lines: []string{"role"}, Photo: photoForm{"number", ".png"}, Folder: "photos", Code: "code39"}
	if f.Table == nil || fmt.Sprint(f.Table.Roles) != fmt.Sprint(want) || f.Table.Rows != 3 || f.Table.Photos.Found != 2 || !slices.Equal(f.Table.Photos.Without, []string{"000102"}) || f.Table.Photos.Unused != 1 {
		t.Fatalf("%+v", f.Table)
	}
	if c := f.Table.Columns[3]; c.Name != "role" || !slices.Equal(c.Samples, []string{"Mate", "Deck"}) || c.Filled != 3 {
		t.Errorf("%+v", c)
	}
	if !slices.Contains(f.Table.Keys.Codes, "code39") || !slices.Contains(f.Table.Keys.Codes, "itf") {
		t.Errorf("codes %v", f.Table.Keys.Codes)
	}

	start := startOf()
	start["roles"] = map[string]any{"lines": []string{}, "photo": photoForm{}}
	if f := post[inFolder](t, b, "/api/begin/look", start); len(f.Table.Roles.Lines) != 0 || f.Table.Roles.Photo.Column != "" || f.Table.Roles.Key != "number" {
		t.Errorf("what was chosen is not what is said: %+v", f.Table.Roles)
	}
	delete(start, "roles")
	before := list(t, dir)
	p := post[previewForm](t, b, "/api/begin/preview", start)
	data, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(p.Sides[0].Picture, "data:image/png;base64,"))
	if err != nil {
		t.Fatal(err)
	}
	if m, err := png.Decode(bytes.NewReader(data)); err != nil || m.Bounds().Dx() != p.Sides[0].W || p.Sides[0].W < 500 {
		t.Error(err)
	}
	if len(p.Sides) != 1 || len(p.Panels) != 5 || !p.Black || len(p.Readings) != 2 || p.Readings[0].Verdict != "reads" || p.Readings[1].Verdict != "reads" {
		t.Errorf("%+v", p.Readings)
	}
	if now := list(t, dir); !slices.Equal(now, before) {
		t.Errorf("a preview wrote: %q, before %q", now, before)
	}

	begun := post[benchForm](t, b, "/api/begin", start)
	if begun.Name != "Quay passes" || begun.Cards != 3 || len(begun.Readers) != 2 || begun.Unsaved {
		t.Errorf("%+v", begun)
	}
	if again := get[benchForm](t, b, "/api/bench"); again.Revision != 1 || again.Name != begun.Name {
		t.Errorf("%+v", again)
	}
	opened, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer opened.Close()
	if !strings.Contains(string(opened.Source), "\n  - {name: Gate, kind: slot, light: 940, accepts: [code39], side: front, from: bottom, line: 12}\n") {
		t.Errorf("%s", opened.Source)
	}
	card := get[cardForm](t, b, "/api/card/0")
	for i, r := range card.Readings {
		if r.Verdict != p.Readings[i].Verdict {
			t.Errorf("reading %d: %s on the bench, %s in the preview", i, r.Verdict, p.Readings[i].Verdict)
		}
	}
	for _, r := range []*http.Request{request(http.MethodGet, "/api/begin", ""), request(http.MethodPost, "/api/begin", "{}"), file("late.png", portrait(t))} {
		if s := ask(b, r).StatusCode; s != http.StatusConflict {
			t.Errorf("%s %s of a programme that is begun: %d", r.Method, r.URL.Path, s)
		}
	}
}

func list(t testing.TB, dir string) (all []string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(filepath.Dir(dir)), ".", func(name string, _ fs.DirEntry, err error) error {
		all = append(all, name)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// What a roster brings along is told, and what is chosen counts.
func TestLook(t *testing.T) {
	b, _ := beginning(t, map[string]string{
		"a.csv":            "Nr;Name\n7;B\xf6rge\n7;Ida\n;Per\n",
		"b.csv":            "no,{x},who\n1,2,Ida\n2,3,P??r\n",
		"c.csv":            "no\n",
		"Fotos/1.jpg":      portrait(t),
		"photos/Ida.jpg":   portrait(t),
		"photos/.hide.jpg": "", "deep/er/1.jpg": "", "programme.yml": "", "notes.txt": "",
	})
	number := "Nr"
	f := post[inFolder](t, b, "/api/begin/look", map[string]any{"roles": rolesAsked{Key: &number}})
	if f.Roster != "a.csv" || f.Encoding != "windows-1252" || f.Table == nil || f.Table.Columns[1].Samples[0] != "Börge" || f.Table.Keys.Double != 1 || f.Table.Keys.Missing != 1 || !slices.Equal(f.Table.Keys.Some, []string{"7"}) || f.Photos != 2 {
		t.Errorf("%+v %+v", f, f.Table)
	}
	if f := post[inFolder](t, b, "/api/begin/look", map[string]any{"roster": "a.csv", "encoding": "utf-8"}); f.Table != nil || !strings.Contains(f.Problem, "is not UTF-8") {
		t.Errorf("%+v", f)
	}
	who := "who"
	f = post[inFolder](t, b, "/api/begin/look", map[string]any{"roster": "b.csv", "roles": rolesAsked{Key: &who, Photo: &photoForm{"who", ".jpg"}}})
	if f.Table.Roles.Key != "who" || f.Table.Roles.Folder != "photos" || f.Table.Photos.Found != 1 || f.Table.Letters != 1 || f.Table.Columns[1].Usable || len(f.Table.Photos.Folders) != 2 {
		t.Errorf("%+v", f.Table)
	}
	if f := post[inFolder](t, b, "/api/begin/look", map[string]any{"roster": "c.csv"}); f.Table != nil || !strings.Contains(f.Problem, "no people") {
		t.Errorf("%+v", f)
	}
	if f := post[inFolder](t, b, "/api/begin/look", map[string]any{"roster": "../a.csv"}); f.Table != nil || f.Problem == "" {
		t.Errorf("%+v", f)
	}
}

// What cannot be begun is refused in words, and nothing is written.
func TestBeginRefuses(t *testing.T) {
	b, dir := beginning(t, map[string]string{"crew.csv": crew})
	before := list(t, dir)
	reader := func(change map[string]any) map[string]any {
		r := map[string]any{"name": "Gate", "kind": "slot", "light": 940, "accepts": []string{"code39"}, "side": "front", "from": "bottom", "line": 12}
		for k, v := range change {
			r[k] = v
		}
		return r
	}
	for _, c := range []struct {
		key    string
		value  any
		status string
		says   string
	}{
		{"name", " ", "400", "no name"}, {"name", "a\x00b", "422", ""}, {"roster", "../crew.csv", "400", "no such roster"}, {"roster", "programme.yaml", "400", "no such roster"},
		{"panels", "QQ", "422", "ribbon.panels"}, {"panels", "YMCKO\nreaders: []", "422", ""}, {"resin", "", "400", "no such resin"}, {"black", "zones", "400", "no such black rule"}, {"dpi", -3, "422", "printer.dpi"},
		{"roles", map[string]any{"key": "none"}, "422", "none"}, {"roles", map[string]any{"code": "aztec?"}, "422", "aztec"}, {"roles", map[string]any{"folder": "../..", "photo": photoForm{"number", ""}}, "422", "folder"},
		{"roles", map[string]any{"name": []string{"{x}"}}, "422", ""},
		{"readers", []any{reader(map[string]any{"light": 20})}, "422", "readers[1].light"}, {"readers", []any{reader(nil), reader(nil)}, "422", "readers[2]"}, {"readers", []any{reader(map[string]any{"line": 900})}, "422", "line"},
		{"readers", []any{reader(map[string]any{"kind": "laser"})}, "400", "kind of reader"}, {"readers", []any{reader(map[string]any{"accepts": []string{}})}, "422", "accepts"}, {"readers", make([]map[string]any, 51), "400", "more readers"},
		{"readers", []any{reader(map[string]any{"side": "edge"})}, "404", "side"}, {"readers", []any{reader(map[string]any{"from": "left"})}, "400", "edge"}, {"readers", []any{reader(map[string]any{"line": -1})}, "400", "off the card"},
		{"more", 1, "400", ""},
	} {
		start := startOf()
		start[c.key] = c.value
		body, err := json.Marshal(start)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range []string{"/api/begin/preview", "/api/begin"} {
			if said := tell(t, ask(b, request(http.MethodPost, at, string(body)))); !strings.HasPrefix(said, c.status) || !strings.Contains(said, c.says) {
				t.Errorf("%s with %s %v: %s", at, c.key, c.value, said)
			}
		}
	}
	empty, _ := beginning(t, nil)
	if said := tell(t, ask(empty, request(http.MethodPost, "/api/begin/preview", `{"name":"Quay"}`))); !strings.HasPrefix(said, "400") || !strings.Contains(said, "no roster") {
		t.Errorf("without a roster: %s", said)
	}
	if now := list(t, dir); !slices.Equal(now, before) || b.now.Load() != nil {
		t.Errorf("what was refused has written: %q", now)
	}
	// A card file that came from elsewhere meanwhile stays.
	place(t, dir, map[string]string{folder.Name: "mine"})
	body, err := json.Marshal(startOf())
	if err != nil {
		t.Fatal(err)
	}
	if said := tell(t, ask(b, request(http.MethodPost, "/api/begin", string(body)))); !strings.HasPrefix(said, "409") {
		t.Error(said)
	}
	if data, err := os.ReadFile(filepath.Join(dir, folder.Name)); string(data) != "mine" || err != nil {
		t.Errorf("it was written over: %q, %v", data, err)
	}
}

// Files that must not be taken, and requests that the page does not send: each is
// refused in words about that file alone, and nothing is written anywhere.
func TestFilesThatAreRefused(t *testing.T) {
	b, dir := beginning(t, map[string]string{"crew.csv": crew, "photos/000101.png": portrait(t)})
	if err := os.Symlink("../../x.csv", filepath.Join(dir, "out.csv")); err != nil {
		t.Fatal(err)
	}
	before := list(t, dir)
	for _, c := range []struct {
		name, data string
		status     int
		why        string
	}{
		{"../x.csv", "x", 400, "name"}, {"/x.csv", "x", 400, "name"}, {"x\x00.csv", "x", 400, "name"}, {".x.csv", "x", 400, "name"}, {"photos/x.png", "x", 400, "name"}, {"", "x", 400, "name"},
		{"x.yaml", "x", 415, "kind"}, {"x.png", "x", 415, "photo"}, {"crew.csv", "other", 409, "taken"}, {"out.csv", "x", 409, "taken"}, {"000101.png", portrait(t)[:60], 409, "taken"},
		{"x.png", portrait(t) + strings.Repeat("x", folder.MaxPhotoFile), 413, "large"},
	} {
		said := tell(t, ask(b, file(c.name, c.data)))
		if !strings.HasPrefix(said, fmt.Sprint(c.status)) || !strings.Contains(said, `"why":"`+c.why+`"`) {
			t.Errorf("%q: %.300s", c.name, said)
		}
		if strings.Contains(said, "Ida") || strings.Contains(said, "000101") || strings.Contains(said, dir) {
			t.Errorf("%q: the answer tells of others: %.300s", c.name, said)
		}
	}
	for what, flaw := range map[string]func(r *http.Request){
		"host": func(r *http.Request) { r.Host = "rebound.example:8080" }, "origin": func(r *http.Request) { r.Header.Set("Origin", "http://rebound.example") }, "no origin": func(r *http.Request) { r.Header.Del("Origin") },
		"no header": func(r *http.Request) { r.Header.Del("X-Unspool") }, "site": func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, "JSON": func(r *http.Request) { r.Header.Set("Content-Type", "application/json") },
		"form": func(r *http.Request) { r.Header.Set("Content-Type", "multipart/form-data; boundary=x") }, "method": func(r *http.Request) { r.Method = http.MethodPut },
	} {
		r := file("new.csv", "number\n1\n")
		flaw(r)
		if s := ask(b, r).StatusCode; s < 400 || s >= 500 {
			t.Errorf("%s: %d", what, s)
		}
	}
	if now := list(t, dir); !slices.Equal(now, before) {
		t.Errorf("the disk is changed:\n%q\n%q", before, now)
	}
}

// A file that comes in for longer than the server gives other answers is answered
// all the same, and one that is too large is told so in the words for files.
func TestFilesOverASlowLine(t *testing.T) {
	b, _ := beginning(t, nil)
	s := httptest.NewUnstartedServer(b.Handler())
	s.Config.ReadTimeout, s.Config.WriteTimeout = 200*time.Millisecond, 200*time.Millisecond
	at := s.Listener.Addr().String()
	b.options.Hosts = append(b.options.Hosts, at)
	s.Start()
	defer s.Close()
	in, out := io.Pipe()
	go func() {
		io.WriteString(out, "number\n")
		time.Sleep(500 * time.Millisecond)
		io.WriteString(out, "1\n")
		out.Close()
	}()
	r := file("crew.csv", "")
	r.RequestURI, r.URL.Host, r.Host, r.Body, r.ContentLength = "", at, at, in, -1
	r.Header.Set("Origin", s.URL)
	answered, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answered.Body.Close()
	if said := tell(t, answered); said != `200 {"kept":"crew.csv"}` {
		t.Error(said)
	}
	large := file("crew.csv", strings.Repeat("x", folder.MaxRosterFile+2))
	if said := tell(t, ask(b, large)); !strings.HasPrefix(said, "413") || !strings.Contains(said, `"why":"large"`) {
		t.Errorf("too large: %s", said)
	}
}

// The page sends no file that the server would not take for its size, and names
// the same limit.
func TestPageKnowsLimits(t *testing.T) {
	data, err := files.ReadFile("assets/beginfiles.js")
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("ROSTER_MB = %d, PHOTO_MB = %d;", folder.MaxRosterFile>>20, folder.MaxPhotoFile>>20); !strings.Contains(string(data), want) {
		t.Errorf("the page does not say %q", want)
	}
}

// Until a programme is begun no other address tells or does anything, and the door
// holds before the beginning too.
func TestNothingBeforeTheBeginning(t *testing.T) {
	b, _ := beginning(t, nil)
	for _, at := range []string{"GET /api/light", "GET /api/rows", "GET /api/card/0", "GET /api/card/0/eye/front.png", "GET /api/layout", "GET /api/run", "GET /api/paper/report.html", "POST /api/run", "POST /api/save", "POST /api/undo", "POST /api/black", "GET /api/nothing"} {
		method, path, _ := strings.Cut(at, " ")
		if said := tell(t, ask(b, request(method, path, "{}"))); !strings.HasPrefix(said, "409") || !strings.Contains(said, "begin one first") {
			t.Errorf("%s: %s", at, said)
		}
	}
	for _, at := range []string{"/", "/assets/main.js"} {
		if s := ask(b, request(http.MethodGet, at, "")).StatusCode; s != 200 {
			t.Errorf("%s: %d", at, s)
		}
	}
	locked, dir := beginning(t, nil, func(o *Options) { o.Passphrase = "a long way to the quay" })
	before := list(t, dir)
	for _, r := range []*http.Request{request(http.MethodGet, "/api/begin", ""), request(http.MethodPost, "/api/begin", "{}"), file("crew.csv", crew), request(http.MethodGet, "/api/bench", "")} {
		if s := ask(locked, r).StatusCode; s != 401 {
			t.Errorf("%s %s by a stranger: %d", r.Method, r.URL.Path, s)
		}
	}
	if now := list(t, dir); !slices.Equal(now, before) {
		t.Errorf("a stranger has written: %q", now)
	}
}

// FuzzBegin sends anything as what a programme is to be begun with, and as the
// name of a file. What comes of it is a programme that opens, or words.
func FuzzBegin(f *testing.F) {
	good, err := json.Marshal(startOf())
	if err != nil {
		f.Fatal(err)
	}
	for _, body := range []string{string(good), "{}", "null", `{"roles":{"photo":{"column":"number","ending":"}{"}}}`, strings.Replace(string(good), "YMCKO", "KO", 1), strings.Replace(string(good), "front", "back", 1), strings.Replace(string(good), "Quay", "{Quay: #", 1)} {
		f.Add(body, "../crew.csv")
	}
	f.Fuzz(func(t *testing.T, body, name string) {
		b, dir := beginning(t, map[string]string{"crew.csv": crew})
		before := list(t, dir)
		kept := ask(b, file(name, "number\n1\n")).StatusCode == 200
		for _, at := range []string{"/api/begin/look", "/api/begin/preview", "/api/begin"} {
			s := ask(b, request(http.MethodPost, at, body)).StatusCode
			if s < 200 || s >= 500 {
				t.Errorf("%d from %s", s, at)
			}
			if begun := b.now.Load() != nil; begun != (at == "/api/begin" && s == 200) {
				t.Errorf("%s: %d, and begun %v", at, s, begun)
			}
		}
		want := len(before)
		if kept && name != "crew.csv" {
			want++
		}
		if b.now.Load() != nil {
			want++
			opened, err := folder.Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			opened.Close()
		}
		if now := list(t, dir); len(now) != want && !slices.Contains(now, "quay passes/photos") {
			t.Errorf("%q", now)
		}
	})
}
