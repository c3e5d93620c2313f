package e2e

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// changes presses an arrow key on an element some times and gives, for each, the
// milliseconds until the page showed the card's new picture and verdicts.
const changes = `(async (name, times) => {
	const i = state.bench.sides[0].elements.findIndex((e) => e.name === name), card = document.querySelector("#layout-card");
	const piece = document.querySelector('.piece[data-element="' + i + '"]');
	piece.focus();
	const took = [];
	for (let n = 0; n < times; n++) {
		await layout.desk.busy;
		const from = performance.now(), was = card.dataset.shown;
		piece.dispatchEvent(new KeyboardEvent("keydown", { key: n & 1 ? "ArrowLeft" : "ArrowRight", bubbles: true }));
		while (card.dataset.shown === was) await new Promise(requestAnimationFrame);
		took.push(performance.now() - from);
	}
	return took;
})(%q, %d)`

// differs counts the bytes of the picture on the card that are not those of the
// whole picture, or of the whole face relit.
const differs = `(async () => {
	const { panels } = await import("/assets/api.js"), { films, lampTables, relight } = await import("/assets/relight.js");
	const has = layout.card.dots.ink, side = layout.side, now = has.getImageData(0, 0, side.w, side.h).data;
	let want;
	if (state.lamp === "eye") want = (await panels("card/0/eye/front.rgba")).planes.rgba;
	else {
		const p = await panels("card/0/panels/front"), pixels = new Uint32Array(p.w * p.h);
		relight(pixels, p, films(p), lampTables(state.light, state.lamp, side.side));
		want = new Uint8Array(pixels.buffer);
	}
	let n = Math.abs(now.length - want.length);
	for (let i = 0; i < want.length; i++) if (now[i] !== want[i]) n++;
	return n;
})()`

// overtaken makes a change, and another that goes somewhere else, while the picture
// of the first is still on its way and comes in last.
const overtaken = `(async () => {
	const { take } = await import("/assets/layoutdesk.js"), { post } = await import("/assets/api.js");
	const i = state.bench.sides[0].elements.findIndex((e) => e.name === "crew code"), { x, y, w, h } = state.bench.sides[0].elements[i].box;
	const move = async (x, y) => take(await post("layout", { revision: state.bench.revision, gesture: "", changes: [{ do: "box", side: "front", element: i, box: [x, y, w, h] }] }));
	const fetched = window.fetch;
	let go;
	const held = new Promise((good) => { go = good; });
	window.fetch = async (path, options) => {
		const answer = await fetched(path, options);
		if (String(path).includes("/eye/")) await held;
		return answer;
	};
	await move(x + 1, y);
	await new Promise((good) => setTimeout(good, 300)); // the answer is there, and is held back
	window.fetch = fetched;
	await move(x, y + 1);
	while (layout.card.dots.eye.revision !== state.bench.revision) await new Promise(requestAnimationFrame);
	go();
	await new Promise((good) => setTimeout(good, 300));
})()`

// The picture of the card that is laid out, of which every change brings only a
// part, is the whole picture of the card as it now is: by eye and by lamp, over
// moves of several elements, another lamp, undo and another light.
func TestLayOutShowsTheWholeCard(t *testing.T) {
	p := open(t, serve(t, right()), "#layout")
	p.wait(`document.querySelector("#layout-card").dataset.shown`)
	same := func(what string) {
		t.Helper()
		p.wait(`!layout.desk.busy && document.querySelector("#layout-card").dataset.shown === String(state.bench.revision)`)
		if n := eval[int](p, differs); n != 0 {
			t.Errorf("%s: %d bytes of the picture are not the card's", what, n)
		}
	}
	same("at first")
	for _, name := range []string{"crew code", "portrait", "holder"} {
		eval[any](p, fmt.Sprintf(changes, name, 3))
		same(name)
	}
	for _, lamp := range []string{"940", "660", "eye"} {
		p.click("#layout-lamp-" + lamp)
		p.wait(`document.querySelector("#layout-lamp-` + lamp + `").ariaPressed === "true"`)
		p.wait(`layout.card.dots.shown === (state.lamp === "eye" ? "eye" : "panels")`)
		same("lamp " + lamp)
		eval[any](p, fmt.Sprintf(changes, "crew code", 3)) // and not back to where it was
		same("moved at lamp " + lamp)
	}
	p.chord("z", chromedp.ModifierCtrl)
	same("undone")
	eval[any](p, overtaken)
	same("asked for while an earlier answer was on its way")
}

