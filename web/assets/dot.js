// A dot's own facts in a sentence: what lies on it, whose it is, what it sends
// back.

import { h } from "./dom.js";
import { w, number, percent } from "./words.js";

const DYES = ["y", "m", "c"];

/** dotSays gives the parts of the sentence about one dot. */
export function dotSays({ x, y, panels, amount, owner, r, lamp }) {
  const named = (k) => panels.find((p) => p.plane === k);
  const dyes = DYES.filter((k) => amount(k) > 0 && named(k)).map((k) => `${named(k).letter} ${number(100 * amount(k) / 255)}\u202f%`);
  const films = ["k", "s", "f", "o"].filter((k) => amount(k) && named(k)).map((k) => w.panels[named(k).kind] ?? named(k).name);
  const black = amount("k") ? null : DYES.every((k) => amount(k) > 180) ? w.dot.mixed : null;
  const parts = [dyes.length ? w.dot.dyes(dyes.join(", ")) : null, ...films].filter(Boolean);
  return [
    h("b", {}, owner ?? w.dot.bare), h("span", {}, ": ", parts.length ? parts.join(", ") : w.dot.nothing, black ? ` (${black})` : "", "."),
    r === null ? null : h("span", { class: "reflects" }, " ", w.dot.reflects(percent(r), lamp)),
    h("span", { class: "at" }, " ", w.dot.place(number(x + 1), number(y + 1))),
  ];
}
