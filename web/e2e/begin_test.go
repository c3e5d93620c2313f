package e2e

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"unspool/demo"
	"unspool/folder"
)

// material is a roster of six invented people and five of their portraits in a
// folder of its own, as a card office has them before there is a programme.
func material(t testing.TB) (roster, photos string) {
	t.Helper()
	dir := t.TempDir()
	roster, photos = filepath.Join(dir, "deck crew.csv"), filepath.Join(dir, "Fotos")
	if err := os.Mkdir(photos, 0o777); err != nil {
		t.Fatal(err)
	}
	out, err := os.Create(roster)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.WriteAll([][]string{{"Crew no", "Given name", "Family name", "Role", "Valid until", "Cabin"}, {"004217", "Ida", "Sund", "Chief mate", "2029", "12"}, {"004218", "Per", "Holm", "Deckhand", "2029", "14"},
		{"004219", "Åse", "Strand", "Engineer", "2030", "14"}, {"004220", "Ole", "Vik", "Deckhand", "2028", "21"}, {"004221", "Marit", "Øy", "Purser", "2029", "22"}, {"004222", "Jon", "Berg", "Cook", "2029", "23"}})
	i := 0
	for f := range demo.Files(5) {
		if filepath.Ext(f.Name) != ".jpg" {
			continue
		}
		data, err := f.Make()
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(photos, fmt.Sprintf("00%d.jpg", 4217+i)), data, 0o666); err != nil {
			t.Fatal(err)
		}
		i++
	}
	// What systems leave in folders is passed over in silence.
	if err := os.WriteFile(filepath.Join(photos, "Thumbs.db"), []byte("x"), 0o666); err != nil {
		t.Fatal(err)
	}
	return roster, photos
}

// beginning opens the bench on an empty folder.
func beginning(t testing.TB) (p *tab, dir string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "quay-passes")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	p = blank(t, serve(t, dir))
	t.Cleanup(func() {
		for _, w := range p.said() {
			t.Errorf("the page: %s", w)
		}
	})
	p.size(1280, 960)
	p.dark(false)
	p.good(chromedp.Do(p.ctx, chromedp.Navigate(p.origin+"/")))
	p.wait(`document.querySelector("#begin-says strong")`)
	eval[any](p, `import("/assets/state.js").then((m) => { window.state = m.state; })`)
	return p, dir
}

// give puts files into a file input, as its dialog does.
func (p *tab) give(selector string, files ...string) {
	p.t.Helper()
	doc, err := chromedp.Call(p.ctx, dom.GetDocument, dom.GetDocumentParams{})
	p.good(err)
	node, err := chromedp.Call(p.ctx, dom.QuerySelector, dom.QuerySelectorParams{NodeID: doc.Root.NodeID, Selector: selector})
	p.good(err)
	_, err = chromedp.Call(p.ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: files, NodeID: node.NodeID})
	p.good(err)
}

// fill puts the roster and the folder of photos in and waits for the first card.
func (p *tab) fill() {
	p.t.Helper()
	roster, photos := material(p.t)
	p.give("#pick-roster", roster)
	p.wait(`document.querySelector("#begin-key")?.value === "Crew no"`)
	p.give("#pick-folder", photos)
	p.wait(`document.querySelector("#begin-photos-say")?.textContent.startsWith("5 of 6")`)
	p.wait(`document.querySelector("#begin-card img")`)
}

