// Every card of the run by every reader. The page holds only the rows that are
// seen; pages of a hundred are fetched as they come into view.

import { h, swap, later } from "./dom.js";
import { w, number } from "./words.js";
import { get } from "./api.js";
import { state, on, card } from "./state.js";
import { run } from "./runstate.js";
import { mark, levelSign } from "./sign.js";
import { span } from "./scroll.js";
import { go, address } from "./route.js";

const PAGE = 100;
const verdict = { r: "reads", l: "little", f: "fails", "-": "none" };

export function cardList(signal, { short } = {}) {
  const list = { total: 0, pages: new Map(), drawn: new Map(), find: "", level: "", reader: "", signal, pairs: [] };
  list.inner = h("div", { class: "inner", role: "presentation" });
  list.box = h("div", { class: "rows", role: "rowgroup", tabindex: 0, id: "run-rows", "aria-label": w.list.label }, list.inner);
  list.head = h("div", { class: "list-head", role: "row" });
  list.table = h("div", { class: "card-list" + (short ? " short" : ""), role: "grid", "aria-label": w.list.label, id: "card-list" }, h("div", { role: "rowgroup" }, list.head), list.box);
  list.empty = h("p", { class: "aside list-empty", hidden: true });
  list.box.addEventListener("scroll", () => draw(list), { passive: true });
  list.box.addEventListener("keydown", (e) => keys(list, e));
  new ResizeObserver((_, o) => (signal.aborted ? o.disconnect() : lay(list))).observe(list.box);
  on("run", later(50, () => refresh(list)), signal);
  on("card", () => { list.drawn.forEach((el) => el.remove()); list.drawn.clear(); draw(list); }, signal);
  start(list);
  return h("div", { class: "list" }, short ? null : filters(list), list.table, list.empty);
}

// Columns are the codes at the readers that are meant to read them.
async function start(list) {
  const { readings } = await card();
  list.pairs = readings.filter((r) => r.verdict !== "none").map((r) => ({ code: r.code, reader: r.reader }));
  list.table.style.setProperty("--pairs", list.pairs.length);
  list.table.setAttribute("aria-colcount", list.pairs.length + 2);
  const th = (text, more) => h("span", { role: "columnheader" }, text, more ? h("span", { class: "what" }, more) : null);
  swap(list.head, th(w.list.row), th(w.list.key), list.pairs.map((p) => th(state.bench.readers[p.reader].name, state.bench.codes[p.code].name)));
  refresh(list);
}

function filters(list) {
  const change = later(150, () => { list.box.scrollTop = 0; refresh(list); });
  const choice = (id, label, name, options) => h("label", {}, label, h("select", { id, onchange: (e) => { list[name] = e.target.value; change(); } }, options.map(([v, text]) => h("option", { value: v }, text))));
  return h("div", { class: "filters", role: "group", "aria-label": w.list.filter },
    h("label", {}, w.list.find, h("input", { type: "search", id: "list-find", oninput: (e) => { list.find = e.target.value; change(); } })),
    choice("list-reader", w.list.fails, "reader", [["", w.list.any], ...state.bench.readers.map((r, i) => [i, r.name])]),
    choice("list-level", w.list.level, "level", [["", w.list.any], ...["stop", "look", "note"].map((l) => [l, w.levels[l]])]));
}

// The pages at hand stay in view until newer ones come, so a running proof does
// not flicker.
async function refresh(list) {
  list.stale = list.pages;
  list.pages = new Map();
  await page(list, Math.floor((list.first ?? 0) / PAGE));
}

async function page(list, n) {
  if (list.pages.has(n)) return;
  list.pages.set(n, null);
  const q = new URLSearchParams({ from: n * PAGE, n: PAGE, find: list.find, level: list.level, reader: list.reader });
  const pages = list.pages, answer = await get("run/cards?" + q).catch(() => null);
  if (!answer || pages !== list.pages || list.signal.aborted) return;
  pages.set(n, answer.cards);
  list.total = answer.total;
  lay(list);
}

