// A two-dimensional code as a reader sees it: over the dots in the reader's own
// light lies a square for every module, as grey as what the module sends back
// through the aperture, and a cross where that is the wrong side of the threshold.

import { h, s, swap } from "./dom.js";
import { w, number, percent } from "./words.js";
import { state } from "./state.js";
import { litSide } from "./litside.js";
import { encode } from "./relight.js";

const RIM = 2; // modules of the card's face shown round the quiet zone
const INSET = 0.17; // of a module left free round its square, for the dots below
const SEEN = 0.1; // of contrast: below it nothing shows

/** overModules gives the picture of a code with what is said of its modules. */
export async function overModules(l, code, reader) {
  const m = new Modules(l), stage = await m.stage(reader);
  const says = h("p", { class: "element-says", id: "element-says", "aria-live": "polite" }, w.modules.hint);
  const scroller = h("div", { class: "scroller of-modules", id: "trace", tabindex: 0, role: "application", "aria-label": w.modules.label(state.bench.codes[code.code].name, reader.name), "aria-describedby": "element-says" }, stage);
  walk(scroller, stage, m, (i) => { m.point(i); swap(says, m.says(i)); m.inSight(scroller, i); });
  const wrong = m.unseen ? w.modules.unseen : l.wrong.length ? w.modules.wrong(number(l.wrong.length), number(m.n)) : w.modules.right(number(m.n));
  return [scroller, h("div", { class: "scan-says" }, says, h("p", { id: "modules-wrong" }, wrong), scale(m), h("p", { class: "aside" }, m.unseen ? w.modules.keyUnseen : w.modules.key))];
}

class Modules {
  constructor(l) {
    this.l = l;
    this.n = l.w * l.h;
    this.unseen = l.rmax - l.rmin < SEEN;
    this.isWrong = new Set(this.unseen ? [] : l.wrong);
    this.part = new Array(this.n);
    for (const p of l.parts) for (const i of p.modules) this.part[i] = p;
    const round = l.quiet + RIM;
    this.x0 = l.bars.x0 - round * Math.min(...l.module);
    this.y0 = l.bars.y0 - round * Math.min(...l.module);
    this.wide = l.bars.x1 - l.bars.x0 + 2 * (l.bars.x0 - this.x0);
    this.high = l.bars.y1 - l.bars.y0 + 2 * (l.bars.y0 - this.y0);
    this.grain = Math.max(1, Math.min(8, Math.round(1100 / this.wide))); // pixels a dot
    this.weakest = this.order()[0];
  }

  r(i) { const q = this.l.quiet; return this.l.reflectance[(Math.floor(i / this.l.w) + q) * (this.l.w + 2 * q) + i % this.l.w + q]; }
  margin(i) { const d = this.l.gt - this.r(i); return this.l.dark[i] ? d : -d; }

  // All modules, the weakest first.
  order() { return Array.from({ length: this.n }, (_, i) => i).sort((a, b) => this.margin(a) - this.margin(b) || a - b); }

  // The place of a module in pixels of the picture.
  box(i) {
    const { w: across, module: [mx, my], bars } = this.l;
    return [(bars.x0 - this.x0 + (i % across) * mx) * this.grain, (bars.y0 - this.y0 + Math.floor(i / across) * my) * this.grain, mx * this.grain, my * this.grain];
  }

  async stage(reader) {
    const size = { width: this.wide * this.grain, height: this.high * this.grain };
    this.picture = h("canvas", { ...size, class: "modules-picture", id: "trace-modules" });
    this.over = h("canvas", { ...size, class: "modules-over", "aria-hidden": "true" });
    this.draw(await litSide(this.l.side, reader.peak));
    return h("div", { class: "over modules", style: { "aspect-ratio": `${this.wide} / ${this.high}`, "--least": Math.round(Math.min(this.l.w * 7, this.wide * 4)) + "px" } }, this.picture, this.over);
  }

  draw(lit) {
    const ink = this.picture.getContext("2d", { alpha: false });
    ink.imageSmoothingEnabled = false;
    ink.fillStyle = "#808080"; // beyond the face
    ink.fillRect(0, 0, this.picture.width, this.picture.height);
    ink.drawImage(lit, this.x0, this.y0, this.wide, this.high, 0, 0, this.picture.width, this.picture.height);
    for (let i = 0; i < this.n; i++) {
      const [x, y, a, b] = this.box(i), v = Math.round(255 * encode(Math.min(1, Math.max(0, this.r(i)))));
      ink.fillStyle = `rgb(${v} ${v} ${v})`;
      ink.fillRect(x + INSET * a, y + INSET * b, a * (1 - 2 * INSET), b * (1 - 2 * INSET));
    }
    for (const i of this.isWrong) cross(ink, this.box(i));
    if (this.unseen) for (let i = 0; i < this.n; i++) if (this.l.dark[i]) point(ink, this.box(i));
  }

  /** point marks a module, and thinly all that belong to the same codeword or part. */
  point(i) {
    const ink = this.over.getContext("2d");
    ink.clearRect(0, 0, this.over.width, this.over.height);
    const of = this.l.of[i], kin = of >= 0 ? this.l.of.flatMap((c, k) => (c === of ? [k] : [])) : this.part[i]?.modules ?? [];
    for (const k of kin) ring(ink, this.box(k), 1);
    ring(ink, this.box(i), 3);
    this.over.dataset.module = i;
  }

