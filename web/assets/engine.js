// What the engine says. It comes in English; where it has arguments, with the
// format and what fills it. Another language knows the format, or the English, and
// fills its own words; what it does not know stays English and is marked as such.

import { h, capital, stopped } from "./dom.js";
import { w, number } from "./words.js";

// A verb of a format: the number of its argument where the language has another
// order, and the letter, q for what is quoted.
const VERB = /%[-+#0]*\d*(?:\.\d+)?(?:\[(\d+)\])?([a-zA-Z%])/g;

/** @typedef {{say: string, args?: Array<string | {n: string} | Said>}} Said */

/** put gives an English text in the language in use, as children of an element. */
export function put(english, said) {
  if (!english) return null;
  return w.said ? joined(parts(said ?? { say: english })) : english;
}

const ENGLISH = { format: (f) => f, figure: (n) => n, quote: (s) => JSON.stringify(s) };
const OWN = {
  format: (f) => w.said[f] ?? (wordless(f) ? f : undefined),
  figure: (n) => (Number.isFinite(+n) ? number(+n, (n.split(".")[1] ?? "").length) : n),
  quote: (s) => w.quote(s),
};

// A format that has no word is the same in every language.
const wordless = (format) => !/[a-z]{2}/.test(format.replace(VERB, ""));

/** parts of a text: strings, and elements where there is only English. */
function parts(said, tongue = OWN) {
  const format = tongue.format(said.say);
  if (format === undefined) return [h("span", { lang: "en" }, inEnglish(said))];
  if (!said.args) return [format];
  const out = [];
  let next = 0, from = 0;
  for (const verb of format.matchAll(VERB)) {
    out.push(format.slice(from, verb.index));
    from = verb.index + verb[0].length;
    if (verb[2] === "%") { out.push("%"); continue; }
    if (verb[1]) next = verb[1] - 1;
    const arg = said.args[next++] ?? "";
    if (arg.say !== undefined) out.push(...parts(arg, tongue));
    else out.push(arg.n !== undefined ? tongue.figure(arg.n) : verb[2] === "q" ? tongue.quote(arg) : arg);
  }
  out.push(format.slice(from));
  return out;
}

/** inEnglish is the English that a format and its fillings make. */
export const inEnglish = (said) => parts(said, ENGLISH).join("");

// Strings that follow each other become one.
function joined(all) {
  return all.reduce((out, p) => {
    if (typeof p === "string" && typeof out.at(-1) === "string") out[out.length - 1] += p;
    else out.push(p);
    return out;
  }, []);
}

/** putSentence is put with a capital and a full stop. */
export function putSentence(english, said) {
  const all = [put(english, said) ?? ""].flat();
  if (typeof all[0] === "string") all[0] = capital(all[0]);
  if (typeof all.at(-1) !== "string") all.push("");
  all.push(stopped(all.pop()));
  return all;
}

/** reason of a verdict in one sentence. */
export const reason = (r) => putSentence(r.reason, r.says?.reason);

export const title = (f) => put(f.title);
export const remedy = (f) => putSentence(f.remedy, f.says?.remedy);
export function rule(name, words) { return w.ruleSays?.[name] ?? h("span", { lang: "en" }, words); }

/** fact is the detail, measure, limit or source of a finding. */
export const fact = (f, name) => put(f[name], f.says?.[name]);

/** detail is the engine's sentence about one card. */
export const detail = (f) => (f.detail ? h("p", {}, putSentence(f.detail, f.says?.detail)) : null);
