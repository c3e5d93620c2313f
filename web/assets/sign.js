// A verdict's sign is a bar of a bar code: solid where it reads, half full where
// there is little to spare, hollow and broken where it does not read. It always
// stands beside its word.

import { h, s } from "./dom.js";
import { w } from "./words.js";

const paths = {
  reads: [["full", "M1 0h10v28H1z"]],
  little: [["line", "M2 1h8v26H2z"], ["full", "M1 14h10v14H1z"]],
  fails: [["line", "M2 1h8v9l-8 4z"], ["line", "M2 19l8-4v12H2z"]],
  none: [["full", "M1 13h10v2H1z"]],
};

export function sign(verdict) {
  return s("svg", { class: "sign", viewBox: "0 0 12 28", "aria-hidden": "true", focusable: "false" },
    (paths[verdict] ?? paths.none).map(([c, d]) => s("path", { class: c, d })));
}

/** mark is the sign with its word. */
export function mark(verdict, more) {
  return h("span", { class: `mark ${verdict}`, "data-verdict": verdict }, sign(verdict), h("span", { class: "word" }, w.verdicts[verdict], more));
}

/** levelSign does the same for findings. */
export function levelSign(level) { return sign({ stop: "fails", look: "little", note: "none" }[level] ?? "reads"); }

/** worst of several verdicts. */
export const worst = (verdicts) => ["fails", "little", "reads"].find((v) => verdicts.includes(v)) ?? "none";
