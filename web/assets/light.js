// The first view: the card on the light table, the lamp, and the spent ribbon
// unrolled under it.

import { h, swap } from "./dom.js";
import { w, percent } from "./words.js";
import { state, on, card } from "./state.js";
import { Face } from "./face.js";
import { lamp } from "./lamp.js";
import { laying } from "./lay.js";
import { ribbon } from "./ribbon.js";
import { colour, SEEN } from "./spectrum.js";
import { lampTables, reflect, encode } from "./relight.js";

/** lightView builds the view; faces are handed out for the bench of tests. */
export function lightView(signal) {
  const faces = state.bench.sides.map((s) => new Face(s, signal));
  const title = h("h1", { id: "light-says" });
  const patches = h("ul", { class: "patches", id: "patches" });
  const load = () => Promise.all(faces.map((f) => f.load()));
  const say = () => { speak(title); show(patches); };
  on("lamp", say, signal);
  on("card", () => { load(); say(); }, signal);
  say();
  const ready = load();
  hook(faces, ready);
  return h("div", { class: "view light-view" },
    h("section", { class: "table", "aria-labelledby": "light-says" }, title, lamp(patches, signal),
      h("div", { class: "faces", "data-faces": faces.length }, faces.map((f) => f.el))),
    laying(faces, signal), ribbon(signal));
}

// What this light shows, in a sentence; where it is a reader's own, what the
// reader says.
async function speak(title) {
  const l = state.lamp;
  const readings = l === "eye" ? [] : (await card()).readings.filter((r) => r.verdict !== "none" && state.bench.readers[r.reader].peak === l);
  if (l !== state.lamp) return;
  const general = l === "eye" ? w.light.eye : l > 750 ? w.light.infrared(l) : w.light.seen(w.colours[colour(l)], l);
  const said = readings.map((r) => w.light.reader(state.bench.readers[r.reader].name, state.bench.codes[r.code].name, r.verdict));
  if (readings.some((r) => r.cause === "resin-unknown")) said.push(w.light.resinUnknown);
  swap(title, said.length ? [h("strong", {}, said.join(" ")), " "] : null, general);
}

// The three things the whole question is about, in this light.
function show(patches) {
  const eye = state.lamp === "eye", t = eye ? null : lampTables(state.light, state.lamp);
  const patch = (name, value, grey) => h("li", { "data-patch": name },
    h("span", { class: "patch", style: { background: grey } }), h("span", {}, w.light[name]), h("span", { class: "value" }, value));
  if (eye) return swap(patches, ["card", "mixed", "resin"].map((n) => patch(n, w.light[n + "Eye"], { card: "#f4f4f0", mixed: "#262423", resin: "#1f1e1d" }[n])));
  const of = (name, y, k) => {
    const r = reflect(t, y, y, y, k), v = Math.round(255 * encode(Math.min(1, r)));
    return patch(name, percent(r), `rgb(${v} ${v} ${v})`);
  };
  swap(patches, h("li", { class: "aside" }, w.light.sent), of("card", 0, 0), of("mixed", 255, 0), state.bench.sides.some((s) => s.panels.some((p) => p.plane === "k")) ? of("resin", 0, 1) : null);
}

// A hook for measuring from outside: window.bench.relight(times) is the
// milliseconds of script that one relighting of the first face takes.
function hook(faces, ready) {
  window.bench = {
    ready, state, faces,
    async relight(times = 20) {
      await ready;
      const was = state.lamp, took = [];
      for (let i = 0; i < times; i++) {
        state.lamp = 400 + (i * 97) % 600;
        const from = performance.now();
        faces[0].draw();
        took.push(performance.now() - from);
      }
      state.lamp = was;
      faces[0].draw();
      took.sort((a, b) => a - b);
      return { median: took[took.length >> 1], worst: took[took.length - 1], dots: faces[0].side.w * faces[0].side.h };
    },
  };
}
