package e2e

import (
	"encoding/json"
	"fmt"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strconv"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The whole run is started on the page, watched, and done; every card is listed
// and a cell of the list leads to its scan.
func TestRun(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#run")
	if p.text("#run-says strong") == "" || p.text(".list-empty") == "" {
		t.Error("the page says nothing before the run")
	}
	p.click("#run-start")
	p.wait(fmt.Sprintf(`document.querySelector("#run-bar").ariaValueNow === "%d" && !document.querySelector("#run-start").hidden`, cards))
	p.wait(fmt.Sprintf(`document.querySelectorAll("#run-rows .list-row").length === %d`, cards))
	p.wait(`[...document.querySelectorAll("#run-cells [data-verdict]")].map((e) => e.dataset.verdict).join() === "fails,reads,reads"`)
	// After a change the headline is of the state before it.
	eval[any](p, `import("/assets/state.js").then((m) => { m.state.bench.revision++; m.tell("bench"); })`)
	p.wait(fmt.Sprintf(`/has changed since.*Before, %d of %d cards would have been wasted/.test(document.querySelector("#run-says").textContent) && !document.querySelector("#run-start").hidden`, cards, cards))
	eval[any](p, `import("/assets/state.js").then((m) => { m.state.bench.revision--; m.tell("bench"); })`)
	p.click(`#run-rows [data-row="3"] [data-code="0"][data-reader="0"]`)
	p.stands("readers")
	p.wait(`state.row === 3 && document.querySelector("#reading [data-verdict=fails]")`)
	p.click(`a[data-view=findings]`)
	p.stands("findings")
	p.wait(fmt.Sprintf(`document.querySelector("[data-finding=no-carbon]").textContent.includes("%d cards")`, cards))
}

// many is the size of a run that has to stay smooth.
const many = 20_000

// A list of 20,000 cards keeps only what is seen in the page, and the page stays
// under 200 MB, the bound that the bench promises, while it is scrolled from end
// to end. The rows come from a stand-in for the proof of so many, which would
// take minutes; all else is the real server's.
func TestTwentyThousandCards(t *testing.T) {
	dir := t.TempDir()
	if err := writeDemo(dir, many, 3); err != nil {
		t.Fatal(err)
	}
	p := open(t, proved(t, serve(t, dir)), "#run")
	p.wait(fmt.Sprintf(`document.querySelector("#card-list").ariaRowCount === "%d"`, many+1))
	p.wait(`document.querySelectorAll("#run-rows .list-row").length > 5`)
	for i := range 41 {
		eval[any](p, fmt.Sprintf(`(() => { const e = document.querySelector("#run-rows"); e.scrollTop = (e.scrollHeight - e.clientHeight) * %d / 40; return null; })()`, i))
		p.wait(`(() => { const b = document.querySelector("#run-rows").getBoundingClientRect(); return document.elementFromPoint(b.x + 200, b.y + b.height / 2)?.closest(".list-row"); })()`)
	}
	p.wait(fmt.Sprintf(`document.querySelector("#run-rows [data-row='%d']")`, many-1))
	if n := eval[int](p, `document.querySelectorAll("#run-rows .list-row").length`); n > 100 {
		t.Errorf("%d rows are in the page", n)
	}
	p.focus("#run-rows")
	p.press(kb.Home)
	p.wait(`document.activeElement.closest("[data-row='0']")`)
	// News of the run draw the list anew and leave the keys where they are.
	eval[any](p, `import("/assets/state.js").then((m) => { document.querySelector("#run-rows .list-row").id = "old"; m.tell("run"); })`)
	p.wait(`!document.querySelector("#old") && document.activeElement.closest("[data-row='0']")`)

	p.click(`a[data-view=light]`)
	p.stands("light")
	eval[any](p, `(() => { const e = document.querySelector("#ribbon-web"); e.scrollLeft = e.scrollWidth; return null; })()`)
	p.wait(fmt.Sprintf(`document.querySelector("#ribbon-web [data-row='%d']")`, many-1))
	if n := eval[int](p, `document.querySelectorAll("#ribbon-web [data-row]").length`); n > 100 {
		t.Errorf("%d frames are in the page", n)
	}
	_, err := chromedp.Call(p.ctx, heapprofiler.CollectGarbage, cdp.Empty{})
	p.good(err)
	heap, err := chromedp.Call(p.ctx, runtime.GetHeapUsage, cdp.Empty{})
	p.good(err)
	const mb = 1 << 20
	if all := heap.UsedSize + heap.EmbedderHeapUsedSize + heap.BackingStorageSize; all > 200*mb {
		t.Errorf("the page holds %.0f MB", all/mb)
	} else {
		t.Logf("the page holds %.1f MB", all/mb)
	}
}

// proved stands before a bench and answers for its run as if all were proved.
func proved(t *testing.T, origin string) string {
	t.Helper()
	at, err := url.Parse(origin)
	if err != nil {
		t.Fatal(err)
	}
	// What the page gives up asking for is no fault, and not to be told.
	proxy := &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) { r.SetURL(at) }, ErrorLog: log.New(io.Discard, "", 0)}
	mux := http.NewServeMux()
	mux.Handle("/", proxy)
	mux.HandleFunc("GET /api/run", func(w http.ResponseWriter, _ *http.Request) {
		json.NewEncoder(w).Encode(map[string]any{"state": "done", "revision": 1, "done": many, "total": many})
	})
	mux.HandleFunc("GET /api/run/cards", func(w http.ResponseWriter, r *http.Request) {
		from, _ := strconv.Atoi(r.FormValue("from"))
		n, _ := strconv.Atoi(r.FormValue("n"))
		rows := []map[string]any{}
		for i := from; i < min(many, from+n); i++ {
			rows = append(rows, map[string]any{"row": i, "key": fmt.Sprintf("%06d", i), "verdicts": "rlf-rl", "level": "stop"})
		}
		json.NewEncoder(w).Encode(map[string]any{"total": many, "cards": rows})
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.Close)
	return s.URL
}
