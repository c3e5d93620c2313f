// The card that is laid out: its picture with every element upon it to be taken
// hold of, by hand or by key.

import { h, s, swap } from "./dom.js";
import { w, number } from "./words.js";
import { state, on, card } from "./state.js";
import { Dots } from "./layoutdots.js";
import { aligned, dotted, lines, moved, resized } from "./layoutsnap.js";
import { says } from "./layoutsays.js";

const GRIPS = ["nw", "n", "ne", "e", "se", "s", "sw", "w"];
const REACH = 7; // screen points within which a line draws a box to it
const STILL = 4; // screen points that a press may wander and still be a press

export const boxOf = (e) => [e.box.x, e.box.y, e.box.w, e.box.h];

export class LayoutCard {
  /** @param v the view: {side, desk, layout, signal} */
  constructor(v) {
    this.v = v;
    this.chosen = new Set();
    this.canvas = h("canvas", { class: "layout-dots", "aria-hidden": "true" });
    this.dots = new Dots(this.canvas);
    this.guides = s("svg", { class: "guides", "aria-hidden": "true", preserveAspectRatio: "none" });
    this.pieces = h("div", { class: "pieces" });
    this.beside = h("div", { class: "beside" });
    this.el = h("div", { class: "layout-card", id: "layout-card", role: "group", "aria-label": w.layout.face(w.sides[v.side.side]), "aria-describedby": "layout-keys" }, this.canvas, this.guides, this.pieces, this.beside);
    this.pieces.addEventListener("pointerdown", (e) => this.down(e));
    this.pieces.addEventListener("keydown", (e) => this.key(e));
    this.pieces.addEventListener("focusin", (e) => this.focused(e));
    this.beside.addEventListener("focusin", () => { this.beside.classList.add("open"); this.putBeside(); });
    this.beside.addEventListener("focusout", () => setTimeout(() => this.beside.classList.toggle("open", this.beside.contains(document.activeElement))));
    on("lamp", () => this.draw(), v.signal);
    const fit = new ResizeObserver(() => this.place());
    fit.observe(this.el);
    v.signal.addEventListener("abort", () => fit.disconnect());
  }

  get elements() { return this.v.side.elements; }
  get scale() { return this.el.clientWidth / this.v.side.mm.w; } // points a millimetre

  /** load shows the picture and the codes of the card as it now is. */
  async load() {
    const side = this.v.side, revision = state.bench.revision;
    const [c] = await Promise.all([card(), this.dots.load(side)]);
    if (this.v.signal.aborted || side.side !== this.v.side.side || revision !== state.bench.revision) return;
    this.card = c;
    this.tell();
  }

  draw() { return this.dots.old || !this.dots.draw(this.v.side) ? this.load() : undefined; }

  /** sync lays the pieces anew as the programme has them. */
  sync() {
    this.el.style.setProperty("aspect-ratio", `${this.v.side.mm.w} / ${this.v.side.mm.h}`);
    this.guides.setAttribute("viewBox", `0 0 ${this.v.side.mm.w} ${this.v.side.mm.h}`);
    for (const i of this.chosen) if (i >= this.elements.length) this.chosen.delete(i);
    const had = this.pieces.contains(document.activeElement) ? +document.activeElement.dataset.element : -1;
    const names = this.elements.map((e) => e.kind).join();
    if (names !== this.names) {
      this.names = names;
      swap(this.pieces, this.elements.map((e, i) => h("button", { type: "button", class: "piece", "data-element": i, "data-kind": e.kind })));
      if (had >= 0) this.pieces.children[Math.min(had, this.elements.length - 1)]?.focus({ preventScroll: true });
    }
    this.place();
    this.tell();
  }

