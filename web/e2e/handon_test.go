package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
)

// A run that is stopped on the page waits, goes on from there, and comes to what
// an uninterrupted one comes to.
func TestRunStopsAndGoesOn(t *testing.T) {
	const all = 400
	dir := t.TempDir()
	if err := writeDemo(dir, all, 3); err != nil {
		t.Fatal(err)
	}
	p := open(t, serve(t, filepath.Join(dir, "too-little.yaml")), "#run")
	p.click("#run-start")
	p.wait(`document.querySelector("#run-bar").ariaValueNow >= 5`)
	p.click("#run-stop")
	p.wait(`!document.querySelector("#run-resume").hidden`)
	says := p.text("#run-says strong")
	var n int
	if _, err := fmt.Sscanf(says, "Stopped after %d of 400 cards.", &n); err != nil || n < 5 || n >= all {
		t.Fatalf("the page says %q", says)
	}
	time.Sleep(300 * time.Millisecond)
	if now := eval[int](p, `fetch("/api/run").then((r) => r.json()).then((r) => r.done)`); now != n {
		t.Errorf("stopped after %d cards, the run is at %d", n, now)
	}
	if eval[bool](p, `!!document.querySelector("a[data-paper=report]")`) {
		t.Error("there is a report of a run that is not done")
	}
	p.click("#run-resume")
	p.wait(`document.querySelector("#run-says strong").textContent === "All 400 cards are proved."`)
	p.wait(`document.querySelector("#run-stop").hidden && document.querySelector("#run-resume").hidden`)
	stopped := p.outcome()
	p.click("#run-start")
	p.wait(`!document.querySelector("#run-stop").hidden`)
	p.wait(`document.querySelector("#run-says strong").textContent === "All 400 cards are proved."`)
	if through := p.outcome(); !reflect.DeepEqual(stopped, through) || len(through["cards"].([]any)) != all {
		t.Errorf("stopped and gone on the run comes to\n%v\nuninterrupted to\n%v", stopped, through)
	}
}

// outcome is what came of the run, with every card of it.
func (p *tab) outcome() (o map[string]any) {
	p.t.Helper()
	text := eval[string](p, `(async () => { const get = (at) => fetch("/api/" + at).then((r) => r.json());
		return JSON.stringify({ summary: (await get("run")).summary, cards: (await get("run/cards?n=500")).cards }); })()`)
	p.good(json.Unmarshal([]byte(text), &o))
	return o
}

// Every paper comes from its link. What comes opens with other programs than the
// one that wrote it, asks for nothing from anywhere, and shows an invented person
// unless a real card was asked for.
func TestPapersAreHandedOn(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#run")
	p.click("#run-start")
	p.wait(`document.querySelector("a[data-paper=report]")`)
	eval[any](p, axe+"\n;null")
	p.axe("the run view with its papers")

	dir := t.TempDir()
	_, err := chromedp.CallBrowser(p.ctx, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir})
	p.good(err)
	names := eval[[]string](p, `fetch("/api/rows").then((r) => r.json()).then((l) => l.rows.flatMap((r) => [r.key, r.label]))`)
	if len(names) != 2*cards {
		t.Fatalf("%d names", len(names))
	}
	page := p.taken("report", filepath.Join(dir, "report.html"))
	for _, n := range names {
		if strings.Contains(page, n) {
			t.Errorf("the report names %q", n)
		}
	}
	for _, kind := range []string{"ribbon", "explanation"} {
		p.taken(kind, filepath.Join(dir, kind+".pdf"))
		if says := pdfText(t, filepath.Join(dir, kind+".pdf")); !strings.Contains(says, "nvented") || strings.Contains(says, "real person") {
			t.Errorf("the %s says\n%s", kind, says)
		}
	}
	p.click("#hand-on-real")
	p.wait(`document.querySelector("#hand-on-means").textContent.includes("open doors")`)
	p.axe("the run view with papers of a real card")
	for _, kind := range []string{"ribbon", "explanation"} {
		p.taken(kind, filepath.Join(dir, kind+"-card-1.pdf"))
		if says := pdfText(t, filepath.Join(dir, kind+"-card-1.pdf")); !strings.Contains(says, "real person") {
			t.Errorf("the %s of a real card says\n%s", kind, says)
		}
	}

	report := blank(t, "file://"+dir)
	report.good(chromedp.Do(report.ctx, chromedp.Navigate(report.origin+"/report.html")))
	report.wait(`document.querySelector("#verdict").textContent && document.fonts.status === "loaded" && [...document.images].every((m) => m.naturalWidth > 0)`)
	if wrong := report.said(); len(wrong) > 0 {
		t.Errorf("the report, opened from disk: %q", wrong)
	}
}

// taken clicks the link of a paper and gives what is saved.
func (p *tab) taken(kind, file string) string {
	p.t.Helper()
	p.click("a[data-paper=" + kind + "]")
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if data, err := os.ReadFile(file); err == nil && len(data) > 0 {
			return string(data)
		}
	}
	p.t.Fatalf("the link of the %s saves no %s", kind, filepath.Base(file))
	return ""
}

// pdfText is what a PDF says, by Poppler's tools; pdfinfo opens it first.
func pdfText(t *testing.T, file string) string {
	t.Helper()
	if said, err := exec.Command("pdfinfo", file).CombinedOutput(); err != nil || !strings.Contains(string(said), "Pages:") || strings.Contains(string(said), "Error") {
		t.Errorf("pdfinfo: %v %s", err, said)
	}
	words, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Errorf("pdftotext: %v", err)
	}
	return string(words)
}