  says(i) {
    const x = i % this.l.w + 1, y = Math.floor(i / this.l.w) + 1, of = this.l.of[i];
    const what = of >= 0 ? w.modules.codeword(of + 1) : this.part[i] ? w.modules.part(this.part[i].name) : w.modules.filler;
    return [w.modules.module(x, y, this.l.dark[i] === 1, what, percent(this.r(i)), this.unseen ? null : percent(this.l.gt)), this.isWrong.has(i) ? " " + w.modules.isWrong : i === this.weakest && !this.unseen ? " " + w.modules.weakest : ""];
  }

  // At a narrow screen the picture is wider than its frame.
  inSight(frame, i) {
    const [x, , a] = this.box(i), at = (x + a / 2) / this.picture.width * this.picture.offsetWidth;
    if (at < frame.scrollLeft + 20 || at > frame.scrollLeft + frame.clientWidth - 20) frame.scrollLeft = at - frame.clientWidth / 2;
  }
}

// Black on white, so that it is seen on either.
function stroked(ink, wide, draw) {
  for (const [colour, more] of [["#fff", 2], ["#000", 0]]) {
    ink.strokeStyle = colour;
    ink.lineWidth = wide + more * Math.max(1, wide / 2);
    ink.beginPath();
    draw();
    ink.stroke();
  }
}

function cross(ink, [x, y, a, b]) {
  const d = Math.min(a, b) * 0.3, mx = x + a / 2, my = y + b / 2;
  stroked(ink, Math.max(1.5, d / 6), () => { ink.moveTo(mx - d, my - d); ink.lineTo(mx + d, my + d); ink.moveTo(mx + d, my - d); ink.lineTo(mx - d, my + d); });
}

const ring = (ink, [x, y, a, b], wide) => stroked(ink, wide, () => ink.rect(x, y, a, b));

function point(ink, [x, y, a, b]) {
  ink.fillStyle = "#000";
  ink.beginPath();
  ink.arc(x + a / 2, y + b / 2, Math.min(a, b) * 0.14, 0, 7);
  ink.fill();
}

// How many modules send back how much: the dark ones stand upwards, the light
// ones hang down, and the threshold is where they ought to part.
function scale(m) {
  const up = new Array(50).fill(0), down = new Array(50).fill(0), most = () => Math.max(...up, ...down);
  for (let i = 0; i < m.n; i++) (m.l.dark[i] ? up : down)[Math.min(49, Math.max(0, Math.floor(50 * m.r(i))))]++;
  const high = (n) => (n ? Math.max(2, 26 * Math.sqrt(n / most())) : 0);
  const bars = (all, name, y) => all.map((n, k) => (n ? s("rect", { class: name, x: 4 * k + 0.3, y: y(high(n)), width: 3.4, height: high(n) }) : null)).filter(Boolean);
  return h("figure", { class: "module-scale", id: "module-scale" },
    s("svg", { viewBox: "0 0 200 60", preserveAspectRatio: "none", "aria-hidden": "true" }, ...bars(up, "dark", (v) => 29 - v), ...bars(down, "light", () => 31), s("path", { class: "axis", d: "M0 30H200" }), s("path", { class: "at", d: `M${200 * m.l.gt} 0V60` })),
    h("figcaption", { class: "aside" }, h("span", {}, w.modules.none), h("span", {}, w.modules.scale(percent(m.l.gt))), h("span", {}, w.modules.all)));
}

// Arrows walk from module to module; w goes to the next that is wrong, or to the
// weakest.
function walk(el, stage, m, show) {
  let at = -1;
  const { w: across, h: down } = m.l, wrong = [...m.isWrong];
  const to = (i) => { at = i; show(i); };
  const next = () => wrong.find((i) => i > at) ?? wrong[0] ?? m.weakest;
  el.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const x = at < 0 ? 0 : at % across, y = at < 0 ? 0 : Math.floor(at / across), first = at < 0;
    const go = { ArrowLeft: [x - 1, y], ArrowRight: [x + 1, y], ArrowUp: [x, y - 1], ArrowDown: [x, y + 1], Home: [0, y], End: [across - 1, y] }[e.key];
    if (!go && e.key !== "w" && e.key !== "W") return;
    e.preventDefault();
    if (!go) return to(next());
    if (first && e.key.startsWith("Arrow")) return to(0);
    to(Math.min(down - 1, Math.max(0, go[1])) * across + Math.min(across - 1, Math.max(0, go[0])));
  });
  stage.addEventListener("pointermove", (e) => {
    const b = stage.getBoundingClientRect();
    const x = Math.floor(((e.clientX - b.left) / b.width * m.wide + m.x0 - m.l.bars.x0) / m.l.module[0]);
    const y = Math.floor(((e.clientY - b.top) / b.height * m.high + m.y0 - m.l.bars.y0) / m.l.module[1]);
    if (x >= 0 && y >= 0 && x < across && y < down && y * across + x !== at) to(y * across + x);
  });
}
