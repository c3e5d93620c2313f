package web

import (
	"bytes"
	"image/png"
	"io"
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"unspool/ink"
	"unspool/unit"
)

// Every address, asked as the page asks it, with the status of the answer and
// words that are in it.
func TestAddresses(t *testing.T) {
	b := bench(t)
	for _, c := range []struct {
		method, target, body string
		status               int
		holds                string
	}{
		{"GET", "/", "", 200, "<!doctype html>"},
		{"HEAD", "/", "", 200, ""},
		{"GET", "/assets/main.js", "", 200, "import"},
		{"GET", "/assets/sign-in.js", "", 200, "passphrase"},
		{"GET", "/assets/bench.go", "", 404, `"error":"the page has no such file"`},
		{"GET", "/assets/..%2fbench.go", "", 404, "error"},
		{"GET", "/assets/", "", 404, "error"},
		{"GET", "/nothing", "", 404, `"error":"there is nothing at this address"`},
		{"GET", "/api/bench", "", 200, `"name":"Sundhaven crew 2027"`},
		{"GET", "/api/light", "", 200, `"from":380,"step":1,"surface":0.004`},
		{"GET", "/api/rows", "", 200, `"total":200`},
		{"GET", "/api/rows?from=190&n=5", "", 200, `"row":190`},
		{"GET", "/api/rows?find=s%C3%B8ren+H", "", 200, `"total":1,`},
		{"GET", "/api/rows?from=-1", "", 400, "from is not a whole number"},
		{"GET", "/api/rows?n=501", "", 400, "n is not a whole number"},
		{"GET", "/api/card/0", "", 200, `"verdict":"reads"`},
		{"GET", "/api/card/200", "", 404, "there is no such card"},
		{"GET", "/api/card/-1", "", 404, "there is no such card"},
		{"GET", "/api/card/x", "", 404, "there is no such card"},
		{"GET", "/api/card/99999999999999999999", "", 404, "there is no such card"},
		{"GET", "/api/card/0/panels/front", "", 200, "UNSP"},
		{"GET", "/api/card/0/panels/top", "", 404, "there is no such side"},
		{"GET", "/api/card/0/eye/back.png", "", 200, "PNG"},
		{"GET", "/api/card/0/eye/back.png?panels=k", "", 200, "PNG"},
		{"GET", "/api/card/0/eye/front.png?rule=dark", "", 200, "PNG"},
		{"GET", "/api/card/0/eye/back.png?panels=x", "", 400, "there is no such panel"},
		{"GET", "/api/card/0/eye/back.jpg", "", 404, "there is no such picture"},
		{"GET", "/api/card/0/trace?code=0&reader=0", "", 200, `"decoded":true`},
		{"GET", "/api/card/0/trace?code=0&reader=1&aperture=spot&line=9", "", 200, `"spot":true`},
		{"GET", "/api/card/0/trace?code=0&reader=1&line=10", "", 404, "no such line"},
		{"GET", "/api/card/0/trace?code=2&reader=0", "", 404, "no such line"},
		{"GET", "/api/card/0/trace?code=0&reader=3", "", 404, "no such line"},
		{"GET", "/api/card/0/trace?code=zero&reader=0", "", 400, "code is not a whole number"},
		{"GET", "/api/card/0/trace?code=0&reader=0&aperture=wide", "", 400, "no such aperture"},
		{"GET", "/api/card/0/rules", "", 200, `"rule":"zones"`},
		{"GET", "/api/card/0/rule-panels/front/dark", "", 200, "UNSP"},
		{"GET", "/api/card/0/rule-panels/back/dark", "", 404, "no black rule to choose"},
		{"GET", "/api/card/0/rule-panels/front/bright", "", 404, "no such black rule"},
		{"GET", "/api/run", "", 200, `"state":"idle"`},
		{"GET", "/api/run/cards", "", 200, `"cards":[]`},
		{"POST", "/api/run", `{"do":"stop"}`, 409, "no run was started"},
		{"POST", "/api/run", `{"do":"fly"}`, 400, "started, stopped and resumed"},
		{"POST", "/api/run", `{"do":"stop"} {}`, 400, "more than this page sends"},
		{"POST", "/api/run", `{"to":"stop"}`, 400, "not what this page sends"},
		{"POST", "/api/run", ``, 400, "not what this page sends"},
		{"POST", "/api/undo", `{}`, 409, "nothing to take back"},
		{"POST", "/api/redo", `{}`, 409, "nothing to take back"},
		{"POST", "/api/black", `{"side":"back","rule":"exact"}`, 400, "no black rule to choose"},
		{"POST", "/api/black", `{"side":"front","rule":"some"}`, 404, "no such black rule"},
		{"POST", "/api/black", `{"side":"left","rule":"exact"}`, 404, "no such side"},
		{"POST", "/api/sign-in", `{"passphrase":"x"}`, 404, "no passphrase is asked for"},
		{"GET", "/api/black", "", 404, "nothing at this address"},
		{"POST", "/api/bench", "{}", 404, "nothing at this address"},
		{"DELETE", "/api/bench", "", 405, "no such method"},
	} {
		w := ask(b, request(c.method, c.target, c.body))
		data, err := io.ReadAll(w.Body)
		if err != nil || w.StatusCode != c.status || !bytes.Contains(data, []byte(c.holds)) {
			t.Errorf("%s %s: %v, %d, %.300q; want %d %q", c.method, c.target, err, w.StatusCode, data, c.status, c.holds)
		}
		if w.StatusCode >= 400 && (w.Header.Get("Content-Type") != "application/json" || !bytes.Contains(data, []byte(`"hint":`))) {
			t.Errorf("%s %s: %s, %q", c.method, c.target, w.Header.Get("Content-Type"), data)
		}
		for _, h := range headers {
			if w.Header.Get(h[0]) != h[1] {
				t.Errorf("%s %s: %s is %q", c.method, c.target, h[0], w.Header.Get(h[0]))
			}
		}
	}
}