// The picture of every black rule, of which the page is told only what is other
// than the card's own panels, is the whole face separated by it and relit.
func TestRulePicturesAreWhole(t *testing.T) {
	p := open(t, serve(t, right()), "#rules")
	p.wait(`document.querySelectorAll("canvas[data-rule-picture]").length > 5`)
	const wrong = `(async () => {
		const { panels } = await import("/assets/api.js"), { films, lampTables, relight } = await import("/assets/relight.js"), wrong = [];
		for (const canvas of document.querySelectorAll("canvas[data-rule-picture]")) {
			const side = canvas.closest("[data-side]").dataset.side, rule = canvas.dataset.rulePicture;
			const p = await panels("card/0/rule-panels/" + side + "/" + rule), pixels = new Uint32Array(p.w * p.h);
			relight(pixels, p, films(p), lampTables(state.light, state.lamp, side));
			const now = new Uint32Array(canvas.getContext("2d").getImageData(0, 0, p.w, p.h).data.buffer);
			if (now.length !== pixels.length || now.some((v, i) => v !== pixels[i])) wrong.push(side + " " + rule);
		}
		return wrong.join();
	})()`
	deadline := time.Now().Add(30 * time.Second)
	for which := "-"; which != ""; time.Sleep(100 * time.Millisecond) {
		if which = eval[string](p, wrong); time.Now().After(deadline) {
			t.Fatalf("the pictures of %s are not the card's", which)
		}
	}
}

// BenchmarkChange is the time from a key to the card's picture and verdicts as
// they come out: of the code, and of the photo, which is larger. The bench
// promises 150 ms.
func BenchmarkChange(b *testing.B) {
	for _, name := range []string{"crew code", "portrait", "sea"} {
		b.Run(name, func(b *testing.B) {
			p := open(b, serve(b, right()), "#layout")
			p.wait(`document.querySelector("#layout-card").dataset.shown`)
			var all []float64
			for b.Loop() {
				all = append(all, eval[[]float64](p, fmt.Sprintf(changes, name, 21))[1:]...)
			}
			report(b, all)
		})
	}
}

// ruleTurns chooses one black rule and another some times and gives, for each, the
// milliseconds until the page shows what every reader says under it.
const ruleTurns = `(async (times) => {
	const took = [];
	for (let n = 0; n < times; n++) {
		const rule = n & 1 ? "objects" : "exact", from = performance.now();
		document.querySelector('[data-use="' + rule + '"]').click();
		while (!document.querySelector('article[data-rule="' + rule + '"].current')) await new Promise(requestAnimationFrame);
		took.push(performance.now() - from);
	}
	return took;
})(%d)`

// BenchmarkRule is the time from choosing a black rule to what it brings.
func BenchmarkRule(b *testing.B) {
	p := open(b, serve(b, right()), "#rules")
	p.wait(`document.querySelectorAll("canvas[data-rule-picture]").length > 5`)
	var all []float64
	for b.Loop() {
		all = append(all, eval[[]float64](p, fmt.Sprintf(ruleTurns, 12))[2:]...)
	}
	report(b, all)
}

func report(b *testing.B, all []float64) {
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "median-ms")
	b.ReportMetric(all[0], "best-ms")
	b.ReportMetric(all[len(all)-1], "worst-ms")
}
