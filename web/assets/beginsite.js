// What the cards are printed with and read by. Drawn once, and anew only where
// parts come or go, so that a hand that writes is not disturbed.

import { h, swap } from "./dom.js";
import { w } from "./words.js";
import { rule } from "./engine.js";
import { colour } from "./spectrum.js";

const RIBBONS = ["YMCKO", "YMCKOK", "YMCKK", "YMCKT", "YMCKFO", "YMCO", "KO", "K"];
const LIGHTS = [660, 850, 940];
const KINDS = ["slot", "hand", "counter", "camera"];

/** complete says whether enough is known of a reader to ask what it reads. */
const complete = (r) => r.name.trim() && r.light >= 380 && r.light <= 1000 && r.accepts.length && (r.kind !== "slot" || r.line > 0);

/** readersOf are the readers in the form of the server. */
export function readersOf(asked, all) {
  const named = new Set();
  return asked.readers.filter((r) => all || complete(r)).filter((r) => all || !named.has(r.name.trim()) && named.add(r.name.trim()))
    .map(({ name, kind, light, accepts, side, from, line }) => ({ name, kind, light: +light, accepts, side, from, line: kind === "slot" ? +line : 0 }));
}

/** site draws the section, once the folder has a roster. */
export function site(v) {
  if (!v.found?.table || v.site.childNodes.length) return;
  swap(v.site, h("h2", {}, w.begin.printer), h("div", { class: "matches-of" }, printer(v), panels(v), resin(v), black(v)), h("h2", { id: "begin-readers-title" }, w.begin.readers), h("p", { class: "aside" }, w.begin.readersSay), readers(v));
}

const field = (id, label, control, says) => h("div", { class: "match", "data-match": id }, h("label", { for: id }, label), h("div", { class: "controls" }, control), h("p", { class: "values" }, says));

function printer(v) {
  return field("begin-dpi", w.begin.dpi, h("select", { id: "begin-dpi", onchange: (e) => { v.asked.dpi = +e.target.value; v.show(); } }, [300, 600].map((d) => h("option", { value: d, selected: d === v.asked.dpi }, w.begin.dots(d)))), w.begin.dpiSays);
}

function panels(v) {
  const strip = h("span", { class: "strip", id: "begin-strip", "aria-hidden": "true" }), says = h("span");
  const input = h("input", { id: "begin-panels", type: "text", list: "begin-ribbons", required: true, pattern: "[A-Z]{1,12}", size: 10, value: v.asked.panels, autocomplete: "off", spellcheck: "false", oninput: (e) => { v.asked.panels = e.target.value = e.target.value.toUpperCase(); v.show(); } });
  // The strip shows what the server made of the letters, once it has.
  v.drawn = () => {
    swap(strip, v.preview.panels.map((p) => h("i", { style: { background: `rgb(${p.colour})` }, class: p.kind }, p.letter)));
    swap(says, v.preview.panels.map((p) => w.panels[p.kind] ?? p.name).join(", "));
    v.blackPart.hidden = !v.preview.black;
    v.resinPart.hidden = !v.preview.panels.some((p) => p.kind === "black-resin");
  };
  return field("begin-panels", w.begin.panels, [input, h("datalist", { id: "begin-ribbons" }, RIBBONS.map((r) => h("option", { value: r }))), strip], [w.begin.panelsSay, " ", says]);
}

function radios(name, legend, all, now, changed, says) {
  return h("fieldset", { class: "match", id: name, "data-match": name }, h("legend", {}, legend), h("div", { class: "radios" }, all.map(([value, text, more]) => h("label", {}, h("input", { type: "radio", name, value, checked: value === now, onchange: () => changed(value) }), h("span", {}, text, more ? h("span", { class: "aside" }, " ", more) : null)))), h("p", { class: "values" }, says));
}

function resin(v) {
  v.resinPart = radios("begin-resin", w.begin.resin, ["carbon", "not carbon", "unknown"].map((k) => [k, w.begin.resins[k]]), v.asked.resin, (k) => { v.asked.resin = k; v.show(); }, w.begin.resinSays);
  return v.resinPart;
}