  /** place puts every piece where its box is; boxes of a drag come first. */
  place() {
    const k = this.scale;
    [...this.pieces.children].forEach((el, i) => {
      const e = this.elements[i], [x, y, wide, high] = this.now?.get(i) ?? boxOf(e), pressed = String(this.chosen.has(i));
      const as = [k, x, y, wide, high, pressed, e.name].join(" ");
      if (el.placed === as) return;
      el.placed = as;
      const least = 6, px = { left: x * k, top: y * k, width: Math.max(least, wide * k), height: Math.max(least, high * k) };
      for (const [name, v] of Object.entries(px)) el.style.setProperty(name, v + "px");
      el.setAttribute("aria-label", w.layout.piece(e.name, w.layout.kinds[e.kind], number(wide, 1), number(high, 1), number(x, 1), number(y, 1)));
      el.setAttribute("aria-pressed", pressed);
      el.dataset.box = [x, y, wide, high].join(" ");
      if (!el.firstChild) el.append(...GRIPS.map((g) => h("span", { class: "grip", "data-grip": g })));
    });
    this.putBeside();
  }

  /** choose takes elements in hand; the sentence beside them is built anew. */
  choose(...all) {
    this.chosen = new Set(all.filter((i) => i >= 0 && i < this.elements.length));
    this.place();
    this.tell();
  }

  /** tell builds the sentence beside what is chosen, unless it is being written in. */
  tell() {
    const only = [...this.chosen], busy = document.activeElement;
    const at = this.beside.contains(busy) ? busy.dataset.value ?? busy.dataset.align : null;
    if (at && this.said && only.length === 1 && this.saidOf === only[0] && busy.matches("input:not([type=checkbox])") && busy.value !== busy.dataset.was) return;
    const as = only.length === 1 ? this.saysOf(only[0]) : null;
    if (as && this.said && as === this.saidAs) {
      this.said.show(this.now?.get(only[0]) ?? boxOf(this.elements[only[0]]));
      return this.putBeside();
    }
    this.said = null;
    this.saidAs = as;
    if (only.length === 1) this.one(only[0]);
    else if (only.length > 1) this.many(only);
    else swap(this.beside);
    this.beside.classList.toggle("open", Boolean(at));
    if (at) this.beside.querySelector(`[data-value="${at}"],[data-align="${at}"]`)?.focus({ preventScroll: true });
    this.putBeside();
    this.v.chose?.(only);
  }

  // All that the sentence beside an element says but its box, which it follows
  // without being built anew.
  saysOf(i) {
    const { name, kind } = this.elements[i], { box, rectangle, ellipse, line, ...stated } = this.stated(i), code = this.codeOf(i), l = this.v.layout;
    return JSON.stringify([this.v.side.side, i, name, kind, stated, code && [code.alongX, code.x, code.steps], l && [l.fields, l.pictures]]);
  }

  // What the file states of an element, as far as the page knows.
  stated(i) {
    const told = this.v.layout?.sides.find((x) => x.side === this.v.side.side)?.elements[i];
    return told?.name === this.elements[i].name ? told.stated : {};
  }

  one(i) {
    const element = this.elements[i], side = this.v.side.side, l = this.v.layout, stated = this.stated(i);
    this.saidOf = i;
    const code = this.codeOf(i);
    const say = { side, element: i };
    this.said = says({ element, stated, code, fields: l?.fields ?? [], pictures: l?.pictures ?? [], codes: l?.codes ?? [] }, {
      box: (box) => this.v.desk.lay([{ do: "box", ...say, box }]), set: (key, value, out = []) => this.v.desk.lay([...out.map((k) => ({ do: "set", ...say, key: k, value: null })), { do: "set", ...say, key, value }]),
      rename: (name) => this.v.desk.lay([{ do: "rename", ...say, name }]), leave: () => this.pieces.children[i]?.focus(),
    });
    swap(this.beside, this.said.el);
  }

  many(all) {
    const line = (how) => h("button", { type: "button", class: "plain", "data-align": how, onclick: () => this.align(how) }, w.layout.align[how]);
    swap(this.beside, h("div", { class: "says-element", id: "layout-several", role: "group", "aria-label": w.layout.several(all.length) }, h("p", {}, h("b", {}, w.layout.several(all.length)), " ", w.layout.lineUp),
      h("p", { class: "aligns" }, ["left", "centre", "right", "top", "middle", "bottom"].map(line))));
  }

  align(how) {
    const all = [...this.chosen], boxes = aligned(all.map((i) => boxOf(this.elements[i])), how);
    this.v.desk.lay(all.map((i, n) => ({ do: "box", side: this.v.side.side, element: i, box: dotted(boxes[n], this.v.side) })));
  }

