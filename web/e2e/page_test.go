package e2e

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// patience is how long a test may take before it is given up.
const patience = 3 * time.Minute

// views of the bench that every test of all views goes through, with what is in
// the page once a view is there.
var views = []struct{ name, ready string }{
	{"light", `document.querySelector('#ribbon-web canvas') && document.querySelector('canvas.dots[data-face=front][data-lamp]')`},
	{"readers", `document.querySelector('#scan svg.profile')`},
	{"findings", `document.querySelector('#found') && document.querySelector('#fault')?.children.length`},
	{"rules", `document.querySelectorAll('#rules-body article').length > 3`},
	{"layout", `document.querySelector('#layout-card[data-shown]') && document.querySelector('#layout-verdicts li')`},
	{"run", `document.querySelector('#run-says strong')`},
}

// tab is a bench in the browser. What it asks for and complains of is kept, and
// judged when the test ends.
type tab struct {
	t      testing.TB
	ctx    context.Context
	origin string

	mu     sync.Mutex
	asked  []string // addresses, in the order of asking
	wrongs []string // faults, refusals and requests elsewhere
}

// open opens an address of a bench in a new tab, 1280 by 960.
func open(t testing.TB, origin, hash string) *tab {
	t.Helper()
	p := blank(t, origin)
	p.size(1280, 960)
	p.dark(false)
	p.goTo(hash)
	t.Cleanup(func() {
		for _, w := range p.said() {
			t.Errorf("the page: %s", w)
		}
	})
	return p
}

// blank makes a tab whose complaints nobody judges yet.
func blank(t testing.TB, origin string) *tab {
	t.Helper()
	ctx, end := chromedp.NewContext(browser)
	t.Cleanup(end)
	ctx, late := context.WithTimeout(ctx, patience)
	t.Cleanup(late)
	p := &tab{t: t, ctx: ctx, origin: origin}
	p.good(chromedp.Listen(ctx, p.hear))
	_, err := chromedp.Call(ctx, network.Enable, network.EnableParams{})
	p.good(err)
	_, err = chromedp.Call(ctx, log.Enable, cdp.Empty{})
	p.good(err)
	// The browser says so itself when the content policy refuses something.
	_, err = chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: `addEventListener("securitypolicyviolation", (e) => console.error("policy: " + e.violatedDirective + " " + e.blockedURI))`})
	p.good(err)
	return p
}

// hear keeps what the page asks for and what goes wrong in it.
func (p *tab) hear(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		url := e.Request.URL
		p.asked = append(p.asked, url)
		if !strings.HasPrefix(url, p.origin+"/") && !strings.HasPrefix(url, "data:") && !strings.HasPrefix(url, "blob:"+p.origin) {
			p.wrongs = append(p.wrongs, "asks elsewhere: "+url)
		}
	case *runtime.EventExceptionThrown:
		p.wrongs = append(p.wrongs, "exception: "+(&chromedp.ExceptionError{ExceptionDetails: e.ExceptionDetails}).Error())
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError {
			p.wrongs = append(p.wrongs, fmt.Sprintf("console: %s", e.Args[0].Value))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			p.wrongs = append(p.wrongs, fmt.Sprintf("log: %s %s", e.Entry.Text, e.Entry.URL))
		}
	}
}

func (p *tab) said() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.wrongs)
}

func (p *tab) good(err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatal(err)
	}
}

// goTo loads the bench at a view and waits until it stands, letters and all. What
// the page knows is then in window.state.
func (p *tab) goTo(hash string) {
	p.t.Helper()
	p.good(chromedp.Do(p.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(p.origin+"/"+hash)))
	eval[any](p, `import("/assets/state.js").then((m) => { window.state = m.state; })`)
	p.stands(viewOf(hash))
}

// turn goes to another view of the page that is loaded.
func (p *tab) turn(hash string) {
	p.t.Helper()
	eval[any](p, fmt.Sprintf(`location.hash = %q, null`, hash))
	p.stands(viewOf(hash))
}

func viewOf(hash string) string {
	name, _, _ := strings.Cut(strings.TrimPrefix(hash, "#"), "?")
	return name
}

// stands waits until a view is in the page.
func (p *tab) stands(name string) {
	p.t.Helper()
	for _, v := range views {
		if v.name == name {
			p.wait(`document.body.dataset.view === "` + name + `" && (` + v.ready + `)`)
			p.wait(`document.fonts.status === "loaded"`)
			return
		}
	}
	p.t.Fatalf("there is no view %q", name)
}

// wait waits until an expression holds.
func (p *tab) wait(expression string) {
	p.t.Helper()
	deadline := time.Now().Add(30 * time.Second)
	for !eval[bool](p, "!!("+expression+")") {
		if time.Now().After(deadline) {
			p.t.Fatalf("never: %s\nthe page says: %.600s\nwrong: %q", expression, eval[string](p, `document.body.innerText`), p.said())
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// eval gives the value of an expression, awaited.
func eval[T any](p *tab, expression string) T {
	p.t.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// click clicks the middle of what a selector finds, as a mouse does.
func (p *tab) click(selector string) {
	p.t.Helper()
	p.wait(fmt.Sprintf("document.querySelector(%q)", selector))
	at := eval[[]float64](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.scrollIntoView({ block: "center", behavior: "instant" }); const b = e.getBoundingClientRect(); return [b.x + b.width / 2, b.y + b.height / 2]; })()`, selector))
	p.good(chromedp.Do(p.ctx, chromedp.MouseClickXY(at[0], at[1])))
}

// press presses keys one after the other.
func (p *tab) press(keys ...string) {
	p.t.Helper()
	for _, k := range keys {
		p.good(chromedp.Do(p.ctx, chromedp.KeyEvent(k)))
	}
}

// focus puts the keys on what a selector finds.
func (p *tab) focus(selector string) {
	p.t.Helper()
	eval[any](p, fmt.Sprintf(`document.querySelector(%q).focus(), null`, selector))
}

// tabTo walks with the tab key until the focused element matches a selector.
func (p *tab) tabTo(selector string) {
	p.t.Helper()
	for range 120 {
		if eval[bool](p, fmt.Sprintf("document.activeElement.matches(%q)", selector)) {
			return
		}
		p.press(kb.Tab)
	}
	p.t.Fatalf("the tab key never comes to %s", selector)
}

func (p *tab) size(w, h int64) {
	p.t.Helper()
	p.good(chromedp.Do(p.ctx, chromedp.EmulateViewport(w, h)))
}

// dark asks for dark or light colours, and for no movement.
func (p *tab) dark(dark bool) {
	p.t.Helper()
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
	p.good(err)
}

// shot is a picture of what the window shows.
func (p *tab) shot() image.Image {
	p.t.Helper()
	data, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	p.good(err)
	m, err := png.Decode(bytes.NewReader(data))
	p.good(err)
	return m
}

// text is what an element says.
func (p *tab) text(selector string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`document.querySelector(%q)?.textContent ?? ""`, selector))
}
