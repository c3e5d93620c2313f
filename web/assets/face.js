// One side of the card on the light table: its picture under the lamp, zoom down
// to single dots, and what is known of the dot pointed at.

import { h, swap } from "./dom.js";
import { w } from "./words.js";
import { state, on, cardEye, cardPanels } from "./state.js";
import { films, lampTables, reflect, relight } from "./relight.js";
import { dotAt, scaled, showing, held, whole } from "./zoom.js";
import { dotSays } from "./dot.js";

export class Face {
  /** @param side a side of the bench @param {AbortSignal} signal */
  constructor(side, signal) {
    this.side = side;
    this.signal = signal;
    this.canvas = h("canvas", { width: side.w, height: side.h, class: "dots", "data-face": side.side });
    this.ink = this.canvas.getContext("2d", { colorSpace: "srgb" });
    this.image = this.ink.createImageData(side.w, side.h);
    this.pixels = new Uint32Array(this.image.data.buffer);
    this.cursor = null;
    this.ring = h("span", { class: "ring", hidden: true });
    this.says = h("p", { class: "dot-says", id: `dot-${side.side}`, "aria-live": "polite" }, w.face.hint);
    this.frame = h("div", { class: "frame", id: `face-${side.side}`, tabindex: 0, role: "application", "aria-label": w.face.label(w.sides[side.side]),
      "aria-describedby": `dot-${side.side}` }, this.canvas, this.ring);
    this.el = h("figure", { class: "face", "data-side": side.side },
      h("figcaption", {}, h("b", {}, w.Sides[side.side]), this.buttons()), this.frame, this.says);
    this.lie = whole(1);
    this.listen();
  }

  buttons() {
    const b = (name, key, f) => h("button", { type: "button", class: "plain", "data-zoom": name, title: w.face.key(key), onclick: f }, w.face[name]);
    const middle = () => [this.frame.clientWidth / 2, this.frame.clientHeight / 2];
    return h("span", { class: "zoom" }, b("closer", "+", () => this.zoom(1.6, ...middle())), b("wider", "−", () => this.zoom(1 / 1.6, ...middle())),
      b("whole", "0", () => this.lay(whole(this.lie.fit))));
  }

  /** load fetches the card shown; part leaves panels out, see lay.js. */
  async load() {
    const [panels, eye] = await Promise.all([cardPanels(this.side.side), cardEye(this.side.side)]);
    if (this.signal.aborted) return;
    this.panels = panels;
    this.film = films(panels);
    this.pixels.fill(0); // the first write takes the memory, which is not to happen while the lamp moves
    this.eye = eye;
    this.part = null;
    this.draw();
  }

  /** draw shows the face in the light of the lamp. */
  draw() {
    if (!this.panels) return;
    const shown = this.part ?? this;
    if (state.lamp === "eye") this.ink.drawImage(shown.eye, 0, 0);
    else {
      this.tables = lampTables(state.light, state.lamp, this.side.side);
      relight(this.pixels, shown.panels, shown.film, this.tables);
      this.ink.putImageData(this.image, 0, 0);
    }
    this.canvas.dataset.lamp = state.lamp;
    this.facts();
  }

  lay(lie) {
    this.lie = lie;
    this.canvas.style.setProperty("transform", `translate(${lie.x}px, ${lie.y}px) scale(${lie.k})`);
    this.frame.classList.toggle("close", lie.k * lie.fit >= 1.5);
    this.point();
    this.putPlace();
  }

  /** mark outlines a place on the face, in millimetres. */
  mark(box) {
    this.place = h("span", { class: "place", "data-place": `${box.x},${box.y},${box.w},${box.h}` });
    this.placed = box;
    this.frame.append(this.place);
  }

  putPlace() {
    if (!this.place) return;
    const d = this.lie.fit * this.lie.k, x = d * this.side.w / this.side.mm.w, y = d * this.side.h / this.side.mm.h, b = this.placed;
    const put = { left: b.x * x + this.lie.x - 4, top: b.y * y + this.lie.y - 4, width: b.w * x + 8, height: b.h * y + 8 };
    for (const [k, v] of Object.entries(put)) this.place.style.setProperty(k, v + "px");
  }

  zoom(by, x, y) { this.lay(scaled(this.lie, by, x, y, this.side.w, this.side.h)); }

  /** look points at a dot and brings it into the frame. */
  look(x, y) {
    this.cursor = { x: Math.min(this.side.w - 1, Math.max(0, x)), y: Math.min(this.side.h - 1, Math.max(0, y)) };
    this.lay(showing(this.lie, this.cursor.x, this.cursor.y, this.side.w, this.side.h));
    this.facts();
  }