// A black rule that is set is the one in force, and can be taken back and made
// again.
func TestBlackUndoRedo(t *testing.T) {
	b := bench(t)
	verdict := func() string {
		return get[cardForm](t, b, "/api/card/0").Readings[0].Verdict
	}
	if v := verdict(); v != "reads" {
		t.Fatalf("to begin with the clock %s", v)
	}
	f := post[benchForm](t, b, "/api/black", map[string]string{"side": "front", "rule": "none"})
	if f.Revision != 2 || f.Sides[0].Black.Rule != "none" || !f.Undo || f.Redo || verdict() != "fails" {
		t.Errorf("set: %+v", f.Sides[0].Black)
	}
	f = post[benchForm](t, b, "/api/undo", struct{}{})
	if f.Sides[0].Black.Rule != "objects" || f.Undo || !f.Redo || verdict() != "reads" {
		t.Errorf("undone: %+v", f.Sides[0].Black)
	}
	f = post[benchForm](t, b, "/api/redo", struct{}{})
	if f.Revision != 4 || f.Sides[0].Black.Rule != "none" || !f.Undo || f.Redo {
		t.Errorf("done again: %+v", f.Sides[0].Black)
	}
	f = post[benchForm](t, b, "/api/black", map[string]string{"side": "front", "rule": "zones"})
	if len(f.Sides[0].Black.Zones) == 0 || verdict() != "reads" {
		t.Errorf("zones: %+v", f.Sides[0].Black)
	}
	if again := post[benchForm](t, b, "/api/black", map[string]string{"side": "front", "rule": "zones"}); again.Revision != f.Revision {
		t.Error("the same rule again is a change")
	}
}

// What the page works out of /api/light and the panels is what the engine works
// out, to within 1 of 255 of the sRGB signal, for every dot of a card at many
// lamps. The curve is that of IEC 61966-2-1.
func TestLightIsTheEngine(t *testing.T) {
	b := bench(t)
	l := get[struct {
		From, Surface float64
		Card, Y, M, C []float64
		K             struct{ Through, Body []float64 }
		S             map[string]struct{ Through, Body []float64 }
		Clear         []float64
	}](t, b, "/api/light")
	if len(l.S) != 0 || len(l.Card) != 621 || len(l.Clear) != 621 {
		t.Fatalf("%v, %d wavelengths", l.S, len(l.Card))
	}
	model := ink.Usual()
	for _, side := range []string{"front", "back"} {
		f := panelsAt(t, b, "/api/card/1/panels/"+side)
		if _, dyes := f.planes["y"]; !dyes {
			for _, p := range []string{"y", "m", "c", "o"} {
				if f.planes[p] == nil {
					f.planes[p] = make([]byte, f.head.W*f.head.H)
				}
			}
		}
		for nm := 380; nm <= 1000; nm += 31 {
			i := nm - int(l.From)
			table := model.Under(ink.Line(unit.Nanometres(nm)))
			for at := 0; at < f.head.W*f.head.H; at += 7 {
				y, m, c, k, o := f.dot(at)
				r := l.Surface + (l.Card[i]-l.Surface)*math.Pow(10, -(float64(y)*l.Y[i]+float64(m)*l.M[i]+float64(c)*l.C[i])/255)
				want := table.R(y, m, c, k)
				if k {
					r = l.Surface + l.K.Body[i] + l.K.Through[i]*(r-l.Surface)
				}
				if o {
					r = l.Surface + (r-l.Surface)*l.Clear[i]
					want = table.Overlaid(want)
				}
				if d := math.Abs(ink.Encode(r) - ink.Encode(float64(want))); d > 0.5/255 {
					t.Fatalf("%s dot %d at %d nm: %v, the engine has %v", side, at, nm, r, want)
				}
			}
		}
	}
}

