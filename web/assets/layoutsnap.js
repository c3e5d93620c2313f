// Where a box comes to lie while it is dragged: on dots, and on what is near it.
// Pure. Lengths are millimetres; a box is [x, y, width, height].

export const MARGIN = 3; // from the edge of the face (common practice, no source)
export const LEAST = 0.5; // the smallest side that a drag leaves

const round = (v) => Math.round(v * 1000) / 1000; // the file holds micrometres

/** onDot puts a length on whole dots. */
export const onDot = (v, dpi) => round(Math.round(v * dpi / 25.4) * 25.4 / dpi);

/** dots puts a whole box on dots: its edges, so that it does not grow by moving. */
export function dotted([x, y, w, h], side) {
  return [onDot(x, side.dx), onDot(y, side.dy), round(w), round(h)];
}

/**
 * lines are what a box may be laid on, each way: the edges and middle of the
 * face, its margins, keep-outs, and the other elements.
 * @returns {{x: {at: number, what: string}[], y: {at: number, what: string}[]}}
 */
export function lines(side, but) {
  const out = { x: [], y: [] };
  const put = (way, what) => (...all) => all.forEach((at) => out[way].push({ at, what }));
  for (const [way, size] of [["x", side.mm.w], ["y", side.mm.h]]) {
    put(way, "edge")(0, size);
    put(way, "margin")(MARGIN, size - MARGIN);
    put(way, "middle")(size / 2);
  }
  for (const k of side.keepouts) {
    out.x.push({ at: k.box.x, what: "keepout" }, { at: k.box.x + k.box.w, what: "keepout" });
    out.y.push({ at: k.box.y, what: "keepout" }, { at: k.box.y + k.box.h, what: "keepout" });
  }
  side.elements.forEach((e, i) => {
    if (but.has(i)) return;
    const { x, y, w, h } = e.box;
    out.x.push({ at: x, what: "element" }, { at: x + w, what: "element" }, { at: x + w / 2, what: "element" });
    out.y.push({ at: y, what: "element" }, { at: y + h, what: "element" }, { at: y + h / 2, what: "element" });
  });
  return out;
}

/** nearest line to any of some places, within reach; null where there is none. */
function nearest(places, all, reach) {
  let best = null;
  for (const place of places) for (const l of all) {
    const by = l.at - place, far = Math.abs(by);
    if (far <= reach && (!best || far < Math.abs(best.by) - 1e-9)) best = { by, ...l };
  }
  return best;
}

/** moved is a box moved, laid on lines within reach or on dots. */
export function moved(box, dx, dy, side, all, reach) {
  let [x, y, w, h] = [box[0] + dx, box[1] + dy, box[2], box[3]];
  const gx = nearest([x, x + w / 2, x + w], all.x, reach), gy = nearest([y, y + h / 2, y + h], all.y, reach);
  x = gx ? round(x + gx.by) : onDot(x, side.dx);
  y = gy ? round(y + gy.by) : onDot(y, side.dy);
  return { box: [x, y, w, h], x: gx, y: gy };
}

/**
 * resized is a box with the edges that grip names dragged: letters of n, e, s, w.
 * steps are lengths along x or y that a code would fill exactly.
 */
export function resized(box, grip, dx, dy, side, all, reach, steps, flat) {
  const least = flat ? 0 : LEAST;
  const edge = (low, high, by, dragged, lines, dpi, steps) => {
    if (!dragged) return [low, high, null];
    const fixed = dragged < 0 ? high : low;
    const place = (dragged < 0 ? low : high) + by;
    const near = nearest([place], [...lines, ...steps.map((s) => ({ at: fixed + dragged * s, what: "step" }))], reach);
    const at = near ? round(near.at) : onDot(place, dpi);
    return dragged < 0 ? [Math.min(at, high - least), high, near] : [low, Math.max(at, low + least), near];
  };
  const way = (low, high) => (grip.includes(low) ? -1 : grip.includes(high) ? 1 : 0);
  const [x0, x1, gx] = edge(box[0], box[0] + box[2], dx, way("w", "e"), all.x, side.dx, steps.x);
  const [y0, y1, gy] = edge(box[1], box[1] + box[3], dy, way("n", "s"), all.y, side.dy, steps.y);
  return { box: [round(x0), round(y0), round(x1 - x0), round(y1 - y0)], x: gx, y: gy };
}

/** aligned are boxes lined up by one of their edges or middles. */
export function aligned(boxes, how) {
  const low = (k) => Math.min(...boxes.map((b) => b[k])), high = (k) => Math.max(...boxes.map((b) => b[k] + b[k + 2]));
  const to = {
    left: (b) => [low(0), b[1]], right: (b) => [high(0) - b[2], b[1]], centre: (b) => [(low(0) + high(0) - b[2]) / 2, b[1]],
    top: (b) => [b[0], low(1)], bottom: (b) => [b[0], high(1) - b[3]], middle: (b) => [b[0], (low(1) + high(1) - b[3]) / 2],
  }[how];
  return boxes.map((b) => { const [x, y] = to(b); return [round(x), round(y), b[2], b[3]]; });
}

/** fitting tells of a code's steps which is the largest that fits a box, and the
 *  next. The step of a two-dimensional code needs room across it too. */
export function fitting(steps, along, across) {
  let fits = null, next = null;
  for (const s of steps) {
    if (s.need <= along + 1e-6 && (s.across ?? 0) <= across + 1e-6) fits = s;
    else { next = s; break; }
  }
  return { fits, next };
}
