// Relighting: what every dot of a face reflects under one wavelength, as sRGB
// grey. A reader's light has no colour for the reader, so the picture is grey.
//
// Reflectance is surface + (card - surface) times the share of light that the
// dyes leave; each film above it, resin or overlay, is a straight line of what
// lies below. So a dot costs three table look-ups for its dyes and one straight
// line for its films.

const LEVELS = 8192; // of reflectance in the sRGB table: errors stay below 0.3 of 255

/** The sRGB signal of reflectance 0..1 (IEC 61966-2-1) as an opaque grey pixel. */
const grey = (() => {
  const t = new Uint32Array(LEVELS + 1);
  for (let i = 0; i <= LEVELS; i++) {
    const v = Math.round(255 * encode(i / LEVELS));
    t[i] = (0xff000000 | v << 16 | v << 8 | v) >>> 0;
  }
  return t;
})();

export function encode(linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
}

const K = 1, S = 2, O = 4; // films of a dot

/** films packs the all-or-nothing planes into one byte a dot. */
export function films(p) {
  const n = p.w * p.h, out = new Uint8Array(n);
  for (const [name, bit] of [["k", K], ["s", S], ["o", O]]) {
    const plane = p.planes[name];
    if (plane) for (let i = 0; i < n; i++) if (plane[i]) out[i] |= bit;
  }
  return out;
}

/** A lamp made ready for one side: tables of the dyes, and the line of every set
 *  of films. The special resin of the side takes the place of the black under it. */
export function lampTables(light, nm, side) {
  const i = Math.min(light.card.length - 1, Math.max(0, Math.round((nm - light.from) / light.step)));
  const base = new Float32Array(8), slope = new Float32Array(8), special = light.s[side];
  for (let f = 0; f < 8; f++) {
    let a = 0, b = light.card[i] - light.surface; // above the surface
    const film = f & S && special ? special : f & K ? light.k : null;
    if (film) { a = film.body[i] + film.through[i] * a; b *= film.through[i]; }
    if (f & O) { a *= light.clear[i]; b *= light.clear[i]; }
    base[f] = light.surface + a;
    slope[f] = b;
  }
  return { y: fade(light.y[i]), m: fade(light.m[i]), c: fade(light.c[i]), base, slope };
}

// The share of light that each amount of a dye leaves.
function fade(density) {
  const t = new Float32Array(256);
  for (let v = 0; v < 256; v++) t[v] = 10 ** (-density * v / 255);
  return t;
}

/** reflect is the reflectance of one dot. */
export function reflect(t, y, m, c, film) { return t.base[film] + t.slope[film] * t.y[y] * t.m[m] * t.c[c]; }

let none = new Uint8Array(0); // a plane of nothing, for panels that a face has not
function blank(n) {
  if (none.length < n) none = new Uint8Array(n);
  return none;
}

const base = new Float32Array(8), slope = new Float32Array(8);

/**
 * relight writes the face under a lamp into pixels, one Uint32 a dot.
 * @param {Uint32Array} pixels @param {import("./api.js").Panels} p
 * @param {Uint8Array} film of films() @param t of lampTables()
 */
export function relight(pixels, p, film, t) {
  const n = p.w * p.h, y = p.planes.y ?? blank(n), m = p.planes.m ?? blank(n), c = p.planes.c ?? blank(n);
  // The scale of the grey table goes into the lines of the films, and so does
  // the half that makes cutting off a rounding.
  for (let f = 0; f < 8; f++) { base[f] = t.base[f] * LEVELS + 0.5; slope[f] = t.slope[f] * LEVELS; }
  for (let i = 0; i < n; i += STRETCH) stretch(pixels, y, m, c, film, t.y, t.m, t.c, i, Math.min(n, i + STRETCH));
}

// A face is relit by stretches: a browser puts a function that it has made fast in
// the place of the slow one between two calls.
const STRETCH = 8192;

function stretch(pixels, y, m, c, film, ty, tm, tc, from, to) {
  for (let i = from; i < to; i++) {
    const f = film[i], v = (base[f] + slope[f] * ty[y[i]] * tm[m[i]] * tc[c[i]]) | 0;
    pixels[i] = grey[v > LEVELS ? LEVELS : v];
  }
}

/** warm relights a few dots of every kind often enough for the browser to make it
 *  fast, so that the first move of the lamp does not stutter. */
export function warm(light) {
  const some = Uint8Array.from({ length: STRETCH }, (_, i) => i % 251), film = some.map((v) => v % 8);
  const p = { w: STRETCH, h: 1, planes: { y: some, m: some, c: some } }, pixels = new Uint32Array(STRETCH);
  for (let i = 0; i < 64; i++) relight(pixels, p, film, lampTables(light, 400 + 9 * i, "front"));
}
