// The proof of the whole run: start it, watch it, stop it, go on with it.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";
import { state, on } from "./state.js";
import { run, tellRun } from "./runstate.js";
import { mark } from "./sign.js";
import { cardList } from "./cardlist.js";
import { go } from "./route.js";
import { papers } from "./paper.js";

export function runView(signal) {
  const title = h("h1", { id: "run-says" }), bar = h("div", { class: "progress", role: "progressbar", id: "run-bar", "aria-label": w.run.label, "aria-valuemin": 0 }, h("i"));
  const rate = h("p", { class: "aside", id: "run-rate" }), fault = h("p", { role: "status" });
  const act = (what) => h("button", { type: "button", id: "run-" + what, onclick: () => tellRun(what).catch((e) => swap(fault, e.message, " ", e.hint)) }, w.run[what]);
  const buttons = { start: act("start"), stop: act("stop"), resume: act("resume") };
  const cells = h("div", { class: "run-cells", id: "run-cells" });
  const show = () => {
    // A run of an older state tells nothing of the cards as they are now, and cannot go on.
    const before = run.state !== "idle" && run.revision !== state.bench.revision, stopped = run.summary?.stopped ?? 0;
    const total = run.total || state.bench.cards, open = before && run.state !== "running" ? ["start"] : { idle: ["start"], running: ["stop"], stopped: ["resume", "start"], done: ["start"] }[run.state] ?? ["start"];
    for (const [name, b] of Object.entries(buttons)) b.hidden = !open.includes(name);
    swap(buttons.start, run.state === "idle" ? w.run.start : w.run.again);
    const proved = h("strong", {}, w.run.title[run.state](number(run.done), number(total)));
    swap(title, before ? [h("strong", {}, w.run.before), " ", w.run.was(number(run.done), number(total), stopped)] : [proved, " ", run.state === "done" ? w.run.said(stopped, number(total)) : ""]);
    bar.setAttribute("aria-valuemax", total);
    bar.setAttribute("aria-valuenow", run.done);
    bar.firstChild.style.setProperty("width", 100 * run.done / Math.max(1, total) + "%");
    swap(rate, run.state === "running" ? w.run.rate(number(run.rate ?? 0, run.rate < 10 ? 1 : 0), w.run.left(run.left ?? 0)) : "");
    swap(cells, (run.summary?.cells ?? []).filter((c) => c.counts.reads + c.counts.little + c.counts.fails > 0).map(cell));
  };
  on("run", show, signal);
  on("bench", show, signal);
  show();
  return h("div", { class: "view run-view" }, h("section", { "aria-labelledby": "run-says" }, title, bar, rate, h("p", { class: "buttons" }, Object.values(buttons)), fault), cells,
    h("section", { class: "of-run" }, h("h2", {}, w.run.cards), cardList(signal)), papers(signal));
}

function cell(c) {
  const verdict = c.counts.fails ? "fails" : c.counts.little ? "little" : "reads";
  const counts = ["fails", "little", "reads"].filter((v) => c.counts[v]).map((v) => w.run.count(number(c.counts[v]), c.counts[v], w.verdicts[v])).join(", ");
  return h("button", { type: "button", class: "cell-button", "data-code": c.code, "data-reader": c.reader, onclick: () => go("readers", { code: c.code, reader: c.reader }, c.worstRow) },
    h("span", { class: "of-code" }, `${state.bench.readers[c.reader].name}, ${state.bench.codes[c.code].name}`), mark(verdict), h("span", { class: "aside" }, counts), h("span", { class: "aside" }, w.run.lowest(number(c.lowest, 1), number(c.worstRow + 1))));
}
