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

// A code dragged too small is found while it is dragged; one undo brings it back;
// a change that is saved is in the file, the user's comments still in it, and in
// the page when it is opened again.
func TestLayOut(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(programme)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "programme.yaml")
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p := open(t, serve(t, file), "#layout")
	code := eval[int](p, `state.bench.sides[0].elements.findIndex((e) => e.name === "crew code")`)
	piece := fmt.Sprintf(`.piece[data-element="%d"]`, code)
	box := fmt.Sprintf(`document.querySelector('%s').dataset.box`, piece)
	verdict := `document.querySelector("#layout-verdicts li[data-code='0'][data-reader='0']").dataset.verdict`
	was := eval[string](p, box)
	p.wait(verdict + ` === "reads"`)

	p.click(piece)
	p.wait(`document.querySelector("#layout-element")`)
	p.drag(piece+` [data-grip="e"]`, -200, 0)
	p.wait(verdict + ` === "fails"`)
	p.wait(`document.querySelector("#layout-verdicts li[data-code='0'][data-reader='0'] .aside")?.textContent`)
	p.wait(`!state.bench.sides[0].elements.some((e) => e.name === "crew code" && e.box.w > 35)`)
	p.chord("z", chromedp.ModifierCtrl)
	p.wait(box + ` === "` + was + `" && ` + verdict + ` === "reads"`)
	if eval[bool](p, `state.bench.undo || state.bench.unsaved`) {
		t.Error("one undo does not take back the whole drag")
	}

	p.focus(piece)
	p.press(kb.ArrowUp, kb.ArrowUp)
	p.wait(`state.bench.unsaved`)
	p.wait(box + ` !== "` + was + `"`)
	p.wait(`!layout.desk.busy`)
	now := eval[string](p, box)
	if disk, err := os.ReadFile(file); err != nil || string(disk) != string(before) {
		t.Error("the file is changed before it is saved", err)
	}
	p.chord("s", chromedp.ModifierCtrl)
	p.wait(`!state.bench.unsaved`)
	after, err := os.ReadFile(file)
	if err != nil || string(after) == string(before) {
		t.Fatal("nothing is saved", err)
	}
	for line := range strings.Lines(string(before)) {
		if _, comment, has := strings.Cut(line, "# "); has && !strings.Contains(string(after), comment) {
			t.Errorf("the comment %q is lost", comment)
		}
	}
	p.goTo("#layout")
	if again := eval[string](p, box); again != now {
		t.Errorf("saved at %s, opened again at %s", now, again)
	}
}

// drag takes what a selector finds in hand and moves it by some screen points.
func (p *tab) drag(selector string, dx, dy float64) {
	p.t.Helper()
	at := eval[[]float64](p, fmt.Sprintf(`(() => { const b = document.querySelector(%q).getBoundingClientRect(); return [b.x + b.width / 2, b.y + b.height / 2]; })()`, selector))
	p.good(chromedp.Do(p.ctx, chromedp.DragAndDropXY(at[0], at[1], at[0]+dx, at[1]+dy, 12)))
}

// chord presses a key together with others.
func (p *tab) chord(key string, with chromedp.Modifier) {
	p.t.Helper()
	p.good(chromedp.Do(p.ctx, chromedp.KeyEvent(key, chromedp.KeyModifiers(with))))
}
