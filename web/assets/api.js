// What the page asks of its own server; nothing else is ever asked.

/** Fault is an answer that says what went wrong and what to do. */
export class Fault extends Error {
  constructor(message, hint, why) { super(message); this.hint = hint; this.why = why; }
}

async function ask(path, options) {
  let answer;
  try { answer = await fetch(path, options); } catch (e) {
    if (e.name === "AbortError") throw e;
    throw new Fault("", "");
  }
  if (answer.ok) return answer;
  if (answer.status === 401) location.reload(); // the sign-in page answers
  const said = await answer.json().catch(() => ({}));
  throw new Fault(said.error ?? answer.statusText, said.hint ?? "", said.why);
}

export async function get(path, signal) { return (await ask("/api/" + path, { signal })).json(); }

export async function post(path, body) {
  const headers = { "Content-Type": "application/json", "X-Unspool": "1" };
  return (await ask("/api/" + path, { method: "POST", headers, body: JSON.stringify(body) })).json();
}

/** file puts a file into the programme folder. */
export async function file(f) {
  const headers = { "Content-Type": "application/octet-stream", "X-Unspool": "1" };
  return (await ask("/api/begin/file?" + new URLSearchParams({ name: f.name }), { method: "POST", headers, body: f })).json();
}

/**
 * Panels of one side of a card, or of a part of it that begins at dot x, y: planes
 * of w*h bytes by letter, and the element that owns each dot (0 bare card, else 1 +
 * its index). Of a picture the one plane is rgba, with four bytes a dot.
 * @typedef {{x: number, y: number, w: number, h: number, revision: number, planes: Object<string, Uint8Array>, owner: Uint16Array}} Panels
 */

/** @returns {Promise<Panels>} */
export async function panels(path, signal) {
  return unpack(await (await ask("/api/" + path, { signal })).arrayBuffer());
}

/**
 * overPanels asks for panels of which the page holds others; it is told what is
 * other, if it may.
 * @param {Panels?} own the card's own panels @returns {Promise<Panels>}
 */
export async function overPanels(path, own, signal) {
  return unpack(await (await ask("/api/" + path + (own ? `?over=${own.revision}` : ""), { signal })).arrayBuffer(), own);
}

/** unpack reads "UNSP", the length of a JSON head, the head, the planes. */
export function unpack(buffer, own) {
  const view = new DataView(buffer);
  if (view.byteLength < 8 || view.getUint32(0) !== 0x554e5350) throw new Fault("panels: not the expected bytes", "");
  const length = view.getUint32(4, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 8, length)));
  const dots = head.w * head.h, planes = {};
  let at = 8 + length;
  for (const name of head.planes) {
    if (head.over) {
      planes[name] = own.planes[name].slice();
      at = layOver(planes[name], view, at);
      continue;
    }
    planes[name] = name === "rgba" ? new Uint8ClampedArray(buffer, at, 4 * dots) : new Uint8Array(buffer, at, dots);
    at += planes[name].length;
  }
  // The planes may leave the owners at an odd offset, where no Uint16Array may begin.
  const owner = head.owner ? new Uint16Array(buffer.slice(at, at + 2 * dots)) : null;
  return { x: head.x, y: head.y, w: head.w, h: head.h, revision: head.revision, planes, owner };
}

// Lays over a plane what another has other than it: the length of what follows,
// then runs of bytes to be passed over, bytes told, where the highest bit says that
// one byte is all of them, and the bytes.
function layOver(plane, view, at) {
  const end = at + 4 + view.getUint32(at, true);
  for (let to = 0, next = at + 4; next < end;) {
    to += view.getUint32(next, true);
    const n = view.getUint32(next + 4, true), count = n & 0x7fffffff;
    next += 8;
    if (n >>> 31) plane.fill(view.getUint8(next++), to, to + count);
    else {
      plane.set(new Uint8Array(view.buffer, next, count), to);
      next += count;
    }
    to += count;
  }
  return end;
}

/** picture loads an image of the server's. */
export async function picture(path, signal) {
  return createImageBitmap(await (await ask("/api/" + path, { signal })).blob());
}
