// The scan profile over the very bars it came from: the bars in the reader's own
// light, the light that comes back along one line, and under every element what
// is left of its margin and the character it makes.

import { h, s, swap } from "./dom.js";
import { w, percent } from "./words.js";
import { state } from "./state.js";
import { litSide } from "./litside.js";

const HIGH = 200; // units of the profile

export async function overBars(t, code, reader) {
  const from = t.from, to = t.from + t.samples.length * t.step;
  const picture = await bars(t, code, reader, from, to);
  const x = (dots) => (dots - from).toFixed(2), wide = (to - from).toFixed(2);
  const says = h("p", { class: "element-says", id: "element-says", "aria-live": "polite" }, w.trace.hint);
  const box = (high, name, ...kids) => s("svg", { class: name, viewBox: `0 0 ${wide} ${high}`, preserveAspectRatio: "none", "aria-hidden": "true" }, ...kids);
  const profile = path(t, x);
  // Where the reader makes nothing of the line, the elements are taken where they
  // are printed: what the grading finds in a line without contrast is chance.
  const read = t.decoded && t.read !== false;
  const elements = read ? t.elements : t.drawn.map((e) => ({ ...e, margin: 0 }));
  const weakest = read ? weak(elements) : -1;
  const over = box(HIGH, "profile", s("path", { class: "threshold", d: `M0 ${y(t.gt)}H${wide}` }), s("path", { class: "halo", d: profile }), s("path", { class: "line", d: profile }));
  const margins = box(100, "margins", elements.map((e, i) => s("path", { class: (e.bar ? "bar" : "space") + (i === weakest ? " weakest" : ""), "data-element": i, "data-margin": e.margin,
    d: `M${x(e.from)} 100V${(read ? 100 - 100 * e.margin : 82).toFixed(1)}H${x(e.to)}V100z` })));
  const ring = h("span", { class: "element-ring", hidden: true });
  const place = (dots) => 100 * (dots - from) / (to - from) + "%";
  const chars = h("div", { class: "chars", "aria-hidden": "true" }, groups(elements).map((g) => h("span", { "data-char": g.char, style: { left: place(g.from), width: 100 * (g.to - g.from) / (to - from) + "%" } }, g.char)));
  const stack = h("div", { class: "over", style: { "min-width": Math.round(to - from) + "px" } },
    h("div", { class: "bars" }, picture, over, line(t, code), ring), margins, chars);
  const scroller = h("div", { class: "scroller", id: "trace", tabindex: 0, role: "application", "aria-label": w.trace.label(state.bench.codes[code.code].name, reader.name), "aria-describedby": "element-says", "data-from": from }, stack);
  walk(scroller, elements, weakest, (i) => {
    const e = elements[i];
    ring.hidden = false;
    ring.style.setProperty("left", place(e.from));
    ring.style.setProperty("width", 100 * (e.to - e.from) / (to - from) + "%");
    swap(says, w.trace.element(i + 1, elements.length, e.bar, charOf(elements, i), read ? percent(e.margin) : null), i === weakest ? " " + w.trace.weakest : "");
    const at = (e.from - from) / (to - from) * stack.offsetWidth;
    if (at < scroller.scrollLeft + 20 || at > scroller.scrollLeft + scroller.clientWidth - 20) scroller.scrollLeft = at - scroller.clientWidth / 2;
  });
  return [scroller, h("div", { class: "scan-says" }, says, h("p", { class: "aside" }, read ? w.trace.key : t.sc < 0.1 ? w.trace.unseen : w.trace.unread))];
}

const y = (r) => (HIGH * (1 - Math.min(1, Math.max(0, r)))).toFixed(1);

function path(t, x) {
  let d = "";
  for (let i = 0; i < t.samples.length; i++) d += (i ? "L" : "M") + x(t.from + (i + 0.5) * t.step) + " " + y(t.samples[i]);
  return d;
}

// The bars as the reader's light shows them; a code that runs down the card is
// turned so that the scan runs to the right.
async function bars(t, code, reader, from, to) {
  const whole = await litSide(t.side, reader.peak);
  const [low, high] = t.alongX ? [code.bars.y0, code.bars.y1] : [code.bars.x0, code.bars.x1];
  const canvas = h("canvas", { width: Math.round(to - from), height: high - low, class: "bars-picture", id: "trace-bars" });
  const out = canvas.getContext("2d", { alpha: false });
  if (!t.alongX) out.transform(0, 1, 1, 0, 0, 0);
  if (t.alongX) out.drawImage(whole, -Math.round(from), -low);
  else out.drawImage(whole, -low, -Math.round(from));
  return canvas;
}

// Where across the bars the line lies, and where the reader's other lines do.
function line(t, code) {
  const [low, high] = t.alongX ? [code.bars.y0, code.bars.y1] : [code.bars.x0, code.bars.x1];
  const at = (v) => 100 * (v - low) / (high - low) + "%";
  return h("div", { class: "lines", "aria-hidden": "true" }, (t.lines ?? []).map((v) => h("i", { style: { top: at(v) } })), h("i", { class: "this", style: { top: at(t.at) } }));
}

// A character begins at the element that names it and ends before the next.
function groups(elements) {
  const out = [];
  for (const e of elements) {
    if (e.char) out.push({ char: e.char, from: e.from, to: e.to });
    else if (out.length) out[out.length - 1].to = e.to;
  }
  return out;
}

function charOf(elements, i) {
  while (i > 0 && !elements[i].char) i--;
  return elements[i].char;
}

function weak(elements) {
  let at = -1;
  elements.forEach((e, i) => { if (at < 0 || e.margin < elements[at].margin) at = i; });
  return at;
}

// Arrows step through the elements; w goes to the weakest.
function walk(el, elements, weakest, show) {
  if (!elements.length) return;
  let at = -1;
  const to = (i) => { at = Math.min(elements.length - 1, Math.max(0, i)); show(at); };
  el.addEventListener("keydown", (e) => {
    const next = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: elements.length - 1, w: weakest }[e.key];
    if (next === undefined || e.ctrlKey || e.metaKey) return;
    e.preventDefault();
    to(next);
  });
  el.addEventListener("pointermove", (e) => {
    const b = el.querySelector(".over").getBoundingClientRect(), first = elements[0], last = elements[elements.length - 1];
    const svg = el.querySelector(".margins").viewBox.baseVal.width;
    const dots = (e.clientX - b.left) / b.width * svg + +el.dataset.from;
    if (dots < first.from || dots > last.to) return;
    const i = elements.findIndex((q) => dots >= q.from && dots < q.to);
    if (i >= 0 && i !== at) to(i);
  });
}
