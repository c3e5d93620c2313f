// How a face lies in its frame: scale, place, and the dot under a point. Pure.

const MOST = 24; // screen points a dot at the closest look

/** @typedef {{fit: number, k: number, x: number, y: number}} Lie
 *  fit: points a dot when all is shown; k: times that; x, y: shift in points. */

export const whole = (fit) => ({ fit, k: 1, x: 0, y: 0 });

/** scaled zooms by a factor round a point of the frame, which stays in place. */
export function scaled(lie, by, px, py, w, h) {
  const k = Math.min(Math.max(MOST / lie.fit, 1), Math.max(1, lie.k * by));
  const r = k / lie.k;
  return held({ ...lie, k, x: px - (px - lie.x) * r, y: py - (py - lie.y) * r }, w, h);
}

/** held keeps the face filling its frame. */
export function held(lie, w, h) {
  const wide = w * lie.fit, high = h * lie.fit;
  return { ...lie, x: Math.min(0, Math.max(wide - wide * lie.k, lie.x)), y: Math.min(0, Math.max(high - high * lie.k, lie.y)) };
}

/** dotAt is the dot under a point of the frame. */
export function dotAt(lie, px, py, w, h) {
  const d = lie.fit * lie.k;
  return { x: clamp(Math.floor((px - lie.x) / d), w), y: clamp(Math.floor((py - lie.y) / d), h) };
}

/** showing moves the face until a dot is in the frame. */
export function showing(lie, x, y, w, h) {
  const d = lie.fit * lie.k, wide = w * lie.fit, high = h * lie.fit, edge = Math.min(40, wide / 4);
  const left = x * d + lie.x, top = y * d + lie.y;
  return held({ ...lie, x: lie.x + into(left, edge, wide - edge), y: lie.y + into(top, edge, high - edge) }, w, h);
}

const into = (v, from, to) => (v < from ? from - v : v > to ? to - v : 0);
const clamp = (v, n) => Math.min(n - 1, Math.max(0, v));
