package web

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
)

// onDisk lists the programme folder with sizes and times.
func onDisk(t testing.TB) string {
	t.Helper()
	var s strings.Builder
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err == nil {
			fmt.Fprintln(&s, name, info.Size(), info.ModTime().UnixNano())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s.String()
}

// untouched says whether nothing on the bench or on disk has changed.
func untouched(t testing.TB, b *Bench, disk string) {
	t.Helper()
	undo, redo, unsaved := b.steps()
	if b.now.Load().revision != 1 || b.current() != nil || undo || redo || unsaved {
		t.Fatal("a request that had to be turned away changed the bench")
	}
	if disk != "" && onDisk(t) != disk {
		t.Fatal("a request that had to be turned away changed the programme folder")
	}
}

// What a page of another site can send, and what a careless or hostile program
// can, one flaw a request.
var flaws = []func(rnd *rand.Rand, r *http.Request){
	func(rnd *rand.Rand, r *http.Request) {
		r.Host = []string{"", "localhost:8080", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:8080.example.com", "rebound.example:8080", "127.0.0.1:8080,rebound.example", "[::1]:8080", "0.0.0.0:8080", " 127.0.0.1:8080"}[rnd.IntN(10)]
	},
	func(rnd *rand.Rand, r *http.Request) {
		r.Header.Set("Sec-Fetch-Site", []string{"cross-site", "same-site", "nonsense", "Same-Origin"}[rnd.IntN(4)])
	},
	func(rnd *rand.Rand, r *http.Request) {
		r.Header["Origin"] = [][]string{{"http://rebound.example"}, {"null"}, {""}, nil, {"https://" + host}, {"http://" + host + "/"}, {"http://" + host, "http://" + host}, {"http://localhost:8080"}}[rnd.IntN(8)]
	},
	func(rnd *rand.Rand, r *http.Request) {
		r.Header["X-Unspool"] = [][]string{nil, {""}, {"0"}, {"true"}, {"2", "1"}}[rnd.IntN(5)]
	},
	func(rnd *rand.Rand, r *http.Request) {
		r.Header.Set("Content-Type", []string{"", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "application/jsonp"}[rnd.IntN(5)])
	},
	func(rnd *rand.Rand, r *http.Request) {
		r.Method = []string{"PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "post", "QUERY", ""}[rnd.IntN(8)]
	},
	func(rnd *rand.Rand, r *http.Request) {
		body := strings.Repeat(" ", maxBody) + `{"side":"front","rule":"none"}`
		again := httptest.NewRequest(r.Method, "/", strings.NewReader(body))
		r.Body, r.ContentLength = again.Body, []int64{again.ContentLength, -1}[rnd.IntN(2)]
	},
	func(rnd *rand.Rand, r *http.Request) {
		bodies := []string{"", "{", "[]", "null{}", `{"side":1}`, `{"side":"front","rule":"none","more":1}`, `{"side":"front"}`, `{"do":"START"}`, "\x00\xff", strings.Repeat("[", 20_000), `{"side":"front","rule":"none"}{}`, `{"do":"resume"}`}
		again := httptest.NewRequest(r.Method, "/", strings.NewReader(bodies[rnd.IntN(len(bodies))]))
		r.Body, r.ContentLength = again.Body, again.ContentLength
	},
	func(rnd *rand.Rand, r *http.Request) {
		paths := []string{"/api/black/", "//api/black", "/api/../api/black", "/API/BLACK", "/api/black%00", "/api", "/api/run/cards/1", "/assets/../bench.go", "/..", "/%2e%2e/%2e%2e/etc/passwd", "/assets/%2e%2e%2fbench.go", "/api/card/0/panels/..", "/" + strings.Repeat("a", maxTarget), "", "*", "/assets/con", `/assets/..\bench.go`, "/programme.yaml", "/photos/crew-01.jpg"}
		r.URL.Path = paths[rnd.IntN(len(paths))]
	},
}

// A thousand requests that the page would never send: none is answered as if it
// were, none changes anything, none brings a handler down.
func TestBadRequests(t *testing.T) {
	b := bench(t)
	disk := onDisk(t)
	rnd := rand.New(rand.NewPCG(15, 4))
	writes := [][2]string{{"/api/black", `{"side":"front","rule":"none"}`}, {"/api/run", `{"do":"start"}`}}
	for i := range 1000 {
		w := writes[rnd.IntN(len(writes))]
		r := request(http.MethodPost, w[0], w[1])
		for range 1 + rnd.IntN(2) {
			flaws[(i+rnd.IntN(2))%len(flaws)](rnd, r)
		}
		answer := ask(b, r)
		if s := answer.StatusCode; s < 300 || s >= 500 {
			t.Errorf("%d to %s %q of %q, %v", s, r.Method, r.URL.Path, r.Host, r.Header)
		}
		untouched(t, b, "")
	}
	untouched(t, b, disk)
}

// Bad questions, which write nothing but must find an answer all the same.
func TestBadQuestions(t *testing.T) {
	b := bench(t)
	rnd := rand.New(rand.NewPCG(4, 15))
	odd := []string{"-1", "1e9", "99999999999999999999", "0x10", "", "NaN", "%00", "../..", "front", "ymck", strings.Repeat("9", 400), "\xff", "0", "1"}
	paths := []string{"/api/card/%s", "/api/card/%s/trace", "/api/card/0/panels/%s", "/api/card/0/eye/%s", "/api/card/0/eye/%s.png", "/api/card/0/rule-panels/%s/%[1]s", "/assets/%s", "/api/rows", "/api/run/cards"}
	keys := []string{"from", "n", "code", "reader", "line", "aperture", "find", "level", "panels", "rule"}
	for range 500 {
		path := paths[rnd.IntN(len(paths))]
		if strings.Contains(path, "%") {
			path = fmt.Sprintf(path, odd[rnd.IntN(len(odd))])
		}
		r := request(http.MethodGet, path, "")
		q := r.URL.Query()
		for range rnd.IntN(3) {
			q.Set(keys[rnd.IntN(len(keys))], odd[rnd.IntN(len(odd))])
		}
		r.URL.RawQuery = q.Encode()
		if s := ask(b, r).StatusCode; s >= 500 {
			t.Errorf("%d to %s?%s", s, path, r.URL.RawQuery)
		}
	}
	untouched(t, b, "")
}

// What another site may do is link to the page, and no more.
func TestLinksFromElsewhere(t *testing.T) {
	b := bench(t)
	for target, want := range map[string]int{"/": 200, "/assets/main.js": 403, "/api/card/0": 403, "/api/card/0/eye/front.png": 403} {
		r := request(http.MethodGet, target, "")
		r.Header.Set("Sec-Fetch-Site", "cross-site")
		if s := ask(b, r).StatusCode; s != want {
			t.Errorf("%s: %d, want %d", target, s, want)
		}
	}
}

// A fault in a handler becomes an answer without detail, and what is told of it
// names places in the program and nothing in hand.
func TestFaultSaysNothing(t *testing.T) {
	var told string
	b := bench(t, func(o *Options) { o.Fault = func(what string) { told += what } })
	h := b.guard(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("Ida Sund") }))
	w := httptest.NewRecorder()
	h.ServeHTTP(w, request(http.MethodGet, "/api/rows?find=Ida", ""))
	if w.Code != 500 || strings.Contains(w.Body.String()+told, "Ida") || !strings.Contains(told, "web.TestFaultSaysNothing") {
		t.Errorf("%d %s\n%s", w.Code, w.Body, told)
	}
}

// With a passphrase nothing is shown to who has not said it.
func TestDoor(t *testing.T) {
	const right = "a long way to the quay"
	if _, err := newDoor("too short"); err == nil {
		t.Error("a short passphrase is taken")
	}
	b := bench(t, func(o *Options) { o.Passphrase = right; o.Secure = true })
	secure := func(method, target, body string) *http.Request {
		r := request(method, target, body)
		if method == http.MethodPost {
			r.Header.Set("Origin", "https://"+host)
		}
		return r
	}
	for target, want := range map[string]string{"/": "200", "/assets/sign-in.js": "200", "/assets/sign-in.css": "200", "/assets/main.js": "401", "/api/bench": "401", "/api/card/0": "401", "/api/sign-in": "401"} {
		got := tell(t, ask(b, secure(http.MethodGet, target, "")))
		if !strings.HasPrefix(got, want) || target == "/" && !strings.Contains(got, "sign-in.js") {
			t.Errorf("%s before signing in: %.80s", target, got)
		}
	}
	if s := ask(b, secure(http.MethodPost, "/api/run", `{"do":"start"}`)).StatusCode; s != 401 || b.current() != nil {
		t.Errorf("a run was started by a stranger: %d", s)
	}
	if w := ask(b, secure(http.MethodPost, "/api/sign-in", `{"passphrase":"a long way to the sea"}`)); w.StatusCode != 401 || len(w.Cookies()) > 0 {
		t.Errorf("a wrong passphrase: %d", w.StatusCode)
	}
	in := ask(b, secure(http.MethodPost, "/api/sign-in", `{"passphrase":"`+right+`"}`))
	if in.StatusCode != 200 || len(in.Cookies()) != 1 {
		t.Fatalf("the right passphrase: %d", in.StatusCode)
	}
	c := in.Cookies()[0]
	if !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" || !strings.HasPrefix(c.Name, "__Host-") {
		t.Errorf("cookie %+v", c)
	}
	r := secure(http.MethodGet, "/api/bench", "")
	r.AddCookie(c)
	if s := ask(b, r).StatusCode; s != 200 {
		t.Errorf("after signing in: %d", s)
	}
	r = secure(http.MethodGet, "/api/bench", "")
	r.AddCookie(&http.Cookie{Name: cookie, Value: c.Value + "x"})
	if s := ask(b, r).StatusCode; s != 401 {
		t.Errorf("with another token: %d", s)
	}
	// An http origin on an https bench is another origin.
	r = request(http.MethodPost, "/api/run", `{"do":"start"}`)
	r.AddCookie(c)
	if s := ask(b, r).StatusCode; s != 403 {
		t.Errorf("from http: %d", s)
	}
}

