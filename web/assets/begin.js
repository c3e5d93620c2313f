// The beginning of a programme in a folder that has none: what is put in, what
// the columns are for, the first card as it will look, who reads it. The page
// fills in from top to bottom; nothing is written before the last button but the
// files that are put in.

import { h, swap, later, sentence } from "./dom.js";
import { w, number } from "./words.js";
import { get, post } from "./api.js";
import { Intake, dropped } from "./beginfiles.js";
import { columns } from "./begincolumns.js";
import { site, readersOf } from "./beginsite.js";
import { reason } from "./engine.js";
import { mark } from "./sign.js";

/** What a person has said so far; what is not among the roles is guessed. It is
 *  kept while the page is drawn anew in another language. */
const asked = { name: null, roster: "", sheet: "", encoding: "", roles: {}, dpi: 300, panels: "YMCKO", resin: "unknown", black: "objects", readers: [] };
let intake;

/** beginView is the page; begun is called with the bench once there is a programme. */
export function beginView(signal, begun) {
  const v = { signal, asked, found: null, preview: null, begun };
  v.title = h("h1", { id: "begin-says", "aria-live": "polite" });
  v.files = h("div", { id: "begin-in" });
  v.refused = h("div", { class: "refused", id: "begin-refused", role: "alert", hidden: true });
  v.columns = h("section", { class: "begin-columns", id: "begin-columns", "aria-labelledby": "begin-columns-title", hidden: true });
  v.card = h("section", { class: "begin-card", id: "begin-card", "aria-labelledby": "begin-card-title", hidden: true });
  v.site = h("section", { class: "begin-site", id: "begin-site", "aria-label": w.begin.printer, hidden: true });
  v.wrong = h("p", { class: "begin-wrong", id: "begin-wrong", role: "alert", hidden: true });
  v.last = h("div", { class: "begin-last", hidden: true }, h("button", { type: "submit", id: "begin-now" }, w.begin.begin), h("p", { class: "aside" }, w.begin.writes), v.wrong);
  v.changed = () => look(v);
  v.show = later(200, () => preview(v));
  intake ??= new Intake(() => {}, () => {});
  intake.tell = () => showFiles(v);
  intake.done = () => { if (intake.roster) choose(intake.roster); showFiles(v); look(v); };
  const form = h("form", { class: "begin-form", novalidate: true, onsubmit: (e) => { e.preventDefault(); begin(v, form); } }, v.columns, v.card, v.site, v.last);
  const page = h("div", { class: "view begin-view" }, h("section", { "aria-labelledby": "begin-says" }, v.title, drop(), v.files, v.refused), form);
  catchDrops(page, signal);
  showFiles(v);
  look(v);
  return page;
}

/** choose takes another roster; what was said of the columns of the old one is gone. */
function choose(roster) {
  if (roster !== asked.roster) Object.assign(asked, { roster, sheet: "", encoding: "", roles: {} });
}

// Where files are put in: by hand from anywhere on the page, or chosen.
function drop() {
  const pick = (id, text, props) => h("label", { class: "button pick" }, text, h("input", { type: "file", id, class: "unseen-words", ...props, onchange: (e) => { intake.add(e.target.files); e.target.value = ""; } }));
  return h("div", { class: "drop", id: "begin-drop" }, h("p", {}, w.begin.drop), h("p", { class: "picks" }, pick("pick-roster", w.begin.pickRoster, { accept: ".csv,.tsv,.xlsx" }), " ",
    pick("pick-folder", w.begin.pickFolder, { webkitdirectory: true, multiple: true }), " ", pick("pick-photos", w.begin.pickPhotos, { multiple: true, accept: ".jpg,.jpeg,.png,.webp,.tif,.tiff" })),
  h("p", { class: "aside" }, w.begin.kinds));
}

function catchDrops(page, signal) {
  const files = (e) => [...(e.dataTransfer?.types ?? [])].includes("Files");
  addEventListener("dragover", (e) => { if (files(e)) { e.preventDefault(); page.classList.add("over"); } }, { signal });
  addEventListener("dragleave", (e) => { if (!e.relatedTarget) page.classList.remove("over"); }, { signal });
  addEventListener("drop", async (e) => {
    if (!files(e)) return;
    e.preventDefault();
    page.classList.remove("over");
    intake.add(await dropped(e.dataTransfer));
  }, { signal });
}

const REFUSED = 40;

function showFiles(v) {
  const share = intake.total ? intake.over / intake.total : 0;
  swap(v.files, intake.busy ? [h("div", { class: "progress", id: "begin-bar", role: "progressbar", "aria-label": w.begin.bar, "aria-valuemin": 0, "aria-valuemax": intake.total, "aria-valuenow": intake.over }, h("i", { style: { width: 100 * share + "%" } })),
    h("p", { class: "aside" }, w.begin.in(number(intake.over), number(intake.total)))] : null);
  if (!intake.busy || intake.total === 0) showRefused(v); // told once, not at every file
  else if (!intake.refused.length) v.refused.hidden = true;
}

