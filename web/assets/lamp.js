// The one lamp of the bench: a spectrum to slide along, a stop for the eye and a
// stop for every reader of the site at its own light.

import { h, s, swap } from "./dom.js";
import { w } from "./words.js";
import { state, on, setLamp, card } from "./state.js";
import { FROM, TO, SEEN, bell, colour, daylight, shape } from "./spectrum.js";
import { sign, worst } from "./sign.js";

const LINE = 46, HIGH = 60; // the line of the spectrum and its foot, in units
const across = (nm) => (nm - FROM) / (TO - FROM);

/** lights groups the readers by their peak, in the order of the spectrum. */
export function lights() {
  const by = new Map();
  state.bench.readers.forEach((r, i) => by.set(r.peak, [...(by.get(r.peak) ?? []), { ...r, index: i }]));
  return [...by].sort((a, b) => a[0] - b[0]).map(([peak, readers]) => ({ peak, readers, width: readers[0].width }));
}

/** lampSays names a setting of the lamp in words. */
export function lampSays(lamp) {
  return lamp === "eye" ? w.lamp.daylight : w.lamp.at(lamp, w.colours[colour(lamp)], lamp > SEEN);
}

/** lamp builds the control; beside its words stands what the light makes of things. */
export function lamp(beside, signal) {
  const light = s("path", { fill: "url(#spectrum)" });
  const handle = s("path", { class: "handle" });
  const picture = s("svg", { class: "band", viewBox: `0 0 ${TO - FROM} ${HIGH}`, preserveAspectRatio: "none", "aria-hidden": "true" },
    s("path", { class: "unlit", d: `M${SEEN - FROM} ${LINE}H${TO - FROM}V${HIGH}H${SEEN - FROM}z` }), light, handle,
    lights().map(({ peak }) => s("path", { class: "tick", d: `M${peak - FROM} ${LINE}V${HIGH}` })));
  const slider = h("input", { id: "lamp", type: "range", min: FROM, max: TO, step: 1, "aria-label": w.lamp.label,
    oninput: () => setLamp(+slider.value), onkeydown: (e) => keys(e), onpointerdown: () => setLamp(+slider.value) });
  const says = h("output", { class: "lamp-says", for: "lamp", id: "lamp-says" });
  const eye = h("button", { type: "button", class: "stop eye", "data-lamp": "eye", onclick: () => setLamp("eye") }, w.lamp.eye);
  const marks = h("div", { class: "stops" }, eye, lights().map(stop));
  const show = () => {
    const l = state.lamp;
    light.setAttribute("d", shape(l === "eye" ? daylight : bell(l, widthAt(l)), LINE, HIGH));
    handle.setAttribute("d", l === "eye" ? "" : `M${l - FROM} 0V${HIGH}`);
    if (l !== "eye") slider.value = l;
    slider.setAttribute("aria-valuetext", lampSays(l));
    swap(says, lampSays(l));
    for (const b of marks.children) b.setAttribute("aria-pressed", String(b.dataset.lamp === String(l)));
  };
  on("lamp", show, signal);
  on("card", () => verdicts(marks), signal);
  const rail = h("div", { class: "rail" }, picture, slider, scale());
  show();
  verdicts(marks);
  place(rail, marks, signal);
  return h("section", { class: "lamp", "aria-label": w.lamp.title }, h("div", { class: "lamp-head" }, h("h2", {}, w.lamp.title), says, beside), rail, marks);
}

function widthAt(nm) { return lights().find((l) => l.peak === nm)?.width ?? 20; }

// Arrows move by 1 nm (the slider's own doing), with shift by 10; page keys go to
// the next stop.
function keys(e) {
  const by = { ArrowLeft: -10, ArrowDown: -10, ArrowRight: 10, ArrowUp: 10 }[e.key];
  const now = +e.target.value;
  if (by && e.shiftKey) setLamp(now + by);
  else if (e.key === "PageUp") setLamp(lights().find((l) => l.peak > now)?.peak ?? TO);
  else if (e.key === "PageDown") setLamp(lights().findLast((l) => l.peak < now)?.peak ?? FROM);
  else if (e.key === "e") setLamp("eye");
  else return;
  e.preventDefault();
}

function stop({ peak, readers }) {
  return h("button", { type: "button", class: "stop", "data-lamp": peak, onclick: () => setLamp(peak) },
    readers.map((r) => h("span", { class: "who", "data-reader": r.index }, r.name)), h("span", { class: "nm" }, `${peak} nm`));
}

// The sign of what a reader makes of this card stands beside its name.
async function verdicts(marks) {
  const { readings } = await card();
  for (const who of marks.querySelectorAll(".who")) {
    const index = +who.dataset.reader, v = worst(readings.filter((r) => r.reader === index).map((r) => r.verdict));
    swap(who, sign(v), " " + state.bench.readers[index].name, h("span", { class: "unseen-words" }, ": " + w.verdicts[v]));
  }
}

function scale() {
  const at = (nm, kind, ...text) => h("span", { class: kind, style: { left: 100 * across(nm) + "%" } }, ...text);
  return h("div", { class: "scale", "aria-hidden": "true" }, at(FROM, "first", "380 nm"), at(SEEN, "edge", w.lamp.unseen), at(TO, "last", "1000"));
}

// place stands every stop under its own wavelength, in as few rows as fit; a
// narrow page lists them instead.
function place(rail, marks, signal) {
  const fit = () => {
    const wide = rail.clientWidth >= 560;
    marks.classList.toggle("placed", wide);
    const ends = [];
    for (const b of marks.children) {
      const own = b.dataset.lamp;
      const x = own === "eye" ? 0 : across(own) * rail.clientWidth;
      const left = Math.max(0, Math.min(x - b.offsetWidth / 2, rail.clientWidth - b.offsetWidth));
      let lane = ends.findIndex((end) => end + 12 <= left);
      if (lane < 0) lane = ends.push(0) - 1;
      ends[lane] = left + b.offsetWidth;
      b.style.setProperty("left", wide ? left + "px" : "auto");
      b.style.setProperty("top", wide ? lane * 3.4 + "rem" : "auto");
    }
    marks.style.setProperty("height", wide ? ends.length * 3.4 + "rem" : "auto");
  };
  const watch = new ResizeObserver(fit);
  watch.observe(rail);
  watch.observe(marks);
  signal.addEventListener("abort", () => watch.disconnect());
}