// FuzzRequests sends anything at all. Only a request that is in every part the
// page's own may change something.
func FuzzRequests(f *testing.F) {
	for _, seed := range [][5]string{
		{"GET", "/api/card/0/trace?code=0&reader=0", "", host, "same-origin"},
		{"GET", "/api/rows?from=3&find=x", "", host, "none"},
		{"POST", "/api/run", `{"do":"start"}`, "rebound.example", "cross-site"},
		{"POST", "/api/black", `{"side":"front","rule":"none"}`, host, "cross-site"},
		{"POST", "/api/sign-in", `{"passphrase":"x"}`, host, ""},
		{"GET", "/assets/main.js", "", host, ""},
	} {
		f.Add(seed[0], seed[1], seed[2], seed[3], seed[4])
	}
	b := bench(f)
	f.Fuzz(func(t *testing.T, method, target, body, to, site string) {
		r := request(http.MethodGet, target, body)
		r.Method, r.Host = method, to
		r.Header.Set("Sec-Fetch-Site", site)
		r.Header.Set("X-Unspool", "1")
		r.Header.Set("Content-Type", "application/json") // but no Origin
		if s := ask(b, r).StatusCode; s < 200 || s >= 600 || s == 500 {
			t.Errorf("%d to %s %q", s, method, target)
		}
		untouched(t, b, "")
	})
}
