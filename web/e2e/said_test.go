package e2e

import (
	"fmt"
	"testing"
)

// englishLeft is what is still marked as English on the page, with the finding
// or reading it belongs to.
const englishLeft = `[...document.querySelectorAll("main [lang=en]")].map((e) => e.textContent)`

// In German no text of the engine stays English: every finding of the run and of
// a card, every reading, every black rule is said in German.
func TestEngineSpeaksGerman(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#light")
	p.tabTo("#language")
	p.press("D")
	p.wait(`document.documentElement.lang === "de"`)
	german := func(where string) {
		t.Helper()
		if left := eval[[]string](p, englishLeft); len(left) > 0 {
			t.Errorf("%s: %q is English", where, left)
		}
	}
	p.turn("#run")
	p.click("#run-start")
	p.wait(fmt.Sprintf(`document.querySelector("#run-bar").ariaValueNow === "%d" && !document.querySelector("#run-start").hidden`, cards))
	german("the run")
	p.turn("#findings")
	for _, of := range []string{"run", "card"} {
		eval[any](p, fmt.Sprintf(`(() => { const s = document.querySelector("#of"); s.value = %q; s.dispatchEvent(new Event("change")); return null; })()`, of))
		p.wait(fmt.Sprintf(`document.querySelector("#of").value === %q && document.querySelector("#found button")`, of))
		n := eval[int](p, `document.querySelectorAll("#found button").length`)
		if n == 0 {
			t.Fatalf("nothing is found of the %s", of)
		}
		for i := range n {
			id := eval[string](p, fmt.Sprintf(`(() => { const b = document.querySelectorAll("#found button")[%d]; b.click(); return b.dataset.finding; })()`, i))
			german(of + ", " + id)
		}
	}
	p.turn("#readers")
	for i := range eval[int](p, `document.querySelectorAll("#card-cells .cell-button").length`) {
		eval[any](p, fmt.Sprintf(`document.querySelectorAll("#card-cells .cell-button")[%d].click(), null`, i))
		p.wait(fmt.Sprintf(`document.querySelectorAll("#card-cells .cell-button")[%d]?.ariaPressed === "true" && document.querySelector("#reading-why")`, i))
		german(fmt.Sprintf("reading %d", i))
	}
	p.turn("#rules")
	german("the black rules")
}

// The page makes of a format and what fills it the very English that the engine
// says.
func TestEnglishIsMadeAnew(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#findings")
	type pair struct{ Said, Made string }
	pairs := eval[[]pair](p, `(async () => {
		const { inEnglish } = await import("/assets/engine.js"), card = await (await fetch("/api/card/0")).json();
		return [...card.findings, ...card.readings].flatMap((f) => Object.entries(f.says ?? {}).map(([k, said]) => ({ Said: f[k], Made: inEnglish(said) })));
	})()`)
	if len(pairs) < 10 {
		t.Fatalf("%d texts have fillings", len(pairs))
	}
	for _, q := range pairs {
		if q.Said != q.Made {
			t.Errorf("%q is made anew as %q", q.Said, q.Made)
		}
	}
}
