package e2e

import (
	"slices"
	"strings"
	"testing"
)

// A walk through all views asks for nothing outside the bench's own address. Every
// test holds its own page to that; here it is also shown that a page that did ask
// would be stopped by the content policy and noticed.
func TestNothingLeavesThePage(t *testing.T) {
	p := blank(t, serve(t, right()))
	for _, v := range views {
		p.goTo("#" + v.name)
	}
	if w := p.said(); len(w) > 0 {
		t.Errorf("the page: %q", w)
	}
	if len(p.asked) < 30 || !slices.Contains(p.asked, p.origin+"/api/light") {
		t.Errorf("only %d requests were seen", len(p.asked))
	}
	eval[any](p, `fetch("http://192.0.2.1/").catch(() => null)`)
	eval[any](p, `(() => { const s = document.createElement("script"); s.textContent = "window.broken = true"; document.head.append(s); return null; })()`)
	p.wait(`true`)
	for _, refused := range []string{"policy: connect-src", "policy: script-src"} {
		if !slices.ContainsFunc(p.said(), func(s string) bool { return strings.Contains(s, refused) }) {
			t.Errorf("no %q in %q", refused, p.said())
		}
	}
	if eval[bool](p, `!!window.broken`) {
		t.Error("a script written into the page has run")
	}
}
