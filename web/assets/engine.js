// Words that the engine wrote are English. Another language has its own for every
// kind of finding; where it has none, the English stands and is marked as such.

import { h, english, sentence } from "./dom.js";
import { w } from "./words.js";

/** reason of a verdict in one sentence. */
export function reason(r, reader) {
  const own = w.causes?.[r.cause]?.(reader, r) ?? w.catalogue?.[r.cause]?.[0];
  return own ? sentence(own) : english("span", {}, sentence(r.reason));
}

export function title(f) { return w.catalogue?.[f.id]?.[0] ?? english("span", {}, f.title); }
export function remedy(f) { return w.catalogue?.[f.id]?.[1] ?? english("span", {}, sentence(f.remedy)); }
export function rule(name, words) { return w.ruleSays?.[name] ?? english("span", {}, words); }

/** said is text that only the engine has: places, measures, sources. */
export const said = (text) => (text ? english("span", {}, text) : null);

/** detail is the engine's sentence about one card; another language leads with
 *  its own title, so the English is an addition there. */
export const detail = (f) => (f.detail ? h("p", { lang: "en" }, sentence(f.detail)) : null);
