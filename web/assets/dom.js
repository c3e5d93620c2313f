// Elements without a framework: h makes HTML, s makes SVG. Styles are set
// through the object model only, which a strict content policy allows.

const SVG = "http://www.w3.org/2000/svg";

/** h("p", {class: "why", onclick: f}, "text", child) */
export function h(tag, props, ...kids) { return fill(document.createElement(tag), props, kids); }

/** s is h for SVG. */
export function s(tag, props, ...kids) { return fill(document.createElementNS(SVG, tag), props, kids); }

function fill(el, props, kids) {
  for (const [name, value] of Object.entries(props ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) el.addEventListener(name.slice(2), value);
    else if (name === "style") for (const [k, v] of Object.entries(value)) el.style.setProperty(k, v);
    else el.setAttribute(name, value === true ? "" : value);
  }
  el.append(...kids.flat(Infinity).filter((k) => k !== undefined && k !== null && k !== false));
  return el;
}

/** swap puts new children into an element. */
export function swap(el, ...kids) {
  el.replaceChildren(...kids.flat(Infinity).filter((k) => k !== undefined && k !== null && k !== false));
  return el;
}

/** english marks text that the engine wrote, so that it is spoken as English. */
export function english(tag, props, text) { return text ? h(tag, { ...props, lang: "en" }, text) : null; }

/** sentence gives a text a capital and a full stop. */
export const sentence = (text) => (text ? stopped(capital(text.trim())) : "");

/** capital begins a sentence, unless it begins with a place such as "crew.csv:4:". */
export const capital = (text) => (text && !/^\S+:\d+: /.test(text) ? text[0].toUpperCase() + text.slice(1) : text);

/** stopped ends a sentence. */
export const stopped = (text) => text + (/[.?!]$/.test(text) ? "" : ".");

/** later runs f once the calls have stopped for ms. */
export function later(ms, f) {
  let timer;
  return (...args) => { clearTimeout(timer); timer = setTimeout(f, ms, ...args); };
}
