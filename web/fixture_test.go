package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"unspool/demo"
	"unspool/folder"
)

// host is what the benches of the tests answer to.
const host = "127.0.0.1:8080"

// sundhaven is a demo programme with many cards, on disk, removed by TestMain.
// Three portraits serve everybody: a hundred would take ten seconds to draw.
const cards = 200

var dir string

func TestMain(m *testing.M) {
	var err error
	if dir, err = os.MkdirTemp("", "bench-*"); err != nil {
		panic(err)
	}
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

var sundhaven = sync.OnceValues(func() (*folder.Folder, error) {
	var portraits [][]byte
	for f := range demo.Files(cards) {
		var data []byte
		var err error
		if filepath.Ext(f.Name) == ".jpg" && len(portraits) == 3 {
			data = portraits[len(f.Name)%3]
		} else if data, err = f.Make(); err != nil {
			return nil, err
		}
		if filepath.Ext(f.Name) == ".jpg" && len(portraits) < 3 {
			portraits = append(portraits, data)
		}
		at := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
			return nil, err
		}
		if err := os.WriteFile(at, data, 0o666); err != nil {
			return nil, err
		}
	}
	return folder.Open(dir)
})

// bench puts the demo on a bench. A fault in a handler fails the test.
func bench(t testing.TB, change ...func(*Options)) *Bench {
	t.Helper()
	f, err := sundhaven()
	if err != nil {
		t.Fatal(err)
	}
	o := Options{Folder: f, Hosts: []string{host}, Portrait: demo.Portrait, Fault: func(what string) { t.Error(what) }}
	for _, c := range change {
		c(&o)
	}
	b, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(b.Close)
	return b
}

// request is one as the page sends it.
func request(method, target, body string) *http.Request {
	r := httptest.NewRequest(method, "http://"+host+"/", strings.NewReader(body))
	r.URL.Path, r.URL.RawQuery, _ = strings.Cut(target, "?")
	r.Host = host
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	if method == http.MethodPost {
		r.Header.Set("Origin", "http://"+host)
		r.Header.Set("X-Unspool", "1")
		r.Header.Set("Content-Type", "application/json")
	}
	return r
}

// ask sends a request and gives the answer.
func ask(b *Bench, r *http.Request) *http.Response {
	w := httptest.NewRecorder()
	b.Handler().ServeHTTP(w, r)
	return w.Result()
}

// get asks for JSON and fails where the answer is not good.
func get[T any](t testing.TB, b *Bench, target string) (v T) {
	t.Helper()
	return said[T](t, ask(b, request(http.MethodGet, target, "")))
}

func post[T any](t testing.TB, b *Bench, target string, body any) (v T) {
	t.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return said[T](t, ask(b, request(http.MethodPost, target, string(data))))
}

func said[T any](t testing.TB, w *http.Response) (v T) {
	t.Helper()
	data, err := io.ReadAll(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	if w.StatusCode != http.StatusOK {
		t.Fatalf("status %d: %s", w.StatusCode, data)
	}
	if err := json.NewDecoder(bytes.NewReader(data)).Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

// sent is an answer with panels, read as its description says.
type sent struct {
	head   panelsHead
	planes map[string][]byte
	owner  []byte
}

func panelsAt(t testing.TB, b *Bench, target string) (f sent) {
	t.Helper()
	var rest []byte
	f.head, rest = partsAt(t, b, target)
	f.planes = map[string][]byte{}
	dots := f.head.W * f.head.H
	for _, p := range f.head.Planes {
		n := dots
		if p == "rgba" {
			n = 4 * dots
		}
		f.planes[p], rest = rest[:n], rest[n:]
	}
	if f.head.Owner {
		f.owner, rest = rest[:2*dots], rest[2*dots:]
	}
	if len(rest) != 0 {
		t.Fatalf("%s: %d bytes too many", target, len(rest))
	}
	return f
}

// partsAt is the head of an answer with panels and what follows it.
func partsAt(t testing.TB, b *Bench, target string) (head panelsHead, rest []byte) {
	t.Helper()
	w := ask(b, request(http.MethodGet, target, ""))
	data, err := io.ReadAll(w.Body)
	if err != nil || w.StatusCode != http.StatusOK || string(data[:4]) != "UNSP" {
		t.Fatalf("%s: %v, %d, %.40q", target, err, w.StatusCode, data)
	}
	n := int(data[4]) | int(data[5])<<8 | int(data[6])<<16 | int(data[7])<<24
	if err := json.Unmarshal(data[8:8+n], &head); err != nil {
		t.Fatal(err)
	}
	return head, data[8+n:]
}

// dot is what lies on one dot.
func (f sent) dot(i int) (y, m, c uint8, k, o bool) {
	return f.planes["y"][i], f.planes["m"][i], f.planes["c"][i], f.planes["k"][i] != 0, f.planes["o"][i] != 0
}

func tell(t testing.TB, w *http.Response) string {
	t.Helper()
	data, err := io.ReadAll(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%d %s", w.StatusCode, data)
}
