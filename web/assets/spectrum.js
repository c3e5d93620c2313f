// The spectrum is drawn 1 unit a nanometre: a thin line of all its light and
// above it what one lamp gives. Past the eye's reach it has no colour.

import { s } from "./dom.js";

export const FROM = 380, TO = 1000, SEEN = 780;

// Colours along the spectrum for a picture of it; they are no measurement.
const hues = [[380, "#3b1466"], [415, "#4a23a8"], [445, "#2a3fd0"], [475, "#1177d1"], [495, "#0f9bb0"], [520, "#159a48"],
  [550, "#62ad1f"], [575, "#d3b90f"], [595, "#ee9410"], [620, "#e2551a"], [650, "#cf2a1d"], [700, "#9c1616"], [745, "#641717"]];

/** defs holds the one gradient that every spectrum of the page refers to. */
export function defs() {
  const stop = (nm, props) => s("stop", { offset: ((nm - FROM) / (TO - FROM)).toFixed(4), ...props });
  return s("svg", { class: "defs", width: 0, height: 0, "aria-hidden": "true", focusable: "false" }, s("defs", {},
    s("linearGradient", { id: "spectrum", gradientUnits: "userSpaceOnUse", x1: 0, x2: TO - FROM, y1: 0, y2: 0 },
      hues.map(([nm, c]) => stop(nm, { "stop-color": c })), stop(785, { class: "unseen" }), stop(TO, { class: "unseen" }))));
}

/** shape is the outline of a light over the spectrum's line. */
export function shape(amount, line, high) {
  let d = `M0 ${line}`;
  for (let nm = FROM; nm <= TO; nm += 4) d += `L${nm - FROM} ${(line * (1 - amount(nm))).toFixed(1)}`;
  return d + `L${TO - FROM} ${line}V${high}H0z`;
}

/** bell is a lamp of a full width at half maximum, at least wide enough to see. */
export function bell(peak, width) {
  const sigma = Math.max(width, 24) / 2.3548;
  return (nm) => Math.exp(-((nm - peak) ** 2) / (2 * sigma * sigma));
}

const smooth = (t) => { t = Math.min(1, Math.max(0, t)); return t * t * (3 - 2 * t); };
export const daylight = (nm) => smooth((nm - 390) / 30) * smooth((720 - nm) / 50);

export function spectrum(amount, label) {
  return s("svg", { class: "spectrum", viewBox: `0 0 ${TO - FROM} 30`, preserveAspectRatio: "none", role: "img", "aria-label": label },
    s("path", { d: shape(amount, 26, 30), fill: "url(#spectrum)" }));
}

/** colour names the light as people do; the borders are common practice. */
export function colour(nm) {
  if (nm > SEEN) return "infrared";
  for (const [from, name] of [[620, "red"], [590, "orange"], [565, "yellow"], [500, "green"], [440, "blue"]]) if (nm >= from) return name;
  return "violet";
}