function showRefused(v) {
  const all = intake.refused;
  const why = (r) => (r.why === "large" ? w.begin.why.large(r.most) : w.begin.why[r.why]) ?? h("span", { lang: "en" }, sentence([r.said || w.gone, r.hint].filter(Boolean).join("; ")));
  v.refused.hidden = all.length === 0;
  swap(v.refused, h("p", {}, h("strong", {}, w.begin.refused(all.length))), h("ul", {}, all.slice(0, REFUSED).map((r) => h("li", {}, h("b", {}, r.name), ": ", why(r)))), all.length > REFUSED ? h("p", {}, w.findings.more(all.length - REFUSED)) : null);
}

let asking = 0;

// What lies in the folder, and what becomes of it under what was said.
async function look(v) {
  const mine = ++asking;
  const f = await (asked.roster ? post("begin/look", body()) : get("begin"));
  if (v.signal.aborted || mine !== asking) return;
  v.found = f;
  asked.roster = f.roster;
  asked.name ??= named(f.folder);
  const some = f.rosters.length > 0;
  for (const part of [v.card, v.site, v.last]) part.hidden = !f.table;
  v.columns.hidden = !some;
  says(v);
  if (some) columns(v);
  if (f.table) { site(v); v.show(); }
}

function says(v) {
  const f = v.found, t = f.table;
  const people = t && h("strong", {}, w.begin.people(number(t.rows), t.rows, number(f.photos), f.photos));
  swap(v.title, !f.rosters.length ? [h("strong", {}, f.photos ? w.begin.onlyPhotos(number(f.photos)) : w.begin.empty(f.folder)), " ", w.begin.putIn] : !t ? h("strong", {}, w.begin.unread) : [people, " ", w.begin.check]);
}

/** named makes a name of a folder's: the first guess of what stands on the cards. */
const named = (folder) => folder.replace(/[-_]+/g, " ").trim().replace(/^\p{Ll}/u, (c) => c.toUpperCase());

/** body is what was said, for the server; readers that are not complete are left
 *  out of a preview. */
const body = (all) => ({ ...asked, name: asked.name ?? "", readers: readersOf(asked, all) });

let showing = 0;

// The first card as it will look, and what its readers will say.
async function preview(v) {
  if (v.signal.aborted || !v.found?.table || !asked.name?.trim()) return;
  const mine = ++showing;
  let p, fault;
  try { p = await post("begin/preview", body()); } catch (e) { fault = e; }
  if (v.signal.aborted || mine !== showing) return;
  v.preview = p ?? v.preview;
  const head = h("h2", { id: "begin-card-title" }, w.begin.card);
  if (fault) return swap(v.card, head, complaint(fault));
  const reads = p.readings.filter((r) => r.verdict !== "none");
  swap(v.card, head, p.sides.map((s) => h("img", { class: "dots", src: s.picture, width: s.w, height: s.h, alt: w.begin.side(w.Sides[s.side]), "data-side": s.side })),
    h("ul", { class: "says", id: "begin-readings" }, reads.map((r) => h("li", { "data-verdict": r.verdict }, mark(r.verdict, h("span", { class: "who" }, " ", w.rules.at(p.readers[r.reader].name, p.codes[r.code].name))),
      r.verdict === "reads" ? null : h("span", { class: "aside" }, reason(r))))),
    reads.length ? null : h("p", { class: "aside" }, asked.readers.length ? w.begin.notMeant : w.begin.noReaders));
  v.card.dataset.shown = mine;
  v.drawn?.();
}

const complaint = (e) => h("p", { class: "begin-wrong", lang: "en" }, sentence([e.message.replace(/^programme\.yaml:\d+:\d+: /gm, ""), e.hint].filter(Boolean).join("; ")));

/** nameOf is what stands before a field, without what is said beside it. */
const nameOf = (field) => field.closest("[role=group]")?.getAttribute("aria-label") ?? (field.labels[0].querySelector("span") ?? field.labels[0]).firstChild.textContent;

async function begin(v, form) {
  const bad = [...form.elements].find((el) => el.willValidate && !el.checkValidity());
  v.wrong.hidden = !bad;
  if (bad) {
    swap(v.wrong, w.begin.missing(nameOf(bad), bad.closest(".reader-asked")?.querySelector("legend").textContent, bad.validity.valueMissing || bad.validity.customError));
    bad.setAttribute("aria-invalid", "true");
    return bad.focus();
  }
  try {
    v.begun(await post("begin", body(true)));
  } catch (e) {
    v.wrong.hidden = false;
    swap(v.wrong, complaint(e).childNodes[0]);
    v.wrong.lang = "en";
  }
}