// set gives a field another value, as a hand does.
func (p *tab) set(selector, value string) {
	p.t.Helper()
	eval[any](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.value = %q; e.dispatchEvent(new Event("input", { bubbles: true })); e.dispatchEvent(new Event("change", { bubbles: true })); return null; })()`, selector, value))
}

// A programme is begun from an empty folder, a CSV and a folder of photos without
// a line of YAML: columns matched and one changed, two readers named, laid out,
// proved, there again when the page is loaded anew, and the same to the command.
func TestBeginFromNothing(t *testing.T) {
	p, dir := beginning(t)
	p.fill()
	for id, want := range map[string]string{"begin-key": "Crew no", "begin-name-1": "Given name", "begin-name-2": "Family name", "begin-line-1": "Role", "begin-line-2": "Valid until", "begin-photo": "Crew no", "begin-ending": ".jpg", "begin-code": "code39", "begin-name": "Quay passes", "begin-encoding": "utf-8"} {
		if got := eval[string](p, fmt.Sprintf(`document.getElementById(%q).value`, id)); got != want {
			t.Errorf("%s is %q, want %q", id, got, want)
		}
	}
	if says := p.text(`[data-match="begin-key"] .values`); says != "004217, 004218, 004219" {
		t.Errorf("values of the key: %q", says)
	}
	if says := p.text("#begin-photos-say"); !strings.Contains(says, "Without one: 004222.") {
		t.Errorf("photos: %q", says)
	}
	if !eval[bool](p, `document.querySelector("#begin-refused").hidden`) {
		t.Errorf("refused: %q", p.text("#begin-refused"))
	}
	p.wait(`document.querySelector('[data-match="begin-line-1"] .guessed')`)
	p.set("#begin-line-2", "Cabin")
	p.wait(`document.querySelector('[data-match="begin-line-1"] .values').textContent.includes("14") && !document.querySelector('[data-match="begin-line-1"] .guessed')`)

	p.click(`#begin-resin [value=carbon]`)
	p.click("#add-slot")
	p.wait(`document.activeElement.id === "reader-1-name"`)
	p.set("#reader-1-name", "Quay clock")
	p.set("#reader-1-line", "11.5")
	p.click("#add-hand")
	p.set("#reader-2-name", "Gangway")
	p.wait(`document.querySelectorAll("#begin-readings li[data-verdict=reads]").length === 2`)
	if _, err := os.Stat(filepath.Join(dir, folder.Name)); err == nil {
		t.Error("the card file is written before it was asked for")
	}

	p.click("#begin-now")
	p.stands("layout")
	p.wait(`document.activeElement.id === "main"`)
	p.wait(`document.querySelectorAll("#layout-verdicts li[data-verdict=reads]").length === 2`)
	if name := p.text(".name"); name != "Quay passes" {
		t.Errorf("the bench is called %q", name)
	}
	f, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if r := f.Programme.Readers; len(r) != 2 || r[0].Peak != 940 || r[1].Peak != 660 || len(f.Roster.Rows) != 6 {
		t.Errorf("%+v", r)
	}
	if all, err := os.ReadDir(filepath.Join(dir, "photos")); err != nil || len(all) != 5 {
		t.Errorf("%d photos, %v", len(all), err)
	}
	here := eval[[]string](p, `fetch("/api/card/0").then((r) => r.json()).then((c) => c.readings.map((r) => r.words))`)
	p.goTo("#layout")
	p.wait(`document.querySelectorAll("#layout-verdicts li[data-verdict=reads]").length === 2`)

	results := filepath.Join(t.TempDir(), "proof")
	if out, err := exec.Command(built, "proof", dir, "-o", results).CombinedOutput(); err != nil && !strings.Contains(err.Error(), "exit status 1") { // one has no photo
		t.Fatalf("%v\n%s", err, out)
	}
	data, err := os.ReadFile(filepath.Join(results, "proof.json"))
	if err != nil {
		t.Fatal(err)
	}
	if words := verdictsOf(t, data); !slices.Equal(words, here) {
		t.Errorf("the command says %q, the page %q", words, here)
	}
}

// verdictsOf are the words of the first card's readings in a proof.
func verdictsOf(t testing.TB, proof []byte) (words []string) {
	t.Helper()
	var said struct {
		Cards []struct{ Readings []struct{ Verdict string } }
	}
	if err := json.Unmarshal(proof, &said); err != nil || len(said.Cards) != 6 {
		t.Fatal(len(said.Cards), err)
	}
	for _, r := range said.Cards[0].Readings {
		words = append(words, r.Verdict)
	}
	return words
}

// dropOn drops files and folders of the disk on the middle of what a selector
// finds, as a hand does.
func (p *tab) dropOn(selector string, files ...string) {
	p.t.Helper()
	at := eval[[]float64](p, fmt.Sprintf(`(() => { const b = document.querySelector(%q).getBoundingClientRect(); return [b.x + b.width / 2, b.y + b.height / 2]; })()`, selector))
	for _, step := range []input.DispatchDragEventType{input.DispatchDragEventTypeDragEnter, input.DispatchDragEventTypeDragOver, input.DispatchDragEventTypeDrop} {
		_, err := chromedp.Call(p.ctx, input.DispatchDragEvent, input.DispatchDragEventParams{Type: step, X: at[0], Y: at[1], Data: &input.DragData{Items: []*input.DragDataItem{}, Files: files, DragOperationsMask: 1}})
		p.good(err)
	}
}

