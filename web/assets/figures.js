// The figures of ISO/IEC 15416 for those who want them, called predicted.

import { h } from "./dom.js";
import { w, number, percent } from "./words.js";

/** figures of a scan; turn asks for them through another aperture. */
export function figures(t, r, open, turn) {
  const through = (name) => h("button", { type: "button", class: "plain", id: "through-" + name, "aria-pressed": String(t.spot === (name === "spot")), onclick: () => turn(name) }, w.figures.apertures[name]);
  const grade = (name) => (t.grades?.[name] === undefined ? "" : number(t.grades[name], 1));
  const row = (name, value) => h("tr", { "data-figure": name }, h("th", { scope: "row" }, w.figures.names[name]), h("td", {}, value), h("td", {}, grade(name)));
  return h("details", { class: "figures", id: "figures", open }, h("summary", {}, w.figures.title, " ", h("b", {}, r.grade?.text ?? "")),
    h("p", { class: "aside" }, w.figures.says),
    h("p", { class: "lights", role: "group", "aria-label": w.figures.through }, h("span", {}, w.figures.through), through("standard"), through("spot")),
    h("table", {}, h("thead", {}, h("tr", {}, [w.figures.figure, w.figures.value, w.figures.grade].map((n) => h("th", { scope: "col" }, n)))),
      h("tbody", {}, row("decode", t.decoded ? w.figures.yes : w.figures.no), row("rmin", `${percent(t.rmin)} / ${percent(t.rmax)}`), row("sc", percent(t.sc)), row("ecmin", percent(t.ecmin)),
        row("mod", number(t.mod, 2)), row("defects", number(t.defects, 2)), row("decodability", number(t.decodability, 2)),
        row("quiet", `${number(t.quietLeft, 1)} X / ${number(t.quietRight, 1)} X`))),
    h("p", { class: "aside" }, w.figures.made(t.edition, w.figures.apertures[t.spot ? "spot" : "standard"], number(t.aperture, 3), t.peak)));
}