  // The sentence stands under its element, above it in the lower part of the
  // face, and inside where the element leaves no room.
  putBeside() {
    const i = [...this.chosen].at(-1);
    if (i === undefined || !this.elements[i]) return;
    const k = this.scale, [x, y, , high] = this.now?.get(i) ?? boxOf(this.elements[i]), face = this.v.side.mm;
    const tall = this.beside.offsetHeight, wide = this.beside.offsetWidth, under = (y + high) * k + 10;
    const above = y + high >= 0.62 * face.h && y * k - tall > -40;
    this.beside.style.setProperty("top", above ? "auto" : Math.min(under, face.h * k - tall - 12) + "px");
    this.beside.style.setProperty("bottom", above ? (face.h - y) * k + 10 + "px" : "auto");
    this.beside.style.setProperty("left", Math.max(4, Math.min(x * k, this.el.clientWidth - wide - 4)) + "px");
  }

  focused(e) {
    const i = +e.target.dataset.element;
    if (!this.pressing && !this.chosen.has(i)) this.choose(i);
  }

  // A press chooses; a press that wanders drags. What covers the whole face is
  // dragged only where it was chosen before, or nobody could press past it.
  down(e) {
    const el = e.target.closest(".piece");
    if (!el || e.button) return;
    const i = +el.dataset.element, grip = e.target.dataset.grip, was = this.chosen.has(i);
    this.pressing = true;
    if (e.shiftKey) { was && this.chosen.size > 1 ? this.chosen.delete(i) : this.chosen.add(i); this.choose(...this.chosen); } else if (!was) this.choose(i);
    el.focus({ preventScroll: true });
    this.pressing = false;
    e.preventDefault();
    const all = grip ? [i] : [...this.chosen], from = new Map(all.map((n) => [n, boxOf(this.elements[n])])), [, , wide, high] = from.get(i) ?? [0, 0, 0, 0];
    const whole = wide >= this.v.side.mm.w && high >= this.v.side.mm.h;
    if (e.shiftKey || (whole && !was)) return;
    el.setPointerCapture(e.pointerId);
    const drag = { i, grip, from, gesture: "drag " + performance.now(), lines: lines(this.v.side, new Set(all)), going: false };
    const ends = new AbortController(), signal = ends.signal;
    el.addEventListener("pointermove", (m) => {
      const px = m.clientX - e.clientX, py = m.clientY - e.clientY;
      if (!drag.going && Math.hypot(px, py) < STILL) return;
      drag.going = true;
      this.el.classList.add("dragging");
      this.drag(drag, px / this.scale, py / this.scale, m.altKey ? 0 : REACH / this.scale);
    }, { signal });
    const end = () => {
      ends.abort();
      this.el.classList.remove("dragging");
      swap(this.guides);
      this.v.desk.go().then(() => { this.now = null; this.place(); });
    };
    for (const name of ["pointerup", "pointercancel"]) el.addEventListener(name, end, { signal });
  }

  drag(d, dx, dy, reach) {
    const side = this.v.side, lead = d.from.get(d.i);
    const code = this.said && this.codeOf(d.i), needs = (code?.steps ?? []).map((x) => x.need), wide = (code?.steps ?? []).flatMap((x) => x.across ?? []);
    const steps = code?.alongX ? { x: needs, y: wide } : { x: wide, y: needs };
    const to = d.grip ? resized(lead, d.grip, dx, dy, side, d.lines, reach, steps, this.elements[d.i].kind === "line") : moved(lead, dx, dy, side, d.lines, reach);
    this.now = new Map([...d.from].map(([n, b]) => [n, n === d.i ? to.box : [b[0] + to.box[0] - lead[0], b[1] + to.box[1] - lead[1], b[2], b[3]].map((v) => Math.round(v * 1000) / 1000)]));
    this.showGuides(to);
    this.place();
    this.said?.show(to.box);
    this.v.desk.lay([...this.now].map(([n, box]) => ({ do: "box", side: side.side, element: n, box })), d.gesture);
  }