function black(v) {
  v.blackPart = radios("begin-black", w.begin.black, v.found.rules.map((r) => [r.rule, w.ruleNames[r.rule] ?? r.rule, rule(r.rule, r.words)]), v.asked.black, (k) => { v.asked.black = k; v.show(); }, w.begin.blackSays);
  return v.blackPart;
}

let made = 0;

function readers(v) {
  const list = h("div", { class: "begin-readers", id: "begin-readers" }), all = v.asked.readers;
  const draw = () => swap(list, all.map((r) => reader(v, r, draw)));
  const add = (kind, light) => () => {
    const code = v.found.table.roles.code, r = { name: "", kind, light, accepts: code ? [code] : [], side: "front", from: "bottom", line: "", id: ++made };
    all.push(r);
    list.append(reader(v, r, draw));
    document.getElementById(`reader-${r.id}-name`).focus();
  };
  draw();
  return [list, h("p", { class: "buttons adds" }, KINDS.map((k) => h("button", { type: "button", id: "add-" + k, onclick: add(k, k === "slot" ? 940 : 660) }, w.begin.add[k])))];
}

// One reader, as a sentence of fields.
function reader(v, r, draw) {
  const id = (k) => `reader-${r.id}-${k}`, label = (k, text, control) => h("label", {}, h("span", {}, text), control);
  const set = (k, back) => (e) => { r[k] = e.target.value; e.target.removeAttribute("aria-invalid"); back?.(); v.show(); };
  const pick = (k, all, words, back) => h("select", { id: id(k), onchange: set(k, back) }, all.map((o) => h("option", { value: o, selected: o === r[k] }, words[o])));
  const hue = h("span", { class: "aside" });
  const tint = () => swap(hue, r.light >= 380 && r.light <= 1000 ? w.colours[colour(+r.light)] : "");
  tint();
  const some = () => codes.querySelector("input")?.setCustomValidity(r.accepts.length ? "" : w.begin.accepts);
  const codes = h("span", { class: "accepts", role: "group", "aria-label": w.begin.accepts }, h("span", {}, w.begin.accepts), v.found.codes.map((c) => h("label", {}, h("input", { type: "checkbox", value: c.name, checked: r.accepts.includes(c.name),
    onchange: (e) => { r.accepts = e.target.checked ? [...r.accepts, c.name] : r.accepts.filter((x) => x !== c.name); some(); v.show(); } }), " ", c.title)));
  some();
  const track = r.kind === "slot" ? h("div", { class: "fields-of" }, label("side", w.begin.slot.side, pick("side", ["front", "back"], w.Sides)), label("line", w.begin.slot.line, h("input", { id: id("line"), type: "number", min: 0.5, max: 80, step: "any", required: true, value: r.line, oninput: set("line") })),
    label("from", w.begin.slot.from, pick("from", ["bottom", "top"], w.begin.edges)), h("span", { class: "aside" }, w.begin.slot.says)) : null;
  return h("fieldset", { class: "reader-asked", id: id("all"), "data-kind": r.kind }, h("legend", {}, w.kinds[r.kind]), h("div", { class: "fields-of" },
    label("name", w.begin.readerName, h("input", { id: id("name"), type: "text", required: true, maxlength: 60, value: r.name, autocomplete: "off", placeholder: w.begin.readerLike[r.kind], oninput: set("name") })),
    label("kind", w.begin.readerKind, pick("kind", KINDS, w.kinds, () => { draw(); document.getElementById(id("kind")).focus(); })),
    label("light", w.begin.light, h("span", {}, h("input", { id: id("light"), type: "number", list: "begin-lights", min: 380, max: 1000, step: 1, required: true, value: r.light, oninput: set("light", tint) }), " nm ", hue)),
    h("datalist", { id: "begin-lights" }, LIGHTS.map((l) => h("option", { value: l })))), codes, track,
  h("button", { type: "button", class: "plain take-out", onclick: () => { v.asked.readers.splice(v.asked.readers.indexOf(r), 1); draw(); v.show(); document.getElementById("add-slot").focus(); } }, w.begin.remove));
}
