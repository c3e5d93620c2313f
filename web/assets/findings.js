// What was found, of the run or of this card: choose one to see its place on the
// card, the measure against the limit, where the limit is from, what to do.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";
import { state, on, card, side, setLamp } from "./state.js";
import { run } from "./runstate.js";
import { Face } from "./face.js";
import { levelSign } from "./sign.js";
import { title, remedy, fact, detail } from "./engine.js";
import { go, address } from "./route.js";
import { Changed } from "./changed.js";
import { offer } from "./cure.js";

const LEVELS = ["stop", "look", "note"];

// Findings that another black rule may cure.
const BY_RULE = new Set(["no-carbon", "part-carbon", "photo-in-resin", "picture-in-resin", "text-in-dye", "nothing-in-resin", "colour-vanishes"]);

export function findingsView(signal) {
  const v = { signal, scope: proved() ? "run" : "card", reader: "", element: "", level: "", chosen: 0 };
  v.title = h("h1", { id: "findings-says" });
  v.filters = h("div", { class: "filters", role: "group", "aria-label": w.findings.filter });
  v.list = h("ol", { class: "found", id: "found", "aria-label": w.findings.list });
  v.detail = h("section", { class: "fault", id: "fault" });
  v.changed = new Changed(signal);
  swap(v.title, w.loading);
  const again = () => load(v);
  on("card", again, signal);
  on("run", () => {
    if (!v.asked) v.scope = proved() ? "run" : "card";
    load(v);
  }, signal);
  load(v);
  return h("div", { class: "view findings-view" }, h("section", { "aria-labelledby": "findings-says" }, v.title, v.filters, v.changed.el),
    h("div", { class: "found-and-fault" }, v.list, v.detail));
}

// What was found in the run holds as long as the programme is the one proved.
const proved = () => Boolean(run.summary) && run.revision === state.bench.revision;

async function load(v) {
  const c = await card();
  if (v.signal.aborted) return;
  if (!proved()) v.scope = "card";
  v.all = v.scope === "run" ? run.summary.groups : c.findings;
  drawFilters(v);
  drawList(v);
}

function drawFilters(v) {
  const choice = (id, label, name, options) => {
    const select = h("select", { id, onchange: (e) => { v[name] = e.target.value; v.chosen = 0; v.asked = true; name === "scope" ? load(v) : drawList(v); } }, options.map(([k, text]) => h("option", { value: k, selected: v[name] === k }, text)));
    return h("label", {}, label, select);
  };
  const names = (key) => [["", w.findings.any], ...[...new Set(v.all.map((f) => f[key]).filter(Boolean))].map((n) => [n, n])];
  const focused = document.activeElement?.id;
  swap(v.filters, choice("of", w.findings.of, "scope", [...(proved() ? [["run", w.findings.run]] : []), ["card", w.findings.card(state.row + 1)]]),
    choice("by-level", w.findings.level, "level", [["", w.findings.any], ...LEVELS.map((l) => [l, w.levels[l]])]),
    choice("by-reader", w.findings.reader, "reader", names("reader")), choice("by-element", w.findings.element, "element", names("element")));
  if (focused) v.filters.querySelector("#" + focused)?.focus();
}

function drawList(v) {
  v.shown = v.all.filter((f) => (!v.reader || f.reader === v.reader) && (!v.element || f.element === v.element) && (!v.level || f.level === v.level));
  v.chosen = Math.min(v.chosen, Math.max(0, v.shown.length - 1));
  const stops = v.all.filter((f) => f.level === "stop").length, looks = v.all.filter((f) => f.level === "look").length;
  swap(v.title, h("strong", {}, stops ? (v.scope === "run" ? w.findings.stops : w.findings.stopsCard)(stops) : looks ? w.findings.looks(looks) : w.findings.none), " ", w.findings.choose);
  let before = "";
  swap(v.list, v.shown.map((f, i) => {
    const head = f.level === before ? null : h("li", { class: "level-head" }, h("b", {}, w.levels[f.level]), " ", w.levelSays[f.level]);
    before = f.level;
    return [head, h("li", {}, h("button", { type: "button", class: "finding", "data-finding": f.id, "data-level": f.level, "aria-pressed": String(i === v.chosen), onclick: () => choose(v, i, true) },
      levelSign(f.level), h("span", {}, h("b", {}, title(f)), h("span", { class: "where" }, where(f)))))];
  }));
  v.list.onkeydown = (e) => keys(v, e);
  choose(v, v.chosen);
}

