// Laying out: the card large, its elements taken in hand upon it, what every
// reader says of it beside it, and the file that all of it ends up in.

import { h, swap, later, sentence } from "./dom.js";
import { w } from "./words.js";
import { get } from "./api.js";
import { state, on, card, side as sideNamed, setLamp } from "./state.js";
import { lights } from "./lamp.js";
import { mark, levelSign } from "./sign.js";
import { reason, title } from "./engine.js";
import { address } from "./route.js";
import { Desk, take } from "./layoutdesk.js";
import { LayoutCard } from "./layoutcard.js";

const WIDE = matchMedia("(min-width: 64rem)");
const KINDS = ["text", "code", "photo", "picture", "mrz", "line", "rectangle", "ellipse"];

export function layoutView(signal) {
  const v = { signal, side: sideNamed(state.pick.side) ?? state.bench.sides[0], layout: null };
  v.title = h("h1", { id: "layout-says" });
  v.file = h("div", { class: "layout-file", id: "layout-file" });
  v.wrong = h("p", { class: "layout-wrong", id: "layout-wrong", role: "alert", hidden: true });
  v.desk = new Desk((fault) => wrong(v, fault), () => v.loading);
  v.card = new LayoutCard(v);
  v.beside = h("aside", { class: "layout-verdicts", id: "layout-verdicts", "aria-label": w.layout.verdicts });
  v.live = h("p", { class: "unseen-words", id: "layout-live", role: "status" });
  v.top = h("div", { class: "layout-top" });
  v.foot = h("div", { class: "layout-foot" });
  const drawn = () => { frame(v); v.card.sync(); };
  const statedLater = later(200, loadStated);
  // What is shown of the card is asked for before anything else is done.
  on("bench", () => { load(v); drawn(); v.desk.gesture ? statedLater(v) : loadStated(v); }, signal);
  on("card", () => load(v), signal);
  on("lamp", () => frame(v), signal);
  WIDE.addEventListener("change", () => { drawn(); load(v); }, { signal });
  addEventListener("keydown", (e) => command(v, e), { signal });
  addEventListener("focus", () => look(v), { signal });
  addEventListener("beforeunload", (e) => { if (state.bench.unsaved) e.preventDefault(); }, { signal });
  load(v);
  drawn();
  loadStated(v);
  window.layout = v;
  return h("div", { class: "view layout-view" }, h("section", { "aria-labelledby": "layout-says" }, v.title, v.file), h("div", { class: "layout-table" }, h("div", { class: "layout-face" }, v.top, v.card.el, v.foot), h("div", {}, v.wrong, v.beside)), v.live);
}

const editable = (v) => WIDE.matches && !v.layout?.why;

async function loadStated(v) {
  const l = await get("layout");
  if (v.signal.aborted || l.revision !== state.bench.revision) return;
  v.layout = l;
  frame(v);
  v.card.tell();
}

// load shows the card as it now is; asked twice for the same, it asks once.
function load(v) {
  const revision = state.bench.revision;
  v.side = sideNamed(v.side.side) ?? state.bench.sides[0];
  const of = `${state.row} ${v.side.side} ${revision}`;
  if (of === v.loadingOf) return v.loading;
  v.loadingOf = of;
  v.loading = Promise.all([v.card.load(), verdicts(v)]).then(() => { if (revision === state.bench.revision) v.card.el.dataset.shown = revision; }, () => { v.loadingOf = ""; });
  return v.loading;
}

// What stands round the card: head, light, side, what can be added.
function frame(v) {
  const b = state.bench, can = editable(v), focused = document.activeElement?.id;
  const as = JSON.stringify([can, WIDE.matches, v.layout?.why, b.unsaved, b.undo, b.redo, b.changedOnDisk, b.sides.length, v.side.side, state.lamp, lights(), v.layout?.pictures.length]);
  if (as === v.framed) return; // nothing that stands there is another
  v.framed = as;
  v.card.el.classList.toggle("fixed", !can);
  swap(v.title, h("strong", {}, v.layout?.why ? w.layout.fixed : !WIDE.matches ? w.layout.narrow : b.unsaved ? w.layout.unsaved : w.layout.saved), " ", can ? w.layout.hint : v.layout?.why ? h("span", { lang: "en" }, v.layout.why) : null);
  const button = (id, enabled, f, key) => h("button", { type: "button", id: "layout-" + id, disabled: !enabled, onclick: f, title: w.layout.key(key), "aria-keyshortcuts": key.replace("Ctrl", "Control") }, w.layout[id]);
  swap(v.file, can ? [button("undo", b.undo, () => v.desk.undo(), "Ctrl+Z"), button("redo", b.redo, () => v.desk.redo(), "Ctrl+Shift+Z"), button("save", b.unsaved, () => save(v), "Ctrl+S")] : null,
    b.changedOnDisk ? h("div", { class: "conflict", id: "layout-conflict", role: "alert" }, h("p", {}, w.layout.conflict), b.unsaved ? h("button", { type: "button", id: "layout-keep", onclick: () => settle(v, "keep") }, w.layout.keep) : null,
      h("button", { type: "button", id: "layout-reload", onclick: () => settle(v, "reload") }, b.unsaved ? w.layout.reload : w.layout.reloadPlain)) : null);
  const sideButton = (s) => h("button", { type: "button", class: "plain", id: "layout-side-" + s.side, "aria-pressed": String(s.side === v.side.side), onclick: () => turn(v, s) }, w.Sides[s.side]);
  const lamp = (l, text) => h("button", { type: "button", class: "plain", id: "layout-lamp-" + l, "aria-pressed": String(l === state.lamp), onclick: () => setLamp(l) }, text);
  swap(v.top, h("span", { class: "layout-choice", role: "group", "aria-label": w.layout.side }, b.sides.length > 1 ? b.sides.map(sideButton) : w.Sides[v.side.side]),
    h("span", { class: "layout-choice", role: "group", "aria-label": w.layout.light }, lamp("eye", w.lamp.eye), lights().map((l) => lamp(l.peak, `${l.peak} nm`))));
  swap(v.foot, can ? [h("p", { class: "layout-add", id: "layout-add" }, w.layout.add, " ", KINDS.map((k) => [h("button", { type: "button", class: "plain", id: "add-" + k, "data-add": k, disabled: k === "picture" && !v.layout?.pictures.length, onclick: () => add(v, k) }, w.layout.kinds[k]), " "])),
    h("p", { class: "aside", id: "layout-keys" }, w.layout.keysHint)] : h("p", { class: "aside", id: "layout-keys" }, WIDE.matches ? "" : w.layout.narrowSays));
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
}

