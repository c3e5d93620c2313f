// A side of the card shown in the light of one lamp, dot for dot.

import { h } from "./dom.js";
import { state, cardPanels } from "./state.js";
import { films, lampTables, relight } from "./relight.js";

/** litSide gives a canvas of one pixel a dot. */
export async function litSide(side, nm) {
  const panels = await cardPanels(side);
  const canvas = h("canvas", { width: panels.w, height: panels.h }), ink = canvas.getContext("2d", { alpha: false });
  const image = ink.createImageData(panels.w, panels.h);
  relight(new Uint32Array(image.data.buffer), panels, films(panels), lampTables(state.light, nm, side));
  ink.putImageData(image, 0, 0);
  return canvas;
}
