// What is made to be handed on: the report of the run, the spent ribbon to lay
// beside the real one, the page that explains black. Links that save a file; an
// invented person is in them unless a real card is asked for here.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";
import { state, on } from "./state.js";
import { run } from "./runstate.js";

/** papers is the section "To hand on". */
export function papers(signal) {
  const real = h("input", { type: "checkbox", id: "hand-on-real", "aria-describedby": "hand-on-means", onchange: () => show() });
  const asked = h("span"), means = h("p", { id: "hand-on-means", class: "aside" }), list = h("ul", { id: "hand-on-papers" });
  const show = () => {
    swap(asked, w.handOn.real(number(state.row + 1)));
    swap(means, real.checked ? w.handOn.whole(number(state.row + 1)) : w.handOn.broken);
    const whose = real.checked ? "?" + new URLSearchParams({ real: 1, row: state.row }) : "";
    const files = state.bench.sides.some((side) => side.black) ? { ribbon: "ribbon.pdf" + whose, explanation: "explanation.pdf" + whose } : { ribbon: "ribbon.pdf" + whose };
    swap(list, report(), Object.entries(files).map(([name, file]) => paper(name, link(name, file))));
  };
  const again = () => keepFocus(list, show);
  on("card", () => { real.checked = false; again(); }, signal); // it was asked for one card alone
  on("bench", again, signal);
  let was = run.state;
  on("run", () => { if (run.state !== was) again(); was = run.state; }, signal); // not at every step, under the hand
  real.disabled = state.bench.cards === 0;
  show();
  return h("section", { class: "hand-on", "aria-labelledby": "hand-on-title" }, h("h2", { id: "hand-on-title" }, w.handOn.title), list,
    h("div", { class: "whose-card" }, h("label", {}, real, asked), means));
}

const link = (name, file) => h("a", { href: "/api/paper/" + file, "data-paper": name }, w.handOn[name].link);

const paper = (name, first, ...more) => h("li", {}, h("p", {}, first), h("p", { class: "aside" }, w.handOn[name].says, more));

/** report is there only once the run is done; of which state it is, it says. */
function report() {
  if (run.state !== "done") return paper("report", h("span", { class: "not-yet", "data-paper": "report" }, w.handOn.report.link), " ", w.handOn.notYet);
  return paper("report", link("report", "report.html"), run.revision === state.bench.revision ? "" : " " + w.handOn.before);
}

/** keepFocus lets the link in focus be the same one after a list is made anew. */
function keepFocus(list, show) {
  const name = list.contains(document.activeElement) ? document.activeElement.dataset.paper : null;
  show();
  if (name) list.querySelector(`a[data-paper="${name}"]`)?.focus();
}