  showGuides({ x, y }) {
    const { w: wide, h: high } = this.v.side.mm;
    const line = (l, at) => l && s("line", { ...at, class: "guide " + l.what, "data-guide": l.what, "vector-effect": "non-scaling-stroke" });
    const kept = this.v.side.keepouts.map((k) => s("rect", { class: "kept-out", "data-keepout": k.kind, x: k.box.x, y: k.box.y, width: k.box.w, height: k.box.h, "vector-effect": "non-scaling-stroke" }));
    swap(this.guides, kept, line(x, { x1: x?.at, x2: x?.at, y1: 0, y2: high }), line(y, { x1: 0, x2: wide, y1: y?.at, y2: y?.at }));
  }

  codeOf(i) {
    const c = state.bench.codes.findIndex((x) => x.side === this.v.side.side && x.element === i);
    return this.card?.codes.find((x) => x.code === c) ?? null;
  }

  key(e) {
    const i = +e.target.dataset.element;
    if (Number.isNaN(i) || e.ctrlKey || e.metaKey) return;
    const to = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    const chosen = [...this.chosen].sort((a, b) => b - a);
    const keys = {
      Delete: () => this.remove(chosen), Backspace: () => this.remove(chosen), d: () => this.twins(i), D: () => this.twins(i),
      PageUp: () => i + 1 < this.elements.length && this.order(i, i + 1), PageDown: () => i > 0 && this.order(i, i - 1),
      Enter: () => this.beside.querySelector("[data-value=w],[data-align]")?.focus(),
      " ": () => this.choose(...(this.chosen.has(i) && this.chosen.size > 1 ? chosen.filter((n) => n !== i) : [...this.chosen, i])), Escape: () => this.choose(),
    };
    const act = to ? () => this.step(i, to, e) : keys[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  }

  // Keys in a row on one element are one gesture, and are undone as one.
  step(i, [dx, dy], e) {
    const side = this.v.side;
    const by = (v, d, dpi) => (d && e.shiftKey ? v + d : d ? (Math.round(v * dpi / 25.4) + d) * 25.4 / dpi : v);
    const all = this.chosen.has(i) ? [...this.chosen] : [i], now = performance.now();
    const what = `${all} ${e.altKey}`;
    if (what !== this.stepping?.what || now - this.stepping.at > 1500) this.stepping = { what, gesture: `keys ${now}` };
    this.stepping.at = now;
    const next = all.map((n) => {
      const b = this.now?.get(n) ?? boxOf(this.elements[n]), least = this.elements[n].kind === "line" ? 0 : 0.5;
      const box = e.altKey ? [b[0], b[1], Math.max(least, by(b[2], dx, side.dx)), Math.max(least, by(b[3], dy, side.dy))] : [by(b[0], dx, side.dx), by(b[1], dy, side.dy), b[2], b[3]];
      return [n, box.map((v) => Math.round(v * 1000) / 1000)];
    });
    this.now = new Map(next);
    this.place();
    this.said?.show(this.now.get(i));
    this.v.desk.lay(next.map(([n, box]) => ({ do: "box", side: side.side, element: n, box })), this.stepping.gesture)
      .then(() => { this.now = null; this.place(); });
  }

  async remove(all) {
    await this.v.desk.lay(all.map((element) => ({ do: "delete", side: this.v.side.side, element })));
    this.hold(Math.min(all.at(-1), this.elements.length - 1));
  }

  // The copies lie a little off what they are of, and are in hand afterwards. What
  // lies on top is doubled first, or the others would no longer be counted right.
  async twins(i) {
    const all = (this.chosen.has(i) ? [...this.chosen] : [i]).sort((a, b) => a - b), act = { side: this.v.side.side };
    await this.v.desk.lay(all.toReversed().flatMap((n) => {
      const [x, y, wide, high] = boxOf(this.elements[n]);
      return [{ do: "duplicate", ...act, element: n }, { do: "box", ...act, element: n + 1, box: dotted([x + 2, y + 2, wide, high], this.v.side) }];
    }));
    const copies = all.map((n, k) => n + k + 1);
    this.hold(copies[0]);
    this.choose(...copies);
  }

  async order(i, to) {
    await this.v.desk.lay([{ do: "move", side: this.v.side.side, element: i, to }]);
    this.hold(to);
  }

  /** hold chooses one element and gives it the keys. */
  hold(i) {
    this.choose(i);
    this.pieces.children[i]?.focus({ preventScroll: true });
  }
}
