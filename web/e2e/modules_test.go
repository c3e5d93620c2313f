package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// gangway is a card with two-dimensional codes, of resin, of black mixed from
// dyes, and one that is turned and has a smudge of dye under it.
const gangway = `unspool: 1
name: Gangway cards
printer: {dpi: 300}
ribbon: {panels: YMCKO, resin: carbon}
black: none
faces:
  front:
    - {name: quay, code: qr, text: "S{number} Sundhaven", box: [4, 4, 24, 24], backing: true, send: resin}
    - {name: stores, code: datamatrix, text: "{number} Sundhaven", box: [32, 4, 20, 20], backing: true, send: dye}
    - {name: ticket, code: pdf417, text: "{number} Sundhaven", box: [4, 32, 40, 18], backing: true, send: resin}
    - {name: bars, code: code39, text: "{number}", box: [46, 36, 38, 10], backing: true, send: resin}
    - {name: smudge, rectangle: [71, 15, 4, 3], fill: "#202020", send: dye}
    - {name: deck, code: aztec, text: "{number}", box: [58, 4, 20, 20], send: resin, turn: 90}
readers:
  - {name: Gangway camera, kind: camera, light: 660, accepts: [qr, datamatrix, pdf417, aztec, code39], min-x: 0.15}
  - {name: Night gate, kind: camera, light: 940, accepts: [qr, datamatrix, pdf417, aztec, code39], min-x: 0.15}
roster: {file: crew.csv, key: number}
`

// gangwayFile writes it with two people.
func gangwayFile(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"programme.yaml": gangway, "crew.csv": "number,given\n004217,Ida\n004218,Ole\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "programme.yaml")
}

// openCell opens a cell of the readers' view and waits for its modules.
func (p *tab) openCell(code, reader int) {
	p.t.Helper()
	eval[any](p, fmt.Sprintf(`location.hash = "#readers?row=0&code=%d&reader=%d", null`, code, reader))
	p.wait(fmt.Sprintf(`document.querySelector(".cell-button[data-code='%d'][data-reader='%d'][aria-pressed=true]")`, code, reader))
	p.wait(`document.querySelector("#trace-modules") && document.querySelector("#figures tr[data-figure=decode]")`)
}

// Every cell of a two-dimensional code shows the verdict that the server has, and
// chosen it shows the code's modules, its figures and its grade in each light.
func TestModulesOfEveryCell(t *testing.T) {
	p := open(t, serve(t, gangwayFile(t)), "#light")
	for code, want := range map[int]struct {
		name    string
		modules int // by ISO/IEC 18004, 16022, 15438 and 24778 for what the codes carry
		figures int
	}{0: {"quay", 25 * 25, 8}, 1: {"stores", 16 * 16, 8}, 2: {"ticket", 103 * 10, 7}} {
		for reader, nm := range []int{660, 940} {
			p.openCell(code, reader)
			seen := want.name != "stores" || nm == 660
			if got := eval[string](p, `document.querySelector(".verdict-line .mark").dataset.verdict`); (got == "reads") != seen {
				t.Errorf("%s at %d nm: %s", want.name, nm, got)
			}
			if n := eval[int](p, `document.querySelectorAll("#figures tbody tr").length`); n != want.figures {
				t.Errorf("%s at %d nm: %d figures", want.name, nm, n)
			}
			says := p.text("#modules-wrong")
			if n := strings.ReplaceAll(says, ",", ""); seen && !strings.HasPrefix(n, fmt.Sprintf("All %d modules", want.modules)) || !seen && says != "In this light the modules do not show." {
				t.Errorf("%s at %d nm: %q", want.name, nm, says)
			}
			light := p.text("#by-light")
			if !strings.Contains(light, "red 660 nm: 4.0/") || !strings.Contains(light, map[bool]string{true: "infrared 940 nm: 4.0/", false: "infrared 940 nm: 0.0/"}[want.name != "stores"]) {
				t.Errorf("%s: %q", want.name, light)
			}
		}
	}
	// Bars keep their profile.
	eval[any](p, `location.hash = "#readers?row=0&code=3&reader=0", null`)
	p.wait(`document.querySelector("#scan svg.profile") && !document.querySelector("#trace-modules")`)
}

