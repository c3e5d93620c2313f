// The spent ribbon of the whole run, unrolled: every frame with its letter, as
// it was fed or as it comes off the take-up spool.

import { h, swap, later } from "./dom.js";
import { w } from "./words.js";
import { panels as fetchPanels } from "./api.js";
import { state, on, cardPanels } from "./state.js";
import { extent, paint } from "./frame.js";
import { span } from "./scroll.js";
import { openFrame } from "./large.js";

const GAP = 2;

export function ribbon(signal) {
  const set = state.bench.sides.flatMap((side) => side.panels.map((panel) => ({ side, panel })));
  if (!set.length) return null;
  const strip = { set, spool: false, drawn: new Map(), signal };
  strip.inner = h("div", { class: "inner" });
  strip.el = h("div", { class: "web", id: "ribbon-web", tabindex: 0, role: "group", "aria-label": w.ribbon.label }, strip.inner);
  const says = h("p", { class: "feed-says" });
  const choose = (spool, text, id) => h("label", {}, h("input", { type: "radio", name: "order", id, checked: spool === strip.spool,
    onchange: () => { const item = middle(strip); strip.spool = spool; feed(); reset(strip); jump(strip, count(strip) - 1 - item); } }), text);
  const feed = () => swap(says, h("span", { class: strip.spool ? "arrow back" : "arrow", "aria-hidden": "true" }), strip.spool ? w.ribbon.spool : w.ribbon.fed);
  feed();
  strip.el.addEventListener("scroll", () => draw(strip), { passive: true });
  strip.el.addEventListener("keydown", (e) => keys(strip, e));
  const sized = new ResizeObserver(() => { const was = strip.high; measure(strip); reset(strip, was === strip.high); if (was === undefined) toCard(strip); });
  sized.observe(strip.el);
  signal.addEventListener("abort", () => sized.disconnect());
  on("card", () => toCard(strip), signal);
  on("bench", () => reset(strip), signal);
  return h("section", { class: "ribbon", id: "ribbon", "aria-labelledby": "ribbon-title" },
    h("div", { class: "ribbon-head" }, h("h2", { id: "ribbon-title" }, w.ribbon.title), h("p", {}, w.ribbon.says),
      h("fieldset", {}, h("legend", { class: "unseen-words" }, w.ribbon.order), choose(false, w.ribbon.asFed, "as-fed"), choose(true, w.ribbon.asSpool, "as-spool")), says),
    strip.el, h("p", { class: "aside ribbon-foot" }, set[0].side.feed.process === "retransfer" ? w.ribbon.mirrored : w.ribbon.direct, " ", w.ribbon.care));
}

const count = (strip) => state.bench.cards * strip.set.length;

// A web is as high as fits; a frame as long as its card at that scale.
function measure(strip) {
  strip.high = parseFloat(getComputedStyle(strip.el).getPropertyValue("--web")) || 184;
  const most = Math.max(...strip.set.map(({ side }) => extent(side).h));
  strip.scale = strip.high / most;
  strip.size = Math.max(...strip.set.map(({ side }) => extent(side).w)) * strip.scale + GAP;
}

function reset(strip, keep) {
  if (!strip.size) return;
  strip.span = span(count(strip), strip.size, strip.el.clientWidth);
  strip.inner.style.setProperty("width", strip.span.laid + "px");
  if (!keep) { strip.drawn.forEach((el) => el.remove()); strip.drawn.clear(); }
  draw(strip);
}

const item = (strip, place) => (strip.spool ? count(strip) - 1 - place : place);
const middle = (strip) => { const v = strip.span.at(strip.el.scrollLeft); return v.first; };
const jump = (strip, place) => { strip.el.scrollLeft = strip.span.place(Math.max(0, place)); draw(strip); };

function toCard(strip) {
  if (!strip.span) return;
  const n = strip.set.length, at = item(strip, state.row * n);
  jump(strip, strip.spool ? at - n + 1 : at);
  for (const el of strip.drawn.values()) el.classList.toggle("now", +el.dataset.row === state.row);
}

