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

// What the bench can do about a finding it offers beside it, in so many words.
// Pressed, the finding is gone and the page says that nothing is saved yet; undo
// brings it back.
func TestRemedyTakesFindingAway(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#findings")
	p.offers("no-carbon", "Send this code to resin")
	p.tabTo("#remedy-do")
	p.press(kb.Enter)
	p.wait(`!document.querySelector("[data-finding=no-carbon]") && document.querySelector("#found")`)
	if says := p.text("#rule-set"); !strings.Contains(says, "Done, on “crew code”: send this code to resin.") || !strings.Contains(says, "not saved yet") {
		t.Errorf("the page says %q", says)
	}
	p.wait(`document.activeElement.id === "undo"`)
	p.press(kb.Enter)
	p.wait(`document.querySelector("[data-finding=no-carbon]") && !state.bench.unsaved`)

	// A finding of the whole run is cured on a card that has it.
	p.turn("#run")
	p.click("#run-start")
	p.wait(`document.querySelector("a[data-paper=report]")`)
	p.turn("#findings")
	p.wait(`document.querySelector("#of").value === "run"`)
	p.offers("text-in-dye", "Send this text to resin")
	p.click("#remedy-do")
	p.wait(`state.bench.undo && document.querySelector("#of").value === "card"`)
}

// A code that was drawn too small gets the room that it needs.
func TestRemedyOfSmallCode(t *testing.T) {
	p := open(t, serve(t, right()), "#layout")
	code := eval[int](p, `state.bench.sides[0].elements.findIndex((e) => e.name === "crew code")`)
	p.click(fmt.Sprintf(`.piece[data-element="%d"]`, code))
	p.wait(`document.querySelector("#layout-element")`)
	p.drag(fmt.Sprintf(`.piece[data-element="%d"] [data-grip="e"]`, code), -280, 0)
	p.wait(`document.querySelector("#layout-verdicts li[data-code='0'][data-reader='0']").dataset.verdict === "fails" && !layout.desk.busy`)
	p.turn("#findings")
	p.offers("x-below-reader", "for narrow bars of 3 dots")
	p.click("#remedy-do")
	p.wait(`!document.querySelector("[data-finding=x-below-reader]") && document.querySelector("#rule-set").textContent.includes("Done")`)
	p.click("#undo")
	p.wait(`document.querySelector("[data-finding=x-below-reader]")`)
}

// offers chooses a finding and waits for what the bench offers to do about it.
func (p *tab) offers(finding, says string) {
	p.t.Helper()
	p.click("[data-finding=" + finding + "]")
	p.wait(fmt.Sprintf(`document.querySelector("#remedy-do")?.textContent.includes(%q)`, says))
}

// A black rule that is chosen is on the bench and not in the file, which the page
// says; it is saved from there.
func TestBlackRuleIsSavedFromItsView(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(programme)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "too-little.yaml")
	p := open(t, serve(t, file), "#rules")
	p.click(`[data-side=front] [data-use=objects]`)
	p.wait(`state.bench.unsaved && document.querySelector("#rule-set").textContent.includes("not saved yet")`)
	if data, err := os.ReadFile(file); err != nil || !strings.Contains(string(data), "black: none") {
		t.Error("the file is changed before it is saved", err)
	}
	p.click("#save")
	p.wait(`!state.bench.unsaved && document.querySelector("#rule-set").textContent.includes("Saved to the programme file")`)
	if data, err := os.ReadFile(file); err != nil || !strings.Contains(string(data), "objects") {
		t.Error("the file is not saved", err)
	}

	// What somebody else has saved meanwhile is not overwritten.
	p.click("#undo")
	p.wait(`state.bench.unsaved`)
	if err := os.WriteFile(file, []byte("# theirs\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	p.click("#save")
	p.wait(`document.querySelector("#rule-set a[href^='#layout']")`)
	if data, err := os.ReadFile(file); err != nil || string(data) != "# theirs\n" {
		t.Error("another's file is overwritten", err)
	}
	p.forget("409")
}

// A file that cannot be changed in place keeps its black rule, and the page says
// why.
func TestBlackRuleOfFixedFile(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(programme)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "too-little.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	// One line ends as no text editor of today ends it.
	if err := os.WriteFile(file, []byte(strings.Replace(string(data), "unspool: 1\n", "unspool: 1 # version\r", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	p := open(t, serve(t, file), "#rules")
	p.click(`[data-side=front] [data-use=objects]`)
	p.wait(`document.querySelector("#rule-set").textContent.includes("by hand")`)
	if says := p.text("#rule-set"); !strings.Contains(says, "cannot be changed in place") || !strings.Contains(says, "line ends") {
		t.Errorf("the page says %q", says)
	}
	if eval[bool](p, `state.bench.unsaved`) || p.text(`[data-side=front] [data-rule=none].current h3`) == "" {
		t.Error("the rule is changed")
	}
	p.forget("409")
}

// forget drops what the browser itself says of an answer that was to be refused.
func (p *tab) forget(status string) {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	n := 0
	for _, w := range p.wrongs {
		if !strings.Contains(w, status) {
			p.wrongs[n] = w
			n++
		}
	}
	p.wrongs = p.wrongs[:n]
}

// D doubles all that is chosen, as one step.
func TestDoubleSeveral(t *testing.T) {
	p := open(t, serve(t, right()), "#layout")
	was := eval[int](p, `state.bench.sides[0].elements.length`)
	names := `state.bench.sides[0].elements.map((e) => e.name).join()`
	before := eval[string](p, names)
	eval[any](p, `layout.card.hold(8), layout.card.choose(5, 8), null`)
	p.press("d")
	p.wait(fmt.Sprintf(`state.bench.sides[0].elements.length === %d && !layout.desk.busy`, was+2))
	if got := eval[string](p, `[6, 10].map((i) => { const a = state.bench.sides[0].elements[i - 1], b = state.bench.sides[0].elements[i]; return [b.name.startsWith(a.name), Math.round(b.box.x - a.box.x), Math.round(b.box.y - a.box.y), layout.card.chosen.has(i)].join(); }).join(";")`); got != "true,2,2,true;true,2,2,true" {
		t.Errorf("the copies lie %s", got)
	}
	p.chord("z", chromedp.ModifierCtrl)
	p.wait(fmt.Sprintf(`%s === %q`, names, before))
	if eval[bool](p, `state.bench.undo`) {
		t.Error("one undo does not take both copies back")
	}
}
