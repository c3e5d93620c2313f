package e2e

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// axe is axe-core 4.14.1 as its makers publish it, under the Mozilla Public
// License 2.0; see axe-LICENSE.txt beside it.
//
//go:embed testdata/axe.min.js
var axe string

// No view has a serious or critical fault by axe-core, light or dark, on the card
// whose codes fail and that has findings to show.
func TestAxeFindsNothingSerious(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#run")
	p.click("#run-start") // so that lists and tables have something in them
	p.wait(`document.querySelectorAll("#run-rows .list-row").length > 3`)
	eval[any](p, axe+"\n;null")
	for _, v := range views {
		p.turn("#" + v.name)
		p.axe(v.name)
	}
	p.turn("#layout")
	p.click(`.piece[data-kind="code"]`)
	p.wait(`document.querySelector("#layout-element")`)
	p.axe("layout with a code in hand")
}

// axe tells what axe-core finds in the page as it stands, light and dark.
func (p *tab) axe(what string) {
	p.t.Helper()
	for _, dark := range []bool{false, true} {
		p.dark(dark)
		for _, fault := range eval[[]string](p, `axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations.filter((v) => v.impact === "serious" || v.impact === "critical")
			.flatMap((v) => v.nodes.map((n) => v.impact + " " + v.id + ": " + n.target.join(" ") + " " + n.failureSummary.slice(0, 300))))`) {
			p.t.Errorf("%s, dark %v: %s", what, dark, fault)
		}
	}
	p.dark(false)
}

// On a telephone 360 points wide no view is wider than the window.
func TestNarrow(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#light")
	p.size(360, 740)
	for _, language := range []string{"en", "de"} {
		eval[any](p, fmt.Sprintf(`localStorage.setItem("unspool-language", %q), null`, language))
		p.goTo("#light")
		for _, v := range views {
			p.turn("#" + v.name)
			if over := eval[[]string](p, tooWide); len(over) > 0 {
				t.Errorf("%s in %s is wider than 360 points: %v", v.name, language, over)
			}
		}
	}
}

// tooWide names what sticks out of the window, but for what can be scrolled to in
// a box of its own.
const tooWide = `(() => {
	const boxed = (e) => { for (e = e.parentElement; e && e !== document.body; e = e.parentElement) if (getComputedStyle(e).overflowX !== "visible") return true; return false; };
	return document.documentElement.scrollWidth <= innerWidth ? [] : ["by " + (document.documentElement.scrollWidth - innerWidth), ...[...document.querySelectorAll("body *")]
		.filter((e) => e.getBoundingClientRect().right > innerWidth && !boxed(e)).slice(0, 6).map((e) => e.tagName + "." + e.className + "#" + e.id)];
})()`

// shapes gives every key of a set of words with the kind of value that stands
// there.
const shapes = `const shape = (o, at) => Object.entries(o).flatMap(([k, v]) => typeof v === "object" ? shape(v, at + k + ".") : [at + k + " " + typeof v]);
	const words = async (code) => (await import("/assets/words." + code + ".js")).default;`

// The second language has a word wherever the first has one, for the same things
// said. What it has for the texts of the engine is held by a test of package web.
func TestGermanIsComplete(t *testing.T) {
	p := open(t, serve(t, right()), "#light")
	keys := func(code string) (keys []string) {
		for _, k := range eval[[]string](p, `(async () => { `+shapes+` return shape(await words("`+code+`"), ""); })()`) {
			// In English the engine's own texts come as they are said.
			if !strings.HasPrefix(k, "said.") && !strings.HasPrefix(k, "ruleSays.") {
				keys = append(keys, k)
			}
		}
		slices.Sort(keys)
		return keys
	}
	en, de := keys("en"), keys("de")
	if len(en) < 150 {
		t.Fatalf("%d words", len(en))
	}
	for _, k := range en {
		if !slices.Contains(de, k) {
			t.Errorf("German has no %s", k)
		}
	}
	for _, k := range de {
		if !slices.Contains(en, k) {
			t.Errorf("only German has %s", k)
		}
	}
}

// english names the English words of the page that are left in German.
const english = `(async () => { ` + shapes + `
	const leaves = (o) => Object.values(o).flatMap((v) => typeof v === "object" ? leaves(v) : typeof v === "string" ? [v] : []);
	const german = new Set(leaves(await words("de"))), english = new Set(leaves(await words("en")).filter((s) => !german.has(s) && s.length > 2)), left = [];
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
	for (let n = walk.nextNode(); n; n = walk.nextNode()) {
		const said = n.nodeType === 3 ? [n.data] : ["aria-label", "title", "placeholder"].map((a) => n.getAttribute(a) ?? "");
		if ((n.parentElement ?? n).closest("[lang=en]")) continue;
		left.push(...said.map((s) => s.trim()).filter((s) => english.has(s)));
	}
	return left;
})()`

// Switched to German no view keeps an English word of the page, said or read out;
// what the engine wrote in English is marked as English.
func TestGermanSwitch(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#light")
	p.tabTo("#language")
	p.press("D")
	p.wait(`document.documentElement.lang === "de"`)
	for _, v := range views {
		p.click("a[data-view=" + v.name + "]")
		p.stands(v.name)
		if left := eval[[]string](p, english); len(left) > 0 {
			t.Errorf("%s: English is left: %q", v.name, left)
		}
	}
	p.goTo("#light")
	if lang := eval[string](p, `document.documentElement.lang`); lang != "de" {
		t.Errorf("opened again, the page speaks %s", lang)
	}
}