// A trace lies on the bars of the panels that are sent: every drawn bar's middle
// is a resin dot, every space's is not, and the elements that the light shows
// lie there too.
func TestTraceLiesOnThePanels(t *testing.T) {
	b := bench(t)
	card := get[cardForm](t, b, "/api/card/2")
	for _, r := range card.Readings {
		if r.Verdict == "none" {
			continue
		}
		tr := get[traceForm](t, b, "/api/card/2/trace?code="+string(rune('0'+r.Code))+"&reader="+string(rune('0'+r.Reader)))
		f := panelsAt(t, b, "/api/card/2/panels/"+tr.Side)
		if !tr.Decoded || !tr.Read || len(tr.Elements) != len(tr.Drawn) || !tr.AlongX {
			t.Fatalf("reading %+v: %s", r, tr.Why)
		}
		for i, d := range tr.Drawn {
			at := int(tr.At)*f.head.W + int((d.From+d.To)/2)
			if bar := f.planes["k"][at] != 0; bar != d.Bar {
				t.Errorf("reading %+v element %d: bar %v on the panel, %v drawn", r, i, bar, d.Bar)
			}
			e := tr.Elements[i]
			if math.Abs(float64(e.From-d.From)) > 0.35 || math.Abs(float64(e.To-d.To)) > 0.35 || e.Bar != d.Bar || e.Char != d.Char {
				t.Errorf("reading %+v element %d: %+v drawn as %+v", r, i, e, d)
			}
		}
		if n := len(tr.Samples); math.Abs(float64(tr.From+number(n)*tr.Step-tr.Drawn[len(tr.Drawn)-1].To)) > 60 {
			t.Errorf("reading %+v: the line ends at %v", r, tr.From+number(n)*tr.Step)
		}
	}
}

// The owners sent are the elements of the programme: the photo's dots lie in its
// box.
func TestOwners(t *testing.T) {
	b := bench(t)
	form := get[benchForm](t, b, "/api/bench")
	side := form.Sides[0]
	photo := slices.IndexFunc(side.Elements, func(e elementForm) bool { return e.Kind == "photo" })
	f := panelsAt(t, b, "/api/card/0/panels/front")
	n := 0
	for i := range f.head.W * f.head.H {
		if int(f.owner[2*i])|int(f.owner[2*i+1])<<8 == photo+1 {
			n++
			x, y := float64(i%f.head.W)*float64(side.MM.W)/float64(side.W), float64(i/f.head.W)*float64(side.MM.H)/float64(side.H)
			box := side.Elements[photo].Box
			if x < float64(box.X)-0.1 || y < float64(box.Y)-0.1 || x > float64(box.X+box.W) || y > float64(box.Y+box.H) {
				t.Fatalf("a dot of the photo at %.1f, %.1f mm", x, y)
			}
		}
	}
	if n < 50_000 {
		t.Errorf("%d dots of the photo", n)
	}
}

// The eye's picture has the side's dots; bare card is one colour, and panels
// laid one by one end in the whole.
func TestEye(t *testing.T) {
	b := bench(t)
	picture := func(query string) []byte {
		w := ask(b, request(http.MethodGet, "/api/card/0/eye/front.png"+query, ""))
		data, err := io.ReadAll(w.Body)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	whole, err := png.Decode(bytes.NewReader(picture("")))
	if err != nil || whole.Bounds().Dx() != 1011 || whole.Bounds().Dy() != 638 {
		t.Fatal(err, whole.Bounds())
	}
	bare, err := png.Decode(bytes.NewReader(picture("?panels=")))
	if err != nil || bare.At(5, 5) != bare.At(500, 300) {
		t.Error(err, "bare card is not bare")
	}
	if !bytes.Equal(picture("?panels=ymcko"), picture("")) || !bytes.Equal(picture("?rule=objects"), picture("")) || bytes.Equal(picture("?rule=none"), picture("")) {
		t.Error("all panels are not the whole")
	}
}

// Nothing a page is told names a place on disk.
func TestNoPaths(t *testing.T) {
	b := bench(t)
	for _, target := range []string{"/api/bench", "/api/card/0", "/api/run", "/api/rows"} {
		if s := tell(t, ask(b, request(http.MethodGet, target, ""))); strings.Contains(s, dir) {
			t.Errorf("%s names %s", target, dir)
		}
	}
}