function draw(strip) {
  if (!strip.span) return;
  const { first, last, shift } = strip.span.at(strip.el.scrollLeft);
  for (const [place, el] of strip.drawn) if (place < first - 1 || place > last + 1) { el.remove(); strip.drawn.delete(place); }
  for (let place = first; place <= last; place++) {
    let el = strip.drawn.get(place);
    if (!el) {
      el = make(strip, item(strip, place));
      strip.drawn.set(place, el);
      strip.inner.append(el);
    }
    el.style.setProperty("transform", `translateX(${place * strip.size + shift}px)`);
  }
  strip.settle ??= later(60, () => pictures(strip));
  strip.settle();
}

// A frame stands at once, as a whole panel; its picture comes when the strip
// has come to rest.
function make(strip, i) {
  const n = strip.set.length, row = Math.floor(i / n), { side, panel } = strip.set[i % n];
  const e = extent(side), canvas = h("canvas", { width: 1, height: 1, style: { width: e.w * strip.scale + "px", height: e.h * strip.scale + "px", background: `rgb(${panel.colour.join(" ")})` } });
  const name = w.panels[panel.kind] ?? panel.name;
  return h("button", { type: "button", class: "frame-of" + (row === state.row ? " now" : "") + (strip.spool ? " turned" : ""), tabindex: -1, "data-row": row, "data-frame": i, "data-letter": panel.letter, "data-side": side.side,
    style: { width: strip.size - GAP + "px" }, onclick: () => openFrame({ row, side, panel, spool: strip.spool }) },
    h("span", { class: "cell" }, canvas), h("span", { class: "letter" }, h("b", {}, panel.letter), " ", name), h("span", { class: "whose" }, w.ribbon.whose(w.sides[side.side], row + 1)), h("span", { class: "unseen-words" }, w.ribbon.frame(i + 1)));
}

async function pictures(strip) {
  const wanted = new Map();
  for (const el of strip.drawn.values()) {
    if (el.dataset.drawn) continue;
    const key = el.dataset.row + " " + el.dataset.side;
    wanted.set(key, [...(wanted.get(key) ?? []), el]);
  }
  for (const els of wanted.values()) {
    const row = +els[0].dataset.row, { side } = strip.set[+els[0].dataset.frame % strip.set.length];
    if (!els.some((el) => el.isConnected)) continue;
    const panels = await panelsOf(row, side.side).catch(() => null);
    if (strip.signal.aborted || !panels) return;
    for (const el of els) if (el.isConnected) await small(el, strip.set[+el.dataset.frame % strip.set.length], panels);
  }
}

/** panelsOf a card: the shown one is kept already. */
export const panelsOf = (row, side) => (row === state.row ? cardPanels(side) : fetchPanels(`card/${row}/panels/${side}`));

async function small(el, { side, panel }, panels) {
  const canvas = el.querySelector("canvas"), ratio = Math.min(2, window.devicePixelRatio || 1);
  canvas.width = Math.round(parseFloat(canvas.style.width) * ratio);
  canvas.height = Math.round(parseFloat(canvas.style.height) * ratio);
  const whole = await createImageBitmap(paint(side, panel, panels), { resizeWidth: canvas.width, resizeHeight: canvas.height, resizeQuality: "high" });
  canvas.getContext("2d").drawImage(whole, 0, 0);
  whole.close();
  el.dataset.drawn = "yes";
}

// Arrows walk frame by frame, page keys card by card, return opens a frame.
function keys(strip, e) {
  const n = strip.set.length, focused = document.activeElement?.dataset?.frame;
  const now = focused === undefined ? middle(strip) : item(strip, +focused);
  const to = { ArrowLeft: now - 1, ArrowRight: now + 1, PageUp: now - n, PageDown: now + n, Home: 0, End: count(strip) - 1 }[e.key];
  const open = e.key === "Enter" && focused === undefined;
  if (to === undefined && !open) return;
  e.preventDefault();
  const place = Math.min(count(strip) - 1, Math.max(0, open ? now : to));
  const { first, last } = strip.span.at(strip.el.scrollLeft);
  if (place < first || place >= last) jump(strip, place - (place >= last ? Math.max(0, last - first - 1) : 0));
  const el = strip.drawn.get(place);
  el?.focus({ preventScroll: true });
  if (open) el?.click();
}
