// The same card under every black rule, and what each reader would say.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";
import { overPanels, picture } from "./api.js";
import { state, on, cardPanels, cardRules, setLamp } from "./state.js";
import { films, lampTables, relight } from "./relight.js";
import { lights, lampSays } from "./lamp.js";
import { mark, sign, worst } from "./sign.js";
import { reason, rule as ruleSays } from "./engine.js";
import { Changed } from "./changed.js";

export function rulesView(signal) {
  // By eye the rules look alike; the light furthest from the eye tells them apart.
  if (state.lamp === "eye" && lights().length) setLamp(lights().at(-1).peak);
  const title = h("h1", { id: "rules-says" });
  const body = h("div", { id: "rules-body" });
  const light = h("div", { class: "filters lights", role: "group", "aria-label": w.rules.light });
  const showLight = () => {
    const b = (lamp, text) => h("button", { type: "button", class: "plain", "data-lamp": lamp, "aria-pressed": String(lamp === state.lamp), onclick: () => setLamp(lamp) }, text);
    swap(light, h("span", {}, w.rules.light), b("eye", w.lamp.eye), lights().map((l) => b(l.peak, `${l.readers.map((r) => r.name).join(", ")}: ${l.peak} nm`)),
      state.lamp === "eye" || lights().some((l) => l.peak === state.lamp) ? null : b(state.lamp, lampSays(state.lamp)));
  };
  // Another rule in use changes no picture, so pictures are kept as long as the
  // card is the same.
  const view = { signal, pictures: new Map() };
  view.changed = new Changed(signal, (path) => { if (path !== "black") view.pictures.clear(); });
  swap(title, w.rules.trying);
  const load = () => show(view, title, body);
  on("lamp", showLight, signal);
  on("card", () => {
    for (const key of view.pictures.keys()) if (!key.startsWith(state.row + " ")) view.pictures.delete(key);
    load();
  }, signal);
  showLight();
  load();
  return h("div", { class: "view rules-view" }, h("section", { "aria-labelledby": "rules-says" }, title, h("p", { class: "aside" }, w.rules.says), light, view.changed.el), body);
}

async function show(view, title, body) {
  const { sides } = await cardRules();
  if (view.signal.aborted) return;
  const now = sides.map((s) => s.rules.find((r) => r.current)).filter(Boolean);
  const state1 = worst(now.map(verdictOf));
  swap(title, h("strong", {}, w.rules.now[state1]), " ", w.rules.choose);
  swap(body, sides.map((s) => h("section", { class: "rules-of", "data-side": s.side, "aria-labelledby": "rules-" + s.side }, h("h2", { id: "rules-" + s.side }, w.Sides[s.side]),
    h("div", { class: "rules" }, s.rules.map((r) => column(s.side, r, view))))));
}

const verdictOf = (r) => (r.photo > 0 ? "fails" : worst(r.readings.map((x) => x.verdict)));

function column(side, r, view) {
  const meant = r.readings.filter((x) => x.verdict !== "none");
  const key = `${state.row} ${side} ${r.rule}`;
  if (!view.pictures.has(key)) view.pictures.set(key, under(side, r.rule, view.signal));
  const choose = h("button", { type: "button", "data-use": r.rule, disabled: r.current, onclick: () => use(view, side, r.rule) }, r.current ? w.rules.inUse : w.rules.use);
  return h("article", { class: "rule" + (r.current ? " current" : ""), "data-rule": r.rule, "data-current": r.current },
    h("h3", {}, w.ruleNames[r.rule] ?? r.rule, r.current ? h("span", { class: "in-use" }, " ", w.rules.nowInUse) : null), h("p", { class: "aside" }, ruleSays(r.rule, r.words)), view.pictures.get(key),
    h("ul", { class: "says" }, meant.map((x) => {
      const reader = state.bench.readers[x.reader];
      return h("li", { "data-code": x.code, "data-reader": x.reader }, mark(x.verdict, h("span", { class: "who" }, ` ${w.rules.at(reader.name, state.bench.codes[x.code].name)}`)), x.verdict === "reads" || !x.reason ? null : h("span", { class: "aside" }, reason(x)));
    }), h("li", { class: "photo", "data-photo": r.photo }, h("span", { class: "mark" }, sign(r.photo > 0 ? "fails" : "reads"), h("span", { class: "word" }, r.photo > 0 ? w.rules.photo(number(r.photo)) : w.rules.noPhoto)))), choose);
}

// The side under a rule, relit by the same lamp.
function under(side, rule, signal) {
  const s = state.bench.sides.find((q) => q.side === side);
  const canvas = h("canvas", { class: "dots", width: s.w, height: s.h, role: "img", "aria-label": w.rules.picture(w.sides[side], w.ruleNames[rule] ?? rule), "data-rule-picture": rule });
  const ink = canvas.getContext("2d"), image = ink.createImageData(s.w, s.h), row = state.row;
  let panels, eye, film;
  const draw = async () => {
    if (state.lamp === "eye") {
      eye ??= await picture(`card/${row}/eye/${side}.png?rule=${rule}`, signal);
      if (state.lamp === "eye") ink.drawImage(eye, 0, 0);
      return;
    }
    if (!panels) {
      const own = row === state.row ? await cardPanels(side) : null;
      panels = await overPanels(`card/${row}/rule-panels/${side}/${rule}`, own, signal);
      film = films(panels);
    }
    if (state.lamp === "eye") return;
    relight(new Uint32Array(image.data.buffer), panels, film, lampTables(state.light, state.lamp, side));
    ink.putImageData(image, 0, 0);
  };
  const safe = () => draw().catch(() => {});
  on("lamp", safe, signal);
  safe();
  return canvas;
}

const use = (view, side, rule) => view.changed.turn("black", { side, rule }, w.rules.set(w.ruleNames[rule] ?? rule, w.sides[side]));