function where(f) {
  return [f.cards ? w.findings.cards(number(f.cards), f.cards) : null, w.sides[f.side], f.element, f.reader].filter(Boolean).join(" · ");
}

function keys(v, e) {
  const to = { ArrowDown: v.chosen + 1, ArrowUp: v.chosen - 1 }[e.key];
  if (to === undefined || to < 0 || to >= v.shown.length) return;
  e.preventDefault();
  choose(v, to);
  v.list.querySelectorAll("button")[to].focus();
}

function choose(v, i, walk) {
  v.chosen = i;
  v.list.querySelectorAll("button").forEach((b, k) => b.setAttribute("aria-pressed", String(k === i)));
  const f = v.shown[i];
  if (!f) return swap(v.detail, h("p", {}, w.findings.nothing));
  const line = (name) => (f[name] ? h("div", { "data-fact": name }, h("dt", {}, w.findings[name]), h("dd", {}, fact(f, name))) : null);
  swap(v.detail, h("h2", {}, title(f)), detail(f),
    h("div", { class: "cure" }, h("h3", {}, w.findings.remedy), h("p", { id: "remedy" }, remedy(f)), offer(f, (row, said, body) => cure(v, row, said, body)), BY_RULE.has(f.id) ? h("p", {}, h("a", { class: "button", id: "do-remedy", href: address("rules", { side: f.side }) }, w.findings.toRules)) : null),
    h("dl", { class: "facts" }, ["measure", "limit", "source"].map(line)), rows(f), place(v, f));
  if (walk && matchMedia("(max-width: 60rem)").matches) v.detail.scrollIntoView({ block: "start" });
}

// The bench does what it offered; the card then shows what is left to do.
async function cure(v, row, said, body) {
  if (row !== state.row) go("findings", {}, row);
  v.asked = true;
  v.chosen = 0;
  if (await v.changed.turn("remedy", body, said, w.remedies.trying)) document.getElementById("undo")?.focus();
}

// The place on the card, in the light in which the fault can be seen.
function place(v, f) {
  const s = f.side && side(f.side);
  if (!s || !f.where || !(f.where.w > 0)) return null;
  v.faceEnds?.abort();
  v.faceEnds = new AbortController();
  const face = new Face(s, AbortSignal.any([v.signal, v.faceEnds.signal]));
  face.mark(f.where);
  face.load();
  const reader = state.bench.readers.find((r) => r.name === f.reader);
  setLamp(reader ? reader.peak : "eye");
  const light = h("p", { class: "lights" }, h("button", { type: "button", class: "plain", onclick: () => setLamp("eye") }, w.lamp.eye),
    reader ? h("button", { type: "button", class: "plain", onclick: () => setLamp(reader.peak) }, w.findings.inLight(reader.name, reader.peak)) : null);
  return h("div", { class: "place-on-card", id: "place" }, light, face.el);
}

function rows(f) {
  if (!f.rows?.length) return null;
  return h("p", { class: "rows-of" }, w.findings.rows, " ", f.rows.map((r) => [h("a", { href: address("findings", {}, r), "data-row": r, onclick: () => go("findings", {}, r) }, number(r + 1)), " "]),
    f.cards > f.rows.length ? w.findings.more(number(f.cards - f.rows.length)) : null);
}
