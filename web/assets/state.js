// What the page knows and what is chosen; views listen for what they show.

import { get, panels, picture } from "./api.js";

export const state = {
  bench: null, // the programme, as the server states it
  light: null, // the spectral model
  row: 0, // the card shown, counted from 0
  lamp: "eye", // or a wavelength in nm
  view: "light",
  pick: {}, // what is chosen within a view
};

const hearers = new Map();

/** on calls f whenever the named thing changes; the signal ends it. */
export function on(name, f, signal) {
  if (!hearers.has(name)) hearers.set(name, new Set());
  hearers.get(name).add(f);
  signal?.addEventListener("abort", () => hearers.get(name).delete(f));
}

export function tell(name) { for (const f of [...(hearers.get(name) ?? [])]) f(); }

export function setLamp(lamp) {
  if (lamp !== "eye") lamp = Math.min(1000, Math.max(380, Math.round(lamp)));
  if (lamp === state.lamp) return;
  state.lamp = lamp;
  tell("lamp");
}

// The shown card is asked for again and again by the parts of a view; each
// answer is kept until another card or another revision is shown.
let kept = new Map(), keptFor = "";

function keep(name, make) {
  const now = state.row + " " + state.bench.revision;
  if (now !== keptFor) { kept = new Map(); keptFor = now; }
  if (!kept.has(name)) {
    const answer = make();
    kept.set(name, answer);
    answer.catch(() => kept.delete(name));
  }
  return kept.get(name);
}

export const card = () => keep("card", () => get(`card/${state.row}`));
export const cardPanels = (side) => keep("panels " + side, () => panels(`card/${state.row}/panels/${side}`));
export const cardEye = (side, planes) => keep(`eye ${side} ${planes ?? "all"}`, () =>
  picture(`card/${state.row}/eye/${side}.png` + (planes === undefined ? "" : `?panels=${planes}`)));
export const cardRules = () => keep("rules", () => get(`card/${state.row}/rules`));
export const trace = (code, reader, line, aperture) => keep(`trace ${code} ${reader} ${line} ${aperture}`, () =>
  get(`card/${state.row}/trace?code=${code}&reader=${reader}&aperture=${aperture}` + (line === undefined ? "" : `&line=${line}`)));
export const look = (code, reader, aperture) => keep(`look ${code} ${reader} ${aperture}`, () => get(`card/${state.row}/look?code=${code}&reader=${reader}&aperture=${aperture}`));

export const side = (name) => state.bench.sides.find((s) => s.side === name);