// module is the module that is marked, in the order of the grid.
const module = `+document.querySelector(".modules-over").dataset.module`

// Keys and the pointer walk the modules, and what is said of each is what the
// server has of it.
func TestWalkModules(t *testing.T) {
	p := open(t, serve(t, gangwayFile(t)), "#light")
	p.openCell(0, 0)
	p.focus("#trace")
	for _, step := range []struct {
		keys []string
		at   int // of 25 modules a row
	}{{[]string{kb.ArrowRight}, 0}, {[]string{kb.ArrowRight, kb.ArrowDown}, 26}, {[]string{kb.End}, 49}, {[]string{kb.ArrowRight}, 49}, {[]string{kb.Home, kb.ArrowUp, kb.ArrowUp}, 0}, {[]string{kb.ArrowLeft}, 0}} {
		p.press(step.keys...)
		if got := eval[int](p, module); got != step.at {
			t.Fatalf("%q leads to module %d, not %d", step.keys, got, step.at)
		}
	}
	if says := p.text("#element-says"); !strings.HasPrefix(says, "Module 1 across, 1 down, printed dark: finder pattern upper left. It sends back ") {
		t.Errorf("%q", says)
	}
	// The last module of a QR Code is the first bit of its first codeword (ISO/IEC
	// 18004 7.7.3: placement begins at the lower right).
	p.press(strings.Split(strings.Repeat(kb.ArrowDown, 24), "")...)
	p.press(kb.End)
	if says := p.text("#element-says"); !strings.HasPrefix(says, "Module 25 across, 25 down") || !strings.Contains(says, ": codeword 1.") {
		t.Errorf("%q", says)
	}
	p.press("w")
	if says := p.text("#element-says"); !strings.HasSuffix(says, "This is the weakest.") {
		t.Errorf("%q", says)
	}
	at := eval[[]float64](p, `(() => { const b = document.querySelector("#trace-modules").getBoundingClientRect(); scrollBy(0, b.top - 100); const c = document.querySelector("#trace-modules").getBoundingClientRect(); return [c.x + c.width / 2, c.y + c.height / 2]; })()`)
	p.good(chromedp.Do(p.ctx, chromedp.MouseEvent("mouseMoved", at[0], at[1])))
	p.wait(module + ` === 12 * 25 + 12`)
}

// Dye under a code is dark to a red reader alone: there its modules are crossed, and
// in infrared every one is right.
func TestModulesOnTheWrongSide(t *testing.T) {
	p := open(t, serve(t, gangwayFile(t)), "#light")
	p.openCell(4, 0)
	wrong := eval[[]int](p, `fetch("/api/card/0/look?code=4&reader=0").then((r) => r.json()).then((l) => l.wrong)`)
	if len(wrong) == 0 || !strings.HasPrefix(p.text("#modules-wrong"), fmt.Sprintf("%d of ", len(wrong))) {
		t.Fatalf("%v: %q", wrong, p.text("#modules-wrong"))
	}
	p.focus("#trace")
	for _, i := range append(wrong, wrong[0]) {
		p.press("w")
		if at := eval[int](p, module); at != i || !strings.HasSuffix(p.text("#element-says"), "It lies on the wrong side.") {
			t.Fatalf("w leads to module %d, not %d: %q", at, i, p.text("#element-says"))
		}
	}
	p.openCell(4, 1)
	p.wait(`document.querySelector("#modules-wrong").textContent.startsWith("All ")`)
}

// The modules through either aperture say how wide it is.
func TestModulesThroughEitherAperture(t *testing.T) {
	p := open(t, serve(t, gangwayFile(t)), "#light")
	p.openCell(1, 0)
	for _, through := range []string{"spot", "standard"} {
		p.click("#through-" + through)
		p.wait(fmt.Sprintf(`document.querySelector("#through-%s[aria-pressed=true]") && document.activeElement.id === "through-%[1]s"`, through))
		mm := eval[string](p, fmt.Sprintf(`fetch("/api/card/0/look?code=1&reader=0&aperture=%s").then((r) => r.json()).then((t) => t.aperture.toFixed(3) + " mm")`, through))
		if says := p.text(".reading .lights"); !strings.Contains(says, mm) {
			t.Errorf("%s: %q, not %s", through, says, mm)
		}
	}
}

