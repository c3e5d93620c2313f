// The dots of the side that is laid out, as the page holds them. Of a change only
// the part that it changes is asked for, and laid over what is there.

import { panels as ask } from "./api.js";
import { state } from "./state.js";
import { films, lampTables, relight } from "./relight.js";

export class Dots {
  constructor(canvas) {
    this.ink = canvas.getContext("2d", { alpha: false });
    this.forget("");
  }

  forget(of) { Object.assign(this, { of, eye: null, panels: null, shown: "" }); }

  /** load asks for what a side has other than it had, in the light of the lamp. */
  async load(side) {
    const of = `${state.row} ${side.side} ${side.w} ${side.h}`;
    if (of !== this.of) this.forget(of);
    const kind = state.lamp === "eye" ? "eye" : "panels", held = this[kind], since = held?.revision;
    const path = `card/${state.row}/` + (kind === "eye" ? `eye/${side.side}.rgba` : `panels/${side.side}`);
    const part = await ask(path + (held ? `?since=${since}` : ""));
    if (of !== this.of) return; // overtaken
    // A part fits only what it was asked for; the latest answer is never let go.
    if (held !== this[kind] || held?.revision !== since) return part.revision > (this[kind]?.revision ?? 0) ? this.load(side) : undefined;
    if (kind === "panels") part.planes.film = films(part);
    // A whole face takes the place of what is held: it may have other planes.
    if (!held || (part.w === held.w && part.h === held.h)) this[kind] = { ...part, image: null };
    else {
      for (const [name, dots] of Object.entries(part.planes)) paste(held, held.planes[name], part, dots);
      held.revision = part.revision;
    }
    this.draw(side, held && this.shown === kind ? part : null);
  }

  /** old says that what is held in the light of the lamp is not of the programme as it now is. */
  get old() { return this[state.lamp === "eye" ? "eye" : "panels"]?.revision !== state.bench.revision; }

  /** draw shows what is held in the light of the lamp: part of it, where the rest
   *  is on the canvas already. False where nothing is held. */
  draw(side, part = null) {
    const kind = state.lamp === "eye" ? "eye" : "panels", held = this[kind], c = this.ink.canvas;
    if (!held) return false;
    if (c.width !== held.w || c.height !== held.h) Object.assign(c, { width: held.w, height: held.h });
    if (kind === "eye") held.image ??= new ImageData(held.planes.rgba, held.w, held.h);
    else {
      held.image ??= this.ink.createImageData(held.w, held.h);
      held.pixels ??= new Uint32Array(held.image.data.buffer);
      relight(held.pixels, held, held.planes.film, lampTables(state.light, state.lamp, side.side));
    }
    if (part?.w) this.ink.putImageData(held.image, 0, 0, part.x, part.y, part.w, part.h);
    else if (!part) this.ink.putImageData(held.image, 0, 0);
    this.shown = kind;
    return true;
  }
}

// Lays a part of a plane over the whole; rgba has four bytes a dot.
function paste(whole, to, part, from) {
  const deep = from.length / (part.w * part.h);
  for (let y = 0; y < part.h; y++) to.set(from.subarray(y * part.w * deep, (y + 1) * part.w * deep), ((part.y + y) * whole.w + part.x) * deep);
}