// What comes anew leaves the keys with who walks in the list.
function lay(list) {
  const on = document.activeElement?.closest(".list-row"), held = list.inner.contains(on) ? [...on.querySelectorAll("button")].indexOf(document.activeElement) : -1;
  if (!list.box.clientHeight && list.total) list.table.hidden = false;
  list.table.hidden = list.total === 0;
  list.empty.hidden = list.total > 0;
  swap(list.empty, list.find || list.level || list.reader ? w.list.nothing : run.state === "idle" ? [w.list.notYet, " ", h("a", { href: address("run") }, w.run.start)] : w.list.coming);
  list.size = parseFloat(getComputedStyle(list.box).getPropertyValue("--row")) || 40;
  list.span = span(list.total, list.size, list.box.clientHeight);
  list.table.setAttribute("aria-rowcount", list.total + 1);
  list.inner.style.setProperty("height", list.span.laid + "px");
  for (const el of list.drawn.values()) el.remove();
  list.drawn.clear();
  draw(list);
  if (held >= 0) list.drawn.get(+on.dataset.at)?.querySelectorAll("button")[held]?.focus({ preventScroll: true });
}

function draw(list) {
  if (!list.span) return;
  const { first, last, shift } = list.span.at(list.box.scrollTop);
  list.first = first;
  for (const [i, el] of list.drawn) if ((i < first || i > last) && !el.contains(document.activeElement)) { el.remove(); list.drawn.delete(i); }
  for (let i = first; i <= last; i++) {
    const n = Math.floor(i / PAGE), c = (list.pages.get(n) ?? list.stale?.get(n))?.[i % PAGE];
    if (!list.pages.has(n)) page(list, n);
    if (!c) continue;
    if (!list.drawn.has(i)) { const el = row(list, c, i); list.drawn.set(i, el); list.inner.append(el); }
    list.drawn.get(i).style.setProperty("transform", `translateY(${i * list.size + shift}px)`);
  }
}

function row(list, c, i) {
  const cells = list.pairs.map((p) => {
    const v = verdict[c.verdicts[p.code * state.bench.readers.length + p.reader]] ?? "none";
    return h("span", { role: "gridcell" }, h("button", { type: "button", class: "plain", tabindex: -1, "data-code": p.code, "data-reader": p.reader, "aria-label": w.list.cell(c.row + 1, state.bench.codes[p.code].name, state.bench.readers[p.reader].name, w.verdicts[v]),
      onclick: () => go("readers", { code: p.code, reader: p.reader }, c.row) }, mark(v)));
  });
  return h("div", { class: "list-row" + (c.row === state.row ? " now" : ""), role: "row", "aria-rowindex": i + 2, "data-row": c.row, "data-at": i },
    h("span", { role: "rowheader" }, h("button", { type: "button", class: "plain", tabindex: -1, "aria-label": w.list.show(c.row + 1), onclick: () => go("light", {}, c.row) }, number(c.row + 1))),
    h("span", { role: "gridcell", class: "key" }, c.level === "stop" || c.level === "look" ? [levelSign(c.level), h("span", { class: "unseen-words" }, w.levels[c.level] + " ")] : null, c.key), cells);
}

// Arrows walk the cells of the table.
function keys(list, e) {
  const on = document.activeElement.closest?.(".list-row"), move = { ArrowDown: 1, ArrowUp: -1, PageDown: 10, PageUp: -10 }[e.key];
  const buttons = on ? [...on.querySelectorAll("button")] : [], at = buttons.indexOf(document.activeElement);
  if (e.key === "ArrowRight" || e.key === "ArrowLeft") {
    if (!on) return;
    e.preventDefault();
    buttons[Math.min(buttons.length - 1, Math.max(0, at + (e.key === "ArrowRight" ? 1 : -1)))].focus();
  } else if (move || e.key === "Home" || e.key === "End") {
    e.preventDefault();
    const to = Math.min(list.total - 1, Math.max(0, e.key === "Home" ? 0 : e.key === "End" ? list.total - 1 : on ? +on.dataset.at + move : list.first));
    const top = list.span.place(to);
    if (top < list.box.scrollTop) list.box.scrollTop = top;
    else if (top + list.size > list.box.scrollTop + list.box.clientHeight) list.box.scrollTop = top + list.size - list.box.clientHeight;
    draw(list);
    list.drawn.get(to)?.querySelectorAll("button")[Math.max(0, at)]?.focus({ preventScroll: true });
  }
}
