// What the columns of the roster are for: each match with values of its column,
// to be seen and to be changed.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";

const LINES = 3;

/** columns draws the section anew and keeps the keys where they are. */
export function columns(v) {
  const focused = document.activeElement?.id, f = v.found, t = f.table;
  swap(v.columns, h("h2", { id: "begin-columns-title" }, w.begin.what), source(v), f.problem ? h("p", { class: "begin-wrong", lang: "en", role: "alert" }, f.problem) : null,
    t ? [h("div", { class: "matches-of" }, v.nameField ??= name(v), key(v), person(v), more(v), photo(v), code(v)), unused(v)] : null);
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
}

// Which roster, and how it is read.
function source(v) {
  const f = v.found, a = v.asked;
  const set = (k) => (e) => { if (k === "roster") Object.assign(a, { sheet: "", encoding: "" }); a[k] = e.target.value; a.roles = {}; v.changed(); };
  const list = (id, label, now, all, k) => h("label", {}, h("span", {}, label), h("select", { id, onchange: set(k) }, all.map(([value, text]) => h("option", { value, selected: value === now }, text))));
  const csv = f.roster && !/\.xlsx$/i.test(f.roster);
  return h("div", { class: "filters begin-source" }, f.rosters.length > 1 ? list("begin-roster", w.begin.roster, f.roster, f.rosters.map((r) => [r, r]), "roster") : h("span", {}, w.begin.roster, " ", h("b", {}, f.roster)),
    f.sheets.length > 1 ? list("begin-sheet", w.begin.sheet, f.sheet || f.sheets[0], f.sheets.map((s) => [s, s]), "sheet") : null,
    csv ? list("begin-encoding", w.begin.encoding, f.encoding, [["utf-8", "UTF-8"], ["windows-1252", "Windows-1252"]], "encoding") : null);
}

/** match is one thing that a card needs: its name, its controls, its values. */
function match(id, label, controls, values, said, note) {
  return h("div", { class: "match", "data-match": id }, h("label", { for: id }, label, said ? null : h("span", { class: "guessed" }, " ", w.begin.guessed)), h("div", { class: "controls" }, controls), h("p", { class: "values" }, values), note);
}

function choice(id, now, all, changed, props = {}) {
  return h("select", { id, ...props, onchange: (e) => changed(e.target.value) }, all.map(([value, text, off]) => h("option", { value, selected: value === now, disabled: off }, text)));
}

const columnsOf = (v, none) => [...(none ? [["", w.begin.none]] : []), ...v.found.table.columns.map((c) => [c.name, c.name, !c.usable])];
const column = (v, name) => v.found.table.columns.find((c) => c.name === name);

/** samples are values of columns as they stand in the roster. */
function samples(v, ...names) {
  const cs = names.map((n) => column(v, n)).filter(Boolean);
  if (!cs.length) return "";
  const rows = Math.max(...cs.map((c) => c.samples.length));
  return cs.length === 1 ? cs[0].samples.flatMap((s, i) => [i ? ", " : "", h("q", {}, s)]) : Array.from({ length: rows }, (_, i) => [i ? ", " : "", h("q", {}, cs.map((c) => c.samples[i] ?? "").join(" "))]);
}

function say(v, k, value) { v.asked.roles[k] = value; v.changed(); }

function name(v) {
  return h("div", { class: "match", "data-match": "name" }, h("label", { for: "begin-name" }, w.begin.name), h("div", { class: "controls" }, h("input", { id: "begin-name", type: "text", required: true, maxlength: 80, value: v.asked.name ?? "", autocomplete: "off", oninput: (e) => { v.asked.name = e.target.value; v.show(); } })), h("p", { class: "values" }, w.begin.nameSays));
}

function key(v) {
  const t = v.found.table, k = t.keys, wrong = [];
  if (k.missing) wrong.push(w.begin.keys.missing(number(k.missing), k.missing));
  if (k.double) wrong.push(w.begin.keys.double(number(k.double), k.double, k.some.slice(0, 4).join(", ")));
  if (k.spaced) wrong.push(w.begin.keys.spaced(number(k.spaced), k.spaced));
  if (k.zeros) wrong.push(w.begin.keys.zeros(number(k.zeros), k.zeros));
  return match("begin-key", w.begin.key, choice("begin-key", t.roles.key, columnsOf(v), (c) => { delete v.asked.roles.code; say(v, "key", c); }), samples(v, t.roles.key), v.asked.roles.key !== undefined,
    h("p", { class: "note", "data-good": wrong.length === 0 }, wrong.length ? wrong.join(" ") : w.begin.keys.good));
}

