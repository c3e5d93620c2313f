// Which card is on the bench: the one before, the next, or one found by name.

import { h, swap, later } from "./dom.js";
import { w, number } from "./words.js";
import { get } from "./api.js";
import { state, on, card } from "./state.js";
import { go } from "./route.js";

const SHOWN = 8;

export function chooser(signal) {
  const label = h("span", { class: "which", id: "which-card", "aria-live": "polite" });
  const found = h("ul", { class: "matches", id: "matches", role: "listbox", hidden: true, "aria-label": w.chooser.found });
  const field = h("input", { type: "search", id: "find-card", role: "combobox", autocomplete: "off", "aria-expanded": "false", "aria-controls": "matches", "aria-label": w.chooser.find, placeholder: w.chooser.find });
  const step = (by) => () => goTo(state.row + by);
  const back = h("button", { type: "button", id: "card-back", onclick: step(-1), "aria-label": w.chooser.back }, "←"), next = h("button", { type: "button", id: "card-next", onclick: step(1), "aria-label": w.chooser.next }, "→");
  const show = async () => {
    back.disabled = state.row === 0;
    next.disabled = state.row >= state.bench.cards - 1;
    const row = state.row, c = await card();
    if (row === state.row) swap(label, w.chooser.which(number(row + 1), number(state.bench.cards)), h("b", {}, " ", c.label ?? c.key));
  };
  on("card", show, signal);
  show();
  search(field, found);
  return h("div", { class: "chooser", role: "search", "aria-label": w.chooser.title }, back, next, label, h("span", { class: "finder" }, field, found));
}

const goTo = (row) => go(state.view, state.view === "readers" ? state.pick : {}, Math.min(state.bench.cards - 1, Math.max(0, row)));

function search(field, found) {
  let rows = [], at = -1;
  const close = () => { found.hidden = true; field.setAttribute("aria-expanded", "false"); field.removeAttribute("aria-activedescendant"); };
  const take = (r) => { field.value = ""; close(); goTo(r.row); };
  const point = (i) => {
    at = i;
    [...found.children].forEach((el, k) => el.setAttribute("aria-selected", String(k === at)));
    if (at >= 0) field.setAttribute("aria-activedescendant", "match-" + at);
  };
  const ask = later(120, async () => {
    if (!field.value.trim()) return close();
    const wanted = field.value, answer = await get("rows?" + new URLSearchParams({ from: 0, n: SHOWN, find: wanted }));
    if (wanted !== field.value) return;
    rows = answer.rows;
    swap(found, rows.length ? rows.map((r, i) => h("li", { role: "option", id: "match-" + i, "data-row": r.row, onpointerdown: (e) => { e.preventDefault(); take(r); } }, h("b", {}, r.key), " ", r.label)) : h("li", { role: "option", "aria-disabled": "true" }, w.chooser.none));
    found.hidden = false;
    field.setAttribute("aria-expanded", "true");
    point(rows.length ? 0 : -1);
  });
  field.addEventListener("input", ask);
  field.addEventListener("blur", close);
  field.addEventListener("keydown", (e) => {
    if (e.key === "Escape") close();
    else if (e.key === "ArrowDown" && rows.length) point((at + 1) % rows.length);
    else if (e.key === "ArrowUp" && rows.length) point((at + rows.length - 1) % rows.length);
    else if (e.key === "Enter" && rows[at] && !found.hidden) take(rows[at]);
    else return;
    e.preventDefault();
  });
}
