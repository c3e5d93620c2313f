// The words of the page in the chosen language.

import en from "./words.en.js";
import de from "./words.de.js";

export const languages = { en, de };

/** w is the words in use. */
export let w = en;

export function setLanguage(code) {
  w = languages[code] ?? en;
  document.documentElement.lang = w.code;
  try { localStorage.setItem("unspool-language", w.code); } catch { /* private windows keep nothing */ }
}

/** firstLanguage is the one chosen before, or the browser's. */
export function firstLanguage() {
  let chosen = null;
  try { chosen = localStorage.getItem("unspool-language"); } catch { /* as above */ }
  return chosen ?? (navigator.languages ?? []).map((l) => l.slice(0, 2)).find((l) => languages[l]) ?? "en";
}

/** number writes a figure as the language does, with no more digits than given. */
export const number = (v, digits = 0) => v.toLocaleString(w.code, { maximumFractionDigits: digits, minimumFractionDigits: digits });
export const percent = (v) => number(100 * v, v < 0.1 ? 1 : 0) + "\u202f%";