// The modules have no serious fault by axe-core, wide and narrow, light and dark,
// and no English in German but what is marked.
func TestModulesForEveryone(t *testing.T) {
	p := open(t, serve(t, gangwayFile(t)), "#light")
	eval[any](p, axe+"\n;null")
	for _, cell := range [][2]int{{1, 1}, {2, 0}, {4, 0}} {
		p.openCell(cell[0], cell[1])
		eval[any](p, `document.querySelector("#figures").open = true, null`)
		for _, width := range []int64{1280, 360} {
			p.size(width, 960)
			p.axe(fmt.Sprintf("code %d at reader %d, %d wide", cell[0], cell[1], width))
			if wide := eval[int](p, `document.documentElement.scrollWidth`); int64(wide) > width {
				t.Errorf("code %d: %d wide in a window of %d", cell[0], wide, width)
			}
		}
	}
	p.size(1280, 960)
	eval[any](p, `(() => { const s = document.querySelector("#language"); s.value = "de"; s.dispatchEvent(new Event("change", { bubbles: true })); })(), null`)
	p.wait(`document.documentElement.lang === "de"`)
	for code := range 3 {
		p.openCell(code, 0)
		p.focus("#trace")
		p.press(kb.ArrowRight)
		if left := eval[[]string](p, english); len(left) > 0 {
			t.Errorf("code %d: English is left: %q", code, left)
		}
		if says := p.text("#element-says"); !strings.HasPrefix(says, "Modul 1 von links, 1 von oben") || strings.Contains(says, "pattern") {
			t.Errorf("%q", says)
		}
	}
}

// In the layout a two-dimensional code says how many dots its modules fit and what
// room more of them need both ways, and offers what its symbology has; given
// another symbology it loses what that one does not know.
func TestLayOutModules(t *testing.T) {
	p := open(t, serve(t, gangwayFile(t)), "#layout")
	p.click(`.piece[data-element="0"]`)
	p.wait(`document.querySelector("#layout-element [data-value=level]")`)
	// 25 modules and a quiet zone of 4 on either side at 8 dots are 264 dots or 22.4
	// mm, at 9 dots 297 or 25.1.
	if says := p.text("#layout-element [data-steps]"); says != "8 dots (0.677 mm) fits, 9 dots needs 25.1 × 25.1 mm." {
		t.Errorf("%q", says)
	}
	shown := func() []string {
		return eval[[]string](p, `[...document.querySelectorAll("#layout-element [data-value]")].map((e) => e.dataset.value)`)
	}
	has := func(key string) bool { return strings.Contains(" "+strings.Join(shown(), " ")+" ", " "+key+" ") }
	if has("oblong") || has("columns") || !has("gs1") {
		t.Errorf("a QR Code is offered %q", shown())
	}
	choose := func(key, to string) {
		eval[any](p, fmt.Sprintf(`(() => { const s = document.querySelector("#layout-element [data-value=%s]"); s.value = %q; s.dispatchEvent(new Event("change")); })(), null`, key, to))
		p.wait(`!layout.desk.busy`)
	}
	choose("level", "H")
	p.wait(`layout.card.stated(0).level === "H" && document.querySelector("#layout-verdicts li[data-code='0'][data-verdict=reads]")`)
	choose("code", "pdf417")
	p.wait(`layout.card.stated(0).code === "pdf417" && !("level" in layout.card.stated(0)) && document.querySelector("#layout-element [data-value=columns]")`)
	if wrong := p.text("#layout-wrong"); wrong != "" || has("gs1") || !has("compact") {
		t.Errorf("%q; a PDF417 is offered %q", wrong, shown())
	}
	choose("columns", "1")
	p.wait(`layout.card.card.codes.find((c) => c.code === 0).matrix.spec.startsWith("1 columns")`)
	choose("code", "code39")
	p.wait(`layout.card.stated(0).code === "code39" && !("columns" in layout.card.stated(0))`)
}