// A roster and a folder dropped together go in, the folder with all that lies in
// folders in it.
func TestBeginByDroppingAFolder(t *testing.T) {
	p, dir := beginning(t)
	roster, photos := material(t)
	deeper := filepath.Join(photos, "deck", "new")
	if err := os.MkdirAll(deeper, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(photos, "004217.jpg"), filepath.Join(deeper, "004217.jpg")); err != nil {
		t.Fatal(err)
	}
	p.dropOn("#begin-drop", roster, photos)
	p.wait(`document.querySelector("#begin-photos-say")?.textContent.startsWith("5 of 6")`)
	p.wait(`document.querySelector("#begin-refused").hidden && !document.querySelector("#begin-bar")`)
	if all, err := os.ReadDir(filepath.Join(dir, "photos")); err != nil || len(all) != 5 {
		t.Errorf("%v, %v", all, err)
	}
}

// Files that are dropped go in as those that are chosen; what is not taken is
// listed, each with its reason, and the rest goes in all the same.
func TestBeginByDropping(t *testing.T) {
	p, dir := beginning(t)
	drop := func(files string) {
		eval[any](p, `(() => {
			const dt = new DataTransfer();
			for (const [name, text] of `+files+`) dt.items.add(new File([text], name));
			for (const type of ["dragover", "drop"]) document.querySelector("#begin-drop").dispatchEvent(new DragEvent(type, { dataTransfer: dt, bubbles: true, cancelable: true }));
			return null;
		})()`)
	}
	drop(`[["crew.csv", "number,name\n1,Ida Sund\n2,Per Holm\n"], ["notes.docx", "x"], [".DS_Store", "x"]]`)
	p.wait(`document.querySelector("#begin-key")?.value === "number"`)
	p.wait(`document.querySelectorAll("#begin-refused li").length === 1`)
	if says := p.text("#begin-refused"); !strings.Contains(says, "notes.docx: It is neither a roster nor a photo.") {
		t.Errorf("%q", says)
	}
	p.wait(`document.querySelector("#begin-card img")`)
	if got := eval[int](p, `document.querySelectorAll("#begin-card .mark").length`); got != 0 {
		t.Errorf("%d verdicts without a reader", got)
	}
	if data, err := os.ReadFile(filepath.Join(dir, "crew.csv")); err != nil || !strings.HasPrefix(string(data), "number,name\n") {
		t.Errorf("%q, %v", data, err)
	}
	// Nothing can be begun while something is missing; the keys are led there.
	p.click("#add-slot")
	p.click("#begin-now")
	p.wait(`document.activeElement.id.endsWith("-name") && !document.querySelector("#begin-wrong").hidden`)
	if _, err := os.Stat(filepath.Join(dir, folder.Name)); err == nil {
		t.Error("a programme with a reader that has no name is begun")
	}
}

