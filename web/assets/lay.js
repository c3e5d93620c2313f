// Laying the panels on the card one by one, in printing order: each sweeps over
// the card along the feed, as the head does it. Every step can be stood on.

import { h, swap } from "./dom.js";
import { w } from "./words.js";
import { on, cardEye } from "./state.js";
import { films } from "./relight.js";

const SWEEP = 900; // ms a panel

/** steps lists the panels of all sides in the order of printing. */
const steps = (faces) => faces.flatMap((face, i) => face.side.panels.map((panel) => ({ face, panel, side: i })));

export function laying(faces, signal) {
  const all = steps(faces);
  const run = { all, faces, at: all.length, timer: 0 };
  const says = h("p", { class: "lay-says", id: "lay-says", "aria-live": "polite" });
  const list = h("ol", { class: "lay-steps" }, h("li", {}, step(w.lay.bare, () => go(0), "0")),
    all.map(({ panel, face }, i) => h("li", {}, step([h("span", { class: "chip", style: { background: `rgb(${panel.colour.join(" ")})` } }), h("b", {}, panel.letter),
      h("span", { class: "unseen-words" }, ` ${w.panels[panel.kind] ?? panel.name}, ${w.sides[face.side.side]}`)], () => go(i + 1), String(i + 1)))));
  const play = h("button", { type: "button", id: "lay-play", onclick: () => (run.timer ? halt() : start()) });
  const back = h("button", { type: "button", id: "lay-back", onclick: () => go(run.at - 1) }, w.lay.back);
  const on1 = h("button", { type: "button", id: "lay-next", onclick: () => go(run.at + 1, true) }, w.lay.next);
  const show = () => {
    swap(play, run.timer ? w.lay.pause : w.lay.play);
    back.disabled = run.at === 0;
    on1.disabled = run.at === all.length;
    list.querySelectorAll("button").forEach((b, i) => b.setAttribute("aria-pressed", String(i === run.at)));
    const now = all[run.at - 1];
    swap(says, run.at === all.length ? w.lay.done(all.length) : now ? w.lay.laid(w.panels[now.panel.kind] ?? now.panel.name, w.sides[now.face.side.side], w.does[now.panel.kind] ?? "") : w.lay.nothing);
  };
  async function go(to, sweep) {
    to = Math.max(0, Math.min(all.length, to));
    const turned = all[to - 1]?.face;
    run.at = to;
    show();
    await Promise.all(faces.map((f) => lie(f, run, sweep && f === turned)));
  }
  async function start() {
    if (run.at === all.length) await go(0);
    run.timer = 1;
    show();
    while (run.timer && run.at < all.length && !signal.aborted) await go(run.at + 1, true);
    run.timer = 0;
    show();
  }
  function halt() { run.timer = 0; show(); }
  on("card", () => { halt(); run.at = all.length; show(); }, signal);
  show();
  return h("section", { class: "lay", "aria-labelledby": "lay-title" }, h("h2", { id: "lay-title" }, w.lay.title), says,
    h("div", { class: "lay-row" }, play, back, on1, list));
}

function step(content, go, name) { return h("button", { type: "button", class: "plain", "data-step": name, onclick: go }, content); }

// lie shows a face with the panels laid so far.
async function lie(face, run, sweep) {
  const laid = run.all.slice(0, run.at).filter((s) => s.face === face).map((s) => s.panel.plane);
  const wants = run.at, whole = laid.length === face.side.panels.length;
  const eye = whole ? face.eye : await cardEye(face.side.side, laid.join(""));
  if (wants !== run.at || !face.panels) return;
  const planes = Object.fromEntries(Object.entries(face.panels.planes).filter(([k]) => laid.includes(k)));
  const panels = { ...face.panels, planes };
  const before = sweep ? await createImageBitmap(face.canvas) : null;
  face.part = whole ? null : { eye, panels, film: films(panels) };
  face.draw();
  if (before && !matchMedia("(prefers-reduced-motion: reduce)").matches) await sweepOver(face, before);
}

// The picture before the panel stays on what the head has not reached.
function sweepOver(face, before) {
  const veil = h("canvas", { class: "dots veil", width: face.side.w, height: face.side.h, "aria-hidden": "true" });
  veil.getContext("2d").drawImage(before, 0, 0);
  veil.style.setProperty("transform", face.canvas.style.transform);
  face.canvas.after(veil);
  const gone = { left: "0 0 0 100%", right: "0 100% 0 0", top: "100% 0 0 0", bottom: "0 0 100% 0" }[face.side.feed.leads];
  const play = veil.animate([{ clipPath: "inset(0 0 0 0)" }, { clipPath: `inset(${gone})` }], { duration: SWEEP, easing: "linear" });
  return play.finished.catch(() => {}).finally(() => veil.remove());
}
