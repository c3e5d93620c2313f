// One frame of the ribbon, large.

import { h, swap } from "./dom.js";
import { w } from "./words.js";
import { shape, paint } from "./frame.js";
import { panelsOf } from "./ribbon.js";

export async function openFrame({ row, side, panel, spool }) {
  const size = shape(side), name = w.panels[panel.kind] ?? panel.name;
  const canvas = h("canvas", { width: size.w, height: size.h, class: spool ? "turned" : "", role: "img", "aria-label": w.ribbon.missing(name, w.sides[side.side], row + 1) });
  const says = h("p", {}, w.does[panel.kind] ?? "");
  const box = h("dialog", { class: "large", id: "frame-large", "aria-labelledby": "large-title" },
    h("div", { class: "large-head" }, h("h2", { id: "large-title" }, `${panel.letter} ${name}, ${w.ribbon.whose(w.sides[side.side], row + 1)}`),
      h("button", { type: "button", id: "frame-close", onclick: () => box.close() }, w.close)), canvas, says);
  box.addEventListener("close", () => box.remove());
  box.addEventListener("click", (e) => { if (e.target === box) box.close(); });
  document.body.append(box);
  box.showModal();
  const panels = await panelsOf(row, side.side).catch((e) => swap(says, e.message));
  if (!panels?.planes) return;
  canvas.getContext("2d").putImageData(paint(side, panel, panels), 0, 0);
  const plane = panels.planes[panel.plane];
  if (plane && !plane.some((v) => v)) swap(says, w.ribbon.unused);
}