// Another file of a name that is there is refused on the page, in words.
func TestBeginKeepsWhatIsThere(t *testing.T) {
	p, dir := beginning(t)
	roster, _ := material(t)
	p.give("#pick-roster", roster)
	p.wait(`document.querySelector("#begin-key")?.value === "Crew no"`)
	other := filepath.Join(t.TempDir(), filepath.Base(roster))
	if err := os.WriteFile(other, []byte("number\n1\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	p.give("#pick-roster", other)
	p.wait(`document.querySelector("#begin-refused li")?.textContent.includes("and stays")`)
	if data, err := os.ReadFile(filepath.Join(dir, filepath.Base(roster))); err != nil || !strings.Contains(string(data), "Sund") {
		t.Errorf("%q, %v", data, err)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.wrongs = slices.DeleteFunc(p.wrongs, func(s string) bool { return strings.Contains(s, "409") }) // the browser tells of the refusal
}

// The beginning is gone through with the keyboard alone; a dialog for files is the
// browser's own.
func TestBeginByKeys(t *testing.T) {
	p, dir := beginning(t)
	roster, photos := material(t)
	for _, pick := range [][2]string{{"#pick-roster", roster}, {"#pick-folder", photos}} {
		p.tabTo(pick[0])
		p.wait(`getComputedStyle(document.activeElement.closest(".pick")).outlineStyle === "solid"`)
		p.give(pick[0], pick[1])
	}
	p.wait(`document.querySelector("#begin-photos-say")?.textContent.startsWith("5 of 6")`)
	p.tabTo("#begin-line-2")
	p.press(kb.ArrowDown)
	p.wait(`document.querySelector('[data-match="begin-line-1"] .values').textContent.includes("12") && document.activeElement.id === "begin-line-2"`)
	p.tabTo("#begin-panels")
	p.press("K")
	p.wait(`document.querySelector("#begin-panels").value.includes("K") && document.activeElement.id === "begin-panels"`)
	eval[any](p, `document.querySelector("#begin-panels").select(), null`)
	p.press("y", "m", "c", "k", "o")
	p.wait(`document.querySelectorAll("#begin-strip i").length === 5`)
	p.tabTo("#begin-resin input")
	p.press(kb.ArrowUp, kb.ArrowUp)
	p.wait(`document.querySelector("#begin-resin [value=carbon]").checked`)
	p.tabTo("#add-hand")
	p.press(kb.Enter, "G", "a", "t", "e")
	p.wait(`document.querySelector("#begin-readings li[data-verdict=reads]")`)
	p.tabTo("#begin-now")
	p.press(kb.Enter)
	p.stands("layout")
	if _, err := os.Stat(filepath.Join(dir, folder.Name)); err != nil {
		t.Error(err)
	}
}

// The beginning, empty and full, has no serious fault by axe-core in light or dark,
// is no wider than a telephone, and says nothing in English once it is German.
func TestBeginIsForEveryone(t *testing.T) {
	p, _ := beginning(t)
	eval[any](p, axe+"\n;null")
	judge := func(what string) {
		p.axe(what)
		p.size(360, 740)
		if over := eval[[]string](p, tooWide); len(over) > 0 {
			t.Errorf("%s is wider than 360 points: %v", what, over)
		}
		p.size(1280, 960)
	}
	judge("empty")
	p.fill()
	p.click("#add-slot")
	p.click("#add-camera")
	p.wait(`document.querySelectorAll(".reader-asked").length === 2`)
	judge("full")
	p.size(1024, 1400)
	golden(t, p, "begin")
	p.size(1280, 960)
	p.set("#language", "de")
	p.wait(`document.documentElement.lang === "de" && document.querySelector("#begin-card img")`)
	if left := eval[[]string](p, english); len(left) > 0 {
		t.Errorf("English is left: %q", left)
	}
	judge("German")
	if readers := eval[int](p, `document.querySelectorAll(".reader-asked").length`); readers != 2 {
		t.Errorf("%d readers are left in German", readers)
	}
}

// What is not taken is told with what to do, by the page itself: a file in another
// form, one that is too large to be sent, one that cannot be read any more. A
// field that is not filled in is called by its name.
func TestBeginSaysWhatToDo(t *testing.T) {
	p, _ := beginning(t)
	dir := t.TempDir()
	sizes := map[string]int64{"crew.xls": 1, "a.heic": 1, "b.gif": 1, "large.jpg": 80 << 20, "gone.jpg": 9}
	var given []string
	for name, size := range sizes {
		at := filepath.Join(dir, name)
		if err := os.WriteFile(at, nil, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(at, size); err != nil {
			t.Fatal(err)
		}
		if name != "gone.jpg" {
			given = append(given, at)
		}
	}
	p.give("#pick-photos", given...)
	p.wait(`document.querySelectorAll("#begin-refused li").length === 4`)
	for _, want := range []string{"crew.xls: A roster is not taken in this form. Save it as XLSX or CSV.", "a.heic: A photo is not taken in this form. Save it as JPEG or PNG.", "b.gif: A photo is not taken", "large.jpg: It has more than 32 MB. Save it smaller."} {
		if got := p.text("#begin-refused"); !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	eval[any](p, `(() => { addEventListener("change", (e) => { e.stopPropagation(); window.held = [...e.target.files]; }, { capture: true, once: true }); return null; })()`)
	p.give("#pick-photos", filepath.Join(dir, "gone.jpg"))
	p.wait(`window.held?.length === 1`)
	if err := os.Remove(filepath.Join(dir, "gone.jpg")); err != nil {
		t.Fatal(err)
	}
	eval[any](p, `import("/assets/beginfiles.js").then((m) => { const i = new m.Intake(() => {}, () => { window.why = i.refused[0].why; }); i.add(held); })`)
	p.wait(`window.why`)
	if got := eval[string](p, `window.why`); got != "unread" {
		t.Errorf("a file that is gone is refused for %q", got)
	}
	p.forget("ERR_FILE_NOT_FOUND") // the browser itself reports the failed request

	p.fill()
	p.click("#add-hand")
	p.click("#begin-now")
	if got := p.text("#begin-wrong"); got != "Hand-held reader: “Name” is still to be filled in." {
		t.Errorf("it says %q", got)
	}
}