  point() {
    this.ring.hidden = !this.cursor;
    if (!this.cursor) return;
    const d = this.lie.fit * this.lie.k, size = Math.max(d, 7);
    const at = (v, shift) => v * d + shift + (d - size) / 2 + "px";
    for (const [k, v] of [["left", at(this.cursor.x, this.lie.x)], ["top", at(this.cursor.y, this.lie.y)], ["width", size + "px"], ["height", size + "px"]]) this.ring.style.setProperty(k, v);
  }

  facts() {
    if (!this.cursor || !this.panels) return;
    const shown = this.part ?? this, i = this.cursor.y * this.side.w + this.cursor.x;
    const amount = (k) => shown.panels.planes[k]?.[i] ?? 0;
    const r = state.lamp === "eye" ? null : reflect(this.tables, amount("y"), amount("m"), amount("c"), shown.film[i]);
    const owner = this.panels.owner[i];
    swap(this.says, ...dotSays({ ...this.cursor, panels: this.side.panels, amount, owner: owner ? this.side.elements[owner - 1]?.name : null, r, lamp: state.lamp }));
  }

  listen() {
    on("lamp", () => this.draw(), this.signal);
    const fit = new ResizeObserver(() => this.lay(held({ ...this.lie, fit: this.frame.clientWidth / this.side.w }, this.side.w, this.side.h)));
    fit.observe(this.frame);
    this.signal.addEventListener("abort", () => fit.disconnect());
    this.frame.addEventListener("keydown", (e) => this.keys(e));
    this.frame.addEventListener("focus", () => { if (!this.cursor) this.look(this.side.w >> 1, this.side.h >> 1); });
    this.frame.addEventListener("wheel", (e) => this.wheel(e), { passive: false });
    this.hands();
  }

  // A wheel zooms only where the face has the focus or the control key asks for
  // it, so that the page can be scrolled past the card.
  wheel(e) {
    if (!e.ctrlKey && document.activeElement !== this.frame) return;
    e.preventDefault();
    const b = this.frame.getBoundingClientRect();
    this.zoom(Math.exp(-e.deltaY / (e.ctrlKey ? 100 : 400)), e.clientX - b.left, e.clientY - b.top);
  }

  keys(e) {
    const step = e.shiftKey ? 10 : 1, c = this.cursor ?? { x: this.side.w >> 1, y: this.side.h >> 1 };
    const d = this.lie.fit * this.lie.k, at = [(c.x + 0.5) * d + this.lie.x, (c.y + 0.5) * d + this.lie.y];
    const act = {
      ArrowLeft: () => this.look(c.x - step, c.y), ArrowRight: () => this.look(c.x + step, c.y),
      ArrowUp: () => this.look(c.x, c.y - step), ArrowDown: () => this.look(c.x, c.y + step),
      "+": () => this.zoom(1.6, ...at), "=": () => this.zoom(1.6, ...at), "-": () => this.zoom(1 / 1.6, ...at), 0: () => this.lay(whole(this.lie.fit)),
    }[e.key];
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    act();
  }

  // One finger or the mouse drags, two fingers pinch, a mouse that only moves
  // points at dots.
  hands() {
    const down = new Map();
    const f = this.frame, spot = (e) => { const b = f.getBoundingClientRect(); return { x: e.clientX - b.left, y: e.clientY - b.top }; };
    const apart = () => { const [a, b] = [...down.values()]; return Math.hypot(a.x - b.x, a.y - b.y); };
    const up = (e) => { down.delete(e.pointerId); f.classList.remove("held"); };
    f.addEventListener("pointerdown", (e) => { down.set(e.pointerId, spot(e)); f.setPointerCapture(e.pointerId); f.classList.add("held"); });
    f.addEventListener("pointermove", (e) => {
      const now = spot(e), was = down.get(e.pointerId);
      if (was && down.size === 2) {
        const before = apart();
        down.set(e.pointerId, now);
        const [a, b] = [...down.values()];
        this.zoom(apart() / before, (a.x + b.x) / 2, (a.y + b.y) / 2);
      } else if (was) {
        down.set(e.pointerId, now);
        this.lay(held({ ...this.lie, x: this.lie.x + now.x - was.x, y: this.lie.y + now.y - was.y }, this.side.w, this.side.h));
      }
      if (!was || e.pointerType !== "mouse") this.at(now);
    });
    f.addEventListener("pointerup", (e) => { this.at(spot(e)); up(e); });
    f.addEventListener("pointercancel", up);
  }

  at({ x, y }) {
    this.cursor = dotAt(this.lie, x, y, this.side.w, this.side.h);
    this.point();
    this.facts();
  }
}
