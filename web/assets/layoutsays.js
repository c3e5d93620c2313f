// The sentence beside a chosen element: its name, size and place and what else
// there is to it, every value in place, with its unit, to be written over.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";
import { keysOf, lost } from "./layoutkeys.js";
import { fitting } from "./layoutsnap.js";

const BOX = ["x", "y", "w", "h"];

/**
 * says builds the sentence. act is {box(box), set(key, value, keys to take out first), rename(name), leave()};
 * about is {element, stated, code, fields, pictures, codes}.
 */
export function says(about, act) {
  const { element, stated } = about, parts = {};
  let now = BOX.map((k) => element.box[k]);
  const field = (label, props, done) => {
    const el = h("input", { ...props, "aria-label": label, autocomplete: "off", spellcheck: "false" });
    const was = el.value = props.value ?? "";
    const send = () => { if (el.value !== el.dataset.was) { el.dataset.was = el.value; done(el.value, el); } };
    el.dataset.was = was;
    el.addEventListener("change", send);
    el.addEventListener("keydown", (e) => {
      if (e.key === "Enter") { e.preventDefault(); send(); }
      if (e.key === "Escape") { e.preventDefault(); e.stopPropagation(); el.value = el.dataset.was; act.leave(); }
    });
    return el;
  };
  const mm = (k) => parts[k] = field(w.layout.box[k], { type: "number", step: "any", class: "mm", "data-value": k, value: short(element.box[k]) }, (v) => {
    if (v !== "" && Number.isFinite(+v)) act.box(now.map((at, n) => (BOX[n] === k ? +v : at)));
  });
  const name = field(w.layout.name, { class: "name-of", "data-value": "name", value: element.name, size: Math.max(6, element.name.length) }, (v) => v.trim() && act.rename(v.trim()));
  const first = h("p", { class: "says-box" }, name, ": ", mm("w"), " × ", mm("h"), " ", w.layout.at, " ", mm("x"), ", ", mm("y"), " mm");
  const all = keysOf(element.kind, stated.code), build = (k) => value(k, about, act, field);
  first.append(...all.filter((k) => k.first).flatMap((k) => [" · ", build(k)]));
  const rest = all.filter((k) => !k.first).map(build);
  const steps = about.code ? h("p", { class: "says-steps", "data-steps": "", role: "status" }) : null;
  const el = h("div", { class: "says-element", id: "layout-element", role: "group", "aria-label": w.layout.about(element.name, w.layout.kinds[element.kind]) }, first, steps, h("p", { class: "says-keys" }, rest));
  el.addEventListener("keydown", (e) => { if (e.key === "Escape") { e.preventDefault(); act.leave(); } e.stopPropagation(); });
  const show = (box) => {
    now = box;
    for (const [i, k] of BOX.entries()) if (document.activeElement !== parts[k]) parts[k].value = parts[k].dataset.was = short(box[i]);
    if (steps) swap(steps, stepsSay(about.code, box));
  };
  show(now);
  return { el, show, stated };
}

const short = (v) => String(Math.round(v * 1000) / 1000);

/** stepsSay tells which X fits a box, and what the next would need. */
export function stepsSay(code, box) {
  if (!code?.steps?.length) return "";
  const [along, across] = code.alongX ? [box[2], box[3]] : [box[3], box[2]], { fits, next } = fitting(code.steps, along, across);
  const more = next && (next.across ? w.layout.needsBox(next.dots, ...(code.alongX ? [next.need, next.across] : [next.across, next.need]).map((v) => number(v, 1))) : w.layout.needs(next.dots, number(next.need - along, 1)));
  return [fits ? w.layout.fits(fits.dots, number(fits.mm, 3)) : null, more].filter(Boolean).join(", ") + ".";
}

// One key of the file: its word, its value, its unit.
function value(k, about, act, field) {
  const now = about.stated[k.key] ?? k.usual ?? "", label = w.layout.keys[k.key] ?? k.key;
  const named = (...kids) => h("span", { class: "key", "data-key": k.key }, ...kids);
  const set = (v) => act.set(k.key, v === "" || v === k.usual ? null : v);
  if (k.type === "flag") {
    const box = h("input", { type: "checkbox", id: "key-" + k.key, "data-value": k.key, checked: now === true, onchange: (e) => act.set(k.key, e.target.checked ? true : null) });
    return named(h("label", {}, box, " ", label));
  }
  if (k.type === "choice" || k.type === "steps") {
    const all = k.type === "steps" ? stepChoices(about, now) : choices(k, about, now);
    const select = h("select", { "data-value": k.key, "aria-label": label, onchange: (e) => { const v = all[e.target.selectedIndex][0]; v === k.usual ? act.set(k.key, null) : act.set(k.key, v, k.key === "code" ? lost(about.stated, v) : []); } },
      all.map(([v, text]) => h("option", { value: v, selected: String(v) === String(now) }, text)));
    return named(label, " ", select, k.unit ?? "");
  }
  if (k.type === "template") {
    const text = field(label, { "data-value": k.key, value: String(now), size: Math.min(40, Math.max(8, String(now).length)) }, (v) => act.set(k.key, v));
    const insert = (f) => { text.setRangeText(`{${f}}`, text.selectionStart, text.selectionEnd, "end"); text.focus(); text.dispatchEvent(new Event("change")); };
    const offer = h("span", { class: "fields", role: "group", "aria-label": w.layout.fields }, about.fields.map((f) => h("button", { type: "button", class: "plain", "data-field": f, "aria-label": w.layout.insert(f), onmousedown: (e) => e.preventDefault(), onclick: () => insert(f) }, `{${f}}`)));
    return named(label, " ", text, offer);
  }
  const el = field(k.unit ? `${label}, ${k.unit}` : label, { type: k.type === "number" ? "number" : "text", step: k.step && "any", min: k.min, "data-value": k.key, value: String(now), placeholder: k.type === "number" ? "" : w.layout.none, size: k.size, class: k.type === "number" ? "mm" : "" },
    (v) => set(k.type === "number" && v !== "" ? +v : v));
  return named(label, " ", el, k.unit ? " " + k.unit : "");
}

function choices(k, about, now) {
  const all = k.of === "codes" ? about.codes.map((c) => [c.name, c.title]) : k.of === "pictures" ? about.pictures.map((p) => [p, p]) : k.of.map((v) => [v, w.layout.choices[v] ?? v]);
  return all.some(([v]) => String(v) === String(now)) || now === "" ? all : [[now, now], ...all];
}

// The steps that a code may have, in whole dots, as far as the face goes.
function stepChoices(about, now) {
  const all = (about.code?.steps ?? []).map((s) => [s.dots, w.layout.step(s.dots, number(s.mm, 3))]);
  const auto = about.code && now === "auto" ? w.layout.auto(about.code.x.dots, number(about.code.x.mm, 3)) : w.layout.autoPlain;
  const known = now === "auto" || all.some(([v]) => v === now);
  return [["auto", auto], ...all, ...(known ? [] : [[now, String(now)]])];
}
