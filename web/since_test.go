package web

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"net/http"
	"testing"
)

// A page that lays what has changed since a revision over what it holds has what
// the bench gives as a whole: the picture, the panels and the owners, through a
// chain of changes of which some are shown and some are not.
func TestOnlyWhatChanged(t *testing.T) {
	b, _ := ownBench(t)
	rnd := rand.New(rand.NewPCG(7, 2))
	eye, panels := facePage{}, facePage{}
	less := 0
	for step := range 16 {
		whole := panelsAt(t, b, "/api/card/0/eye/front.rgba")
		if step == 0 {
			eye, panels = pageOf(whole), pageOf(panelsAt(t, b, "/api/card/0/panels/front"))
		}
		part := panelsAt(t, b, fmt.Sprintf("/api/card/0/eye/front.rgba?since=%d", eye.revision))
		if len(part.planes["rgba"]) < len(whole.planes["rgba"]) {
			less++
		}
		eye.lay(part)
		panels.lay(panelsAt(t, b, fmt.Sprintf("/api/card/0/panels/front?since=%d", panels.revision)))
		if !bytes.Equal(eye.planes["rgba"], whole.planes["rgba"]) {
			t.Fatalf("step %d: another picture", step)
		}
		now := panelsAt(t, b, "/api/card/0/panels/front")
		for name, dots := range now.planes {
			if !bytes.Equal(panels.planes[name], dots) {
				t.Fatalf("step %d: other dots of %s", step, name)
			}
		}
		if !bytes.Equal(panels.owner, now.owner) {
			t.Fatalf("step %d: other owners", step)
		}
		for range 1 + rnd.IntN(2) {
			e := b.benchForm().Sides[0].Elements
			i := 1 + rnd.IntN(len(e)-1)
			box := e[i].Box
			lay(t, b, obj{"do": "box", "side": "front", "element": i, "box": []number{max(0, box.X-number(rnd.IntN(3))), box.Y, box.W, box.H - number(rnd.IntN(2))/4}})
		}
	}
	if less < 8 {
		t.Errorf("only %d answers had less than the whole", less)
	}
	for _, bad := range []string{"x", "-1", "1.5"} {
		if w := ask(b, request(http.MethodGet, "/api/card/0/eye/front.rgba?since="+bad, "")); w.StatusCode != http.StatusBadRequest {
			t.Errorf("since=%s is answered with %d", bad, w.StatusCode)
		}
	}
}

// facePage is a face as a page holds it.
type facePage struct {
	sent
	w, revision int
}

func pageOf(s sent) facePage { return facePage{s, s.head.W, s.head.Revision} }

// lay lays a part over the face.
func (f *facePage) lay(part sent) {
	f.revision = part.head.Revision
	for name, dots := range part.planes {
		f.paste(f.planes[name], dots, part.head)
	}
	f.paste(f.owner, part.owner, part.head)
}

func (f *facePage) paste(to, from []byte, h panelsHead) {
	if len(from) == 0 {
		return
	}
	deep := len(from) / (h.W * h.H) // bytes a dot
	for y := range h.H {
		at := deep * ((h.Y+y)*f.w + h.X)
		copy(to[at:at+deep*h.W], from[deep*h.W*y:])
	}
}
