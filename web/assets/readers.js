// What each reader makes of the codes: of every card of the run in a table, and
// of one code of one card with the scan profile laid over its bars, or its modules
// over the dots.

import { h, swap, sentence } from "./dom.js";
import { w, number } from "./words.js";
import { state, on, card, trace, look } from "./state.js";
import { mark } from "./sign.js";
import { bell, colour, spectrum } from "./spectrum.js";
import { cardList } from "./cardlist.js";
import { overBars } from "./trace.js";
import { figures } from "./figures.js";
import { overModules } from "./modules.js";
import { qualities } from "./qualities.js";
import { reason } from "./engine.js";
import { go } from "./route.js";

export function readersView(signal) {
  const title = h("h1", { id: "readers-says" });
  const grid = h("div", { class: "cells-of-card", id: "card-cells" });
  const detail = h("section", { class: "reading", id: "reading", "aria-live": "polite" });
  swap(title, w.loading);
  const load = () => show(title, grid, detail, signal);
  on("card", load, signal);
  on("pick", load, signal);
  load();
  return h("div", { class: "view readers-view" }, h("section", { "aria-labelledby": "readers-says" }, title, grid), detail,
    h("section", { class: "of-run" }, h("h2", {}, w.readers.run), h("p", { class: "aside" }, w.readers.runSays), cardList(signal, { short: true })));
}

async function show(title, grid, detail, signal) {
  const c = await card();
  if (signal.aborted) return;
  const meant = c.readings.filter((r) => r.verdict !== "none");
  const bad = meant.filter((r) => r.verdict === "fails");
  swap(title, h("strong", {}, bad.length ? w.readers.bad(bad.length, meant.length) : w.readers.good(meant.length)), " ", w.readers.choose);
  const chosen = pick(meant);
  swap(grid, state.bench.readers.map((reader, i) => readerRow(reader, i, c, chosen)));
  if (!chosen) return swap(detail, h("p", {}, w.readers.none));
  await explain(detail, c, chosen, signal);
}

// The reading chosen; else the gravest of the card.
function pick(meant) {
  const { code, reader } = state.pick;
  return meant.find((r) => r.code === code && r.reader === reader) ?? meant.find((r) => r.verdict === "fails") ?? meant.find((r) => r.verdict === "little") ?? meant[0];
}

function readerRow(reader, i, c, chosen) {
  const of = c.readings.filter((r) => r.reader === i && r.verdict !== "none");
  return h("div", { class: "reader-row" },
    h("div", { class: "reader-name" }, h("h2", {}, reader.name), spectrum(bell(reader.peak, reader.width), w.lamp.at(reader.peak, w.colours[colour(reader.peak)])),
      h("p", { class: "aside" }, w.readers.about(w.kinds[reader.kind] ?? reader.kind, w.colours[colour(reader.peak)], reader.peak), " ", w.readers.asks(reader.leastLetter ?? "", reader.least))),
    h("div", { class: "reader-cells" }, of.length ? of.map((r) => h("button", { type: "button", class: "cell-button", "data-code": r.code, "data-reader": i, "data-verdict": r.verdict,
      "aria-pressed": String(r === chosen), onclick: () => go("readers", { code: r.code, reader: i }) },
    h("span", { class: "of-code" }, state.bench.codes[r.code].name), mark(r.verdict))) : mark("none")));
}

async function explain(detail, c, r, signal) {
  const code = state.bench.codes[r.code], reader = state.bench.readers[r.reader];
  const head = [h("h2", { id: "reading-title" }, w.readers.at(code.name, reader.name)), h("p", { class: "verdict-line" }, mark(r.verdict)),
    r.reason ? h("p", { class: "why-line", id: "reading-why" }, reason(r)) : h("p", { class: "why-line", id: "reading-why" }, w.readers.fine)];
  const placed = c.codes.find((k) => k.code === r.code);
  if (placed?.matrix) return explainModules(detail, head, c, r, placed, signal);
  const scan = h("div", { class: "scan", id: "scan" }), lines = h("p", { class: "lines-of", id: "lines" }), under = h("div");
  swap(detail, head, scan, lines, h("p", { class: "aside" }, w.readers.lines(r.good, r.lines)), under);
  let through = "standard";
  await draw();

  // The line that decides comes first; the others are one step away.
  async function draw(line) {
    let t;
    try { t = await trace(r.code, r.reader, line, through); } catch (e) { return swap(scan, h("p", { class: "aside" }, sentence(e.message))); }
    if (signal.aborted) return;
    const pressed = document.activeElement?.id, open = under.querySelector("details")?.open;
    const step = (id, by) => h("button", { type: "button", class: "plain", id, disabled: t.line + by < 0 || t.line + by >= t.lines.length, onclick: () => draw(t.line + by) }, w.trace[id.slice(5)]);
    swap(scan, await overBars(t, placed, reader));
    swap(lines, h("span", {}, w.trace.line(t.line + 1, t.lines.length)), step("line-above", -1), step("line-below", 1));
    swap(under, figures(t, r, open, (to) => { through = to; draw(); }));
    if (/^(line|through)-/.test(pressed)) document.getElementById(pressed)?.focus();
  }
}

async function explainModules(detail, head, c, r, placed, signal) {
  const reader = state.bench.readers[r.reader], { w: across, h: down, rows, spec } = placed.matrix, said = spec === `${down} x ${across}` ? "" : spec;
  const scan = h("div", { class: "scan of-modules", id: "scan" }), through = h("p", { class: "lights", role: "group", "aria-label": w.modules.through }), under = h("div");
  swap(detail, head, h("p", { class: "aside", id: "symbol-spec" }, w.modules.spec(placed.kind, rows ? null : [across, down], said), said ? [" ", h("span", { lang: "en" }, said + ".")] : null), scan, through, under);
  await draw("standard");

  async function draw(aperture) {
    let l;
    try { l = await look(r.code, r.reader, aperture); } catch (e) { return swap(scan, h("p", { class: "aside" }, sentence(e.message))); }
    if (signal.aborted) return;
    const pressed = document.activeElement?.id, open = under.querySelector("details")?.open;
    const turn = (name) => h("button", { type: "button", class: "plain", id: "through-" + name, "aria-pressed": String(l.spot === (name === "spot")), onclick: () => draw(name) }, w.figures.apertures[name]);
    swap(scan, await overModules(l, placed, reader));
    swap(through, h("span", {}, w.modules.through), turn("standard"), turn("spot"), h("span", { class: "aside" }, w.modules.wide(number(l.aperture, 3)), " ", l.read ? w.modules.read : w.modules.unread));
    swap(under, qualities(l, c.readings.filter((x) => x.code === r.code && x.verdict !== "none"), open));
    if (/^through-/.test(pressed)) document.getElementById(pressed)?.focus();
  }
}