function turn(v, s) {
  v.side = s;
  v.card.chosen.clear();
  load(v);
  frame(v);
  v.card.sync();
}

async function add(v, kind) {
  await v.desk.lay([{ do: "add", side: v.side.side, kind, text: kind === "picture" ? v.layout.pictures[0] : "" }]);
  v.card.hold(v.side.elements.length - 1);
}

// A change that was refused is told, and the card is as it was.
function wrong(v, fault) {
  v.wrong.hidden = !fault;
  if (!fault) return;
  swap(v.wrong, h("strong", {}, w.layout.refused), " ", h("span", { lang: "en" }, sentence(fault.message.replace(/^[^:\n]*:\d+:\d+: (\S+: )?/gm, ""))));
  v.card.now = null;
  v.card.sync();
}

async function save(v) {
  try {
    await v.desk.save();
    wrong(v, null);
    say(v, w.layout.savedNow);
  } catch (e) {
    await look(v, true);
    if (!state.bench.changedOnDisk) wrong(v, e);
  }
}

async function settle(v, how) {
  try {
    const kept = how === "keep" ? await v.desk.save("keep") : "";
    await v.desk.save("reload");
    wrong(v, null);
    say(v, kept ? w.layout.kept(kept) : w.layout.reloaded);
    if (kept) { v.wrong.hidden = false; swap(v.wrong, w.layout.kept(kept)); }
  } catch (e) { wrong(v, e); }
}

// Whoever comes back to the page learns what has become of the file meanwhile.
async function look(v, always) {
  if (v.desk.busy && !always) return;
  const now = await get("bench");
  if (now.changedOnDisk !== state.bench.changedOnDisk || always) await take(now);
}

const say = (v, text) => swap(v.live, text);
const sayLater = later(500, say);

// What every reader says of the card, and what else was found on it.
async function verdicts(v) {
  const revision = state.bench.revision, c = await card();
  if (v.signal.aborted || revision !== state.bench.revision) return;
  const meant = c.readings.filter((r) => r.verdict !== "none");
  const reading = (r) => {
    const reader = state.bench.readers[r.reader];
    return h("li", { "data-code": r.code, "data-reader": r.reader, "data-verdict": r.verdict }, mark(r.verdict), h("span", { class: "who" }, w.rules.at(reader.name, state.bench.codes[r.code].name)), r.verdict === "reads" || !r.reason ? null : h("span", { class: "aside" }, reason(r)));
  };
  const found = c.findings.filter((f) => f.level !== "note" && !f.reader);
  const finding = (f) => {
    const i = f.side === v.side.side ? v.side.elements.findIndex((e) => e.name === f.element) : -1;
    const what = [levelSign(f.level), h("span", {}, h("b", {}, w.levels[f.level]), " ", title(f), f.element ? `: ${f.element}` : "")];
    return h("li", { "data-finding": f.id, "data-level": f.level }, i >= 0 ? h("button", { type: "button", class: "plain", onclick: () => v.card.hold(i) }, what) : h("span", {}, what));
  };
  swap(v.beside, h("h2", {}, w.layout.verdicts), h("ul", { class: "says" }, meant.map(reading)), found.length ? [h("h2", {}, w.layout.found), h("ul", { class: "layout-found", id: "layout-found" }, found.map(finding))] : null,
    h("p", {}, h("a", { href: address("findings") }, w.layout.toFindings)));
  const text = meant.map((r) => `${w.rules.at(state.bench.readers[r.reader].name, state.bench.codes[r.code].name)}: ${w.verdicts[r.verdict]}.`).join(" ");
  if (v.spoken !== undefined && v.spoken !== text) sayLater(v, text);
  v.spoken = text;
}

// Undo, redo and save by key. Within a value the keys are the browser's own.
function command(v, e) {
  if (!(e.ctrlKey || e.metaKey) || e.altKey || !editable(v)) return;
  const key = e.key.toLowerCase(), writing = e.target.matches?.("input:not([type=checkbox])");
  const act = key === "s" ? () => state.bench.unsaved && save(v) : writing ? null : key === "z" ? () => (e.shiftKey ? state.bench.redo && v.desk.redo() : state.bench.undo && v.desk.undo()) : key === "y" ? () => state.bench.redo && v.desk.redo() : null;
  if (!act) return;
  e.preventDefault();
  act();
}
