// The bench: asks the server what programme it holds, builds the head, and shows
// the view that the address names.

import { h, swap } from "./dom.js";
import { get } from "./api.js";
import { state, on } from "./state.js";
import { w, setLanguage, firstLanguage, languages } from "./words.js";
import { defs } from "./spectrum.js";
import { read, follow, address, views } from "./route.js";
import { chooser } from "./chooser.js";
import { askRun } from "./runstate.js";
import { lightView } from "./light.js";
import { readersView } from "./readers.js";
import { findingsView } from "./findings.js";
import { rulesView } from "./rules.js";
import { layoutView } from "./layout.js";
import { runView } from "./runview.js";
import { warm } from "./relight.js";
import { beginView } from "./begin.js";

const show = { light: lightView, readers: readersView, findings: findingsView, rules: rulesView, layout: layoutView, run: runView };
const main = document.getElementById("main");
let ends = new AbortController();

/** render builds the head and the view anew; what the old view listened to ends. */
function render(first) {
  ends.abort();
  ends = new AbortController();
  document.title = `${w.views[state.view]}: ${state.bench.name}`;
  swap(document.getElementById("skip"), w.skip);
  swap(document.getElementById("head"), head());
  swap(main, show[state.view](ends.signal));
  swap(document.getElementById("foot"), h("p", {}, w.predicted), h("p", {}, w.foot));
  document.body.dataset.view = state.view;
  if (!first) { main.focus({ preventScroll: true }); scrollTo(0, 0); }
}

function head() {
  const b = state.bench;
  const link = (v) => h("a", { href: address(v), "data-view": v, "aria-current": v === state.view ? "page" : null }, w.views[v]);
  const nav = h("nav", { "aria-label": w.nav }, views.map(link));
  on("card", () => nav.querySelectorAll("a").forEach((a) => { a.href = address(a.dataset.view); }), ends.signal);
  return [defs(), h("div", { class: "head-row" }, h("p", { class: "name" }, b.name), language(() => render(true))), h("div", { class: "head-bar" }, nav, chooser(ends.signal))];
}

/** language chooses the words of the page, which is then drawn anew. */
function language(again) {
  return h("label", { class: "language" }, h("span", {}, w.language), h("select", { id: "language", onchange: (e) => { setLanguage(e.target.value); again(); document.getElementById("language").focus(); } },
    Object.values(languages).map((l) => h("option", { value: l.code, selected: l.code === w.code, lang: l.code }, l.name))));
}

/** begin is the page of a folder that has no programme yet. */
function begin() {
  ends.abort();
  ends = new AbortController();
  document.title = w.begin.title;
  document.body.dataset.view = "begin";
  swap(document.getElementById("skip"), w.skip);
  swap(document.getElementById("head"), defs(), h("div", { class: "head-row" }, h("p", { class: "name" }, w.begin.title), language(begin)));
  swap(main, beginView(ends.signal, () => { history.replaceState(null, "", "#layout?row=0"); start(true); }));
  swap(document.getElementById("foot"), h("p", {}, w.predicted), h("p", {}, w.foot));
}

/** start shows the programme, or what begins one; begun says that this page has just done so. */
async function start(begun) {
  setLanguage(firstLanguage());
  try {
    const bench = await get("bench");
    if (bench.begin) return begin();
    [state.bench, state.light] = [bench, await get("light")];
  } catch (e) {
    return swap(main, h("h1", {}, w.down), h("p", { lang: "en" }, e.message), h("p", { lang: "en" }, e.hint));
  }
  read();
  follow(() => render());
  render(!begun);
  askRun();
  (window.requestIdleCallback ?? setTimeout)(() => warm(state.light));
}

// A server that went away, or an answer that says what is wrong, is told once,
// in words, above the view.
addEventListener("unhandledrejection", (e) => {
  if (e.reason?.hint === undefined) return;
  e.preventDefault();
  const box = document.getElementById("fault-line") ?? h("p", { id: "fault-line", role: "alert" });
  main.prepend(swap(box, e.reason.message || w.gone, " ", e.reason.hint));
});

start();
