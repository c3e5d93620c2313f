// The figures of ISO/IEC 15415 of a two-dimensional code, called predicted, and
// its grade in the light of each reader.

import { h } from "./dom.js";
import { w, number } from "./words.js";
import { state } from "./state.js";
import { colour } from "./spectrum.js";
import { putSentence } from "./engine.js";

/** qualities of a code: l what one reader sees of it, all its readings. */
export function qualities(l, all, open) {
  const q = l.quality;
  const row = (f) => h("tr", { "data-figure": f.name, class: f.name === q.deciding && f.grade < 4 ? "decides" : null },
    h("td", {}, putSentence(f.why, f.says), f.name === q.deciding && f.grade < 4 ? h("b", {}, " ", w.modules.decides) : null), h("td", {}, number(f.grade, 1)));
  return h("details", { class: "figures", id: "figures", open }, h("summary", {}, w.modules.figures, " ", h("b", {}, q.grade.text)),
    h("p", { class: "aside" }, w.modules.figuresSay),
    h("table", {}, h("thead", {}, h("tr", {}, [w.figures.value, w.figures.grade].map((n) => h("th", { scope: "col" }, n)))), h("tbody", {}, q.figures.map(row))),
    h("p", { class: "aside" }, w.figures.made(q.edition, w.figures.apertures.standard, number(q.aperture, 3), l.peak)), inEachLight(all));
}

// The same code in the light of every reader that is meant to read it.
function inEachLight(all) {
  const graded = all.filter((r) => r.grade);
  if (graded.length < 2) return null;
  return h("ul", { class: "by-light", id: "by-light" }, graded.map((r) => {
    const reader = state.bench.readers[r.reader];
    return h("li", { "data-reader": r.reader }, w.modules.inLight(reader.name, w.colours[colour(reader.peak)], reader.peak), " ", h("b", {}, r.grade.text));
  }));
}