function person(v) {
  const now = v.found.table.roles.name, set = (i) => (c) => { const all = [...now]; all[i] = c; say(v, "name", all.filter(Boolean)); };
  return match("begin-name-1", w.begin.person, [choice("begin-name-1", now[0] ?? "", columnsOf(v, true), set(0)), now.length ? choice("begin-name-2", now[1] ?? "", columnsOf(v, true), set(1), { "aria-label": w.begin.second }) : null], samples(v, ...now), v.asked.roles.name !== undefined);
}

function more(v) {
  const now = v.found.table.roles.lines, set = (i) => (c) => { const all = [...now]; all[i] = c; say(v, "lines", all.filter(Boolean)); };
  const shown = Math.min(LINES, now.length + 1);
  return match("begin-line-1", w.begin.lines, Array.from({ length: shown }, (_, i) => choice("begin-line-" + (i + 1), now[i] ?? "", columnsOf(v, true), set(i), i ? { "aria-label": w.begin.line(i + 1) } : {})),
    now.map((n, i) => [i ? "; " : "", samples(v, n)]), v.asked.roles.lines !== undefined);
}

// The file name of a photo is a column's text, often with an ending added.
function photo(v) {
  const t = v.found.table, p = t.roles.photo, of = t.photos, said = v.asked.roles.photo !== undefined;
  const endings = [...new Set(["", ...of.endings, p.ending])].map((e) => [e, e || w.begin.asIs]);
  const set = (column, ending) => { delete v.asked.roles.folder; say(v, "photo", { column, ending }); };
  const found = !p.column ? "" : !v.found.photos ? w.begin.photosNone : w.begin.photosFound(number(of.found), number(t.rows), of.found === t.rows);
  const without = p.column && v.found.photos && of.without.length ? w.begin.photosWithout(of.without.join(", "), t.rows - of.found - of.without.length) : "";
  const nobody = p.column && of.unused && of.found ? w.begin.photosUnused(number(of.unused), of.unused) : "";
  return match("begin-photo", w.begin.photo, [choice("begin-photo", p.column, columnsOf(v, true), (c) => set(c, p.ending)), p.column ? choice("begin-ending", p.ending, endings, (e) => set(p.column, e), { "aria-label": w.begin.ending }) : null,
    p.column && of.folders.length > 1 ? choice("begin-folder", t.roles.folder, of.folders.map((f) => [f.name, w.begin.folder(f.name === "." ? v.found.folder : f.name, number(f.photos))]), (f) => say(v, "folder", f), { "aria-label": w.begin.folderOf }) : null],
  p.column ? samples(v, p.column).concat(p.ending ? h("span", {}, " + ", p.ending) : []) : v.found.photos ? w.begin.photoNobody : "", said, found ? h("p", { class: "note", id: "begin-photos-say", "data-good": of.found === t.rows }, [found, without, nobody].filter(Boolean).join(" ")) : null);
}

function code(v) {
  const t = v.found.table, can = (c) => t.keys.codes.includes(c.name);
  return match("begin-code", w.begin.code, choice("begin-code", t.roles.code, [["", w.begin.none], ...v.found.codes.map((c) => [c.name, can(c) ? c.title : w.begin.cannot(c.title), !can(c)])], (c) => say(v, "code", c)),
    t.roles.code ? w.begin.codeSays(t.roles.key) : "", v.asked.roles.code !== undefined);
}

// Columns that nothing is printed from, so that none is forgotten.
function unused(v) {
  const t = v.found.table, r = t.roles, used = new Set([r.key, ...r.name, ...r.lines, r.photo.column]);
  const rest = t.columns.filter((c) => !used.has(c.name)).map((c) => c.name);
  return [rest.length ? h("p", { class: "aside" }, w.begin.rest(rest.join(", "))) : null, t.letters ? h("p", { class: "note" }, w.begin.letters(number(t.letters), t.letters)) : null];
}
